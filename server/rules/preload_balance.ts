import { wholeUp } from '../mechanics/index.ts'
import { withCaution } from '../model/index.ts'
import { numbers, over } from './compare.ts'
import { bestIncrements, bestText, writeIncrements } from './preload.ts'
import { type Door, type Fix, rule } from './rule.ts'

export default rule({
  id: 'preload_balance',
  group: 'Adjuster and balance',
  severity: 'warning',
  what: 'A written preload lies near the one that balances the door best.',
  why: 'With less the door drops, with more it runs up; every operator and every hand then works against the springs.',
  todo: 'Write the best preload, rounded up to a whole increment.',
  limit: 'preload_difference',
  source: 'common practice, no source: one increment',
  caution: 'spring',
  bad: `adjuster {
  holes   = 8
  preload = 2 1/2 turns
}`,
  good: `adjuster {
  holes   = 8
  preload = 1 7/8 turns
}`,
  check(door, report) {
    if (!door.written('adjuster.preload')) return
    const known = numbers(door, 'adjuster.preload', 'balance.preload', 'limits.preload_difference')
    if (!known) return
    const [preload, best, limit] = known
    const difference = Math.abs(preload - best)
    if (!over(difference, limit)) return
    const less = preload < best
    report({
      at: 'adjuster.preload',
      message: withCaution(
        `The preload of ${door.show('adjuster.preload')} is ${door.say(difference, 'adjuster.preload')} ${less ? 'less' : 'more'} than the best for this door with these springs, ${bestText(door)}; ${door.show('limits.preload_difference')} is allowed. It leaves up to ${door.show('balance.worst')} out of balance: ${best > 0 ? 'write the best preload, rounded up to a whole increment' : 'choose softer springs'}.`,
        'spring',
      ),
      limit: `${door.show('limits.preload_difference')} from the best preload`,
      fixes: () => nearBest(door, limit),
    })
  },
})

/** The best preload rounded up and, where that is already too far under a close limit, the nearest one. */
function nearBest(door: Door, limit: number): (Fix | undefined)[] {
  const best = bestIncrements(door)
  if (best === undefined) return []
  const increment = door.number('adjuster.increment')!
  const within = (count: number): boolean => !over(Math.abs(count - best) * increment, limit)
  const up = wholeUp(best)
  const nearest = Math.round(best)
  return [
    within(up) ? writeIncrements(door, up, 'the best for these springs rounded up') : undefined,
    nearest !== up && within(nearest)
      ? writeIncrements(door, nearest, 'the nearest to the best for these springs')
      : undefined,
  ]
}
