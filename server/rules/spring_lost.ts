import { withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import { rule } from './rule.ts'
import { springName } from './springs.ts'

export default rule({
  id: 'spring_lost',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'With one spring gone the door stays near enough to balance, or a device catches it.',
  why: 'Springs break. A door that then weighs more than a person can hold falls on whoever stands below.',
  todo: 'Fit a device that catches the door and write `drop_guard = true`, or share the load among more springs.',
  limit: 'lost_spring_force',
  source: 'EN 12604 as stated by a trade federation',
  caution: 'spring',
  bad: `drum {
  drop_guard = false
}`,
  good: `drum {
  drop_guard = true
}`,
  check(door, report) {
    if (door.truth('drum.drop_guard') === true) return
    const said = door.written('drum.drop_guard')
    if (said && door.truth('drum.drop_guard') === undefined) return
    for (const s of door.springs) {
      if (!over(door.number(`${s.path}.lost_force`), door.number('limits.lost_spring_force'))) continue
      const count = door.number(`${s.path}.count`)!
      const gone = count > 1 ? `one of the ${count} of ${springName(door, s)}` : springName(door, s)
      const guard = said
        ? 'and no device catches it (`drop_guard = false`)'
        : 'and nothing is written about a device that catches it'
      report({
        severity: said ? undefined : 'note',
        at: s.path,
        message: withCaution(
          `With ${gone} gone, up to ${door.show(`${s.path}.lost_force`)} at the bottom bar is left out of balance, where ${door.show('limits.lost_spring_force')} is allowed, ${guard}. Fit such a device and write \`drop_guard = true\`, or share the load among more springs.`,
          'spring',
        ),
        limit: `${door.show('limits.lost_spring_force')} at the bottom bar`,
        related: said ? [{ at: 'drum.drop_guard', message: 'no device catches the door' }] : [],
      })
    }
  },
})
