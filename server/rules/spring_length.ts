import { over } from './compare.ts'
import { rule } from './rule.ts'
import { springName } from './springs.ts'

export default rule({
  id: 'spring_length',
  group: 'Drum and springs',
  severity: 'error',
  what: 'All springs, end to end and wound, go between the brackets.',
  why: 'A spring gets longer by one wire with every turn of twist; one that has no room left buckles and rubs.',
  todo: 'Choose springs with fewer coils or a thinner wire, or a longer drum.',
  source: 'geometry of a close-wound coil',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 215
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
    const span = door.number('drum.span')
    if (span === undefined) return
    const lengths = door.springs.map(s => {
      const one = door.number(`${s.path}.length_wound`)
      const count = door.number(`${s.path}.count`)
      return { spring: s, count, all: one === undefined || count === undefined ? undefined : one * count }
    })
    if (lengths.some(l => l.all === undefined)) return
    const sum = lengths.reduce((total, l) => total + l.all!, 0)
    if (!over(sum, span)) return
    const longest = lengths.reduce((a, b) => (b.all! > a.all! ? b : a))
    report({
      at: `${longest.spring.path}.coils`,
      message: `Wound up, the springs are ${door.say(sum, 'drum.span')} long; between the brackets there are ${door.show('drum.span')}. That is ${door.say(sum - span, 'drum.span')} too much: choose fewer coils or a thinner wire, or a longer drum.`,
      limit: `${door.show('drum.span')} between the brackets`,
      related: [
        { at: 'drum.span', message: `the span is ${door.show('drum.span')}` },
        ...lengths.map(l => ({
          at: `${l.spring.path}.coils`,
          message: `${springName(door, l.spring)}: ${l.count} of ${door.show(`${l.spring.path}.length_wound`)}`,
        })),
      ],
    })
  },
})
