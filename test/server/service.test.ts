import { describe, expect, test } from 'vitest'
import { Service } from '../../server/service.ts'
import { DOCK, Editor, FILE, STOCK } from './features/editor.ts'

describe('verbs over a file as it is typed', () => {
  test('every verb answers at every place of a file that breaks off anywhere', () => {
    for (let cut = 0; cut <= DOCK.length; cut += 7) {
      const { service } = new Editor(DOCK.slice(0, cut))
      const end = service.position(FILE, cut)
      const range = { start: { line: 0, character: 0 }, end }
      expect(() => {
        service.hover(FILE, end)
        for (const item of service.completion(FILE, end).slice(0, 3)) service.resolveCompletion(item)
        for (const hint of service.inlayHints(FILE, range)) service.resolveInlayHint(hint)
        service.codeActions(FILE, { start: end, end })
        service.definition(FILE, end)
        service.outline(FILE)
        service.folding(FILE)
        service.formatEdits(FILE)
        service.values(FILE)
      }, `cut at ${cut}`).not.toThrow()
    }
  })

  test('a file that nobody has opened has nothing to say', () => {
    const service = new Service({ resolve: () => ({ ok: false, outside: false, message: '' }), read: () => undefined })
    const at = { line: 3, character: 1 }
    const range = { start: at, end: at }
    expect(service.hover('none', at)).toBeUndefined()
    expect(
      [
        service.completion('none', at),
        service.inlayHints('none', range),
        service.codeActions('none', range),
        service.outline('none'),
        service.folding('none'),
        service.formatEdits('none'),
        service.formatRange('none', range),
        service.values('none'),
        service.definition('none', at),
      ].flat(),
    ).toEqual([])
    expect(service.explain('none', 'A', 'drum.turns')).toBeUndefined()
  })

  test('answers follow the text after edits before them', () => {
    const editor = new Editor(DOCK)
    const { service } = editor
    const before = editor.hints.find(h => h.label.includes('incr'))!
    service.edit(FILE, [
      { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text: '# one\n# two\n' },
    ])
    const after = editor.hints.find(h => h.label.includes('incr'))!
    expect(after.label).toBe(before.label)
    expect(after.position.line).toBe(before.position.line + 2)
  })

  test('an edit in the stock changes what the door shows', () => {
    const others = { 'job/stock.door': STOCK }
    const editor = new Editor(DOCK, others)
    const before = editor.hintedLine('curtain {')
    editor.service.open('job/stock.door', STOCK.replace('2.6 lb/ft^2', '5.2 lb/ft^2'))
    expect(editor.hintedLine('curtain {')).not.toBe(before)
  })

  test('positions outside of the text are moved into it', () => {
    const { service } = new Editor(DOCK)
    expect(service.completion(FILE, { line: 9999, character: 9999 }).map(i => i.label)).toContain('opening')
    expect(service.hover(FILE, { line: 9999, character: 0 })).toBeUndefined()
  })
})

describe('values', () => {
  test('of an opening: mark, line, origin', () => {
    const [dock] = new Editor(DOCK).service.values(FILE)
    expect(dock).toMatchObject({ mark: 'Dock 3', line: 7, complete: true })
    const of = (path: string) => dock!.values.find(v => v.path === path)
    // 12 ft = 3.6576 m: NIST SP 811 (seen)
    expect(of('opening.width')).toMatchObject({ origin: 'written', text: '12 ft' })
    expect(of('opening.width')!.si).toBeCloseTo(3.6576, 12)
    expect(of('rails.length')).toMatchObject({ origin: 'default', text: '11 ft 6 in' })
    expect(of('curtain.slat.pitch')).toMatchObject({ origin: 'stock' })
    expect(of('drum.turns')).toMatchObject({ origin: 'derived', unit: 'turn' })
  })

  test('an explanation names its inputs, and what is missing', () => {
    const { service } = new Editor(DOCK)
    expect(service.explain(FILE, 'Dock 3', 'rails.mark')).toMatchObject({
      formula: '(between - opening.width) / 2',
      // (12 ft 1 in - 12 ft) / 2: own arithmetic
      text: '1/2 in',
      inputs: [
        { path: 'rails.between', text: '12 ft 1 in' },
        { path: 'opening.width', text: '12 ft' },
      ],
    })
    expect(service.explain(FILE, 'Dock 3', 'rails.fasteners')!.missing).toEqual(['rails.fastener_spacing'])
    expect(service.explain(FILE, 'Dock 3', 'nothing.here')).toBeUndefined()
    expect(service.explain(FILE, 'Dock 9', 'rails.mark')).toBeUndefined()
  })
})

test('fixing all leaves the file as it was', () => {
  const { service } = new Editor(DOCK)
  const source = service.source(FILE)
  expect(service.fixAll(FILE).text).not.toBe(DOCK)
  expect(service.source(FILE)).toBe(source)
})
