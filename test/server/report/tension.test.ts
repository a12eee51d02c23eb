/** The one number that can kill: when it is printed, which way it turns, and when it is withheld. */
import { describe, expect, it } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { changed, JOB, readable, sheetOf, stageOf } from './job.ts'

const stage = (...pairs: readonly (readonly [string, string])[]): string => stageOf(sheetOf(changed(...pairs)), 6)

/** The number printed to wind; undefined where there is none. */
function toWind(markup: string): number | undefined {
  const big = /<div class="count">(\d+)<\/div>/.exec(markup)
  const data = /data-increments="(\d+)"/.exec(markup)
  expect(big?.[1]).toBe(data?.[1])
  return big ? Number(big[1]) : undefined
}

describe('the figure', () => {
  it('is whole increments: 1 3/4 turns of 8 holes are 14', () => {
    const s = stage()
    expect(toWind(s)).toBe(14)
    expect(readable(s)).toContain('14 whole increments of the 8-hole wheel = 1 3/4 turns of the adjuster')
    expect(readable(s)).not.toContain('Do not wind')
  })

  it.each([
    ['1 turn', 8, 8, '= 1 turn of'],
    ['1/2 turn', 8, 4, '= 1/2 turn of'],
    ['2 turns', 6, 12, '= 2 turns of'],
    ['1 5/6 turns', 6, 11, '= 1 5/6 turns of'],
    ['1 2/16 turns', 16, 18, '= 1 1/8 turns of'],
  ])('%s of %d holes: %d', (preload, holes, count, words) => {
    const s = stage(['1 3/4 turns', preload], ['holes   = 8', `holes   = ${holes}`])
    expect(toWind(s)).toBe(count)
    expect(readable(s)).toContain(words)
    expect(s.match(/class="hole"/g)).toHaveLength(holes)
  })

  it('comes after every caution', () => {
    const s = stage()
    const words = readable(s)
    for (const line of CAUTIONS.spring.long) {
      expect(words).toContain(line)
      expect(words.indexOf(line)).toBeLessThan(words.indexOf('14 whole increments'))
    }
    expect(words).toContain('FULLY OPEN')
  })

  it('comes with a word about errors that are open elsewhere', () => {
    // the damage and nothing else is an error in this job
    expect(readable(stage())).toContain('1 error is open for this opening')
    expect(readable(stage(['damage   = "bottom bar bent"', 'damage   = ""']))).not.toContain('open for this opening')
  })

  it('is not to be wound again where the record has it', () => {
    const s = stage([
      '  rigging {',
      '  installed { increments = 14; wound = counterclockwise; by = "R. Field" }\n  rigging {',
    ])
    expect(readable(s)).toContain('Wound already. The record below says that 14 are wound.')
    expect(toWind(s)).toBe(14)
  })
})

/**
 * Which way an arc with this path runs, as seen. From its end points and flags by the rules of SVG: with sweep flag 1 it
 * is drawn in the direction of growing angles, and with y down that is clockwise (SVG 1.1, 8.3.8, from memory).
 */
function wayOf(markup: string): { way: string; over: 'top' | 'bottom' } {
  const [, x1, y1, r, large, sweep, x2, y2] =
    /class="arrow \w+" d="M([\d.]+) ([\d.]+)A([\d.]+) [\d.]+ 0 ([01]) ([01]) ([\d.]+) ([\d.]+)"/
      .exec(markup)!
      .map(Number) as number[]
  // the chord is below the middle and the arc the large one, so it passes over the top
  const chord = Math.hypot(x2! - x1!, y2! - y1!)
  expect(chord).toBeLessThan(2 * r!)
  expect(large).toBe(1)
  // centre of the arc, from the implementation notes of SVG: to the right of the chord's direction for large != sweep
  const side = large !== sweep ? 1 : -1
  const h = Math.sqrt(r! ** 2 - (chord / 2) ** 2)
  const cy = (y1! + y2!) / 2 + (side * h * (x2! - x1!)) / chord
  return { way: sweep === 1 ? 'clockwise' : 'counterclockwise', over: cy < y1! ? 'top' : 'bottom' }
}

describe('the direction', () => {
  // derived: the side that the curtain hangs from must rise; turn a drum in your hand, facing each end in turn
  it.each([
    ['right', 'wall_side', 'counterclockwise', 'right'],
    ['left', 'wall_side', 'clockwise', 'left'],
    ['right', 'room_side', 'clockwise', 'left'],
    ['left', 'room_side', 'counterclockwise', 'right'],
  ])('adjuster %s, curtain on the %s: %s, in words and drawn', (side, leaves, winding, hand) => {
    const s = stage(
      ['side    = right', `side    = ${side}`],
      ['span       = 12ft 8in', `span = 12ft 8in; leaves = ${leaves}`],
      ['hand     = right', `hand = ${hand}`],
      ['hand     = right', `hand = ${hand}`],
    )
    expect(toWind(s)).toBe(14)
    expect(wayOf(s)).toEqual({ way: winding, over: 'top' })
    expect(readable(s)).toContain(` ${winding.toUpperCase()} seen facing the adjuster from outside the door`)
    const other = winding === 'clockwise' ? /counterclockwise/i : /(?<!counter)clockwise/i
    expect(readable(s)).not.toMatch(other)
    expect(readable(s)).toContain(`at the ${side} end`)
  })

  it('has its head where the arc ends', () => {
    for (const side of ['left', 'right']) {
      const s = stage(
        ['side    = right', `side    = ${side}`],
        ['hand     = right', `hand = ${side}`],
        ['hand     = right', `hand = ${side}`],
      )
      const [, x2, y2] = /A[\d.]+ [\d.]+ 0 1 [01] ([\d.]+) ([\d.]+)"/.exec(s)!.map(Number) as number[]
      const [, tx, ty] = /<path d="M([\d.]+) ([\d.]+)L/.exec(s)!.map(Number) as number[]
      expect(Math.hypot(tx! - x2!, ty! - y2!)).toBeLessThan(6)
      // clockwise ends at the lower right and runs to the left there; counterclockwise the mirror of it
      expect(Math.sign(tx! - x2!)).toBe(side === 'left' ? -1 : 1)
      expect(ty!).toBeGreaterThan(y2!)
    }
  })
})

describe('no figure', () => {
  const withheld: readonly (readonly [name: string, pairs: readonly (readonly [string, string])[], words: string])[] = [
    ['a preload between two holes', [['1 3/4 turns', '1.7 turns']], 'is not a whole number of increments'],
    ['no preload written', [['    preload = 1 3/4 turns\n', '']], 'No preload is written'],
    ['a preload of nothing', [['1 3/4 turns', '0 turns']], 'not a number above zero'],
    ['the wrong direction', [['holes   = 8', 'holes = 8; winding = clockwise']], 'counterclockwise'],
    ['no side', [['    side    = right\n', '']], 'the side of the adjuster is not written'],
    ['a spring of the wrong hand', [['hand     = right', 'hand     = left']], 'right-hand'],
    ['an incomplete job', [['    depth            = 3 1/4in\n', '']], 'rails.depth missing'],
    ['a field that is not read', [['holes   = 8', 'holes = 8; prelaod = 2 turns']], 'prelaod'],
    ['a fault elsewhere in the file', [['material  = galvanized', 'material  = galvanised']], 'galvanised'],
    [
      'another number wound already',
      [['  rigging {', '  installed { increments = 13 }\n  rigging {']],
      '13 increments are written down as wound',
    ],
    [
      'wound the wrong way',
      [['  rigging {', '  installed { increments = 14; wound = clockwise }\n  rigging {']],
      'clockwise',
    ],
  ]
  it.each(withheld)('for %s', (_, pairs, words) => {
    const s = stage(...pairs)
    expect(toWind(s)).toBeUndefined()
    expect(s).not.toMatch(/class="(arrow|hole|count|wind)/)
    expect(readable(s)).toContain('Do not wind')
    expect(readable(s)).toContain(words)
  })

  it('cannot be had by accepting the finding', () => {
    const s = stage(
      ['  curtain {\n', '  allow preload_increment because "close enough"\n  curtain {\n'],
      ['1 3/4 turns', '1.7 turns'],
    )
    expect(toWind(s)).toBeUndefined()
  })

  it('the same job without the fault has one', () => {
    expect(toWind(stageOf(sheetOf(JOB), 6))).toBe(14)
  })
})
