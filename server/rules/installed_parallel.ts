import { over } from './compare.ts'
import { INSTALLED_BETWEEN } from './records.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'installed_parallel',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'The installed rails are parallel: the widths between them differ by no more than the limit.',
  why: 'Between rails that are not parallel the curtain runs free at one height and wedges at another.',
  todo: 'Set the rails again, before the curtain is hung.',
  limit: 'rail_parallel',
  source: 'common practice, no source',
  about: 'installed',
  bad: `installed {
  between { bottom = 12ft 15/16in; middle = 12ft 1in; top = 12ft 1 1/8in }
}
`,
  good: `installed {
  between { bottom = 12ft 15/16in; middle = 12ft 1in; top = 12ft 1 1/16in }
}
`,
  check(door, report) {
    const limit = door.number('limits.rail_parallel')
    const measured = INSTALLED_BETWEEN.flatMap(([path, where]) => {
      const si = door.number(path)
      return si === undefined ? [] : [{ path, where, si }]
    }).sort((a, b) => a.si - b.si)
    const [least, most] = [measured[0], measured.at(-1)]
    if (!least || !most || !over(most.si - least.si, limit)) return
    report({
      message: `Between the rails ${door.show(least.path)} was measured ${least.where} and ${door.show(most.path)} ${most.where}: they are ${door.say(most.si - least.si, 'limits.rail_parallel')} out of parallel, and ${door.show('limits.rail_parallel')} is allowed. Set the rails again, before the curtain is hung.`,
      at: most.path,
      limit: `${door.show('limits.rail_parallel')} or less from the smallest to the largest`,
      related: [{ at: least.path, message: `the smallest: ${door.show(least.path)}` }],
    })
  },
})
