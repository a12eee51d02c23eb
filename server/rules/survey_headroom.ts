import { numbers, under } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'survey_headroom',
  group: 'Survey',
  severity: 'error',
  what: 'The open coil fits under the ceiling as it was measured, with the clearance kept free above it.',
  why: 'The coil is largest when the door is open; without the room it jams against what is above it.',
  todo: 'Measure again, lower the drum (`rise`), take a smaller pipe, or have what is in the way moved.',
  limit: 'headroom_clearance',
  source: 'geometry; the clearance is common practice, no source',
  about: 'survey',
  bad: 'survey { headroom = 14in }',
  good: 'survey { headroom = 21 3/4in }',
  check(door, report) {
    const known = numbers(door, 'survey.headroom', 'drum.rise', 'drum.coil_diameter', 'limits.headroom_clearance')
    if (!known) return
    const [measured, rise, coil, clearance] = known
    const needed = rise + coil / 2 + clearance
    if (!under(measured, needed)) return
    report({
      message: `The headroom measured is ${door.show('survey.headroom')}, but the open coil needs ${door.say(needed, 'headroom')}: the drum's axis ${door.show('drum.rise')} above the head, half the coil of ${door.show('drum.coil_diameter')}, and ${door.show('limits.headroom_clearance')} free. It is ${door.say(needed - measured, 'limits.headroom_clearance')} short. Measure again, lower the drum, take a smaller pipe, or have what is in the way moved.`,
      at: 'survey.headroom',
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
