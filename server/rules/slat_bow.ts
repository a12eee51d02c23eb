import { numbers, over } from './compare.ts'
import { rule } from './rule.ts'
import { slatAt, windSaid } from './wind.ts'

export default rule({
  id: 'slat_bow',
  group: 'Rails and curtain',
  severity: 'warning',
  what: 'In the wind the slats bow no further than the limit.',
  why: 'A curtain that bows far draws its ends out of the rails and rubs on what stands behind it.',
  todo: 'Take a stiffer slat, or have an engineer decide about windlocks.',
  limit: 'slat_bow',
  source: "one public owner's specification for rolling doors; UFGS-08342 has the same for hangar doors",
  bad: `wind = 20 psf
curtain {
  slat {
    pitch     = 2 5/8in
    thickness = 0.875in
    gauge     = 20
    developed = 3 3/4in
    inertia   = 0.04 in^4
    section   = 0.06 in^3
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
    const known = numbers(door, 'wind_pressure', 'curtain.bow', 'rails.between', 'limits.slat_bow')
    if (!known) return
    const [, bow, between, limit] = known
    if (!over(bow, limit * between)) return
    report({
      message: `In a wind of ${door.show('wind_pressure')} the slats bow ${door.show('curtain.bow')} over ${door.show('rails.between')}, ${door.say(bow - limit * between, 'curtain.bow')} more than the ${door.say(limit * between, 'curtain.bow')} that the limit allows.${windSaid(door)} Take a stiffer slat.`,
      at: slatAt(door, 'inertia'),
      limit: `${door.say(limit * between, 'curtain.bow')} or less over this width`,
      related: [
        { at: 'wind', message: `the wind is ${door.show('wind')}` },
        { at: 'rails.between', message: `the slats span ${door.show('rails.between')}` },
      ],
    })
  },
})
