/** No verb falls over any text, and every name of the samples can be renamed and back. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Service } from '../../../server/service.ts'
import { DOCK, STOCK } from './editor.ts'
import { findingsOf, type Texts, Workspace } from './workspace.ts'

const PIECES = [
  '{',
  '}',
  '"',
  '.',
  '(',
  ',',
  ' like ',
  'let x = ',
  'use "',
  '[',
  '#',
  '\r\n',
  ' == ',
  'spring ',
  'slat ',
  'long.',
  '\u2028',
  '😀',
]

const VERBS: Readonly<Record<string, (s: Service, file: string, at: { line: number; character: number }) => unknown>> =
  {
    definition: (s, f, p) => s.definition(f, p),
    typeDefinition: (s, f, p) => s.typeDefinition(f, p),
    references: (s, f, p) => s.references(f, p, true),
    highlights: (s, f, p) => s.highlights(f, p),
    rename: (s, f, p) => s.rename(f, p, 'other_name'),
    symbols: s => s.workspaceSymbols('o'),
    selectionRanges: (s, f, p) => s.selectionRanges(f, [p]),
    links: (s, f) => s.links(f),
    colours: (s, f) => s.semanticTokens(f),
    signature: (s, f, p) => s.signature(f, p),
    lenses: (s, f) => s.codeLenses(f),
    brace: (s, f, p) => s.formatOnType(f, p, '}'),
    line: (s, f, p) => s.formatOnType(f, p, '\n'),
    values: (s, f, p) => {
      const v = s.valueAt(f, p)
      return v && [s.feeds(v.data), s.usedBy(v.data)]
    },
    actions: (s, f, p) => s.codeActions(f, { start: p, end: { line: p.line, character: p.character + 7 } }),
    moved: (s, f) => s.moved([{ from: f, to: 'other/place.door' }]),
  }

test(
  'every verb bears any text, at any place',
  () =>
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.nat(DOCK.length), fc.oneof(fc.constantFrom(...PIECES), fc.string({ maxLength: 4 })), fc.nat(30)),
          { maxLength: 4 },
        ),
        fc.nat(2 * DOCK.length),
        (changes, at) => {
          let text = `${DOCK}opening "Dock 4" like "Dock 3" {\n  spring long { coils = 10 }\n  require long.rate > 1 lbf*in/turn\n}\n`
          for (const [where, piece, cut] of changes) text = text.slice(0, where) + piece + text.slice(where + cut)
          const w = new Workspace({ 'dock.door': text, 'stock.door': STOCK }, [], 'dock.door')
          const place = w.service.position('dock.door', at % (text.length + 1))
          for (const verb of Object.values(VERBS)) verb(w.service, 'dock.door', place)
          // whatever was tried out, the text is what it was
          expect(w.service.text('dock.door')).toBe(text)
        },
      ),
      { numRuns: 120 },
    ),
  120_000,
)

test('every verb bears a file that is not there, and an empty one', () => {
  const w = new Workspace({ 'a.door': '' })
  for (const verb of Object.values(VERBS))
    for (const file of ['a.door', 'none.door']) verb(w.service, file, { line: 3, character: 3 })
})

const HARBOUR = join(import.meta.dirname, '../../../samples/harbour')
const samples: Texts = Object.fromEntries(
  readdirSync(HARBOUR, { recursive: true, encoding: 'utf8' })
    .filter(f => f.endsWith('.door'))
    .map(f => [f.replaceAll('\\', '/'), readFileSync(join(HARBOUR, f), 'utf8')]),
)

test('the names of the samples: renamed, nothing new is found; renamed back, the texts are the same', () => {
  const before = findingsOf(samples)
  let names = 0
  for (const file of Object.keys(samples)) {
    const w = new Workspace(samples, [], file)
    const given = samples[file]!.matchAll(
      /^[ \t]*(?:let (\w+)|(?:opening|slat|pipe|operator|spring) (?:"([^"]+)"|(\w+)))/gm,
    )
    for (const m of given) {
      const old = (m[1] ?? m[2] ?? m[3])!
      const place = w.service.position(file, m.index + m[0].lastIndexOf(old))
      if (old === 'like') continue
      const renamed = w.service.rename(file, place, 'quite_new')
      if (!renamed.ok) throw new Error(`${file} ${old}: ${renamed.reason}`)
      const after = w.applied(renamed.edits)
      expect(after, `${file} ${old}`).not.toEqual(samples)
      expect(findingsOf(after)).toEqual(before)
      const again = new Workspace(after, [], file)
      const there = after[file]!.indexOf('quite_new')
      const back = again.service.rename(file, again.service.position(file, there), old)
      if (!back.ok) throw new Error(`${file} ${old}: ${back.reason}`)
      expect(again.applied(back.edits)).toEqual(samples)
      names++
    }
  }
  expect(names).toBeGreaterThan(15)
}, 120_000)
