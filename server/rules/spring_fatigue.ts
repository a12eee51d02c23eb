import { withCaution } from '../model/index.ts'
import { showCycles } from '../units/index.ts'
import { under } from './compare.ts'
import { rule } from './rule.ts'
import { capital, lifeOf, springName } from './springs.ts'

export default rule({
  id: 'spring_fatigue',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'A spring has a fatigue factor of at least 1 at the cycles that springs are to last.',
  why: 'Below 1 the spring is expected to break before it has made these cycles, and a door that loses a spring falls or cannot be lifted.',
  todo: 'More coils or a larger mean diameter lower the stress; the certified curve of the spring maker, written as `range_strength`, is better than the published points.',
  limit: 'spring_cycles',
  source: 'trade convention of 10,000 cycles, from memory; factor by Shigley, example 10-8 (c)',
  caution: 'spring',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 130
  hand     = right
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
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  check(door, report) {
    const least = door.number('limits.spring_cycles')
    if (least === undefined) return
    const cycles = showCycles(least, true)
    for (const s of door.springs) {
      // not known where the wire yields already: then `spring_yield` speaks
      if (!under(door.number(`${s.path}.fatigue_factor`), 1)) continue
      const life = lifeOf(door, s)
      report({
        at: `${s.path}.wire`,
        message: withCaution(
          `${capital(springName(door, s))} has a fatigue factor of ${door.show(`${s.path}.fatigue_factor`)} at ${cycles} cycles, and needs 1.${life ? ` It is reckoned to last ${life.text}.` : ''} Choose more coils or a larger diameter, or write the spring maker's certified \`range_strength\`.`,
          'spring',
        ),
        limit: `factor 1 at ${cycles} cycles`,
        related: [
          {
            at: 'adjuster.preload',
            message: `the stress is ${door.show(`${s.path}.stress_open`)} open and ${door.show(`${s.path}.stress_closed`)} closed`,
          },
        ],
      })
    }
  },
})
