import { withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'installed_drum_level',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'The installed drum is no further out of level over its span than the limit.',
  why: 'On a drum that is not level the curtain winds to one side and rubs in one rail.',
  todo: 'Level the drum before the curtain is hung and the springs are wound.',
  limit: 'drum_level',
  source: 'common practice, no source',
  about: 'installed',
  caution: 'spring',
  bad: 'installed { drum_level = 1/4in }',
  good: 'installed { drum_level = 1/16in }',
  check(door, report) {
    const level = door.number('installed.drum_level')
    const limit = door.number('limits.drum_level')
    if (!over(level, limit)) return
    report({
      message: withCaution(
        `The drum is ${door.show('installed.drum_level')} out of level over its span, ${door.say(level - limit!, 'limits.drum_level')} more than the ${door.show('limits.drum_level')} allowed. Level it before the curtain is hung and the springs are wound.`,
        'spring',
      ),
      at: 'installed.drum_level',
      limit: `${door.show('limits.drum_level')} or less`,
    })
  },
})
