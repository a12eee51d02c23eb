/** Every verb over the wire: asked as an editor asks, answered in the protocol's form. */
import { beforeEach, describe, expect, test } from 'vitest'
import type {
  CallHierarchyItem,
  CodeAction,
  CodeLens,
  DocumentDiagnosticReport,
  SelectionRange,
  SemanticTokens,
  SemanticTokensDelta,
  WorkspaceDiagnosticReport,
  WorkspaceEdit,
} from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { DOCK, STOCK } from '../features/editor.ts'
import type { Client } from './client.ts'
import { startInMemory, uri } from './memory.ts'

const JOB = `${DOCK}\nopening "Dock 4" like "Dock 3" {\n}\n`
let files: Record<string, string>
let client: Client
beforeEach(() => {
  files = {
    'dock.door': JOB,
    'stock.door': STOCK,
    'gate.door': 'use "stock.door"\nopening "Gate" { curtain { slat = flat_20 } }\n',
  }
  client = startInMemory(files)
})

const start = async (capabilities: object = {}, initializationOptions: object = {}) => {
  const answer = await client.ask<{ capabilities: Record<string, unknown> }>('initialize', {
    processId: null, rootUri: null, capabilities, initializationOptions, workspaceFolders: [{ uri: uri(''), name: 'work' }],
  }) // biome-ignore format: one call
  await client.tell('initialized', {})
  await client.tell('textDocument/didOpen', {
    textDocument: { uri: uri('dock.door'), languageId: 'doorwright', version: 1, text: JOB },
  })
  return answer.capabilities
}
const textDocument = { uri: uri('dock.door') }
const at = (part: string, inside = 1) => ({
  textDocument,
  position: TextDocument.create('', '', 0, JOB).positionAt(JOB.indexOf(part) + inside),
})
const applied = (edit: WorkspaceEdit, file: string): string =>
  TextDocument.applyEdits(TextDocument.create('', '', 0, files[file]!), edit.changes?.[uri(file)] ?? [])

test('names: definition, references, highlights, symbols', async () => {
  await start()
  expect(await client.ask('textDocument/definition', at('flat_20'))).toMatchObject([
    { uri: uri('stock.door'), range: { start: { line: 0 } } },
  ])
  expect(await client.ask('textDocument/typeDefinition', at('"Dock 4"'))).toMatchObject([{ uri: uri('dock.door') }])
  const found = await client.ask<{ uri: string }[]>('textDocument/references', {
    ...at('flat_20'),
    context: { includeDeclaration: true },
  })
  expect(found.map(l => l.uri.slice(uri('').length)).sort()).toEqual(['dock.door', 'gate.door', 'stock.door'])
  expect(await client.ask('textDocument/documentHighlight', at('"Dock 3"'))).toMatchObject([{ kind: 3 }, { kind: 2 }])
  expect(await client.ask('workspace/symbol', { query: 'Gate' })).toMatchObject([
    { name: 'Gate', containerName: 'gate.door' },
  ])
  expect(client.logged).toEqual([])
})

test('rename: asked for first, made in all files, refused in words', async () => {
  const capabilities = await start({ textDocument: { rename: { prepareSupport: true } } })
  expect(capabilities.renameProvider).toEqual({ prepareProvider: true, workDoneProgress: true })
  expect(await client.ask('textDocument/prepareRename', at('flat_20'))).toMatchObject({ placeholder: 'flat_20' })
  await expect(client.ask('textDocument/prepareRename', at('headroom'))).rejects.toThrow('word of the language')
  const edit = await client.ask<WorkspaceEdit>('textDocument/rename', { ...at('flat_20'), newName: 'flat_22' })
  for (const f of Object.keys(files)) expect(applied(edit, f)).toBe(files[f]!.replaceAll('flat_20', 'flat_22'))
  await expect(client.ask('textDocument/rename', { ...at('flat_20'), newName: 'let' })).rejects.toThrow('reserved word')
  expect(client.logged).toEqual([])
})

test('colours: whole, a part, and what has changed since', async () => {
  await start()
  const whole = await client.ask<SemanticTokens>('textDocument/semanticTokens/full', { textDocument })
  expect(whole.data.length % 5).toBe(0)
  const part = await client.ask<SemanticTokens>('textDocument/semanticTokens/range', {
    textDocument, range: { start: { line: 7, character: 0 }, end: { line: 9, character: 0 } },
  }) // biome-ignore format: one call
  expect(part.data.length).toBeLessThanOrEqual(whole.data.length)
  const same = await client.ask<SemanticTokensDelta>('textDocument/semanticTokens/full/delta', {
    textDocument,
    previousResultId: whole.resultId,
  })
  expect(same.edits).toEqual([])
  await client.tell('textDocument/didChange', {
    textDocument: { ...textDocument, version: 2 },
    contentChanges: [{ range: { start: at('= 24in').position, end: at('= 24in').position }, text: ' 1ft' }],
  })
  const delta = await client.ask<SemanticTokensDelta>('textDocument/semanticTokens/full/delta', {
    textDocument,
    previousResultId: same.resultId,
  })
  const data = [...whole.data]
  for (const e of delta.edits) data.splice(e.start, e.deleteCount, ...(e.data ?? []))
  const fresh = await client.ask<SemanticTokens>('textDocument/semanticTokens/full', { textDocument })
  expect(data).toEqual(fresh.data)
  expect(data).not.toEqual(whole.data)
})

test('selections, links, signature, lines laid out while typing', async () => {
  await start()
  const [selection] = await client.ask<SelectionRange[]>('textDocument/selectionRange', {
    textDocument,
    positions: [at('width + 1in').position],
  })
  expect(selection!.parent!.parent).toBeDefined()
  expect(await client.ask('textDocument/documentLink', { textDocument })).toMatchObject([{ target: uri('stock.door') }])
  expect(await client.ask('textDocument/signatureHelp', at('width'))).toBeNull()
  expect(await client.ask('textDocument/onTypeFormatting', { ...at('}', 1), ch: '}', options: {} })).toEqual([])
})

test('lenses with commands where the client has them, else how each opening stands', async () => {
  await start()
  const plain = await client.ask<CodeLens[]>('textDocument/codeLens', { textDocument })
  expect(plain.map(l => l.command!.command)).toEqual(['', ''])
  expect(plain[0]!.command!.title).toMatch(/^out of balance by /)
  const other = startInMemory(files)
  client = other
  await start({}, { chooseSprings: true })
  const full = await client.ask<CodeLens[]>('textDocument/codeLens', { textDocument })
  expect(full[2]!.command).toEqual({
    title: 'Size springs',
    command: 'doorwright.sizeSprings',
    arguments: [textDocument.uri, 'Dock 3'],
  })
  client.settings = { codeLens: false }
  await client.tell('workspace/didChangeConfiguration', { settings: { doorwright: { codeLens: false } } })
  expect(await client.ask('textDocument/codeLens', { textDocument })).toEqual([])
})

test('what gives a part a name asks a client that can be asked for a better one', async () => {
  await start()
  const part = at('width + 1in', 0).position
  const range = { start: part, end: { line: part.line, character: part.character + 'width + 1in'.length } }
  const extract = async () => {
    const context = { diagnostics: [], only: ['refactor.extract'] }
    const actions = await client.ask<CodeAction[]>('textDocument/codeAction', { textDocument, range, context })
    return actions.find(a => a.title.includes('let between_part'))!
  }
  expect((await extract()).command).toBeUndefined()
  client = startInMemory(files)
  await start({}, { renameThere: true })
  const { edit, command } = await extract()
  expect(command).toMatchObject({ command: 'doorwright.rename', arguments: [textDocument.uri, {}] })
  const text = applied(edit!, 'dock.door')
  expect(text).toContain('between = between_part')
  await client.tell('textDocument/didChange', {
    textDocument: { ...textDocument, version: 2 },
    contentChanges: [{ text }],
  })
  const position = command!.arguments![1]
  expect(await client.ask('textDocument/prepareRename', { textDocument, position })).toMatchObject({
    placeholder: 'between_part',
  })
  // what takes a name that is there already has none to give
  const others = await client.ask<CodeAction[]>('textDocument/codeAction', {
    textDocument, range: { start: at('wire     = 1/2in').position, end: at('wire     = 1/2in').position }, context: { diagnostics: [] },
  }) // biome-ignore format: one call
  expect(others.filter(a => a.command?.command === 'doorwright.rename')).toEqual([])
})

test('from value to value', async () => {
  await start()
  const [item] = await client.ask<CallHierarchyItem[]>('textDocument/prepareCallHierarchy', at('width    ='))
  expect(item).toMatchObject({ name: 'opening.width', detail: '12 ft · Dock 3' })
  const users = await client.ask<{ from: CallHierarchyItem; fromRanges: object[] }[]>('callHierarchy/incomingCalls', {
    item,
  })
  const between = users.find(u => u.from.name === 'rails.between')!
  expect(between.fromRanges).toHaveLength(1)
  const feeds = await client.ask<{ to: CallHierarchyItem }[]>('callHierarchy/outgoingCalls', { item: between.from })
  expect(feeds.map(f => f.to.name)).toEqual(['opening.width'])
})

describe('findings that are asked for', () => {
  const PULL = { textDocument: { diagnostic: {} } }
  test('only by a client that takes no told ones, or wants it so', async () => {
    expect((await start(PULL)).diagnosticProvider).toMatchObject({ workspaceDiagnostics: true })
    client = startInMemory(files)
    expect(
      (await start({ textDocument: { diagnostic: {}, publishDiagnostics: {} } })).diagnosticProvider,
    ).toBeUndefined()
    await client.findings(uri('dock.door'), d => d.length > 0)
    client = startInMemory(files)
    expect(
      (await start({ textDocument: { diagnostic: {}, publishDiagnostics: {} } }, { diagnostics: 'pull' }))
        .diagnosticProvider,
    ).toBeDefined()
    await client.ask('textDocument/documentLink', { textDocument })
    expect(client.published).toEqual([])
  })
  test('a file: whole, then only what has changed', async () => {
    await start(PULL)
    const ask = (previousResultId?: string) =>
      client.ask<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument, previousResultId })
    const whole = await ask()
    if (whole.kind !== 'full') throw new Error(whole.kind)
    expect(whole.items.map(d => d.code)).toContain('preload_increment')
    expect(await ask(whole.resultId)).toEqual({ kind: 'unchanged', resultId: whole.resultId })
    await client.tell('textDocument/didChange', {
      textDocument: { ...textDocument, version: 2 },
      contentChanges: [{ text: JOB.replace('1.7 turns', '1 3/4 turns') }],
    })
    const after = await ask(whole.resultId)
    if (after.kind !== 'full') throw new Error(after.kind)
    expect(after.items.map(d => d.code)).not.toContain('preload_increment')
  })
  test('the workspace, with progress, closed files too; gone ones have none', async () => {
    await start({ ...PULL, window: { workDoneProgress: true } })
    const told: string[] = []
    client.connection.onNotification(
      '$/progress',
      (p: { value: { kind?: string } }) => void told.push(p.value.kind ?? 'part'),
    )
    const ask = (previousResultIds: object[] = []) =>
      client.ask<WorkspaceDiagnosticReport>('workspace/diagnostic', { previousResultIds, workDoneToken: 'work' })
    const first = await ask()
    expect(first.items.map(i => i.uri).sort()).toEqual(['dock.door', 'gate.door', 'stock.door'].map(uri))
    expect(told[0]).toBe('begin')
    expect(told.at(-1)).toBe('end')
    delete files['gate.door']
    const again = await ask(first.items.map(i => ({ uri: i.uri, value: i.resultId })))
    expect(again.items.map(i => `${i.uri} ${i.kind}`).sort()).toEqual([
      `${uri('dock.door')} unchanged`,
      `${uri('gate.door')} full`,
      `${uri('stock.door')} unchanged`,
    ])
  })
})

test('a request that is taken back is not worked on', async () => {
  await start()
  const source = new (await import('vscode-languageserver/node')).CancellationTokenSource()
  const answer = client.connection.sendRequest('textDocument/documentSymbol', { textDocument }, source.token)
  source.cancel()
  await expect(answer).rejects.toMatchObject({ code: -32800 })
  expect(await client.ask('textDocument/documentLink', { textDocument })).toHaveLength(1)
})

test('what looks through many files shows how far it is, and stops when it is taken back', async () => {
  for (let i = 0; i < 300; i++) files[`job${i}.door`] = JOB
  await start({ window: { workDoneProgress: true } })
  const told: string[] = []
  const source = new (await import('vscode-languageserver/node')).CancellationTokenSource()
  client.connection.onNotification('$/progress', (p: { token: string; value: { kind?: string } }) => {
    told.push(`${p.token} ${p.value.kind}`)
    if (p.token === 'taken back' && p.value.kind === 'report') source.cancel()
  })
  const context = { includeDeclaration: true }
  const back = client.connection.sendRequest(
    'textDocument/references',
    { ...at('flat_20'), context, workDoneToken: 'taken back' },
    source.token,
  )
  await expect(back).rejects.toMatchObject({ code: -32800 })
  expect(told.at(-1)).toBe('taken back end')
  const all = await client.ask<object[]>('textDocument/references', { ...at('flat_20'), context, workDoneToken: 'all' })
  expect(all).toHaveLength(303)
  const edit = await client.ask<WorkspaceEdit>('textDocument/rename', {
    ...at('flat_20'),
    newName: 'flat_22',
    workDoneToken: 'rename',
  })
  expect(Object.keys(edit.changes!)).toHaveLength(303)
  for (const token of ['all', 'rename']) {
    const own = told.filter(t => t.startsWith(token))
    expect([own[0], own.at(-1)]).toEqual([`${token} begin`, `${token} end`])
  }
})

test('moved files take their `use` along; deleted ones and folders are felt by who uses them', async () => {
  files['old/house.door'] = 'slat flat_9 { pitch = 1in; thickness = 1in; weight = 1 lb/ft^2 }\n'
  await start()
  const using = JOB.replace('use "stock.door"', 'use "stock.door"\nuse "old/house.door"')
  await client.tell('textDocument/didChange', {
    textDocument: { ...textDocument, version: 2 },
    contentChanges: [{ text: using }],
  })
  files['dock.door'] = using
  await client.findings(uri('dock.door'), (d, v) => v === 2 && !d.some(x => x.code === 'use_failed'))
  const edit = await client.ask<WorkspaceEdit>('workspace/willRenameFiles', {
    files: [{ oldUri: uri('old'), newUri: uri('new') }],
  })
  expect(applied(edit, 'dock.door')).toBe(using.replace('old/house', 'new/house'))
  delete files['old/house.door']
  await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uri('old'), type: 3 }] })
  await client.findings(uri('dock.door'), d => d.some(x => x.code === 'use_failed'))
  await client.tell('workspace/didDeleteFiles', { files: [{ uri: uri('dock.door') }] })
  await client.findings(uri('dock.door'), d => d.length === 0)
  expect(client.logged).toEqual([])
})
