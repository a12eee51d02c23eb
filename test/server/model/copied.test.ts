/** What copying says and offers, and where what is copied stands. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { HOUSE, OPENING, openingWith } from '../../support/opening.ts'

const FILES = { 'stock/house.door': HOUSE }
const at = (snippet: string, files: Record<string, string> = {}) => check(openingWith(snippet), files)
const told = (c: ReturnType<typeof check>, rule: string) => {
  const found = c.one(rule)
  for (const fix of found.fixes) expect(c.apply(fix).of(rule), fix.title).toEqual([])
  return [found.text, found.message, found.fixes.map(f => f.title)]
}

describe('a stock item that is not there', () => {
  const slats = (count: number) =>
    Array.from({ length: count }, (_, i) => `slat s${'abcdefgh'[i]}xx { pitch = 3in; thickness = 1in; gauge = 20 }\n`).join('') // biome-ignore format: one expression

  test('is told with the name that is near, else with those in reach, of which six are enough', () => {
    expect(told(at('curtain { slat = flat_21 }'), 'unknown_name')).toEqual(['flat_21', 'No slat named `flat_21` in this file or in the files it uses. Did you mean `flat_20`? Write one (`slat flat_21 { ... }`) or `use` the stock file that has it.', ['Write `flat_20`']]) // biome-ignore format: one call
    expect(told(at('curtain { slat = zz }'), 'unknown_name')[1]).toContain('uses. In reach: flat_20. Write one')
    const many = (count: number) => check(slats(count) + openingWith('curtain { slat = zz }')).one('unknown_name').message // biome-ignore format: one expression
    expect(many(5)).toContain('In reach: saxx, sbxx, scxx, sdxx, sexx, flat_20. Write')
    expect(many(6)).toContain('In reach: saxx, sbxx, scxx, sdxx, sexx, sfxx .... Write')
    expect(told(at('operator like zz { drive = crank }'), 'like_failed').slice(0, 2)).toEqual(['zz', 'No operator named `zz` in this file or in the files it uses. Write one (`operator zz { ... }`) or `use` the stock file that has it.']) // biome-ignore format: one call
  })

  test('near to a standard pipe: that, and the pipes of the stock', () => {
    expect(told(at('drum { pipe = nps6_sdt }'), 'unknown_name')[2]).toEqual(['Write `nps6_std`'])
    const own = check(`pipe nps6_sdd { od = 6in; wall = 1/4in }\n${openingWith('drum { pipe = nps6_sdt }')}`)
    expect(told(own, 'unknown_name')[2]).toEqual(['Write `nps6_sdd`', 'Write `nps6_std`'])
  })

  test('a pipe of the stock goes before a standard one of its name; of all that follows nothing is said to be missing', () => {
    const own = check(`pipe nps6_std { od = 6in; wall = 1/4in }\n${OPENING}`).door()
    expect([own.show('drum.pipe.od'), check(OPENING).door().show('drum.pipe.od')]).toEqual(['6 in', '6 5/8 in'])
    const none = at('curtain { slat = zz }').door()
    expect(none.result('curtain.slat.pitch')).toMatchObject({ state: 'unknown', faulty: true })
    expect(none.missing()).toEqual([])
  })

  test('copied on, it is told once, where it is written', () => {
    const c = check(`${openingWith('curtain { slat = zz }\nspring long like yy { coils = 160 }')}\nopening "B" like "Dock 3" {}\n`) // biome-ignore format: one call
    expect(c.findings.filter(f => f.severity === 'error').map(f => [f.rule, f.text])).toEqual([
      ['unknown_name', 'zz'],
      ['like_failed', 'yy'],
    ])
  })

  test('what is no name is none', () => {
    const c = at('curtain { slat = "flat_20" }')
    expect(c.one('wrong_type').message).toContain('takes the name of a slat from the stock')
    expect(c.door().missing()).toEqual([])
  })
})

describe('an opening that is not there', () => {
  test('is told with the names that are near; its own is none of them', () => {
    const c = check(`${OPENING}\nopening "Dock 4" like "Dock 5" {}\n`)
    expect(told(c, 'like_failed')).toEqual([
      '"Dock 5"',
      'No opening "Dock 5" in this file or in the files it uses. Did you mean `Dock 3`?',
      ['Write `"Dock 3"`'],
    ])
  })

  test('nothing is said of what could have come from there', () => {
    const c = check('job "1" {}\nopening "A" like "Zzzzz" { width = 12ft }\nopening "B" like "A" {}\n')
    expect(c.findings.map(f => [f.rule, f.text])).toEqual([['like_failed', '"Zzzzz"']])
    expect(c.door('B').number('width')).toBeCloseTo(3.6576, 9)
  })
})

describe('circles', () => {
  test('of `like` are told once, at the first of them by name, whole', () => {
    const c = check('job "1" {}\nopening "C" like "B" {}\nopening "B" like "A" {}\nopening "A" like "C" {}\n')
    expect(told(c, 'circle')).toEqual(['like "C"', 'A circle of `like`: "A" is like "C" is like "B" is like "A". Write out what one of them needs.', []]) // biome-ignore format: one call
    const self = check('job "1" {}\nopening "B" like "B" {}\nopening "A" like "B" {}\n')
    expect(self.findings.map(f => [f.rule, f.text])).toEqual([['circle', 'like "B"']])
    const stock = check('slat b like a {}\nslat a like b {}\nslat c like a {}\n')
    expect(stock.of('circle').map(f => f.text)).toEqual(['b'])
  })

  test('of values begin at what is written here, in the order of the text', () => {
    const c = at('height = width\nwidth = height')
    expect([c.one('circle').text, c.one('circle').message]).toEqual(['width = height', 'A circle: `opening.width` needs `opening.height` needs `opening.width`. Give one of them a value that does not depend on the others.']) // biome-ignore format: one call
    const copied = check(`${openingWith('width = height')}\nopening "B" like "Dock 3" {\n  height = width\n}\n`)
    expect(copied.of('circle').map(f => [f.opening, f.text])).toEqual([['B', 'height = width']])
    expect(copied.one('circle').message).toContain('`opening.height` needs `opening.width` needs `opening.height`')
    const both = check(`${openingWith('width = height\nheight = width')}\nopening "B" like "Dock 3" {}\n`)
    expect(both.of('circle').map(f => f.text).toSorted()).toEqual(['like "Dock 3"', 'width = height']) // biome-ignore format: one call
  })

  test('of `let`s of the file at the first by name; what only leads into one is not in it', () => {
    const c = check(`let c = b\nlet b = c\nlet a = c\n${OPENING}`)
    expect([c.one('circle').text, c.one('circle').message]).toEqual(['let b = c', 'A circle: `b` needs `c` needs `b`. Give one of them a value that does not depend on the others.']) // biome-ignore format: one call
    const inside = at('let b = a\nlet a = b\nrails { between = a }')
    expect(inside.one('circle').message).toContain('A circle: `b` needs `a` needs `b`.')
    expect(inside.findings.map(f => f.rule)).toEqual(['circle'])
  })

  test('of a stock item are told in the stock, and not where it is used', () => {
    const slat = 'slat deep { pitch = thickness; thickness = pitch; weight = 2 lb/ft^2 }\n'
    const c = check(slat + openingWith('curtain { slat = deep }'))
    expect(c.of('circle').map(f => [f.opening, f.text])).toEqual([[undefined, 'pitch = thickness']])
  })
})

describe('a fault that is copied', () => {
  test('stands at the clause, with where it was written and without a fix', () => {
    const c = check(`${openingWith('headroom = 22')}\nopening "B" like "Dock 3" {}\nopening "C" like "B" {}\n`)
    const [first, second, third] = c.of('wrong_dimension')
    expect([first!.text, first!.related, first!.fixes.length]).toEqual(['22', [], 4])
    for (const [found, clause] of [[second!, 'like "Dock 3"'], [third!, 'like "B"']] as const) // biome-ignore format: a table
      expect([found.text, found.related.map(r => [r.text, r.message]), found.fixes]).toEqual([clause, [['22', 'written here']], []]) // biome-ignore format: one call
  })

  test('from the stock or from a used file is told there alone', () => {
    const stock = { 'a.door': 'slat bad { pitch = 3; thickness = 1in; gauge = 20 }\nlimits { drum_sag = 3 }\n' }
    expect(check(`use "a.door"\n${openingWith('curtain { slat = bad }')}`, stock).of('wrong_dimension')).toEqual([])
    const here = check(`slat bad { pitch = 3; thickness = 1in; gauge = 20 }\n${openingWith('curtain { slat = bad }')}`)
    expect(here.of('wrong_dimension').map(f => f.opening)).toEqual([undefined])
  })
})

describe('what is copied', () => {
  const copy = (base: string, own: string, path: string) =>
    check(`${openingWith(base)}\nopening "B" like "Dock 3" {\n${own}\n}\n`)
      .door('B')
      .show(path)

  test('a block that is like a stock item is that item, and no longer the copied one', () => {
    const stock = 'operator hoist { drive = crank; ratio = 7 }\nspring heavy { wire = 5/8in }\n'
    const c = check(`${stock}${OPENING}\nopening "B" like "Dock 3" {\n  operator like hoist { hand_wheel = 20in }\n  spring long like heavy { coils = 9 }\n}\n`).door('B') // biome-ignore format: one call
    expect([c.show('operator.drive'), c.show('operator.ratio'), c.written('operator.holds')]).toEqual(['crank', '7', false]) // biome-ignore format: one list
    expect([c.show('long.wire'), c.show('long.coils'), c.written('long.diameter'), c.written('short.diameter')]).toEqual(['5/8 in', '9', false, true]) // biome-ignore format: one list
    expect(c.springs.map(s => s.name)).toEqual(['long', 'short'])
  })

  test('of what stands twice the first counts, and takes the place of what is copied', () => {
    expect(copy('headroom = 30in', 'headroom = 20in\nheadroom = 21in', 'headroom')).toBe('1 ft 8 in')
    expect(copy('let g = 1in\nheadroom = g', 'let g = 2in\nlet g = 3in', 'headroom')).toBe('2 in')
    expect(copy('', 'rails { depth = 4in }\nrails { depth = 5in }', 'rails.depth')).toBe('4 in')
    expect(copy('', 'spring long { coils = 1 }\nspring long { coils = 2 }', 'long.coils')).toBe('1')
  })

  test('a gauge takes the place of a copied weight only where no weight stands beside it', () => {
    const base = 'curtain { slat { pitch = 3in; thickness = 1in; developed = 4in; weight = 3 lb/ft^2 } }'
    expect(copy(base, 'curtain { slat { gauge = 20; weight = 4 lb/ft^2 } }', 'curtain.slat.weight')).toBe('4 lb/ft^2')
    expect(copy(base, 'curtain { slat { weight = 4 lb/ft^2; gauge = 20 } }', 'curtain.slat.weight')).toBe('4 lb/ft^2')
    expect(copy(base, 'curtain { slat { pitch = 4in } }', 'curtain.slat.weight')).toBe('3 lb/ft^2')
  })

  test('the drum and its pipe: by name over a block, by block over a name', () => {
    expect(copy('drum { pipe { od = 4in; wall = 1/4in } }', 'drum { pipe = nps8_std }', 'drum.pipe.od')).toBe(
      '8 5/8 in',
    )
    expect(copy('drum { pipe = nps8_std }', 'drum { pipe { od = 4in } }', 'drum.pipe.wall')).toBe('not known')
    expect(copy('drum { pipe { od = 4in; wall = 1/4in } }', 'drum { pipe { od = 5in } }', 'drum.pipe.wall')).toBe('1/4 in') // biome-ignore format: one call
  })

  test('requirements of all of them, each once, in the order that they were written', () => {
    const c = check(`${openingWith('require width > 20ft')}\nopening "B" like "Dock 3" {\n  require width > 21ft\n  rails { require depth > 9in }\n}\n`) // biome-ignore format: one call
    expect(c.of('requirement').map(f => [f.opening, f.text])).toEqual([
      ['Dock 3', 'require width > 20ft'],
      ['B', 'like "Dock 3"'],
      ['B', 'require width > 21ft'],
      ['B', 'require depth > 9in'],
    ])
    expect(c.door('B').brokenRequirements()).toEqual([0, 1, 2])
  })
})

test('stock of a used file is pointed at by the name that brings it', () => {
  const c = check(`use "stock/house.door"\n${openingWith('curtain { slat = flat_22 }')}`, FILES)
  expect(c.spot(c.door().place('curtain.slat.gauge')).text).toBe('flat_22')
  expect(c.spot(c.door().writtenAt('curtain.slat.gauge')!)).toMatchObject({ file: 'stock/house.door', text: '22' })
})
