/** What is asked of a door: its blocks and values by path, where they stand, in words; and what it still lacks. */
import { describe, expect, test } from 'vitest'
import { number, truth, word } from '../../../server/model/index.ts'
import { DIMENSION } from '../../../server/units/index.ts'
import { type Checked, check } from '../../support/host.ts'
import { HOUSE, OPENING, openingWith } from '../../support/opening.ts'

const FILES = { 'stock/house.door': HOUSE }
const whole = check(OPENING)
const door = whole.door()
const WIDTH = 12 * 0.3048
/** Its copy, and one whose slat comes from another file. */
const copies = check(
  `use "stock/house.door"\n${OPENING}\nopening "Dock 4" like "Dock 3" {\n  rails { depth = 3in }\n}\nopening "Dock 5" like "Dock 4" {\n  curtain { slat = flat_22 }\n}\n`,
  FILES,
)
const text = (c: Checked, mark: string, path: string) => c.spot(c.door(mark).place(path)).text

describe('a block by its path', () => {
  test.each([
    ['opening', 'opening'],
    ['drum', 'drum'],
    ['curtain.slat', 'curtain.slat'],
    ['spring', 'spring[0]'],
    ['spring[0]', 'spring[0]'],
    ['spring[1]', 'spring[1]'],
    ['short', 'spring[1]'],
    ['spring[2]', undefined],
    ['drum[0]', 'drum'],
    ['curtain.drum', undefined],
    ['nowhere', undefined],
    ['nowhere.slat', undefined],
    ['limits', 'limits'],
  ])('%s', (path, is) => {
    // asked twice, the same
    expect([door.block(path)?.path, door.block(path)?.path]).toEqual([is, is])
  })

  test('springs in written order', () => {
    expect(door.springs.map(s => s.name)).toEqual(['long', 'short'])
    expect(door.mark).toBe('Dock 3')
    expect(door.system).toBe('imperial')
  })
})

describe('a value by its path', () => {
  test('is told as what it is, and as nothing else', () => {
    const all = (path: string) => [door.number(path), door.word(path), door.truth(path), door.text(path), door.range(path)] // biome-ignore format: one list
    expect(all('width')).toEqual([WIDTH, undefined, undefined, undefined, undefined])
    expect(all('opening.width')[0]).toBe(WIDTH)
    expect(all('operator.drive')).toEqual([undefined, 'hand_chain', undefined, undefined, undefined])
    expect(all('operator.holds')).toEqual([undefined, undefined, true, undefined, undefined])
    expect(all('limits.spring_index')).toEqual([undefined, undefined, undefined, undefined, [4, 16]])
    const none = [undefined, undefined, undefined, undefined, undefined]
    for (const path of ['wind', 'nothing', 'nowhere.width', 'survey.by']) expect(all(path), path).toEqual(none)
    expect(check(openingWith('survey { by = "R. Field" }')).door().text('survey.by')).toBe('R. Field')
    expect(check(openingWith('survey { by = "R. Field" }')).door().word('survey.by')).toBeUndefined()
  })

  test('one that leads nowhere is missing by the block that would have it', () => {
    expect(door.result('nowhere.deep.width')).toEqual({ state: 'unknown', missing: ['nowhere'] })
    expect(door.result('wind')).toMatchObject({ state: 'unknown', missing: ['opening.wind'] })
    expect(door.entry('nowhere.width')).toBeUndefined()
    expect(door.entry('drum.nothing')).toBeUndefined()
  })

  test('what it would be were it not written', () => {
    // 12 ft 1 in and twice 3 1/4 in
    expect(door.computed('rails.between')).toBeUndefined()
    expect(door.computedWord('adjuster.winding')).toBe('counterclockwise')
    expect(door.computedWord('spring.rate')).toBeUndefined()
    expect(door.computed('adjuster.winding')).toBeUndefined()
    expect(door.computed('spring.rate')).toBeGreaterThan(0)
    expect([door.computed('nowhere.rate'), door.computedWord('nowhere.rate')]).toEqual([undefined, undefined])
    expect(door.computed('width')).toBeUndefined()
  })

  test('entries say which are worked out, each path once and found again by it', () => {
    expect(door.entry('long.rate')).toMatchObject({ path: 'spring[0].rate', derivedOnly: false })
    expect(door.entry('drum.sag')).toMatchObject({ path: 'drum.sag', derivedOnly: true })
    const paths = door.entries().map(e => e.path)
    expect(new Set(paths).size).toBe(paths.length)
    expect(paths[0]).toBe('opening.width')
    for (const path of ['spring[0].wire', 'spring[1].rate', 'curtain.slat.pitch', 'survey.width.top', 'drum.sag'])
      expect(paths).toContain(path)
    for (const e of door.entries()) expect(door.entry(e.path)).toEqual(e)
  })

  test('with other values all that follows is another, and the door is what it was', () => {
    const before = door.number('drum.span')
    const wide = door.with({ width: number(6, DIMENSION.length), 'spring[1].hand': word('left') })
    expect([wide.number('opening.width'), wide.word('short.hand'), wide.word('long.hand')]).toEqual([
      6,
      'left',
      'right',
    ])
    expect(wide.number('rails.between')).toBeCloseTo(6.0254, 12)
    expect([door.number('width'), door.number('drum.span'), door.word('short.hand')]).toEqual([WIDTH, before, 'right'])
    // one over the other
    const both = wide.with({ height: number(2, DIMENSION.length), 'operator.holds': truth(false) })
    expect([both.number('width'), both.number('height'), both.truth('operator.holds')]).toEqual([6, 2, false])
  })
})

describe('where a value stands', () => {
  test('at what is written; for a copied one at the clause that copies; else at its block, or the one around it', () => {
    expect(text(copies, 'Dock 3', 'rails.depth')).toBe('3 1/4in')
    expect(text(copies, 'Dock 4', 'rails.depth')).toBe('3in')
    expect(text(copies, 'Dock 4', 'width')).toBe('like "Dock 3"')
    expect(text(copies, 'Dock 5', 'width')).toBe('like "Dock 4"')
    expect(text(copies, 'Dock 5', 'curtain.slat')).toBe('flat_22')
    expect(text(copies, 'Dock 5', 'curtain.slat.pitch')).toBe('flat_22')
    expect(text(whole, 'Dock 3', 'drum.pipe.od')).toBe('nps6_std')
    expect(text(whole, 'Dock 3', 'drum.ring')).toBe('drum')
    expect(text(whole, 'Dock 3', 'short.count')).toBe('spring short')
    expect(text(whole, 'Dock 3', 'wind')).toBe('opening "Dock 3"')
    expect(text(whole, 'Dock 3', 'survey.width.top')).toBe('opening "Dock 3"')
    expect(text(whole, 'Dock 3', 'nowhere.width')).toBe('opening "Dock 3"')
    expect(whole.spot(door.header('curtain.slat')).text).toBe('flat_20')
  })

  test('what was copied or came from the stock was first written elsewhere', () => {
    const first = (mark: string, path: string) => {
      const place = copies.door(mark).writtenAt(path)
      return place && [copies.spot(place).file, copies.spot(place).text]
    }
    expect(first('Dock 3', 'width')).toBeUndefined()
    expect(first('Dock 4', 'rails.depth')).toBeUndefined()
    expect(first('Dock 4', 'width')).toEqual(['job.door', '12ft'])
    expect(first('Dock 5', 'rails.depth')).toEqual(['job.door', '3in'])
    expect(first('Dock 5', 'curtain.slat.gauge')).toEqual(['stock/house.door', '22'])
    expect(first('Dock 5', 'drum.pipe.od')).toBeUndefined()
    expect(first('Dock 5', 'nowhere.width')).toBeUndefined()
  })

  test('what is written, and what is written here', () => {
    const written = (mark: string, path: string) => [
      copies.door(mark).written(path),
      copies.door(mark).writtenHere(path) !== undefined,
    ]
    expect(written('Dock 3', 'width')).toEqual([true, true])
    expect(written('Dock 4', 'width')).toEqual([true, false])
    expect(written('Dock 4', 'rails.depth')).toEqual([true, true])
    expect(written('Dock 5', 'curtain.slat.gauge')).toEqual([true, false])
    expect(written('Dock 3', 'drum.pipe.od')).toEqual([true, false])
    for (const path of ['wind', 'drum.sag', 'nowhere.width']) expect(written('Dock 3', path)).toEqual([false, false])
  })
})

describe('in words', () => {
  test('in the units of the job, and of the field', () => {
    expect(['width', 'operator.drive', 'operator.holds', 'limits.spring_index', 'wind', 'nowhere.width'].map(p => door.show(p))).toEqual(['12 ft', 'hand_chain', 'yes', '4 to 16', 'not known', 'not known']) // biome-ignore format: one list
    expect(check(openingWith('operator { holds = false }')).door().show('operator.holds')).toBe('no')
    expect(check(openingWith('survey { by = "R. Field" }')).door().show('survey.by')).toBe('R. Field')
    const metric = check(OPENING.replace('imperial', 'metric')).door()
    expect([metric.show('width'), metric.system]).toEqual(['3658 mm', 'metric'])
    expect(metric.say(0.5, 'width')).toBe('500 mm')
  })

  test('a number like a field, by a kind, and like one that is not there', () => {
    expect(door.say(0.3048, 'width')).toBe('1 ft')
    expect(door.say(0.3048, DIMENSION.length)).toBe('1 ft')
    expect(door.say(Math.PI, 'adjuster.preload')).toBe('0.5 turns')
    expect(door.say(7, 'nowhere.width')).toBe('7')
  })

  test('a bound says so', () => {
    const long = check(openingWith('spring { wire = 1/2in; diameter = 4.9in; coils = 400; hand = right }')).door()
    expect(long.show('spring.life')).toMatch(/^more than \d+$/)
  })
})

describe('what is missing', () => {
  const missing = (drop: string[], body = '') => check(openingWith(body, drop)).door().missing()

  test('fields and blocks that have to be there, by path', () => {
    expect(missing([])).toEqual([])
    expect(missing(['headroom', 'drum.span', 'operator', 'cycles'])).toEqual([])
    expect(missing(['width'])).toEqual(['opening.width'])
    expect(missing(['drum'])).toEqual(['drum'])
    expect(missing(['drum.pipe'])).toEqual(['drum.pipe'])
    expect(missing(['short.wire'])).toEqual(['spring[1].wire'])
    expect(missing(['spring', 'spring'])).toEqual(['spring'])
    expect(missing(['curtain.slat', 'rails.depth'])).toEqual(['curtain.slat', 'rails.depth'])
  })

  test('a slat or pipe written as a block is there; what it lacks is missing from it', () => {
    expect(missing(['drum.pipe'], 'drum { pipe { od = 6 5/8in } }')).toEqual(['drum.pipe.wall'])
    expect(missing(['drum.pipe'], 'drum { pipe { od = 6 5/8in; wall = 1/4in } }')).toEqual([])
    expect(missing(['curtain.slat'], 'curtain { slat { thickness = 1in } }')).toContain('curtain.slat.pitch')
  })

  test('of a stock item that is not there nothing is', () => {
    expect(missing([], 'curtain { slat = flat_99 }')).toEqual([])
  })

  test('complete is what misses nothing and can be read', () => {
    const complete = (drop: string[], body = '') => check(openingWith(body, drop)).door().complete
    expect([complete([]), complete(['headroom']), complete(['width']), complete([], 'width = 12'), complete([], 'headroom = 12')]).toEqual([true, true, false, false, true]) // biome-ignore format: one list
  })

  test('requirements that are broken, by their number; one that is open is none', () => {
    const broken = (body: string) => check(openingWith(body)).door().brokenRequirements()
    const body =
      'require width > 13ft\nrequire width > 11ft\nrequire wind > 1 psf\nrails { require depth > 4in }\nrequire width'
    expect(broken(body)).toEqual([0, 4])
    expect(check(openingWith(body)).door().with({ width: number(5, DIMENSION.length) }).brokenRequirements()).toEqual([4]) // biome-ignore format: one call
  })
})
