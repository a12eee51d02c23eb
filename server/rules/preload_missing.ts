import { setField, withCaution } from '../model/index.ts'
import { plainDecimal } from '../units/index.ts'
import { bestText, writeBest } from './preload.ts'
import { type Door, type Fix, rule } from './rule.ts'

export default rule({
  id: 'preload_missing',
  group: 'Adjuster and balance',
  severity: 'warning',
  what: 'An opening with springs says how far they are wound.',
  why: 'Whoever winds the springs needs a number that can be set and counted. What is reckoned meanwhile, the best preload, is not a whole number of increments.',
  todo: 'Write the best preload, rounded up to a whole increment.',
  source: 'common practice, no source: rounded up',
  caution: 'spring',
  bad: `job "HS-2207" {
  site = "Harbour Street cold store"
}
opening "Dock 5" {
  width  = 12ft
  height = 11ft 6in
  curtain {
    slat {
      pitch     = 2 5/8in
      thickness = 7/8in
      weight    = 2.3 lb/ft^2
    }
    engagement = 2 3/4in
    bottom_bar = 3 lb/ft
  }
  rails {
    between = 12ft 1in
    depth   = 3 1/4in
  }
  drum {
    pipe = nps6_std
  }
  spring long {
    wire     = 1/2in
    diameter = 4.9in
    coils    = 160
    hand     = right
  }
  spring short {
    wire     = 0.4063in
    diameter = 4.9in
    coils    = 140
    hand     = right
  }
  adjuster {
    side  = right
    holes = 8
  }
}`,
  good: `adjuster {
  preload = 1 7/8 turns
}`,
  check(door, report) {
    if (door.springs.length === 0 || door.written('adjuster.preload')) return
    const best = bestText(door)
    const positive = (door.number('balance.preload') ?? 1) > 0
    const advice = !best
      ? 'The best one follows as soon as the door, its springs and the wheel are known.'
      : positive
        ? `Best for this door is ${best}: write that, rounded up to a whole increment.`
        : `The best would be ${best}, below zero: choose softer springs.`
    report({
      at: 'adjuster.preload',
      message: withCaution(`There are springs, but no preload is written. ${advice}`, 'spring'),
      fixes: () => [writeBest(door) ?? (positive ? unrounded(door) : undefined)],
    })
  },
})

/** Without a wheel there are no increments to round to: the best preload to a thousandth of a turn. */
function unrounded(door: Door): Fix | undefined {
  const best = door.number('balance.preload')
  if (best === undefined || door.number('adjuster.increment') !== undefined) return undefined
  const text = `${plainDecimal(Math.ceil((best / (2 * Math.PI)) * 1000) / 1000)} turns`
  const edits = setField(door, 'adjuster.preload', text)
  return (
    edits && {
      title: `Write ${text}, the best for these springs; to be rounded up once the holes of the wheel are known`,
      safe: false,
      edits,
    }
  )
}
