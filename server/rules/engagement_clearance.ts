import { setField } from '../model/index.ts'
import { numbers, under } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'engagement_clearance',
  group: 'Rails and curtain',
  severity: 'warning',
  what: 'Between the end of a slat and the bottom of the groove some depth stays free.',
  why: 'Rails are never quite parallel and a curtain wanders; without the clearance its slats rub and wedge.',
  todo: 'Take a deeper rail or less engagement.',
  limit: 'slat_clearance',
  source: 'common practice, no source',
  bad: 'rails { depth = 2 7/8in }',
  good: 'rails { depth = 3in }',
  check(door, report) {
    const known = numbers(door, 'rails.clearance', 'limits.slat_clearance', 'curtain.engagement', 'rails.depth')
    if (!known) return
    const [clearance, limit, engagement, depth] = known
    if (!under(clearance, limit)) return
    const left =
      clearance < 0
        ? `the slats are ${door.say(-clearance, 'curtain.engagement')} too long for the groove`
        : `${door.show('rails.clearance')} of it stays free`
    report({
      message: `The groove is ${door.show('rails.depth')} deep and the slats reach ${door.show('curtain.engagement')} into it: ${left}; ${door.show('limits.slat_clearance')} is asked for. Take a deeper rail or less engagement.`,
      at: 'rails.depth',
      limit: `${door.show('limits.slat_clearance')} or more`,
      related: [
        { at: 'curtain.engagement', message: `the slats reach ${door.show('curtain.engagement')} into each rail` },
      ],
      fixes: () => [
        write('rails.depth', engagement + limit, 'up'),
        depth > limit ? write('curtain.engagement', depth - limit, 'down') : undefined,
      ],
    })
    function write(path: string, si: number, rounding: 'up' | 'down') {
      const text = lengthText(door, path, si, rounding)
      const edits = text === undefined ? undefined : setField(door, path, text)
      return edits && { title: `Write \`${path} = ${text}\``, safe: false, edits }
    }
  },
})
