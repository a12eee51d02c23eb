import * as m from '../mechanics/index.ts'
import { setField, withCaution } from '../model/index.ts'
import { numbers, over } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'shaft_stress',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'The shaft carries the torque of all springs with the door closed.',
  why: 'The shaft holds everything that the springs pull with; one that twists off lets the door fall.',
  todo: 'Choose a thicker shaft. It is reckoned as solid: a tube carries less.',
  limit: 'shaft_stress',
  source: 'common practice, no source; 16 T / (pi d^3), solid round shaft in torsion',
  caution: 'spring',
  bad: `drum {
  shaft = 5/8in
}`,
  good: `drum {
  shaft = 1 1/4in
}`,
  check(door, report) {
    const known = numbers(door, 'drum.shaft', 'limits.shaft_stress', 'balance.rate', 'adjuster.preload', 'drum.turns')
    if (!known) return
    const [shaft, limit, rate, preload, turns] = known
    const torque = rate * (preload + turns)
    const stress = m.shaftStress(torque, shaft)
    if (!over(stress, limit)) return
    const needed = lengthText(door, 'drum.shaft', Math.cbrt((16 * torque) / (Math.PI * limit)), 'up')
    report({
      at: 'drum.shaft',
      message: withCaution(
        `The springs twist the shaft with ${door.say(torque, 'balance.worst')} when the door is closed: ${door.say(stress, 'limits.shaft_stress')} in a solid shaft of ${door.show('drum.shaft')}, where ${door.show('limits.shaft_stress')} is allowed. Choose a shaft of ${needed} or more.`,
        'spring',
      ),
      limit: `${door.show('limits.shaft_stress')} of shear`,
      related: [
        {
          at: 'adjuster.preload',
          message: `the preload is ${door.show('adjuster.preload')}, and the drum makes ${door.show('drum.turns')}`,
        },
      ],
      fixes: () => {
        const edits = needed === undefined ? undefined : setField(door, 'drum.shaft', needed)
        return [edits && { title: `Write ${needed}, which holds this torque`, safe: false, edits }]
      },
    })
  },
})
