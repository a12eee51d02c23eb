import { withCaution } from '../model/index.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'windlock_pull',
  group: 'Rails and curtain',
  severity: 'note',
  what: 'Whether the curtain is held by windlocks and so pulls its rails together in the wind.',
  why: 'A windlocked curtain hangs between its rails like a shallow cable and pulls on them, and on the wall, with many times the wind that it holds.',
  todo: 'Have an engineer decide about slats, rails, fasteners and wall.',
  source: 'DASMA TDS 251',
  caution: 'anchor',
  bad: 'curtain { windlocks = true }',
  good: 'curtain { windlocks = false }',
  check(door, report) {
    if (door.truth('curtain.windlocks') !== true) return
    report({
      message: withCaution(
        `Held by windlocks, the curtain pulls the two rails together in the wind, with a force that grows as its bow gets smaller. Bow and stress of the slats, their hold in the rails and the load on the fasteners are not worked out here: an engineer must decide them.`,
        'anchor',
      ),
      at: 'curtain.windlocks',
      related: door.written('wind') ? [{ at: 'wind', message: `the wind is ${door.show('wind')}` }] : [],
    })
  },
})
