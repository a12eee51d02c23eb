import { withCaution } from '../model/index.ts'
import { under } from './compare.ts'
import { rule } from './rule.ts'
import { writeAngle } from './slings.ts'

export default rule({
  id: 'sling_angle',
  group: 'Rigging and hood',
  severity: 'warning',
  what: 'The slings stand at the angle of the limit to the horizontal, or steeper.',
  why: 'The flatter a sling, the more it carries of the same load, and the harder it pushes the curtain together.',
  todo: 'Use longer slings, or a spreader.',
  limit: 'sling_angle',
  source: 'public site-safety plan',
  caution: 'curtain',
  bad: 'rigging { sling_angle = 40deg }',
  good: 'rigging { sling_angle = 60deg }',
  check(door, report) {
    const angle = door.number('rigging.sling_angle')
    const limit = door.number('limits.sling_angle')
    if (!under(angle, limit)) return
    const load =
      door.number('rigging.load_each') === undefined
        ? ''
        : ` At this angle each carries ${door.show('rigging.load_each')} of the curtain alone.`
    report({
      message: withCaution(
        `The slings stand at ${door.show('rigging.sling_angle')} to the horizontal, ${door.say(limit! - angle, 'rigging.sling_angle')} flatter than the ${door.show('limits.sling_angle')} asked for.${load} Use longer slings or a spreader.`,
        'curtain',
      ),
      at: 'rigging.sling_angle',
      limit: `${door.show('limits.sling_angle')} or more`,
      fixes: () => [writeAngle(door, limit!)],
    })
  },
})
