import * as m from '../mechanics/index.ts'
import { withCaution } from '../model/index.ts'
import { numbers, over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'balance_push',
  group: 'Adjuster and balance',
  severity: 'warning',
  what: 'A door that is pushed up by hand takes no more force, up or down, than a person can give.',
  why: 'A door that is too heavy to push is let go, or gets a motor that nobody reckoned with.',
  todo: 'Bring preload and rate nearer to what balances the door, or choose a hand chain, a crank or a motor.',
  limit: 'push_force',
  source: 'common US specification wording, from memory (EN 12604, from memory: 260 N industrial, 150 N garage)',
  about: 'operator',
  caution: 'spring',
  bad: `operator {
  drive    = push_up
  friction = 20%
}`,
  good: `operator {
  drive    = push_up
  friction = 20%
}
limits {
  push_force = 200 lbf because "two people, twice a year"
}`,
  check(door, report) {
    if (door.word('operator.drive') !== 'push_up') return
    const known = numbers(door, 'operator.friction', 'curtain.weight', 'limits.push_force')
    if (!known) return
    const [friction, weight, limit] = known
    const rubs = friction * weight * m.GRAVITY
    const forces = [
      ['raise', door.number('balance.raise_force')],
      ['lower', door.number('balance.lower_force')],
    ] as const
    const say = (newtons: number): string => door.say(newtons, 'limits.push_force')
    const much = forces.flatMap(([way, force]) =>
      force !== undefined && over(force + rubs, limit) ? [`${say(force + rubs)} to ${way} it`] : [],
    )
    if (much.length === 0) return
    report({
      at: 'operator.drive',
      message: withCaution(
        `Pushed by hand, this door takes ${much.join(' and ')}, friction of ${say(rubs)} (${door.show('operator.friction')} of the closed weight) included; ${say(limit)} is allowed. Balance it better, or choose a hand chain, a crank or a motor.`,
        'spring',
      ),
      limit: `${say(limit)} at the bottom bar`,
      related: door.written('adjuster.preload')
        ? [
            {
              at: 'adjuster.preload',
              message: `the preload is ${door.show('adjuster.preload')}; best is ${door.show('balance.preload')}`,
            },
          ]
        : [],
    })
  },
})
