/**
 * Rules over adjuster and balance. The numbers of the opening are its own (invented); what a wheel can be set to, and the
 * directions, are checked against arithmetic written out here.
 */
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const preload = (text: string, holes = 8, more = '') =>
  check(openingWith(`adjuster {\n holes = ${holes}\n preload = ${text}\n}\n${more}`))
const errorsAndWarnings = (c: ReturnType<typeof check>) =>
  c.findings.filter(f => f.severity !== 'note').map(f => f.rule)

describe('preload_increment', () => {
  // own arithmetic: 1.7 x 8 = 13.6, and 14/8 = 1 3/4
  test('says between which increments a preload lies, what is best and what is done', () => {
    const c = preload('1.7 turns')
    const f = c.one('preload_increment')
    expect(f.text).toBe('1.7 turns')
    expect(f.severity).toBe('error')
    expect(f.message).toContain('13.6 increments of the 8-hole wheel')
    expect(f.message).toContain('between 13 and 14')
    expect(f.message).toContain(`Best for this door with these springs is ${c.door().show('balance.preload')}`)
    expect(f.message).toContain('Rounding up, here to 14 (1 3/4 turns), is common practice (no source)')
    expect(f.message.endsWith(CAUTIONS.spring.short)).toBe(true)
  })

  test.each([
    ['1.7 turns', 8, '1 3/4 turns'], // 13.6 -> 14/8
    ['1.7 turns', 6, '1 5/6 turns'], // 10.2 -> 11/6
    ['1.7 turn', 7, '1 5/7 turns'], // 11.9 -> 12/7
    ['612deg', 8, '630deg'], // 13.6 -> 14 x 45
    ['612deg', 7, '617 1/7deg'], // 11.9 -> 12 x 360/7
    ['0.4 turns', 2, '1/2 turn'],
    ['1 turn + 0.7 turns', 8, '1 3/4 turns'],
  ])('%s on %i holes is rounded up to %s', (text, holes, wanted) => {
    const fixed = preload(text, holes).fixed('preload_increment', 'rounded up')
    expect(fixed.text).toContain(`preload = ${wanted}\n`)
    expect(fixed.of('preload_increment')).toEqual([])
    expect(fixed.of('syntax')).toEqual([])
    // exactly the increments that were meant
    const up = Math.ceil(preload(text, holes).door().number('adjuster.increments')!)
    expect(fixed.door().number('adjuster.increments')).toBeCloseTo(up, 9)
  })

  test('radians stay radians', () => {
    const fixed = preload('10.7 rad').fixed('preload_increment', 'rounded up')
    expect(fixed.text).toMatch(/preload = 10\.99\d+ rad\n/) // 14 x 2 pi / 8
    expect(fixed.of('preload_increment')).toEqual([])
  })

  test.each(['1 3/4 turns', '630deg', '1.75 turns', '2 turns'])('%s on 8 holes is whole', text => {
    expect(preload(text).of('preload_increment')).toEqual([])
  })

  test('a whole number within 1e-9 of a step is whole; beyond it is not', () => {
    expect(preload('1.7500000001 turns').of('preload_increment')).toEqual([])
    expect(preload('1.750001 turns').one('preload_increment').message).toContain('14.000008 increments')
  })

  test('rounding up is safe where nothing new is to be said, else only offered', () => {
    const c = preload('1.7 turns')
    const safe = c.one('preload_increment').fixes[0]!
    expect(safe.safe).toBe(true)
    expect(c.apply(safe).findings).toEqual([])
    // 1.85 turns lies within 0.1 turn of the best; the next increment up does not
    const near = 'limits { preload_difference = 0.08 turns }'
    const other = preload('1.85 turns', 8, near)
    expect(other.of('preload_balance')).toEqual([])
    expect(other.apply(other.one('preload_increment').fixes[0]).of('preload_balance')).toHaveLength(1)
    expect(other.one('preload_increment').fixes[0]!.safe).toBe(false)
  })

  test('rounding up is not safe where it breaks a `require` of the author', () => {
    const c = preload('1.7 turns', 8, 'require adjuster.preload <= 1.72 turns because "tried on site"')
    expect(c.of('requirement')).toEqual([])
    expect(c.one('preload_increment').fixes[0]!.safe).toBe(false)
    // one that is broken already is nothing new
    const broken = preload('1.7 turns', 8, 'require adjuster.preload <= 1.6 turns')
    expect(broken.of('requirement')).toHaveLength(1)
    expect(broken.one('preload_increment').fixes[0]!.safe).toBe(true)
  })

  test('the nearest and the best are offered, never safe, and each preload once', () => {
    const c = preload('1.53 turns') // 12.24 increments; best is 14.2
    const fixes = c.one('preload_increment').fixes
    expect(fixes.map(f => f.title)).toEqual([
      'Write 1 5/8 turns (13 increments of the 8-hole wheel), rounded up',
      'Write 1 1/2 turns (12 increments of the 8-hole wheel), the nearest',
      'Write 1 7/8 turns (15 increments of the 8-hole wheel), the best for these springs rounded up',
    ])
    expect(fixes.slice(1).some(f => f.safe)).toBe(false)
    for (const f of fixes) expect(c.apply(f).of('preload_increment')).toEqual([])
    expect(preload('1.8 turns').one('preload_increment').fixes).toHaveLength(2) // 14.4: up is the best too
  })

  test('cannot be allowed away', () => {
    const c = check(openingWith('adjuster {\n preload = 1.7 turns\n allow preload_increment because "near enough"\n}'))
    expect(c.one('preload_increment').accepted).toBeUndefined()
    expect(c.of('allow_refused')).toHaveLength(1)
  })

  test('silent without a wheel, without a written preload, and with one that cannot be read', () => {
    expect(check(openingWith('adjuster { preload = 1.7 turns }', ['adjuster.holes'])).of('preload_increment')).toEqual(
      [],
    )
    expect(check(openingWith('', ['adjuster.preload'])).of('preload_increment')).toEqual([])
    expect(preload('1.7 lb').of('preload_increment')).toEqual([])
  })

  test('a copied preload is found at the `like`, and put right in the copy', () => {
    const c = check(
      `${openingWith('adjuster { preload = 1.7 turns }')}\nopening "Dock 4" like "Dock 3" {\n  width = 12ft\n}\n`,
    )
    const f = c.of('preload_increment').find(x => x.opening === 'Dock 4')!
    expect(f.text).toBe('like "Dock 3"')
    expect(f.related[0]).toMatchObject({ text: '1.7 turns', message: 'written here' })
    const fixed = c.apply(f.fixes[0])
    expect(fixed.of('preload_increment').map(x => x.opening)).toEqual(['Dock 3'])
    expect(fixed.door('Dock 4').number('adjuster.increments')).toBeCloseTo(14, 9)
  })
})

describe('preload_balance', () => {
  test('names both preloads and the difference', () => {
    const c = preload('2 1/2 turns')
    const f = c.one('preload_balance')
    const off = c.door().number('adjuster.preload')! - c.door().number('balance.preload')!
    expect(f.message).toContain('2.5 turns')
    expect(f.message).toContain(`${c.door().say(off, 'adjuster.preload')} more`)
    expect(f.message).toContain(c.door().show('balance.preload'))
    expect(f.message).toContain('14.23 increments')
    expect(preload('1 1/4 turns').one('preload_balance').message).toContain('less than the best')
  })

  test('exactly at the limit passes', () => {
    const base = preload('2 turns')
    const off = (base.door().number('adjuster.preload')! - base.door().number('balance.preload')!) / (2 * Math.PI)
    const limit = (turns: number) => preload('2 turns', 8, `limits { preload_difference = ${turns.toFixed(13)} turns }`)
    expect(limit(off).of('preload_balance')).toEqual([])
    expect(limit(off * 0.999).of('preload_balance')).toHaveLength(1)
  })

  test('the fixes write a preload that is near enough', () => {
    const c = preload('2 1/2 turns')
    for (const f of c.one('preload_balance').fixes) expect(errorsAndWarnings(c.apply(f))).toEqual([])
    // with a close limit only the nearest will do: best is 14.23 increments
    const close = preload('2 1/2 turns', 8, 'limits { preload_difference = 0.05 turns }')
    expect(close.one('preload_balance').fixes.map(f => f.title)).toEqual([
      'Write 1 3/4 turns (14 increments of the 8-hole wheel), the nearest to the best for these springs',
    ])
  })

  test('can be allowed with a reason', () => {
    const c = check(
      openingWith('adjuster {\n preload = 2 1/2 turns\n allow preload_balance because "heavy seal to come"\n}'),
    )
    expect(c.one('preload_balance').accepted).toBe('heavy seal to come')
  })
})

describe('preload_positive and preload_missing', () => {
  test.each(['0 turns', '-1 turn'])('%s is no preload', text => {
    const c = preload(text)
    expect(c.one('preload_positive').severity).toBe('error')
    expect(errorsAndWarnings(c.fixed('preload_positive'))).toEqual([])
  })

  test('a preload that is not written is written as the best, rounded up', () => {
    const c = check(openingWith('', ['adjuster.preload']))
    const f = c.one('preload_missing')
    expect(f.severity).toBe('warning')
    expect(f.text).toBe('adjuster')
    const fixed = c.fixed('preload_missing')
    expect(fixed.text).toContain('preload = 1 7/8 turns\n')
    expect(errorsAndWarnings(fixed)).toEqual([])
  })

  test('without an adjuster it stands at the opening; without holes the best is written unrounded', () => {
    const none = check(openingWith('', ['adjuster']))
    expect(none.one('preload_missing').text).toBe('opening "Dock 3"')
    const fixed = none.fixed('preload_missing')
    expect(fixed.text).toMatch(/adjuster \{\n\s+preload = 1\.77\d? turns\n/)
    expect(fixed.of('preload_missing')).toEqual([])
  })

  test('there has to be a spring', () => {
    expect(check(openingWith('', ['adjuster.preload', 'long', 'short'])).of('preload_missing')).toEqual([])
  })
})

describe('winding_direction', () => {
  // facing the adjuster from outside the door; curtain on the wall side: right counterclockwise, left clockwise (mechanics)
  test.each([
    ['right', 'wall_side', 'counterclockwise'],
    ['left', 'wall_side', 'clockwise'],
    ['right', 'room_side', 'clockwise'],
    ['left', 'room_side', 'counterclockwise'],
  ])('adjuster %s, curtain %s: %s', (side, leaves, wanted) => {
    const other = wanted === 'clockwise' ? 'counterclockwise' : 'clockwise'
    const with_ = (w: string) =>
      check(openingWith(`drum { leaves = ${leaves} }\nadjuster {\n side = ${side}\n winding = ${w}\n}`))
    expect(with_(wanted).of('winding_direction')).toEqual([])
    const c = with_(other)
    expect(c.one('winding_direction').text).toBe(other)
    expect(c.one('winding_direction').message).toContain('destroy the door')
    const fixed = c.fixed('winding_direction')
    expect(fixed.text).toContain(`winding = ${wanted}\n`)
    expect(fixed.of('winding_direction')).toEqual([])
  })

  test('silent where the side is not known', () => {
    expect(check(openingWith('adjuster { winding = clockwise }', ['adjuster.side'])).of('winding_direction')).toEqual(
      [],
    )
  })
})

describe('balance_push', () => {
  const push = (more: string) => check(openingWith(`operator {\n drive = push_up\n friction = 5%\n}\n${more}`))

  test('adds the friction of the closed weight to both forces', () => {
    const c = push('')
    const door = c.door()
    const rubs = 0.05 * door.number('curtain.weight')! * 9.80665
    const f = c.one('balance_push')
    for (const way of ['raise', 'lower'])
      expect(f.message).toContain(
        `${door.say(door.number(`balance.${way}_force`)! + rubs, 'limits.push_force')} to ${way} it`,
      )
    expect(f.message).toContain('25 lbf is allowed')
  })

  test('exactly at the limit passes, and only what is over it is named', () => {
    const door = push('').door()
    const rubs = 0.05 * door.number('curtain.weight')! * 9.80665
    const limit = (n: number) => push(`limits { push_force = ${n.toFixed(10)} N because "two people" }`)
    const lower = door.number('balance.lower_force')! + rubs
    const raise = door.number('balance.raise_force')! + rubs
    expect(limit(Math.max(lower, raise)).of('balance_push')).toEqual([])
    const message = limit((lower + raise) / 2).one('balance_push').message
    expect(message.includes('to lower it')).toBe(lower > raise)
    expect(message.includes('to raise it')).toBe(raise > lower)
  })

  test('only where the door is pushed', () => {
    expect(check(openingWith('operator { drive = hand_chain }')).of('balance_push')).toEqual([])
    expect(check(openingWith('', ['operator'])).of('balance_push')).toEqual([])
  })
})

describe('balance_preload_negative and rate_far', () => {
  const springs = (coils: number) =>
    openingWith(`spring {\n wire = 1/2in\n diameter = 4.9in\n coils = ${coils}\n hand = right\n}`)

  test('springs that are too stiff', () => {
    const c = check(springs(40))
    const f = c.one('balance_preload_negative')
    expect(f.severity).toBe('error')
    expect(f.message).toContain(c.door().show('balance.preload'))
    expect(f.message).toContain(c.door().show('balance.ideal_rate'))
    expect(f.text).toBe('spring')
    // the preload that is written is far from it too, but a preload below zero is never offered
    expect(c.one('preload_balance').fixes).toEqual([])
    const none = check(springs(40).replace(/ *preload .*\n/, ''))
    expect(none.one('preload_missing').fixes).toEqual([])
    expect(none.one('preload_missing').message).toContain('choose softer springs')
    expect(check(springs(110)).of('balance_preload_negative')).toEqual([])
  })

  test('the rate against the ideal one, at the limit', () => {
    const door = check(springs(110)).door()
    const rate = (factor: number) => {
      const perTurn = (door.number('balance.ideal_rate')! * 2 * Math.PI * factor).toFixed(10)
      return check(
        openingWith(
          `spring {\n wire = 1/2in\n diameter = 4.9in\n coils = 110\n hand = right\n rate = ${perTurn} N*m/turn\n}`,
        ),
      )
    }
    expect(rate(1.25).of('rate_far')).toEqual([])
    expect(rate(0.75).of('rate_far')).toEqual([])
    expect(rate(1.26).one('rate_far').message).toContain('26% above')
    expect(rate(0.74).one('rate_far').message).toContain('26% below')
    expect(rate(0.74).one('rate_far').severity).toBe('note')
  })
})
