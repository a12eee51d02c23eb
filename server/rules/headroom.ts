import { numbers, under } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'headroom',
  group: 'Rails and curtain',
  severity: 'error',
  what: 'The open coil fits under the ceiling, with the clearance kept free above it.',
  why: 'The coil is largest when the door is open; without the room it jams against what is above it.',
  todo: 'Measure the headroom again, lower the drum (`rise`), or take a smaller pipe.',
  limit: 'headroom_clearance',
  source: 'geometry; the clearance is common practice, no source',
  bad: 'headroom = 14in',
  good: 'headroom = 22in',
  check(door, report) {
    const known = numbers(door, 'headroom', 'drum.rise', 'drum.coil_diameter', 'limits.headroom_clearance')
    if (!known) return
    const [headroom, rise, coil, clearance] = known
    const needed = rise + coil / 2 + clearance
    if (!under(headroom, needed)) return
    report({
      message: `The headroom is ${door.show('headroom')}, but the open coil needs ${door.say(needed, 'headroom')}: the drum's axis ${door.show('drum.rise')} above the head, half the coil of ${door.show('drum.coil_diameter')}, and ${door.show('limits.headroom_clearance')} free. It is ${door.say(needed - headroom, 'limits.headroom_clearance')} short. Lower the drum, take a smaller pipe, or find the room.`,
      at: 'headroom',
      limit: `${door.say(needed, 'headroom')} or more`,
      related: [
        {
          at: door.written('drum.rise') ? 'drum.rise' : 'drum',
          message: `the axis is ${door.show('drum.rise')} above the head of the opening`,
        },
        {
          at: door.written('drum.pipe') ? 'drum.pipe' : 'drum',
          message: `on this pipe the open coil is ${door.show('drum.coil_diameter')}`,
        },
      ],
    })
  },
})
