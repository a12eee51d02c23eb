import { under } from './compare.ts'
import { sideOf } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'survey_side_room',
  group: 'Survey',
  severity: 'error',
  what: 'Beside the opening there is, as measured, the room that the adjuster end and the drive end need.',
  why: 'Whoever winds the springs needs room to swing two bars; the operator and its chain need room to be fitted and mended.',
  todo: 'Measure again; then change the ends round, choose a drive that needs less, or have what is in the way moved.',
  limit: 'side_room_adjuster',
  source: 'geometry; what the ends need is a house limit: none until set (`side_room_adjuster`, `side_room_drive`)',
  about: 'survey',
  bad: `limits { side_room_adjuster = 12in }
survey { side_room_right = 9in }
`,
  good: `limits { side_room_adjuster = 12in }
survey { side_room_right = 12 1/4in }
`,
  check(door, report) {
    for (const end of ['adjuster', 'drive'] as const) {
      const limitName = `side_room_${end}`
      const limit = `limits.${limitName}`
      const needed = door.number(limit)
      const side = needed === undefined ? undefined : sideOf(door, end)
      if (side === undefined) continue
      const path = `survey.side_room_${side}`
      const measured = door.number(path)
      if (!under(measured, needed)) continue
      report({
        message: `The side room measured on the ${side}, where the ${end} is, is ${door.show(path)}; ${door.show(limit)} is asked for, ${door.say(needed! - measured, limit)} more. Change the ends round, choose a drive that needs less, or have what is in the way moved.`,
        at: path,
        limit: `${door.show(limit)} or more at the ${end} end`,
        limitName,
        related: [{ at: limit, message: `${door.show(limit)} asked for here` }],
      })
    }
  },
})
