import { numbers, under } from './compare.ts'
import { rule } from './rule.ts'
import { slatAt, windSaid } from './wind.ts'

export default rule({
  id: 'slat_stress',
  group: 'Rails and curtain',
  severity: 'error',
  what: 'In the wind the slats stay as far below their yield strength as the limit asks for.',
  why: 'A slat that yields stays bent, jams in its rails, and may come out of them.',
  todo: 'Take a stiffer slat or a stronger sheet. Without a design pressure from an engineer the check is no more than a first look.',
  limit: 'bending_safety',
  source: 'AISI S100 / AISC 360 allowable bending, from memory; mechanics: simply supported strip',
  bad: `wind = 20 psf
curtain {
  slat {
    pitch     = 2 5/8in
    thickness = 0.875in
    gauge     = 20
    developed = 3 3/4in
    inertia   = 0.08 in^4
    section   = 0.04 in^3
    yield     = 33 ksi
  }
}
`,
  good: `wind = 20 psf
curtain {
  slat {
    pitch     = 2 5/8in
    thickness = 0.875in
    gauge     = 20
    developed = 3 3/4in
    inertia   = 0.08 in^4
    section   = 0.06 in^3
    yield     = 33 ksi
  }
}
`,
  check(door, report) {
    const known = numbers(door, 'wind_pressure', 'curtain.slat_stress', 'curtain.slat.yield', 'limits.bending_safety')
    if (!known) return
    const [, stress, strength, safety] = known
    if (stress === 0 || !under(strength / stress, safety)) return
    const allowed = safety > 0 ? strength / safety : strength
    report({
      message: `In a wind of ${door.show('wind_pressure')} the slats are stressed to ${door.show('curtain.slat_stress')}; their yield strength of ${door.show('curtain.slat.yield')} over ${door.show('limits.bending_safety')} allows ${door.say(allowed, 'curtain.slat_stress')}.${windSaid(door)} Take a stiffer slat or a stronger sheet.`,
      at: slatAt(door, 'section'),
      limit: `yield / ${door.show('limits.bending_safety')} or less`,
      related: [
        { at: 'wind', message: `the wind is ${door.show('wind')}` },
        { at: 'rails.between', message: `the slats span ${door.show('rails.between')}` },
      ],
    })
  },
})
