import { wholeUp } from '../mechanics/index.ts'
import { withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import { type Door, type Fix, rule } from './rule.ts'
import { writeAngle, writeSlings } from './slings.ts'

export default rule({
  id: 'sling_load',
  group: 'Rigging and hood',
  severity: 'error',
  what: 'No sling carries more than its capacity when the curtain is lifted.',
  why: 'A sling that parts drops the curtain, and the other slings go after it.',
  todo: 'Use stronger slings, more of them, or a steeper angle. Add what is lifted along with the curtain: drum and springs are not in the number.',
  source:
    'mechanics: the curtain alone, shared equally by slings at one angle; without drum, springs and unequal sharing',
  caution: 'curtain',
  bad: `rigging {
  slings         = 2
  sling_capacity = 150 lbf
}
`,
  good: `rigging {
  slings         = 2
  sling_capacity = 1600 lbf
}
`,
  check(door, report) {
    const capacity = door.number('rigging.sling_capacity')
    if (capacity === undefined) return
    const load = door.number('rigging.load_each')
    if (!over(load, capacity)) return
    report({
      message: withCaution(
        `Each of ${door.show('rigging.slings')} slings at ${door.show('rigging.sling_angle')} to the horizontal carries ${door.show('rigging.load_each')}; its capacity is ${door.show('rigging.sling_capacity')}, ${door.say(load - capacity, 'rigging.load_each')} less. That is the curtain alone, shared equally: drum, springs and unequal sharing come on top. Use stronger slings, more of them, or a steeper angle.`,
        'curtain',
      ),
      at: 'rigging.sling_capacity',
      limit: `${door.show('rigging.sling_capacity')} or less in each sling`,
      related: [{ at: 'curtain', message: `the curtain weighs ${door.show('curtain.weight_total')}` }],
      fixes: () => [moreSlings(door, load, capacity), steeper(door, load, capacity)],
    })
  },
})

function moreSlings(door: Door, load: number, capacity: number): Fix | undefined {
  const slings = door.number('rigging.slings')
  return slings === undefined ? undefined : writeSlings(door, wholeUp((slings * load) / capacity))
}

/** The angle at which as many slings hold, where there is one. */
function steeper(door: Door, load: number, capacity: number): Fix | undefined {
  const angle = door.number('rigging.sling_angle')
  if (angle === undefined) return undefined
  const sine = (Math.sin(angle) * load) / capacity
  return sine > 1 ? undefined : writeAngle(door, Math.asin(sine))
}
