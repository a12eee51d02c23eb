import { setField, withCaution } from '../model/index.ts'
import { DIMENSION, writeExact } from '../units/index.ts'
import { under } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'dead_wraps',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'Enough turns of curtain stay on the drum when the door is closed.',
  why: 'With less than half a turn left the whole curtain pulls straight at its fixing, which then counts as a point of failure.',
  todo: 'Leave at least the turns of the limit on the closed drum; the curtain gets longer by that much.',
  limit: 'dead_wraps',
  source: 'EN 12604:2017 4.3.4',
  caution: 'curtain',
  bad: `drum {
  dead_wraps = 1/4 turn
}`,
  good: `drum {
  dead_wraps = 1/2 turn
}`,
  check(door, report) {
    const limit = door.number('limits.dead_wraps')
    if (limit === undefined || !under(door.number('drum.dead_wraps'), limit)) return
    const text = writeExact(limit, DIMENSION.angle, 'turn')
    report({
      at: 'drum.dead_wraps',
      message: withCaution(
        `${door.show('drum.dead_wraps')} of curtain stays on the closed drum; it should be ${door.show('limits.dead_wraps')} or more. With less, the curtain's fixing counts as a point of failure: leave more curtain on the drum.`,
        'curtain',
      ),
      limit: `${door.show('limits.dead_wraps')} or more`,
      fixes: () => {
        const edits = text === undefined ? undefined : setField(door, 'drum.dead_wraps', text)
        return [edits && { title: `Write ${text}`, safe: false, edits }]
      },
    })
  },
})
