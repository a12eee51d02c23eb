import { setField } from '../model/index.ts'
import { numbers, under } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'hood_supports',
  group: 'Rigging and hood',
  severity: 'warning',
  what: 'The hood has as many supports between the brackets as the width between the rails asks for.',
  why: 'A hood that is carried too seldom sags onto the coil and is rubbed through.',
  todo: 'Put in more supports.',
  limit: 'hood_span',
  source: 'common practice, no source',
  bad: `width = 20ft
hood { supports = 0 }
`,
  good: `width = 20ft
hood { supports = 1 }
`,
  check(door, report) {
    const known = numbers(door, 'hood.supports', 'hood.supports_needed', 'rails.between')
    if (!known) return
    const [supports, needed, between] = known
    if (!under(supports, needed)) return
    report({
      message: `With ${supports === 1 ? '1 support' : `${door.show('hood.supports')} supports`} over ${door.show('rails.between')} the hood spans ${door.say(between / (supports + 1), 'limits.hood_span')} from one to the next; ${door.show('limits.hood_span')} is the most. Put in ${door.show('hood.supports_needed')}.`,
      at: 'hood.supports',
      limit: `${door.show('limits.hood_span')} or less from support to support`,
      related: [{ at: 'rails.between', message: `the rails are ${door.show('rails.between')} apart` }],
      fixes: () => {
        const edits = setField(door, 'hood.supports', `${needed}`)
        return [edits && { title: `Write \`supports = ${needed}\``, safe: false, edits }]
      },
    })
  },
})
