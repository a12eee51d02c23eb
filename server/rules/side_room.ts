import { under } from './compare.ts'
import { sideOf } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'side_room',
  group: 'Rails and curtain',
  severity: 'warning',
  what: 'Beside the opening there is the room that the adjuster end and the drive end need.',
  why: 'Whoever winds the springs needs room to swing two bars; the operator and its chain need room to be fitted and mended.',
  todo: 'Change the ends round, choose a drive that needs less, or find the room.',
  limit: 'side_room_adjuster',
  source: 'house limit: none until set',
  bad: `limits { side_room_adjuster = 14in }
side_room_right = 12in
`,
  good: `limits { side_room_adjuster = 12in }
side_room_right = 12in
`,
  check(door, report) {
    for (const end of ['adjuster', 'drive'] as const) {
      const limitName = `side_room_${end}`
      const limit = `limits.${limitName}`
      const needed = door.number(limit)
      const side = needed === undefined ? undefined : sideOf(door, end)
      if (side === undefined) continue
      const path = `side_room_${side}`
      const room = door.number(path)
      if (!under(room, needed)) continue
      report({
        message: `On the ${side}, where the ${end} is, there is side room of ${door.say(room, limit)}; ${door.show(limit)} is asked for, ${door.say(needed! - room, limit)} more. Change the ends round or find the room.`,
        at: path,
        limit: `${door.show(limit)} or more at the ${end} end`,
        limitName,
        related: [{ at: limit, message: `${door.show(limit)} asked for here` }],
      })
    }
  },
})
