import { describe, expect, test } from 'vitest'
import { LONGEST } from '../../../server/features/inlay_hints.ts'
import { DOCK, dockWith, Editor, FILE } from './editor.ts'

/** A value of the dock opening, as the tool's JSON gives it. */
const value = (e: Editor, path: string) => e.service.values(FILE)[0]!.values.find(v => v.path === path)!

describe('hints', () => {
  test('the dock as a person sees it, with the numbers left out', () => {
    const lines = new Editor(DOCK).hinted.split('\n').filter(l => l.includes('«'))
    const masked = lines.map(l => l.replace(/«.*/, hint => hint.replace(/(?<!\^)\d[\d,./]*( \d+\/\d+)?/g, 'n')))
    expect(masked.map(l => l.trim().replace(/ +/g, ' '))).toEqual([
      'opening "Dock 3" { « out of balance by n lbf*in',
      'width = 12ft « n ft^2',
      'curtain { « n lb hanging',
      'slat = flat_20 « n lb/ft^2',
      'rails { « mark n in',
      'between = width + 1in « = n ft n in',
      'depth = 3 1/4in « clear n in',
      'drum { « n turns, coil n in',
      'pipe = nps6_std « inside n in',
      'span = 12ft 8in « sag n of n in',
      'spring long { « n lbf*in/turn, n%',
      'diameter = 4.9in « index n',
      'coils = 160 « wound n ft n in',
      'spring short { « n lbf*in/turn, n%',
      'diameter = 4.9in « index n',
      'coils = 140 « wound n ft n in',
      'adjuster { « counterclockwise',
      'holes = 8 « n turn a step',
      'preload = 1.7 turns « n incr, best n',
    ])
  })

  test('all labels are short, in both systems', () => {
    for (const units of ['imperial', 'metric']) {
      const { hints } = new Editor(dockWith('  site =', `  units = ${units}\n  site =`))
      expect(hints.length).toBeGreaterThan(15)
      // beside an opening's mark there is room for more
      for (const h of hints)
        expect(h.label.length, h.label).toBeLessThanOrEqual(h.label.startsWith('out of balance by ') ? 32 : LONGEST)
    }
    expect(LONGEST).toBeLessThan(25)
  })

  test('the preload says where it lies between the holes, and what balances', () => {
    const editor = new Editor(DOCK)
    // 1.7 turns of 8 holes: 13.6 increments (derived: 1.7 x 8)
    const best = (value(editor, 'balance.preload').si! / (2 * Math.PI)).toFixed(2).replace(/\.?0+$/, '')
    expect(editor.hintedLine('preload =')).toBe(`preload = 1.7 turns « 13.6 incr, best ${best}`)
  })

  test('a changed preload changes the balance on the header', () => {
    const [before, after] = [new Editor(DOCK), new Editor(dockWith('1.7 turns', '1 3/4 turns'))]
    expect(after.hintedLine('preload =')).toContain('14 incr')
    expect(after.hintedLine('opening "Dock 3"')).not.toBe(before.hintedLine('opening "Dock 3"'))
  })

  test('an expression shows what it comes to, a plain quantity does not', () => {
    const editor = new Editor(DOCK)
    expect(editor.hintedLine('between =')).toBe('between = width + 1in « = 12 ft 1 in')
    expect(editor.hintedLine('height   =')).toBe('height   = 11ft 6in')
  })

  test('names given by let, and both sides of a requirement', () => {
    const editor = new Editor(
      `let gap = 2 * 1/2in\n\nopening "A" {\n  width = 12ft\n  require width + gap <= 13ft\n}\n`,
    )
    expect(editor.hintedLine('let gap')).toBe('let gap = 2 * 1/2in « = 1 in')
    expect(editor.hintedLine('require')).toBe('require width + gap <= 13ft « 145 in <= 156 in')
  })

  test('an opening that is not complete says how much is missing', () => {
    expect(new Editor('opening "A" {\n  width = 12ft\n}\n').hintedLine('opening')).toBe(
      'opening "A" { « 6 still missing',
    )
  })

  test('only those of the range', () => {
    const editor = new Editor(DOCK)
    const line = editor.text.split('\n').findIndex(l => l.includes('between ='))
    const hints = editor.service.inlayHints(FILE, {
      start: { line, character: 0 },
      end: { line: line + 1, character: 0 },
    })
    expect(hints.map(h => h.label)).toEqual(['= 12 ft 1 in'])
  })

  test('behind a comment, before the blanks at the end, with any line end', () => {
    const editor = new Editor('opening "A" {\r\n  width = 12ft # clear   \r\n  height = 2 * 4ft\t\r\n}\r\n')
    expect(editor.hints.map(h => [h.position, h.label])).toEqual([
      [{ line: 0, character: 13 }, '5 still missing'],
      [{ line: 1, character: 22 }, '96 ft^2'],
      [{ line: 2, character: 18 }, '= 8 ft'],
    ])
  })

  test('half-typed text has hints too', () => {
    expect(new Editor('opening "A" {\n  width = 12ft\n  height = 2 * 4ft\n  curt').hintedLine('width')).toBe(
      'width = 12ft « 96 ft^2',
    )
  })
})

describe('resolved', () => {
  test('the tooltip gives formula, numbers put in, source and caution, and survives the wire', () => {
    const editor = new Editor(DOCK)
    const hint = editor.hints.find(h => h.label.includes('incr'))!
    expect(hint.tooltip).toBeUndefined()
    const { tooltip } = editor.service.resolveInlayHint(JSON.parse(JSON.stringify(hint)))
    expect(tooltip).toContain('Formula: `preload / increment`')
    expect(tooltip).toContain('- `adjuster.preload` = 1.7 turns')
    expect(tooltip).toContain('Source: geometry')
    expect(tooltip!.split('Trained door technicians only').length, 'the caution stands once').toBe(2)
  })

  test('a path that the values know too', () => {
    const editor = new Editor(DOCK)
    const known = new Set(editor.service.values(FILE)[0]!.values.map(v => v.path))
    for (const h of editor.hints) if (h.path) expect(known).toContain(h.path)
  })

  test('a double click writes what may be written, and nothing else', () => {
    const editor = new Editor(dockWith('    preload = 1.7 turns\n', ''))
    const hint = editor.hints.find(h => h.label.startsWith('best '))!
    const { edits } = editor.service.resolveInlayHint(hint)
    const text = editor.applied(edits!)
    const set = value(new Editor(text), 'adjuster.increments').si!
    const best = (value(editor, 'balance.preload').si! / (2 * Math.PI)) * 8
    expect(set - Math.ceil(best)).toBeCloseTo(0, 9)
    expect(text).toMatch(/ {4}holes {3}= 8\n {4}preload = \d+( \d\/\d)? turns\n {2}\}/)
    for (const h of new Editor(text).hints.filter(h => h.label.includes('incr')))
      expect(editor.service.resolveInlayHint(h).edits).toBeUndefined()
  })

  test('a spring whose numbers nobody can know has no numbers', () => {
    expect(new Editor(dockWith('    wire     = 1/2in\n', '')).hintedLine('spring long')).toBe('spring long {')
  })
})
