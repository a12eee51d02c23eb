import { over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'installed_plumb',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'Neither installed rail is further out of plumb than the limit.',
  why: 'In a rail that leans the curtain runs to one side and wears.',
  todo: 'Set the rail again, before the curtain is hung.',
  limit: 'rail_plumb',
  source: 'common practice, no source',
  about: 'installed',
  bad: `installed {
  plumb { left = 1/16in; right = 3/16in }
}
`,
  good: `installed {
  plumb { left = 1/16in; right = 1/8in }
}
`,
  check(door, report) {
    const limit = door.number('limits.rail_plumb')
    for (const side of ['left', 'right']) {
      const path = `installed.plumb.${side}`
      const measured = door.number(path)
      if (!over(measured, limit)) continue
      report({
        message: `The ${side} rail is ${door.show(path)} out of plumb, ${door.say(measured - limit!, 'limits.rail_plumb')} more than the ${door.show('limits.rail_plumb')} allowed. Set it again, before the curtain is hung.`,
        at: path,
        limit: `${door.show('limits.rail_plumb')} or less`,
      })
    }
  },
})
