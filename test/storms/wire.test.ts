/**
 * Storms over the wire: requests of every kind among edits, taken back at any moment. Each gets an answer or the word
 * that it was taken back, never silence; and what the client has been told in the end is what a fresh server tells it.
 */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { CancellationTokenSource, type SemanticTokens, type SemanticTokensDelta } from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { piece } from '../grammar/generate.ts'
import type { Client } from '../server/lsp/client.ts'
import { startInMemory, uri } from '../server/lsp/memory.ts'
import { expectSame, names, PATIENCE, runs, samples, typed } from './support.ts'

const FILES = ['harbour/dock.door', 'harbour/stock/house.door']
const FULL = { start: { line: 0, character: 0 }, end: { line: 100_000, character: 0 } }
interface Place {
  readonly line: number
  readonly character: number
}
const doc = (f: string) => ({ textDocument: { uri: uri(f) } })
const near = (p: Place) => ({ start: p, end: { line: p.line + 1, character: p.character } })

/** What is asked of a file. */
const OF_FILE: Readonly<Record<string, (f: string) => object>> = {
  'textDocument/inlayHint': f => ({ ...doc(f), range: FULL }),
  'textDocument/codeLens': doc,
  'textDocument/documentSymbol': doc,
  'textDocument/foldingRange': doc,
  'textDocument/documentLink': doc,
  'textDocument/semanticTokens/full': doc,
  'textDocument/formatting': f => ({ ...doc(f), options: { tabSize: 2, insertSpaces: true } }),
  'textDocument/diagnostic': doc,
  'workspace/symbol': () => ({ query: 'o' }),
  'doorwright/openings': f => ({ uri: uri(f) }),
  'doorwright/preview': f => ({ uri: uri(f) }),
  'doorwright/sheet': f => ({ uri: uri(f) }),
}
/** What is asked at a place. */
const OF_PLACE: Readonly<Record<string, (f: string, p: Place) => object>> = {
  'textDocument/hover': (f, position) => ({ ...doc(f), position }),
  'textDocument/completion': (f, position) => ({ ...doc(f), position }),
  'textDocument/signatureHelp': (f, position) => ({ ...doc(f), position }),
  'textDocument/definition': (f, position) => ({ ...doc(f), position }),
  'textDocument/typeDefinition': (f, position) => ({ ...doc(f), position }),
  'textDocument/references': (f, position) => ({ ...doc(f), position, context: { includeDeclaration: true } }),
  'textDocument/documentHighlight': (f, position) => ({ ...doc(f), position }),
  'textDocument/prepareRename': (f, position) => ({ ...doc(f), position }),
  'textDocument/rename': (f, position) => ({ ...doc(f), position, newName: 'other_name' }),
  'textDocument/selectionRange': (f, position) => ({ ...doc(f), positions: [position] }),
  'textDocument/codeAction': (f, p) => ({ ...doc(f), range: near(p), context: { diagnostics: [] } }),
  'textDocument/rangeFormatting': (f, p) => ({
    ...doc(f),
    range: near(p),
    options: { tabSize: 2, insertSpaces: true },
  }),
  'textDocument/onTypeFormatting': (f, position) => ({
    ...doc(f),
    position,
    ch: '}',
    options: { tabSize: 2, insertSpaces: true },
  }),
  'textDocument/prepareCallHierarchy': (f, position) => ({ ...doc(f), position }),
  'textDocument/semanticTokens/range': (f, p) => ({ ...doc(f), range: near(p) }),
  'doorwright/size': (f, position) => ({ uri: uri(f), position }),
}
const METHODS = Object.keys({ ...OF_FILE, ...OF_PLACE })

/** A client that keeps the colours of its files as editors do: the last full answer, and the differences since. */
class Colours {
  readonly #held = new Map<string, { id: string; data: number[] }>()
  constructor(readonly client: Client) {}

  async look(file: string): Promise<readonly number[]> {
    const old = this.#held.get(file)
    const fresh = await this.client.ask<SemanticTokens | SemanticTokensDelta>(
      old ? 'textDocument/semanticTokens/full/delta' : 'textDocument/semanticTokens/full',
      { ...doc(file), previousResultId: old?.id },
    )
    let data: number[]
    if ('edits' in fresh) {
      data = [...old!.data]
      for (const e of fresh.edits.toSorted((a, b) => b.start - a.start))
        data.splice(e.start, e.deleteCount, ...(e.data ?? []))
    } else data = fresh.data
    this.#held.set(file, { id: fresh.resultId!, data })
    return data
  }
}

type Answer = { readonly value: unknown } | { readonly code: number; readonly message: string }
const settled = (p: Promise<unknown>): Promise<Answer> =>
  p.then(
    value => ({ value }),
    (e: { code: number; message: string }) => ({ code: e.code, message: e.message }),
  )

async function withClient<T>(disk: Record<string, string>, work: (client: Client) => Promise<T>): Promise<T> {
  const client = startInMemory(disk)
  try {
    await client.initialize(undefined, { textDocument: { rename: { prepareSupport: true } } })
    return await work(client)
  } finally {
    // its streams are left open: a server whose client is gone ends the process, which here is the test
    client.connection.dispose()
  }
}

const position = fc.record({ line: fc.nat(60), character: fc.nat(25) })
const put = fc.oneof(
  piece,
  fc.constantFrom('', '\n', '\r\n', '\ufeff', '\ud83d', '\ude00', '}\n', '{'),
  fc.tuple(fc.constantFrom(...names), fc.nat(2500), fc.nat(160)).map(([f, at, n]) => samples[f]!.slice(at, at + n)),
)
const file = fc.constantFrom(...FILES)
const step = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({ file, edit: fc.array(fc.tuple(position, fc.nat(12), put), { minLength: 1, maxLength: 3 }) }),
  },
  {
    weight: 8,
    arbitrary: fc.record({
      file,
      ask: fc.constantFrom(...METHODS),
      at: position,
      /** After how many turns of the event loop it is taken back; never where it is 9. */
      back: fc.constantFrom(0, 0, 1, 2, 5, 9, 9, 9),
    }),
  },
  { weight: 2, arbitrary: fc.record({ file, colours: fc.constant(true) }) },
)
const turns = async (n: number): Promise<void> => {
  for (let i = 0; i < n; i++) await new Promise(resolve => setImmediate(resolve))
}

test(
  'every request is answered or was taken back, and in the end client and server agree',
  async () => {
    let asked = 0
    let takenBack = 0
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 8, maxLength: 40 }), async steps => {
        const disk: Record<string, string> = { ...samples }
        const shown = new Map(FILES.map(f => [f, TextDocument.create(f, '', 1, samples[f]!)]))
        const stormy = await withClient(disk, async client => {
          const colours = new Colours(client)
          for (const f of FILES) await client.open(uri(f), samples[f]!)
          const waiting: Promise<Answer>[] = []
          for (const s of steps) {
            if ('edit' in s) {
              const document = shown.get(s.file)!
              const changes = s.edit.map(([from, far, text]) => ({
                range: { start: from, end: { line: from.line, character: from.character + far } },
                text,
              }))
              const version = document.version + 1
              shown.set(s.file, TextDocument.create(s.file, '', version, typed(document.getText(), changes)))
              void client.change(uri(s.file), version, changes)
            } else if ('ask' in s) {
              const source = new CancellationTokenSource()
              const params = OF_PLACE[s.ask]?.(s.file, s.at) ?? OF_FILE[s.ask]!(s.file)
              waiting.push(settled(client.connection.sendRequest(s.ask, params, source.token)))
              if (s.back < 9) void turns(s.back).then(() => source.cancel())
            } else waiting.push(settled(colours.look(s.file)))
          }
          const answers = await Promise.all(waiting)
          asked += answers.length
          for (const a of answers)
            if ('code' in a) {
              // -32800: taken back; -32803: a rename that cannot be, with the reason
              expect([-32800, -32803], a.message).toContain(a.code)
              if (a.code === -32800) takenBack++
            }
          expect(client.logged).toEqual([])
          return told(client, colours, f => shown.get(f)!.version)
        })
        const fresh = await withClient({ ...disk }, async client => {
          for (const f of FILES) await client.open(uri(f), shown.get(f)!.getText(), shown.get(f)!.version)
          return told(client, new Colours(client), f => shown.get(f)!.version)
        })
        expectSame(stormy, fresh)
      }),
      { numRuns: runs(12), endOnFailure: Boolean(process.env.FAST) },
    )
    expect(asked).toBeGreaterThan(100)
    expect(takenBack).toBeGreaterThan(0)
    if (runs(1) > 1) console.log(`${asked} requests, ${takenBack} of them taken back`)
  },
  PATIENCE,
)

/** All that a client knows of its files once nothing more comes. */
async function told(client: Client, colours: Colours, version: (f: string) => number): Promise<Record<string, string>> {
  const out: Record<string, string> = {}
  const text = (x: unknown): string => JSON.stringify(x, undefined, 1)
  for (const f of FILES) {
    for (const [method, params] of Object.entries(OF_FILE)) {
      const answer = await client.ask<{ resultId?: string } | null>(method, params(f))
      out[`${f} ${method}`] = text(answer && { ...answer, resultId: undefined })
    }
    out[`${f} colours`] = text(await colours.look(f))
    out[`${f} findings`] = text(await client.findings(uri(f), (_, v) => v === version(f)))
  }
  return out
}
