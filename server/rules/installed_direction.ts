import { withCaution } from '../model/index.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'installed_direction',
  group: 'Installed, delivery and handover',
  severity: 'error',
  never: true,
  what: 'The adjuster was wound in the direction that the job asks for.',
  why: 'Wound in the wrong direction the springs pull the door down instead of up and open their coils: it can destroy the door and kill.',
  todo: 'Stay clear, and have a trained door technician let the springs off and wind them the other way.',
  source: 'mechanics: the side of the drum that the curtain hangs from must rise',
  about: 'installed',
  caution: 'spring',
  bad: 'installed { wound = clockwise }',
  good: 'installed { wound = counterclockwise }',
  check(door, report) {
    const wound = door.word('installed.wound')
    // what follows from the adjuster's side outweighs a written direction, which may itself be wrong
    const asked = door.computedWord('adjuster.winding') ?? door.word('adjuster.winding')
    if (wound === undefined || asked === undefined || wound === asked) return
    const side = door.word('adjuster.side')
    const why =
      side === undefined
        ? ''
        : ` (adjuster on the ${side}, curtain leaving the drum on the ${door.word('drum.leaves') === 'room_side' ? 'room side' : 'wall side'})`
    report({
      message: withCaution(
        `The adjuster is written down as wound ${wound}, seen facing it from outside the door; this door has to be wound ${asked}${why}. Winding in the wrong direction can destroy the door. Stay clear; if it really is wound so, have the springs let off and wound the other way.`,
        'spring',
      ),
      at: 'installed.wound',
      limit: `${asked}, as the job`,
      related: [
        {
          at: door.written('adjuster.side') ? 'adjuster.side' : 'adjuster',
          message: `this door has to be wound ${asked}`,
        },
      ],
    })
  },
})
