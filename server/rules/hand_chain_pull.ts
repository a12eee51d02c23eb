import { checkPull } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'hand_chain_pull',
  group: 'Operator',
  severity: 'warning',
  what: 'The hand chain takes no more pull than the limit where the door is hardest to move.',
  why: 'A chain that pulls hard is jerked, and the door with it; not everybody can move the door.',
  todo: 'Take more ratio or a larger hand wheel, or springs that balance the door better.',
  limit: 'hand_chain_pull',
  source: 'UFGS-08331N 2.3.2',
  about: 'operator',
  bad: `operator {
  drive      = hand_chain
  ratio      = 1
  hand_wheel = 10in
}
`,
  good: `operator {
  drive      = hand_chain
  ratio      = 4
  hand_wheel = 12in
}
`,
  check(door, report) {
    if (door.word('operator.drive') !== 'hand_chain') return
    checkPull(
      door,
      report,
      'limits.hand_chain_pull',
      'The pull on the hand chain',
      'Take more ratio or a larger hand wheel.',
    )
  },
})
