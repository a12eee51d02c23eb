import { describe, expect, test } from 'vitest'
import type { OutlineItem } from '../../../server/service.ts'
import { DOCK, Editor, FILE } from './editor.ts'

describe('formatting', () => {
  const UNTIDY = 'job "1" {\n site="A"\n}\nopening "A" {\n   width=12ft\n height = 8ft\n}\n'

  test('as edits of no more than what differs', () => {
    const editor = new Editor(UNTIDY)
    const edits = editor.service.formatEdits(FILE)
    expect(editor.applied(edits)).toBe(editor.service.format(FILE).text)
    for (const e of edits) expect(e.text.length, 'only blanks').toBeLessThan(12)
    const tidy = new Editor(editor.applied(edits))
    expect(tidy.service.formatEdits(FILE)).toEqual([])
  })

  test('of a range: only its blocks', () => {
    const editor = new Editor(UNTIDY)
    const text = editor.applied(
      editor.service.formatRange(FILE, { start: { line: 4, character: 0 }, end: { line: 5, character: 0 } }),
    )
    expect(text).toMatch(/^job "1" \{\n site="A"\n\}\n/)
    expect(text).toContain('  width  = 12ft\n  height = 8ft\n')
  })
})

describe('outline', () => {
  const tree = (items: readonly OutlineItem[], indent = ''): string[] =>
    items.flatMap(i => [
      `${indent}${i.kind} ${i.name}${i.detail ? ` (${i.detail})` : ''}`,
      ...tree(i.children, `${indent}  `),
    ])

  test('of the dock', () => {
    expect(tree(new Editor(`${DOCK}let gap = 1in\nslat thin { pitch = 2in }\n`).service.outline(FILE))).toEqual([
      'use stock.door (use)',
      'job HS-2207 (job)',
      'opening Dock 3 (12 ft x 11 ft 6 in)',
      '  block curtain',
      '  block rails',
      '  block drum',
      '  spring spring long',
      '  spring spring short',
      '  block adjuster',
      'let gap (1in)',
      'stock slat thin (stock)',
    ])
  })

  test('ranges hold what is selected and the children, and stand on the right lines', () => {
    const editor = new Editor(DOCK)
    const opening = editor.service.outline(FILE).find(i => i.kind === 'opening')!
    expect(editor.text.split('\n')[opening.range.start.line]).toBe('opening "Dock 3" {')
    expect(opening.selection.start).toEqual({ line: opening.range.start.line, character: 8 })
    for (const c of opening.children) {
      expect(c.range.start.line).toBeGreaterThan(opening.range.start.line)
      expect(c.selection.start.line).toBe(c.range.start.line)
      expect(c.range.end.line).toBeLessThanOrEqual(opening.range.end.line)
    }
  })

  test('names are never empty, whatever is half-typed', () => {
    expect(
      tree(new Editor('opening {\n  spring\n}\njob "" {}\nuse "').service.outline(FILE)).every(l =>
        /^ *\w+ \S/.test(l),
      ),
    ).toBe(true)
  })
})

test('folding: blocks with their closing brace in sight, rows of comments, the use lines', () => {
  const text =
    'use "a.door"\nuse "b.door"\n# one\n# two\nopening "A" {\n  drum {\n    ring = 1in\n  }\n}\nslat x { pitch = 1in }\n'
  expect(new Editor(text).service.folding(FILE)).toEqual([
    { start: 0, end: 1, kind: 'imports' },
    { start: 4, end: 7 },
    { start: 5, end: 6 },
    { start: 2, end: 3, kind: 'comment' },
  ])
})
