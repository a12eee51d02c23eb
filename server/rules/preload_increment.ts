import { isWhole, wholeUp } from '../mechanics/index.ts'
import { number, withCaution } from '../model/index.ts'
import { DIMENSION } from '../units/index.ts'
import { bestIncrements, bestText, countText, incrementsText, writeBest, writeIncrements } from './preload.ts'
import { type Door, type Fix, rule, type Tools } from './rule.ts'

export default rule({
  id: 'preload_increment',
  group: 'Adjuster and balance',
  severity: 'error',
  never: true,
  what: 'A written preload is a whole number of increments of the adjuster wheel.',
  why: 'The wheel is pinned in its holes: between two of them no preload can be set, and whoever winds it has to guess.',
  todo: 'Write a whole number of increments; rounding up to the next one is common practice (no source).',
  source: 'common practice, no source: rounded up',
  caution: 'spring',
  bad: `adjuster {
  holes   = 8
  preload = 1.7 turns
}`,
  good: `adjuster {
  holes   = 8
  preload = 1 7/8 turns
}`,
  check(door, report, tools) {
    if (!door.written('adjuster.preload')) return
    const increments = door.number('adjuster.increments')
    if (increments === undefined || isWhole(increments)) return
    const holes = door.show('adjuster.holes')
    const up = wholeUp(increments)
    const best = bestText(door)
    const advice =
      up > 0 ? ` Rounding up, here to ${up} (${incrementsText(door, up)}), is common practice (no source).` : ''
    report({
      at: 'adjuster.preload',
      message: withCaution(
        `A preload of ${door.show('adjuster.preload')} is ${countText(door, increments)} increments of the ${holes}-hole wheel: it lies between ${up - 1} and ${up} and cannot be set.${best ? ` Best for this door with these springs is ${best}.` : ''}${advice}`,
        'spring',
      ),
      limit: `whole increments of ${door.show('adjuster.increment')}`,
      related: [{ at: 'adjuster.holes', message: `the wheel has ${holes} holes` }],
      fixes: () => wholePreloads(door, increments, tools),
    })
  },
})

/** Rounded up, which is what is done; the nearest; the best. Each preload is offered once. */
function wholePreloads(door: Door, increments: number, tools: Tools): (Fix | undefined)[] {
  const up = wholeUp(increments)
  const nearest = Math.round(increments)
  const best = bestIncrements(door)
  const si = up * door.number('adjuster.increment')!
  const safe = up > 0 && tools.wouldBreak({ 'adjuster.preload': number(si, DIMENSION.angle) }).length === 0
  const bestUp = best === undefined ? undefined : wholeUp(best)
  return [
    writeIncrements(door, up, 'rounded up', safe),
    nearest === up ? undefined : writeIncrements(door, nearest, 'the nearest'),
    bestUp === up || bestUp === nearest ? undefined : writeBest(door),
  ]
}
