import { over, under } from './compare.ts'
import { rule } from './rule.ts'
import { capital, springName } from './springs.ts'

export default rule({
  id: 'spring_index',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'The spring index, mean diameter over wire, lies inside the range that springs are made in.',
  why: 'A smaller index cannot be coiled without damage to the wire; a larger one gives a spring that tangles and does not hold its diameter.',
  todo: 'Choose a diameter that suits the wire.',
  limit: 'spring_index',
  source: 'common practice, no source',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 160
  hand     = right
}
spring short {
  wire     = 0.3in
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
    const range = door.range('limits.spring_index')
    if (!range) return
    const [low, high] = range
    for (const s of door.springs) {
      const index = door.number(`${s.path}.index`)
      const small = under(index, low)
      if (!small && !over(index, high)) continue
      const limit = `${door.say(low, 'spring.index')} to ${door.say(high, 'spring.index')}`
      report({
        at: `${s.path}.diameter`,
        message: `${capital(springName(door, s))} has an index of ${door.show(`${s.path}.index`)}, ${small ? 'below' : 'above'} the range ${limit}. Choose a ${small ? 'larger' : 'smaller'} diameter or a ${small ? 'thinner' : 'thicker'} wire.`,
        limit,
        related: [{ at: `${s.path}.wire`, message: `the wire is ${door.show(`${s.path}.wire`)}` }],
      })
    }
  },
})
