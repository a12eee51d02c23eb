import { setField, withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'fastener_spacing',
  group: 'Rails and curtain',
  severity: 'warning',
  what: 'The fasteners of a rail are not further apart than the limit.',
  why: 'Between fasteners that are far apart a rail bends away from the wall, and each of them carries more.',
  todo: 'Space the fasteners closer.',
  limit: 'fastener_spacing',
  source: 'IS 6248 family, seen quoted',
  caution: 'anchor',
  bad: `rails {
  fastener_spacing  = 36in
  fastener_capacity = 900 lbf
}
`,
  good: `rails {
  fastener_spacing  = 24in
  fastener_capacity = 900 lbf
}
`,
  check(door, report) {
    const spacing = door.number('rails.fastener_spacing')
    const limit = door.number('limits.fastener_spacing')
    if (!over(spacing, limit)) return
    report({
      message: withCaution(
        `The fasteners of the rails are ${door.say(spacing, 'limits.fastener_spacing')} apart; ${door.show('limits.fastener_spacing')} at most is asked for, ${door.say(spacing - limit!, 'limits.fastener_spacing')} less. Space them closer.`,
        'anchor',
      ),
      at: 'rails.fastener_spacing',
      limit: `${door.show('limits.fastener_spacing')} or less`,
      fixes: () => {
        const text = lengthText(door, 'rails.fastener_spacing', limit!, 'down')
        const edits = text === undefined ? undefined : setField(door, 'rails.fastener_spacing', text)
        return [edits && { title: `Write \`fastener_spacing = ${text}\``, safe: false, edits }]
      },
    })
  },
})
