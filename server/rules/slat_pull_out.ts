import { type Door, setField } from '../model/index.ts'
import { numbers, over, under } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'
import { windSaid } from './wind.ts'

export default rule({
  id: 'slat_pull_out',
  group: 'Rails and curtain',
  severity: 'error',
  what: 'In the wind enough of every slat stays in its rails.',
  why: 'A bowed slat is drawn out of its rails; once one end is free the curtain blows in.',
  todo: "Take a stiffer slat, or more engagement in a deeper rail; windlocks are an engineer's to decide.",
  limit: 'engagement_left',
  source: 'geometry of a flat parabola; the limit is common practice, no source',
  bad: `wind = 20 psf
curtain {
  engagement = 9/16in
  slat {
    pitch     = 2 5/8in
    thickness = 0.875in
    gauge     = 20
    developed = 3 3/4in
    inertia   = 0.02 in^4
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
    const known = numbers(door, 'wind_pressure', 'curtain.engagement_left', 'limits.engagement_left', 'curtain.draw_in')
    if (!known) return
    const [, left, limit, draw] = known
    if (!under(left, limit)) return
    const stays =
      left < 0
        ? `they leave the rails by ${door.say(-left, 'curtain.engagement_left')}`
        : `only ${door.show('curtain.engagement_left')} stays in`
    report({
      message: `In a wind of ${door.show('wind_pressure')} the slats bow ${door.show('curtain.bow')} and each end is drawn ${door.show('curtain.draw_in')} out of its rail; of the ${door.show('curtain.engagement')} in it ${stays}, and ${door.show('limits.engagement_left')} is asked for.${windSaid(door)} Take a stiffer slat, or more engagement in a deeper rail.`,
      at: 'curtain.engagement',
      limit: `${door.show('limits.engagement_left')} or more`,
      related: [
        { at: 'wind', message: `the wind is ${door.show('wind')}` },
        { at: 'rails.depth', message: `the rails are ${door.show('rails.depth')} deep` },
      ],
      fixes: () => [deeper(door, draw + limit)],
    })
  },
})

/** More engagement, and a deeper rail where this one is not deep enough for it. */
function deeper(door: Door, engagement: number) {
  const text = lengthText(door, 'curtain.engagement', engagement, 'up')
  const depth = door.number('rails.depth')
  const clearance = door.number('limits.slat_clearance')
  const edits = text === undefined ? undefined : setField(door, 'curtain.engagement', text)
  if (!edits || depth === undefined || clearance === undefined) return undefined
  // twice the step of the rounding covers what rounding the engagement up has added
  const needed = engagement + clearance + 0.002
  if (!over(needed, depth)) return { title: `Write \`engagement = ${text}\``, safe: false, edits }
  const deep = lengthText(door, 'rails.depth', needed, 'up')
  const more = deep === undefined ? undefined : setField(door, 'rails.depth', deep)
  return (
    more && { title: `Write \`engagement = ${text}\` and \`depth = ${deep}\``, safe: false, edits: [...edits, ...more] }
  )
}
