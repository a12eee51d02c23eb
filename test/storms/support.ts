/** What the storms share: the samples, what can be done to a text, all verbs, and the whole state of a service as text. */
import { readdirSync, readFileSync } from 'node:fs'
import { join, posix } from 'node:path'
import fc from 'fast-check'
import { TextDocument, type TextDocumentContentChangeEvent } from 'vscode-languageserver-textdocument'
import { applyEdits, lineStarts, offsetAt, tokenize } from '../../grammar/index.ts'
import type { FileEdit, Position, Range } from '../../server/service.ts'
import { Service } from '../../server/service.ts'
import { LONG } from '../support/long.ts'

export { LONG, runs } from '../support/long.ts'
export const PATIENCE = 40_000 + 20 * 60_000 * LONG

/** The seed of a run that is not made by fast-check: `SEED=...` repeats one. */
export const SEED = Number(process.env.SEED ?? (LONG > 0 ? Date.now() % 2 ** 31 : 20_260))

/** Numbers in [0, n) that a seed settles (mulberry32, public domain). */
export function randomOf(seed: number): (n: number) => number {
  let a = seed >>> 0
  return n => {
    a = (a + 0x6d2b79f5) >>> 0
    let t = Math.imul(a ^ (a >>> 15), 1 | a)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) % n
  }
}

// ---- the samples

export type Texts = Readonly<Record<string, string>>

const SAMPLES = join(import.meta.dirname, '../../samples')
/** Every sample by its path below `samples`. */
export const samples: Texts = Object.fromEntries(
  readdirSync(SAMPLES, { recursive: true, encoding: 'utf8' })
    .filter(f => f.endsWith('.door'))
    .map(f => f.replaceAll('\\', '/'))
    .toSorted()
    .map(f => [f, readFileSync(join(SAMPLES, f), 'utf8')]),
)
export const names = Object.keys(samples)
export const anySample = fc.constantFrom(...names)

/** A service over these texts; a fault inside it is a failure of the test. */
export function serviceOf(texts: Texts, open: readonly string[] = []): Service {
  const service = new Service({
    resolve: (from, path) => ({ ok: true, file: posix.join(posix.dirname(from), path) }),
    read: file => (Object.hasOwn(texts, file) ? texts[file] : undefined),
    workspaceFiles: () => Object.keys(texts),
    usePaths: file => Object.keys(texts).flatMap(f => (f === file ? [] : [posix.relative(posix.dirname(file), f)])),
    fault: (where, error) => {
      throw new Error(`${where}: ${error instanceof Error ? error.stack : error}`)
    },
  })
  for (const f of open) service.open(f, texts[f]!)
  return service
}

export const withText = (file: string, text: string): Texts => ({ ...samples, [file]: text })

// ---- what happens to a text

export type Span = readonly [start: number, end: number]

/** The tokens of a text, comments too. */
export const tokensOf = (text: string): Span[] => tokenize(text).map(t => [t.start, t.end])

const cut = (text: string, [start, end]: Span, put: string): string => text.slice(0, start) + put + text.slice(end)

/** What can be done to the token `i` of a text. */
export const MUTATIONS = {
  deleted: (text: string, all: readonly Span[], i: number) => cut(text, all[i]!, ''),
  doubled: (text: string, all: readonly Span[], i: number) =>
    cut(text, all[i]!, `${text.slice(...all[i]!)} ${text.slice(...all[i]!)}`),
  swapped: (text: string, all: readonly Span[], i: number) => {
    const [a, b] = [all[i]!, all[i + 1]]
    return b ? cut(text, [a[0], b[1]], text.slice(...b) + text.slice(a[1], b[0]) + text.slice(...a)) : text
  },
  cutOff: (text: string, all: readonly Span[], i: number) => text.slice(0, (all[i]![0] + all[i]![1]) >> 1),
} as const
export type Mutation = keyof typeof MUTATIONS

export interface Mutant {
  readonly file: string
  readonly how: string
  readonly text: string
}

/** Every sample with every mutation of every token. */
export function* mutants(): Generator<Mutant> {
  for (const file of names) {
    const text = samples[file]!
    const all = tokensOf(text)
    for (const how of Object.keys(MUTATIONS) as Mutation[])
      for (let i = 0; i < all.length; i++)
        yield {
          file,
          how: `${file}: token ${i} (${text.slice(...all[i]!)}) ${how}`,
          text: MUTATIONS[how](text, all, i),
        }
  }
}

/** Some of a list, chosen by the seed; all of it in a long run, and a part of it where `LONG` is less than 1. */
export function some<T>(all: readonly T[], few: number, seed = SEED): T[] {
  const most = Math.max(few, all.length * LONG)
  if (all.length <= most) return [...all]
  const random = randomOf(seed)
  return Array.from({ length: most }, () => all[random(all.length)]!)
}

/** One or several mutations of a sample at places that fast-check chooses, so that it can make them fewer. */
export const anyMutant: fc.Arbitrary<Mutant> = fc
  .tuple(
    anySample,
    fc.array(fc.tuple(fc.constantFrom(...(Object.keys(MUTATIONS) as Mutation[])), fc.nat(5000)), {
      minLength: 1,
      maxLength: 3,
    }),
  )
  .map(([file, changes]) => {
    let text = samples[file]!
    for (const [how, at] of changes) {
      const all = tokensOf(text)
      if (all.length > 0) text = MUTATIONS[how](text, all, at % all.length)
    }
    return { file, how: file, text }
  })

/** The text after edits by lines and columns, as an editor makes them. */
export function applied(text: string, edits: readonly { readonly range: Range; readonly text: string }[]): string {
  const starts = lineStarts(text)
  const at = (p: Position): number => offsetAt(starts, { line: p.line, column: p.character }, text.length)
  return applyEdits(
    text,
    edits.map(e => ({ start: at(e.range.start), end: at(e.range.end), text: e.text })),
  )
}

export function appliedAll(texts: Texts, edits: readonly FileEdit[]): Texts {
  const out: Record<string, string> = { ...texts }
  for (const f of new Set(edits.map(e => e.file)))
    out[f] = applied(
      out[f]!,
      edits.filter(e => e.file === f),
    )
  return out
}

/** A text as an editor has it after some changes, each made on what the one before left. */
export const typed = (text: string, changes: readonly TextDocumentContentChangeEvent[]): string =>
  // a document for each: one that is kept counts its lines wrongly after a change beyond its end
  changes.reduce((t, c) => TextDocument.update(TextDocument.create('', '', 0, t), [c], 1).getText(), text)

// ---- what a service says

export const ALL: Range = { start: { line: 0, character: 0 }, end: { line: 1_000_000, character: 0 } }

/** All that is asked at a place. Every verb of the service is here or in `AT_FILE`; a test holds it to that. */
export const AT_PLACE: Readonly<Record<string, (s: Service, file: string, at: Position) => unknown>> = {
  hover: (s, f, p) => s.hover(f, p),
  completion: (s, f, p) => s.completion(f, p).map(i => s.resolveCompletion(i)),
  codeActions: (s, f, p) => {
    const line = { start: p, end: { line: p.line, character: p.character + 9 } }
    return s.codeActions(f, line).map(a => [a.title, a.kind, a.edits])
  },
  definition: (s, f, p) => s.definition(f, p),
  typeDefinition: (s, f, p) => s.typeDefinition(f, p),
  references: (s, f, p) => s.references(f, p, true),
  highlights: (s, f, p) => s.highlights(f, p),
  renameTarget: (s, f, p) => s.renameTarget(f, p),
  rename: (s, f, p) => s.rename(f, p, 'other_name'),
  selectionRanges: (s, f, p) => s.selectionRanges(f, [p]),
  signature: (s, f, p) => s.signature(f, p),
  formatOnType: (s, f, p) => [s.formatOnType(f, p, '}'), s.formatOnType(f, p, '\n')],
  formatRange: (s, f, p) => s.formatRange(f, { start: p, end: { line: p.line + 2, character: 3 } }),
  valueAt: (s, f, p) => {
    const v = s.valueAt(f, p)
    return v && [v, s.feeds(v.data), s.usedBy(v.data)]
  },
}

/** All that is asked of a file; quick enough to ask often. */
export const AT_FILE: Readonly<Record<string, (s: Service, file: string) => unknown>> = {
  findings: (s, f) => s.findings(f).map(x => ({ ...x, related: x.related, fixes: x.fixes() })),
  semanticTokens: (s, f) => s.semanticTokens(f),
  inlayHints: (s, f) => s.inlayHints(f, ALL).map(h => s.resolveInlayHint(h)),
  codeLenses: (s, f) => s.codeLenses(f),
  outline: (s, f) => s.outline(f),
  folding: (s, f) => s.folding(f),
  links: (s, f) => s.links(f),
  openings: (s, f) => s.openings(f),
  values: (s, f) => s.values(f),
  unsound: (s, f) => s.unsound(f),
  formatEdits: (s, f) => s.formatEdits(f),
  workspaceSymbols: s => s.workspaceSymbols('o'),
  moved: (s, f) => s.moved([{ from: f, to: 'other/place.door' }]),
  uses: (s, f) => s.uses(f),
}

/** Slower ones: reports and what tries many things out. */
export const REPORTS: Readonly<Record<string, (s: Service, file: string) => unknown>> = {
  preview: (s, f) => s.openings(f).map(o => s.preview(f, o.mark)),
  sheet: (s, f) => [s.sheet(f, '0'), s.sheetName(f)],
  version: (s, f) => s.version([{ file: f, name: f }]).others,
  fixAll: (s, f) => s.fixAll(f),
  explain: (s, f) => s.values(f).flatMap(o => o.values.map(v => s.explain(f, o.mark, v.path))),
}

/** The whole state of a file as text, for comparing. */
export function stateOf(s: Service, file: string, more: typeof AT_FILE = AT_FILE): Record<string, string> {
  return Object.fromEntries(
    Object.entries(more).map(([name, ask]) => [name, JSON.stringify(ask(s, file), undefined, 1) ?? '']),
  )
}

/** Fails at the first line in which two states differ; a whole comparison of texts as long as these takes far too long. */
export function expectSame(got: Readonly<Record<string, string>>, wanted: typeof got, where = ''): void {
  for (const name of Object.keys(wanted)) {
    if (got[name] === wanted[name]) continue
    const [a, b] = [got[name] ?? '', wanted[name]!].map(t => t.split('\n'))
    const i = a!.findIndex((line, n) => line !== b![n])
    const part = (t: readonly string[]): string =>
      t
        .slice(Math.max(0, i - 12), i + 6)
        .join('\n')
        .slice(0, 1500)
    throw new Error(`${where} ${name} differs in line ${i}. Got:\n${part(a!)}\nWanted:\n${part(b!)}`)
  }
}

/** The errors of all files, one a line. */
export function errorsOf(s: Service, files: readonly string[]): string[] {
  return files.flatMap(f =>
    s
      .findings(f)
      .filter(x => x.severity === 'error' && x.accepted === undefined)
      .map(x => x.rule),
  )
}

/** What stands in `after` more often than in `before`. */
export function added(before: readonly string[], after: readonly string[]): string[] {
  const left = [...before]
  return after.filter(x => {
    const i = left.indexOf(x)
    if (i >= 0) left.splice(i, 1)
    return i < 0
  })
}
