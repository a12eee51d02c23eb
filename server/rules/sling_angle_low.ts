import { withCaution } from '../model/index.ts'
import { under } from './compare.ts'
import { rule } from './rule.ts'
import { writeAngle } from './slings.ts'

/** No job may go below it, so it is no limit that can be set. */
const LEAST = Math.PI / 6

export default rule({
  id: 'sling_angle_low',
  group: 'Rigging and hood',
  severity: 'error',
  never: true,
  what: 'No sling stands flatter than 30 degrees to the horizontal.',
  why: 'Below 30 degrees a sling carries more than twice its share of the load, and every degree flatter a great deal more.',
  todo: 'Use longer slings, or a spreader.',
  source: 'ASME B30.9, from memory: to be checked',
  caution: 'curtain',
  bad: 'rigging { sling_angle = 25deg }',
  good: 'rigging { sling_angle = 60deg }',
  check(door, report) {
    const angle = door.number('rigging.sling_angle')
    if (!under(angle, LEAST)) return
    const least = door.say(LEAST, 'rigging.sling_angle')
    const times = door.say(1 / Math.sin(angle), 'limits.operator_margin')
    report({
      message: withCaution(
        `The slings stand at ${door.show('rigging.sling_angle')} to the horizontal; below ${least} nothing is lifted: each sling carries ${times} times what it would carry hanging straight. Use longer slings or a spreader.`,
        'curtain',
      ),
      at: 'rigging.sling_angle',
      limit: `${least} or more`,
      fixes: () => [writeAngle(door, Math.max(door.number('limits.sling_angle') ?? 0, LEAST))],
    })
  },
})
