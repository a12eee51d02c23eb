import { describe, expect, test } from 'vitest'
import { DOCK, dockWith, Editor, FILE, STOCK } from './editor.ts'

const over = (line: string, instead: string): string | undefined => new Editor(dockWith(line, instead)).hover

describe('hover', () => {
  test('a field: its value and its origin, what it is, what it takes', () => {
    const text = over('    span = 12ft 8in', '    sp|an = 12ft 8in because "brackets on hand"')!
    expect(text).toContain('`drum.span` = **12 ft 8 in** (3861 mm), written')
    expect(text).toContain('Because: brackets on hand')
    expect(text).toContain('Length of the drum between its brackets.')
    expect(text).toContain('Takes a length; default `rails.between + 2 * rails.depth`.')
  })

  test('a field with a caution says it, once', () => {
    const text = over('    preload = 1.7 turns', '    pre|load = 1.7 turns')!
    expect(text.split('Trained door technicians only').length).toBe(2)
    expect(text).toContain('**Wound springs can maim or kill.**')
  })

  test('a word of the trade', () => {
    expect(over('  drum {', '  bar|rel {')).toContain("`barrel` is a word of the trade; the language's is `drum`.")
  })

  test('a word as a value', () => {
    expect(over('    side    = right', '    side = ri|ght')).toBe('`right`: at the right end')
  })

  test('a derived value in an expression, in full', () => {
    const text = over('  adjuster {', '  require headroom >= drum.coil_dia|meter\n  adjuster {')!
    expect(text).toMatch(/^`drum.coil_diameter` = \*\*1 ft .* in\*\* \(\d+(\.\d+)? mm\), derived/)
    expect(text).toContain('- `drum.pipe.od` = 6 5/8 in')
  })

  test('a block in a path, and a block by its name', () => {
    expect(over('  adjuster {', '  require headroom >= dr|um.coil_diameter\n  adjuster {')).toContain('**drum**')
    const block = over('  spring long {', '  spr|ing long {')!
    expect(block).toContain('**spring long**')
    expect(block).toContain('Needs `wire`, `diameter`, `coils`.')
    // E d^4 / (64 D N) per radian (Shigley eq. 10-49), E 28.5e6 psi (table 10-5): 28.5e6 * 0.5^4 / (64 * 4.9 * 160) * 2 pi, own arithmetic
    expect(block).toContain('| `rate` | 223.1 lbf\\*in/turn |')
  })

  test('an opening with its description', () => {
    expect(over('opening "Dock 3" {', 'open|ing "Dock 3" {')).toContain('Ground-floor dock, daily traffic')
  })

  test('a quantity in the other system', () => {
    // 12 ft = 3.6576 m: NIST SP 811, appendix B (seen): 1 ft = 0.3048 m exactly
    expect(over('  width    = 12ft', '  width = 1|2ft')).toContain('= 3658 mm')
  })

  test('a unit: what it is, with its exact factor', () => {
    const text = over('    bottom_bar = 3 lb/ft', '    bottom_bar = 3 lb/f|t')!
    expect(text).toContain('`lb/ft`: mass per length')
    expect(text).toContain('- `lb` pound, a mass; 0.45359237 kg exactly')
    expect(text).toContain('NIST SP 811')
  })

  test('stock: its fields, its file', () => {
    const text = over('    slat       = flat_20', '    slat = flat|_20')!
    expect(text).toContain('pitch     = 2.625in')
    expect(text).toContain('in `stock.door`')
    expect(over('    pipe = nps6_std', '    pipe = nps6|_std')).toContain('ASME B36.10M')
  })

  test('use: what it brings', () => {
    const text = over('use "stock.door"', 'use "sto|ck.door"')!
    expect(text).toContain('- slat `flat_20`')
    expect(over('use "stock.door"', 'use "nothing|.door"')).toContain('There is no file')
  })

  test('like: what is copied, and where a copied value comes from', () => {
    expect(new Editor(`${DOCK}opening "Dock 4" like "Do|ck 3" {\n}\n`).hover).toContain('Ground-floor dock')
    expect(new Editor(`${DOCK}opening "Dock 4" like "Dock 3" {\n  require wi|dth > 1ft\n}\n`).hover).toContain(
      'From `like "Dock 3"`',
    )
  })

  test('a rule behind allow', () => {
    const text = over('    side    = right', '    allow preload_bal|ance because "site"')!
    expect(text).toContain('**preload_balance** (warning)')
    expect(text).toContain('Limit: `preload_difference`')
  })

  test.each([
    ['let| gap = 1in', 'Names a value'],
    ['width = 12ft beca|use "x"', 'Gives the reason'],
    ['require true an|d true', 'True where both sides are'],
    ['width = ma|x(1in, 2in)', 'The largest of its values'],
  ])('%s', (line, says) => expect(over('  width    = 12ft', `  ${line}`)).toContain(says))

  test('a let: what it comes to', () => {
    expect(over('  width    = 12ft', '  let gap = 2 * 1/2in\n  width = 12ft + ga|p')).toContain('`let gap` = **1 in**')
  })

  test('nothing over blanks, comments and what nobody knows', () => {
    expect(over('  width    = 12ft', '  width = 12ft # wi|dth')).toBeUndefined()
    expect(over('  width    = 12ft', '  no_such_|field = 12ft')).toBeUndefined()
    expect(new Editor('|').hover).toBeUndefined()
  })

  test('in a stock file', () => {
    expect(new Editor(STOCK.replace('weight    =', 'wei|ght    =')).hover).toContain(
      '`slat.weight` = **2.6 lb/ft^2**, written',
    )
  })

  test('text of the file is not read as Markdown', () => {
    expect(over('    span = 12ft 8in', '    sp|an = 12ft 8in because "[a](http://x) <b>"')).toContain(
      '\\[a\\](http://x) \\<b\\>',
    )
  })

  test('the range is the word', () => {
    const editor = new Editor(dockWith('    side    = right', '    si|de    = right'))
    const { range } = editor.service.hover(FILE, editor.cursor)!
    expect([range.start.character, range.end.character, range.start.line]).toEqual([4, 8, editor.cursor.line])
  })
})

describe('definition', () => {
  const goes = (marked: string) => {
    const editor = new Editor(marked)
    return editor.service
      .definition(FILE, editor.cursor)
      .map(l => [l.file.replace('job/', ''), l.range.start.line, l.range.start.character])
  }
  test.each([
    ['a stock item', dockWith('= flat_20', '= fl|at_20'), ['stock.door', 0, 0]],
    ['an opening', `${DOCK}opening "Dock 4" like "Do|ck 3" {\n}\n`, ['dock.door', 7, 0]],
    ['a field', dockWith('width + 1in', 'wid|th + 1in'), ['dock.door', 8, 2]],
    ['a let', dockWith('  width    = 12ft', '  let gap = 1in\n  width = 12ft + g|ap'), ['dock.door', 8, 6]],
    ['a used file', dockWith('use "stock.door"', 'use "st|ock.door"'), ['stock.door', 0, 0]],
  ])('%s', (_, marked, place) => expect(goes(marked)).toEqual([place]))

  test('nowhere', () => expect(goes(dockWith('  width    = 12ft', '  width = 1|2ft'))).toEqual([]))
})
