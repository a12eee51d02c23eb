import { numbers, over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'rate_far',
  group: 'Adjuster and balance',
  severity: 'note',
  what: 'The rate of all springs together lies near the one that would balance the door best of all.',
  why: 'No preload makes up for a rate that does not suit the door: it stays out of balance at both ends of the travel.',
  todo: 'Choose springs whose rate together is near the ideal one.',
  limit: 'rate_difference_ideal',
  source: 'mechanics',
  bad: `spring long {
  wire     = 13/32in
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
    const known = numbers(door, 'balance.rate', 'balance.ideal_rate', 'limits.rate_difference_ideal')
    if (!known) return
    const [rate, ideal, limit] = known
    const soft = over(ideal * (1 - limit), rate)
    if (!soft && !over(rate, ideal * (1 + limit))) return
    const first = door.springs[0]!
    const difference = door.say(Math.abs(rate - ideal) / ideal, 'limits.rate_difference_ideal')
    report({
      at: first.path,
      message: `The springs together have a rate of ${door.show('balance.rate')}, ${difference} ${soft ? 'below' : 'above'} the ${door.show('balance.ideal_rate')} that would balance this door best. With the preload in use ${door.show('balance.worst')} is left out of balance, with ideal springs ${door.show('balance.ideal_worst')}: choose ${soft ? 'stiffer' : 'softer'} springs.`,
      limit: `${door.show('limits.rate_difference_ideal')} from the ideal rate`,
      related: door.springs.slice(1).map(s => ({ at: s.path, message: `its rate is ${door.show(`${s.path}.rate`)}` })),
    })
  },
})
