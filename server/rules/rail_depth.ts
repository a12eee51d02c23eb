import { setField } from '../model/index.ts'
import { under } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'rail_depth',
  group: 'Rails and curtain',
  severity: 'note',
  what: 'The rails are as deep as is usual for the clear width.',
  why: 'A wide curtain bows and moves more, and needs more depth to stay in its rails.',
  todo: 'Take a deeper rail, or say in an `allow` why this one will do.',
  limit: 'rail_depth',
  source: 'IS 6248 family, seen quoted; of a third figure, 65 mm, from memory: to be checked',
  bad: `rails { depth = 2 3/4in }
curtain { engagement = 2 1/4in }
`,
  good: 'rails { depth = 3in }',
  check(door, report) {
    const depth = door.number('rails.depth')
    const limit = door.number('limits.rail_depth')
    if (!under(depth, limit)) return
    report({
      message: `The rails are ${door.show('rails.depth')} deep; for a clear width of ${door.show('width')} ${door.show('limits.rail_depth')} is usual, ${door.say(limit! - depth, 'limits.rail_depth')} more. Take a deeper rail or see that the curtain stays in this one.`,
      at: 'rails.depth',
      limit: `${door.show('limits.rail_depth')} or more`,
      related: [{ at: 'width', message: `the opening is ${door.show('width')} wide` }],
      fixes: () => {
        const text = lengthText(door, 'rails.depth', limit!, 'up')
        const edits = text === undefined ? undefined : setField(door, 'rails.depth', text)
        return [edits && { title: `Write \`depth = ${text}\``, safe: false, edits }]
      },
    })
  },
})
