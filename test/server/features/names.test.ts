/** Going to a name, finding it again, and giving it another: as a person sees it, in several files. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { DOCK, STOCK } from './editor.ts'
import { findingsOf, Workspace } from './workspace.ts'

/** The dock job with a cursor at `marked`, a second opening, and a second job that uses the same stock. */
const DOCK_4 = `
opening "Dock 4" like "Dock 3" {
  let gap = 2in
  spring long { coils = 170 }
  require long.rate > 1 lbf*in/turn
  rails { between = width + gap }
}
`
const GATE = `use "stock.door"
job "HS-2301" { units = imperial }
opening "Gate" {
  curtain { slat = flat_20 }
}
`
const files = (part: string, marked: string, where: 'dock.door' | 'stock.door' | 'gate.door' = 'dock.door') => {
  const all: Record<string, string> = {
    'dock.door': DOCK.replace('  width    = 12ft', '  let gap = 1in\n  width    = 12ft').replace('width + 1in', 'width + gap') + DOCK_4,
    'stock.door': STOCK,
    'gate.door': GATE,
  } // biome-ignore format: one table
  expect(all[where], part).toContain(part)
  all[where] = all[where]!.replace(part, () => marked)
  return new Workspace(all)
}

describe('definition', () => {
  const goes = (w: Workspace) => w.service.definition(w.file, w.cursor).map(w.said)
  test('a slat goes to the stock', () =>
    expect(goes(files('slat       = flat_20', 'slat       = fl|at_20'))).toEqual(['stock.door: [slat flat_20] {']))
  test('a mark after like goes to the opening', () =>
    expect(goes(files('like "Dock 3"', 'like "Do|ck 3"'))).toEqual(['dock.door: [opening "Dock 3"] {']))
  test('a spring in a path goes to the spring that is meant here', () =>
    expect(goes(files('require long.rate', 'require lo|ng.rate'))).toEqual([
      'dock.door: [spring long] { coils = 170 }',
    ]))
  test('a let goes to the nearest', () =>
    expect(goes(files('{ between = width + gap }', '{ between = width + ga|p }'))).toEqual([
      'dock.door: let [gap] = 2in',
    ]))
  test('a field goes to where it is written, though that is in another opening', () =>
    expect(goes(files('{ between = width + gap }', '{ between = wi|dth + gap }'))).toEqual([
      'dock.door: [width] = 12ft',
    ]))
  test('a worked-out value goes to the written fields that it reads', () => {
    const w = files('require long.rate > 1 lbf*in/turn', 'require adjuster.incre|ment > 1deg')
    expect(goes(w)).toEqual(['dock.door: [holes] = 8'])
  })
  test('a worked-out value that reads no written one goes on to what those come from', () => {
    // `balance.rate` reads each spring's rate, which nobody wrote; that reads wire, diameter, coils.
    const w = files('require long.rate > 1 lbf*in/turn', 'require balance.ra|te > 1 lbf*in/turn')
    expect(goes(w)).toEqual(
      expect.arrayContaining([
        'dock.door: [wire] = 1/2in',
        'dock.door: [wire] = 0.4063in',
        'dock.door: spring long { [coils] = 170 }',
      ]),
    )
  })
  test('nothing for a word of the language, and for a standard pipe', () => {
    expect(goes(files('hand     = right', 'hand     = ri|ght'))).toEqual([])
    expect(goes(files('pipe = nps6_std', 'pipe = nps6_|std'))).toEqual([])
  })
})

describe('type definition', () => {
  const goes = (w: Workspace) => w.service.typeDefinition(w.file, w.cursor).map(w.said)
  test('an opening goes to the one it is like', () =>
    expect(goes(files('opening "Dock 4"', 'opening "Do|ck 4"'))).toEqual(['dock.door: [opening "Dock 3"] {']))
  test('a value goes to its block', () =>
    expect(goes(files('require long.rate', 'require drum.tur|ns > 1 turn; require long.rate'))).toEqual([
      'dock.door: [drum] {',
    ]))
  test('a spring of the stock is what a spring is made after', () =>
    expect(goes(files('spring long { coils = 170 }', 'spri|ng long like house_long { coils = 170 }'))).toEqual([
      'stock.door: [spring house_long] { wire = 1/2in; diameter = 4.9in; coils = 160 }',
    ]))
})

describe('references', () => {
  const found = (w: Workspace, declared = true) => w.service.references(w.file, w.cursor, declared).map(w.said).sort()
  test('a stock item: in every file of the workspace, opened or not', () =>
    expect(found(files('slat flat_20', 'slat fl|at_20', 'stock.door'))).toEqual([
      'dock.door: slat = [flat_20]', 'gate.door: curtain { slat = [flat_20] }', 'stock.door: slat [flat_20] {',
    ])) // biome-ignore format: one list
  test('without where it is written', () =>
    expect(found(files('slat flat_20', 'slat fl|at_20', 'stock.door'), false)).not.toContain(
      'stock.door: slat [flat_20] {',
    ))
  test('an opening', () =>
    expect(found(files('opening "Dock 3"', 'opening "Doc|k 3"'))).toEqual([
      'dock.door: opening "Dock 4" like ["Dock 3"] {',
      'dock.door: opening ["Dock 3"] {',
    ]))
  test('a spring that is written again in an opening that is like this one', () =>
    expect(found(files('spring long {\n', 'spring lo|ng {\n'))).toEqual([
      'dock.door: require [long].rate > 1 lbf*in/turn', 'dock.door: spring [long] {', 'dock.door: spring [long] { coils = 170 }',
    ])) // biome-ignore format: one list
  test('a let, likewise', () =>
    expect(found(files('let gap = 1in', 'let g|ap = 1in'))).toEqual([
      'dock.door: between = width + [gap]', 'dock.door: let [gap] = 1in', 'dock.door: let [gap] = 2in', 'dock.door: rails { between = width + [gap] }',
    ])) // biome-ignore format: one list
  test('a field through paths', () =>
    expect(found(files('width    = 12ft', 'wid|th    = 12ft'))).toEqual([
      'dock.door: [width] = 12ft', 'dock.door: between = [width] + gap', 'dock.door: rails { between = [width] + gap }',
    ])) // biome-ignore format: one list
  test('a stock name beside == counts; a word that reads the same does not', () => {
    const w = files('require long.rate > 1 lbf*in/turn', 'require curtain.slat == flat_|20 and adjuster.side == right')
    expect(found(w)).toContain('dock.door: require curtain.slat == [flat_20] and adjuster.side == right')
    expect(found(files('  let gap = 1in', '  let rig|ht = 1in'))).toEqual(['dock.door: let [right] = 1in'])
  })
  test('highlights are those of this file, the written one as such', () => {
    const w = files('slat       = flat_20', 'slat       = fl|at_20')
    expect(w.service.highlights(w.file, w.cursor)).toMatchObject([{ write: false }])
    const own = files('spring long {\n', 'spring lo|ng {\n')
    expect(own.service.highlights(own.file, own.cursor).map(h => h.write)).toEqual([true, true, false])
  })
})

describe('rename', () => {
  test('a mark, with where it is liked', () => {
    const w = files('opening "Dock 3"', 'opening "Doc|k 3"')
    expect(w.rename('Dock "A"')['dock.door']).toBe(w.texts['dock.door']!.replaceAll('"Dock 3"', '"Dock \\"A\\""'))
  })
  test('a stock item in three files, two of them closed', () => {
    const w = files('slat       = flat_20', 'slat       = fl|at_20')
    const after = w.rename('flat_22')
    for (const f of Object.keys(w.texts)) expect(after[f]).toBe(w.texts[f]!.replaceAll('flat_20', 'flat_22'))
  })
  test('a spring and a let along `like`', () => {
    const w = files('require long.rate', 'require lo|ng.rate')
    expect(w.rename('upper')['dock.door']).toBe(w.texts['dock.door']!.replace(/\blong\b/g, 'upper'))
    const gap = files('let gap = 2in', 'let ga|p = 2in')
    expect(gap.rename('air')['dock.door']).toBe(gap.texts['dock.door']!.replace(/\bgap\b/g, 'air'))
  })
  test.each([
    ['slat flat_20', 'slat fl|at_20', 'stock.door', 'Flat 20', 'small letters'],
    ['slat flat_20', 'slat fl|at_20', 'stock.door', 'like', 'reserved word'],
    ['spring house_long', 'spring hou|se_long', 'stock.door', '', 'small letters'],
    ['opening "Dock 4"', 'opening "Do|ck 4"', 'dock.door', 'Dock 3', 'already'],
    ['opening "Dock 4"', 'opening "Do|ck 4"', 'dock.door', ' ', 'at least one character'],
    ['spring long {\n', 'spring lo|ng {\n', 'dock.door', 'drum', 'kind of block'],
    ['spring long {\n', 'spring lo|ng {\n', 'dock.door', 'short', 'means something else'],
    ['let gap = 1in', 'let g|ap = 1in', 'dock.door', 'width', 'means something else'],
    ['  headroom = 24in', '  head|room = 24in', 'dock.door', 'room', 'word of the language'],
    ['hand     = right', 'hand     = ri|ght', 'dock.door', 'left', 'word of the language'],
    ['pipe = nps6_std', 'pipe = nps6_|std', 'dock.door', 'big', 'standard'],
    ['= 12ft\n', '= 12|ft\n', 'dock.door', 'x', 'Nothing here'],
  ] as const)('%s: refused', (part, marked, where, name, reason) =>
    expect(files(part, marked, where).refused(name)).toContain(reason),
  )

  test('a file that would be read differently is reason enough', () => {
    const w = new Workspace({
      'a.door': 'pipe ours| { od = 6in; wall = 1/4in }\n',
      'b.door':
        'use "a.door"\npipe mine { od = 7in; wall = 1/4in }\njob "1" { }\nopening "A" { drum { pipe = ours } }\n',
    })
    expect(w.refused('mine')).toContain('already')
  })

  test('what is renamed finds nothing new, and renamed back it is the text it was', () => {
    const spots = [
      ['opening "Dock 3"', 'opening "Do|ck 3"', 'dock.door'],
      ['let gap = 2in', 'let g|ap = 2in', 'dock.door'],
      ['spring short {', 'spring sh|ort {', 'dock.door'],
      ['slat = flat_20', 'slat = flat|_20', 'gate.door'],
      ['operator chain_hoist', 'operator chain|_hoist', 'stock.door'],
    ] as const
    const names = ['a', 'gap', 'width', 'long', 'short', 'drum', 'turns', 'flat_20', 'house_long', 'let', 'x y', 'Dock 4', 'min', 'ft', 'site', 'nps6_std', 'rate', '"', '\\'] // biome-ignore format: one list
    fc.assert(
      fc.property(
        fc.constantFrom(...spots),
        fc.oneof(fc.constantFrom(...names), fc.string({ maxLength: 8 })),
        ([part, marked, where], name) => {
          const w = files(part, marked, where)
          const old = w.service.renameTarget(w.file, w.cursor)
          const r = w.service.rename(w.file, w.cursor, name)
          if (!r.ok || !old.ok) {
            expect(r.ok ? '' : r.reason).toMatch(/\w/)
            return
          }
          const after = w.applied(r.edits)
          expect(findingsOf(after)).toEqual(findingsOf(w.texts))
          const again = new Workspace(after, [], where)
          // the cursor stands where the name begins, before which nothing was renamed in its line
          const back = again.service.rename(where, again.service.position(where, offsetOf(w, r.edits)), old.text)
          if (!back.ok) throw new Error(back.reason)
          expect(again.applied(back.edits)).toEqual(w.texts)
          return
        },
      ),
      { numRuns: 150 },
    )
  }, 60_000)
})

/** Where the name under the cursor begins once the edits are made. */
function offsetOf(w: Workspace, edits: readonly { file: string; range: { start: { line: number; character: number } }; text: string }[]): number {
  const target = w.service.renameTarget(w.file, w.cursor)
  if (!target.ok) throw new Error(target.reason)
  const at = w.service.offset(w.file, target.range.start)
  const before = edits.filter(e => e.file === w.file && w.service.offset(w.file, e.range.start) < at - 1)
  return before.reduce((n, e) => n + e.text.length - (e.text.startsWith('"') ? target.text.length + 2 : target.text.length), at)
} // biome-ignore format: sums
