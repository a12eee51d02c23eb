import { over } from './compare.ts'
import { rule } from './rule.ts'
import { springName } from './springs.ts'

export default rule({
  id: 'rate_given',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'A written rate lies near the one that follows from wire, diameter, coils and count.',
  why: 'Preload, balance and stress follow from the rate. A rate for one spring where all `count` are meant, or in another unit, makes all of them wrong.',
  todo: 'Check the rate, and that it is that of all `count` springs together; otherwise check wire, diameter and coils.',
  limit: 'rate_difference',
  source: 'common practice, no source',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 160
  hand     = right
  rate     = 150 lbf*in/turn
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  good: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 160
  hand     = right
  rate     = 220 lbf*in/turn
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  check(door, report) {
    const limit = door.number('limits.rate_difference')
    if (limit === undefined) return
    for (const s of door.springs) {
      const path = `${s.path}.rate`
      if (!door.written(path)) continue
      const written = door.number(path)
      const computed = door.computed(path)
      if (written === undefined || computed === undefined) continue
      const difference = Math.abs(written - computed) / computed
      // the difference of two near values carries their noise: compare the values themselves
      if (!over(written, computed * (1 + limit)) && !over(computed * (1 - limit), written)) continue
      report({
        at: path,
        message: `The rate of ${springName(door, s)} is written as ${door.show(path)}; wire, diameter, coils and count give ${door.say(computed, path)}, a difference of ${door.say(difference, 'limits.rate_difference')}. Check that it is the rate of all springs of this line together, and check the sizes.`,
        limit: `${door.show('limits.rate_difference')} from the computed rate`,
        related: ['wire', 'diameter', 'coils', 'count']
          .filter(f => door.written(`${s.path}.${f}`))
          .map(f => ({ at: `${s.path}.${f}`, message: `\`${f}\` is ${door.show(`${s.path}.${f}`)}` })),
      })
    }
  },
})
