import { over } from './compare.ts'
import { INSTALLED_BETWEEN } from './records.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'installed_between',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'The installed rails are as far apart as the job has them, at the floor, at half height and at the head.',
  why: 'Too close and the curtain wedges; too far and its ends come out of the rails.',
  todo: 'Set the rails again, before the curtain is hung.',
  limit: 'rail_spread',
  source: 'common practice: no neutral published value',
  about: 'installed',
  bad: `installed {
  between { bottom = 12ft 1in; middle = 12ft 1 1/4in; top = 12ft 1in }
}
`,
  good: `installed {
  between { bottom = 12ft 1in; middle = 12ft 1 1/16in; top = 12ft 1in }
}
`,
  check(door, report) {
    const between = door.number('rails.between')
    const limit = door.number('limits.rail_spread')
    if (between === undefined) return
    for (const [path, where] of INSTALLED_BETWEEN) {
      const measured = door.number(path)
      if (measured === undefined) continue
      const difference = Math.abs(measured - between)
      if (!over(difference, limit)) continue
      report({
        message: `Between the rails ${door.show(path)} was measured ${where}, ${door.say(difference, 'limits.rail_spread')} ${measured > between ? 'more' : 'less'} than the ${door.show('rails.between')} of the job; ${door.show('limits.rail_spread')} is allowed. Set the rails again, before the curtain is hung.`,
        at: path,
        limit: `${door.show('limits.rail_spread')} or less, either way`,
        related: [{ at: 'rails.between', message: `the job has ${door.show('rails.between')}` }],
      })
    }
  },
})
