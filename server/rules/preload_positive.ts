import { withCaution } from '../model/index.ts'
import { writeBest } from './preload.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'preload_positive',
  group: 'Adjuster and balance',
  severity: 'error',
  never: true,
  what: 'A written preload is above zero.',
  why: 'Springs without preload go slack when the door opens: they leave their seats, and nothing holds the open door.',
  todo: 'Write the best preload, rounded up to a whole increment; where that is not above zero, choose softer springs.',
  source: 'mechanics',
  caution: 'spring',
  bad: `adjuster {
  preload = 0 turns
}`,
  good: `adjuster {
  preload = 1 7/8 turns
}`,
  check(door, report) {
    if (!door.written('adjuster.preload')) return
    const preload = door.number('adjuster.preload')
    if (preload === undefined || preload > 0) return
    report({
      at: 'adjuster.preload',
      message: withCaution(
        `A preload of ${door.show('adjuster.preload')} leaves the springs slack, or wound backward, with the door open. It has to be above zero: write the best preload, rounded up to a whole increment.`,
        'spring',
      ),
      limit: 'above zero',
      fixes: () => [writeBest(door)],
    })
  },
})
