/** A person's session with the built server: open, type, complete, fix, lay out, leave. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type {
  CodeAction,
  CompletionItem,
  Diagnostic,
  DocumentSymbol,
  InlayHint,
  TextEdit,
} from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { type Session, startSession, uriOf } from './client.ts'

let folder: string
let job: string
let stock: string
let text: string
let session: Session

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'doorwright-lsp-'))
  cpSync(fileURLToPath(new URL('../../editor/workspace', import.meta.url)), folder, { recursive: true })
  job = join(folder, 'dock.door')
  stock = join(folder, 'stock', 'house.door')
  text = readFileSync(job, 'utf8')
  session = startSession()
})
afterEach(async () => {
  session.child.kill()
  await session.ended
  rmSync(folder, { recursive: true })
})

/** Line and column of a text in the job, and of its end. */
function rangeOf(part: string, whole = text) {
  const doc = TextDocument.create('', '', 0, whole)
  const at = whole.indexOf(part)
  expect(at, part).toBeGreaterThanOrEqual(0)
  return { start: doc.positionAt(at), end: doc.positionAt(at + part.length) }
}
const apply = (whole: string, edits: TextEdit[]): string =>
  TextDocument.applyEdits(TextDocument.create('', '', 0, whole), edits)
const codes = (found: Diagnostic[]): string[] => found.map(d => String(d.code))
const inJob = { get textDocument() { return { uri: uriOf(job) } } } // biome-ignore format: one line
const edits = (action: CodeAction): TextEdit[] => action.edit!.changes![uriOf(job)]!

test('open, type, complete, fix, lay out, leave', async () => {
  const { client, ended } = session
  const { capabilities } = await client.initialize(folder)
  expect(capabilities.textDocumentSync).toEqual({ openClose: true, change: 2 })

  // Open a job that is right, and type a preload that cannot be set.
  const right = text.replace('1.7 turns', '1 3/4 turns')
  await client.open(job, right)
  expect(codes(await client.findings(job, () => true))).not.toContain('preload_increment')
  await client.change(job, 2, [{ range: rangeOf('1 3/4 turns', right), text: '1.7 turns' }])
  const found = await client.findings(job, (_, version) => version === 2)
  const preload = found.find(
    d => d.code === 'preload_increment' && d.range.start.line === rangeOf('1.7 turns').start.line,
  )!
  expect(preload).toMatchObject({ severity: 1, source: 'doorwright', range: rangeOf('1.7 turns') })
  // 1 turn / 8 holes is 1/8 turn an increment: 1.7 turns are 13.6 (own arithmetic).
  expect(preload.message).toContain('13.6 increments')

  const hover = await client.ask<{ contents: { value: string } }>('textDocument/hover', {
    ...inJob,
    position: rangeOf('preload').start,
  })
  expect(hover.contents.value).toMatch(/rained door technicians/)

  const items = await client.ask<CompletionItem[]>('textDocument/completion', {
    ...inJob,
    position: rangeOf('holes').start,
  })
  const winding = items.find(i => i.label === 'winding')!
  expect(winding).toBeDefined()
  const resolved = await client.ask<CompletionItem>('completionItem/resolve', winding)
  expect(JSON.stringify(resolved.documentation)).toMatch(/facing/)

  const all = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } }
  const hints = await client.ask<InlayHint[]>('textDocument/inlayHint', { ...inJob, range: all })
  expect(hints.length).toBeGreaterThan(3)
  const told = await client.ask<InlayHint>('inlayHint/resolve', hints[0]!)
  expect(told.tooltip).toBeDefined()

  const actions = await client.ask<CodeAction[]>('textDocument/codeAction', {
    ...inJob,
    range: preload.range,
    context: { diagnostics: [preload] },
  })
  const up = actions.find(a => a.title.includes('1 3/4 turns'))!
  expect(up.diagnostics?.map(d => d.code)).toContain('preload_increment')
  const fixed = apply(text, edits(up))
  expect(fixed).toBe(text.replace('1.7 turns', '1 3/4 turns'))
  await client.change(job, 3, edits(up).map(e => ({ range: e.range, text: e.newText }))) // biome-ignore format: one line
  expect(codes(await client.findings(job, (_, version) => version === 3))).not.toContain('preload_increment')

  const untidy = fixed.replace('    holes   = 8', 'holes=8')
  await client.change(job, 4, [{ text: untidy }])
  const layout = await client.ask<TextEdit[]>('textDocument/formatting', {
    ...inJob,
    options: { tabSize: 2, insertSpaces: true },
  })
  expect(apply(untidy, layout)).toBe(fixed)

  const outline = await client.ask<DocumentSymbol[]>('textDocument/documentSymbol', inJob)
  expect(outline.map(s => s.name).join(' ')).toMatch(/Dock 3.*Dock 4/)

  expect(await client.ask('shutdown', undefined)).toBeNull()
  await client.tell('exit', undefined)
  expect(await ended).toBe(0)
  expect(client.logged).toEqual([])
})

test('fix all that is safe comes as one action', async () => {
  const { client } = session
  await client.initialize(folder)
  await client.open(job, text)
  await client.findings(job, d => d.length > 0)
  const whole = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
  const actions = await client.ask<CodeAction[]>('textDocument/codeAction', {
    ...inJob,
    range: whole,
    context: { diagnostics: [], only: ['source.fixAll'] },
  })
  expect(actions.map(a => a.kind)).toEqual(['source.fixAll.doorwright'])
  expect(apply(text, edits(actions[0]!))).toBe(text.replace('1.7 turns', '1 3/4 turns'))
})

test('changes that lie in the queue get one answer, for the last of them', async () => {
  const { client } = session
  await client.initialize(folder)
  await client.open(job, text)
  await client.findings(job, (_, version) => version === 1)
  const before = client.published.length
  const { start } = rangeOf('1.7 turns')
  for (let i = 0; i < 20; i++)
    void client.change(job, 2 + i, [
      { range: { start, end: { line: start.line, character: start.character + 3 } }, text: i % 2 ? '1.7' : '1.8' },
    ])
  const last = await client.findings(job, (_, version) => version === 21)
  expect(codes(last)).toContain('preload_increment')
  expect(client.published.length - before).toBeLessThan(10)
})

test('a used file is followed: in the editor, on the disk, and when it goes', async () => {
  const { client } = session
  await client.initialize(folder)
  await client.open(job, text)
  await client.findings(job, d => !codes(d).includes('unknown_name'))
  const slat = readFileSync(stock, 'utf8')
  const unknown = (d: Diagnostic[]) => d.some(x => String(x.message).includes('flat_20'))

  // In the editor.
  await client.open(stock, slat.replace('flat_20', 'flat_22'))
  await client.findings(job, unknown)
  // Closed without saving: the disk counts again.
  await client.tell('textDocument/didClose', { textDocument: { uri: uriOf(stock) } })
  await client.findings(job, d => !unknown(d))
  // On the disk.
  writeFileSync(stock, slat.replace('flat_20', 'flat_22'))
  await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(stock), type: 2 }] })
  await client.findings(job, unknown)
  // Gone, and back.
  rmSync(stock)
  await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(stock), type: 3 }] })
  await client.findings(job, d => codes(d).includes('use_failed'))
  writeFileSync(stock, slat)
  await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(stock), type: 1 }] })
  await client.findings(job, d => !codes(d).includes('use_failed') && !unknown(d))
})

test('a closed file has no findings any more', async () => {
  const { client } = session
  await client.initialize(folder)
  await client.open(job, text)
  await client.findings(job, d => d.length > 0)
  await client.tell('textDocument/didClose', { textDocument: { uri: uriOf(job) } })
  await client.findings(job, d => d.length === 0)
})

test('an accepted finding is told as such, with its reason, or left out when so set', async () => {
  const { client } = session
  client.settings = { showAccepted: true }
  await client.initialize(folder, { workspace: { configuration: true } })
  const allowed = text.replace('= 1.7 turns', '= 2 turns\n    allow preload_balance because "set so on site"')
  await client.open(job, allowed)
  const line = rangeOf('1.7 turns').start.line
  const isIt = (d: Diagnostic) => d.code === 'preload_balance' && d.range.start.line === line
  const accepted = (await client.findings(job, d => d.some(isIt))).find(isIt)!
  expect(accepted.severity).toBe(3)
  expect(accepted.message).toMatch(/^accepted: set so on site\n/)
  client.settings = { showAccepted: false }
  await client.tell('workspace/didChangeConfiguration', { settings: null })
  await client.findings(job, d => !d.some(isIt))
})

test('documents never saved, odd URIs and positions beyond the text are borne', async () => {
  const { client } = session
  await client.initialize(folder)
  for (const uri of ['untitled:Untitled-1', 'file://elsewhere/share/a%20b.door', 'file:///%zz.door']) {
    await client.open(uri, text)
    const found = await client.findings(uri, () => true)
    expect(found.length, uri).toBeGreaterThan(0)
    expect(
      await client.ask('textDocument/hover', { textDocument: { uri }, position: { line: 9999, character: 9999 } }),
    ).toBeNull()
  }
  expect(client.logged).toEqual([])
})

test('the springs of an opening are sized when the action is taken, and balance the door', async () => {
  const { client } = session
  await client.initialize(folder)
  await client.open(job, text)
  const actions = await client.ask<CodeAction[]>('textDocument/codeAction', {
    ...inJob,
    range: rangeOf('preload = 1.7 turns'),
    context: { diagnostics: [], only: ['refactor'] },
  })
  const sizing = actions.filter(a => a.title.startsWith('Size springs for this opening'))
  expect(sizing).toHaveLength(3)
  for (const a of sizing) expect(a.title).toContain('can maim or kill')
  const action = sizing[0]!
  expect(action.edit).toBeUndefined()
  const resolved = await client.ask<CodeAction>('codeAction/resolve', action)
  const second = await client.ask<CodeAction>('codeAction/resolve', sizing[1]!)
  expect(second.edit).not.toEqual(resolved.edit)
  const sized = apply(text, edits(resolved))
  expect(sized).not.toContain('1.7 turns')
  expect(sized.match(/^ {2}spring.*\{$/gm)).toHaveLength(1)
  await client.change(job, 2, [{ text: sized }])
  const left = codes(await client.findings(job, (f, v) => v === 2 && !codes(f).includes('preload_increment')))
  expect(left.filter(c => /preload|balance|spring_(yield|fatigue|hand|in_drum|length)/.test(c))).toEqual([])
})

test('a rename reaches files on the disk that nobody has open', async () => {
  const { client } = session
  const other = join(folder, 'gate.door')
  writeFileSync(other, 'use "stock/house.door"\nopening "Gate" { curtain { slat = flat_20 } }\n')
  await client.initialize(folder)
  await client.open(job, text)
  const ask = (newName: string) =>
    client.ask<{ changes: Record<string, TextEdit[]> }>('textDocument/rename', {
      ...inJob,
      position: rangeOf('flat_20').end,
      newName,
    })
  const { changes } = await ask('flat_22')
  for (const file of [job, stock, other]) {
    const whole = readFileSync(file, 'utf8')
    expect(apply(whole, changes[uriOf(file)]!)).toBe(whole.replaceAll('flat_20', 'flat_22'))
  }
  // A file that was changed behind the server's back is read as it is now.
  writeFileSync(other, `# moved\n${readFileSync(other, 'utf8')}`)
  const again = await ask('flat_22')
  expect(again.changes[uriOf(other)]![0]!.range.start.line).toBe(2)
  expect(client.logged).toEqual([])
})
