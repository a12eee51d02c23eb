import * as m from '../mechanics/index.ts'
import { rule } from './rule.ts'
import { springName } from './springs.ts'

export default rule({
  id: 'spring_wire_range',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'The wire lies inside the range of diameters that the formula for its strength is published for, where no strength is written.',
  why: 'Outside that range the strength is not known, and with it neither the yield, nor the fatigue, nor the life of the spring.',
  todo: 'Write the tensile strength of the mill certificate as `strength`, or choose another wire.',
  source: 'Shigley table 10-4 (constants seen quoted; inch ranges from memory)',
  bad: `spring long {
  wire     = 9/16in
  diameter = 4.9in
  coils    = 150
  hand     = right
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  good: `spring long {
  wire     = 9/16in
  diameter = 4.9in
  coils    = 150
  hand     = right
  strength = 160 ksi
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  check(door, report) {
    for (const s of door.springs) {
      const wire = door.number(`${s.path}.wire`)
      const material = door.word(`${s.path}.material`) as m.WireMaterial | undefined
      if (wire === undefined || material === undefined || door.written(`${s.path}.strength`)) continue
      if (m.tensileStrength(material, wire) !== undefined) continue
      const [low, high] = m.publishedRange(material)
      const range = `${door.say(low, `${s.path}.wire`)} to ${door.say(high, `${s.path}.wire`)}`
      report({
        at: `${s.path}.wire`,
        message: `The wire of ${springName(door, s)}, ${door.show(`${s.path}.wire`)}, lies outside the range that the strength of ${material} wire is published for, ${range}. Its strength, fatigue and life stay unknown: write the tensile strength of the mill certificate as \`strength\`, or choose another wire.`,
        limit: range,
        related: door.written(`${s.path}.material`) ? [{ at: `${s.path}.material`, message: `${material} wire` }] : [],
      })
    }
  },
})
