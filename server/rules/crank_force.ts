import { checkPull } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'crank_force',
  group: 'Operator',
  severity: 'warning',
  what: 'The handle of the crank takes no more force than the limit where the door is hardest to move.',
  why: 'A crank that turns hard strains whoever turns it, and strikes back where it slips.',
  todo: 'Take more ratio or a longer arm, or springs that balance the door better.',
  limit: 'crank_force',
  source: 'UFGS-08331N 2.3.3',
  about: 'operator',
  bad: `operator {
  drive      = crank
  ratio      = 1
  hand_wheel = 20in
}
`,
  good: `operator {
  drive      = crank
  ratio      = 6
  hand_wheel = 20in
}
`,
  check(door, report) {
    if (door.word('operator.drive') !== 'crank') return
    checkPull(
      door,
      report,
      'limits.crank_force',
      'The force on the handle of the crank',
      'Take more ratio or a longer arm.',
    )
  },
})
