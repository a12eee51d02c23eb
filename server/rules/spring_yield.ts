import * as m from '../mechanics/index.ts'
import { withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import { rule } from './rule.ts'
import { capital, springName } from './springs.ts'

export default rule({
  id: 'spring_yield',
  group: 'Drum and springs',
  severity: 'error',
  never: true,
  what: 'The stress of a spring with the door closed stays below the yield strength of its wire.',
  why: 'A spring that is wound past the yield of its wire takes a set or breaks, and the door falls.',
  todo: 'More coils or a larger mean diameter lower the stress of the same twist; the rate falls with them, so look at the balance again.',
  source: 'Shigley eq. 10-57',
  caution: 'spring',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 110
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
    for (const s of door.springs) {
      const strength = door.number(`${s.path}.strength`)
      const material = door.word(`${s.path}.material`)
      const stress = door.number(`${s.path}.stress_closed`)
      if (strength === undefined || material === undefined) continue
      const yields = m.springYield(material as m.WireMaterial, strength)
      if (!over(stress, yields)) continue
      const limit = door.say(yields, `${s.path}.strength`)
      report({
        at: `${s.path}.wire`,
        message: withCaution(
          `${capital(springName(door, s))} is stressed to ${door.show(`${s.path}.stress_closed`)} with the door closed; its wire yields at ${limit}, so it takes a set or breaks. Choose more coils or a larger diameter, and look at the balance again.`,
          'spring',
        ),
        limit: `yield strength ${limit}, for a tensile strength of ${door.show(`${s.path}.strength`)}`,
        related: [
          {
            at: 'adjuster.preload',
            message: `the preload is ${door.show('adjuster.preload')}, and the drum makes ${door.show('drum.turns')}`,
          },
        ],
      })
    }
  },
})
