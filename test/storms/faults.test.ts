/** A fault inside any rule or verb costs its own answer, is told once, and leaves everything else as it was. */
import { afterEach, expect, test, vi } from 'vitest'
import { RULES, Service } from '../../server/service.ts'
import { call, folderOf, GATE } from '../server/cli/call.ts'
import { startInMemory, uri } from '../server/lsp/memory.ts'
import { ALL, samples } from './support.ts'

afterEach(() => vi.restoreAllMocks())

const FILE = 'harbour/stages.door'
const boom = (): never => {
  throw new Error('the rule is on fire')
}

/** From now on a rule fails where it is asked. */
const burn = (rule: (typeof RULES)[number], how: 'check' | 'checkSingle') =>
  vi.spyOn(rule as unknown as Record<typeof how, () => void>, how).mockImplementation(boom)

/** A service that notes its faults. */
function noting(): { service: Service; faults: string[] } {
  const faults: string[] = []
  const service = new Service({
    resolve: (from, path) => ({ ok: true, file: new URL(path, `mem:///${from}`).pathname.slice(1) }),
    read: file => samples[file],
    fault: (where, error) => void faults.push(`${where}: ${(error as Error).message}`),
  })
  service.open(FILE, samples[FILE]!)
  return { service, faults }
}

const CHECKED = RULES.filter(r => r.check || r.checkSingle)

test('a fault in any one rule costs what that rule says of the opening, and nothing else', () => {
  const before = noting().service.findings(FILE)
  expect(CHECKED.length).toBeGreaterThan(50)
  for (const rule of CHECKED) {
    if (rule.check) burn(rule, 'check')
    if (rule.checkSingle) burn(rule, 'checkSingle')
    const { service, faults } = noting()
    const said = service.findings(FILE).map(f => `${f.rule} ${f.message}`)
    expect(said, rule.id).toEqual(before.filter(f => f.rule !== rule.id).map(f => `${f.rule} ${f.message}`))
    expect(new Set(faults), rule.id).toEqual(new Set([`rule ${rule.id}: the rule is on fire`]))
    // the other verbs go on
    expect(service.openings(FILE).length).toBeGreaterThan(0)
    expect(service.inlayHints(FILE, ALL).length).toBeGreaterThan(0)
    expect(service.sheet(FILE)).toContain('</html>')
    vi.restoreAllMocks()
  }
})

test('a fault in what a rule reports (its limit, its fixes) costs no more either', () => {
  const { service } = noting()
  const fixable = service.findings(FILE).filter(f => f.fixes().length > 0 && CHECKED.some(r => r.id === f.rule))
  expect(fixable.length).toBeGreaterThan(0)
  for (const id of new Set(fixable.map(f => f.rule))) {
    const rule = RULES.find(r => r.id === id)!
    const check = rule.check!
    vi.spyOn(rule as { check: typeof check }, 'check').mockImplementation((door, report, tools) =>
      check(door, r => report({ ...r, fixes: boom }), tools),
    )
    const { service: broken, faults } = noting()
    const found = broken.findings(FILE)
    expect(found.map(f => f.message)).toEqual(service.findings(FILE).map(f => f.message))
    for (const f of found) f.fixes()
    const place = found.find(f => f.rule === id)!.range
    expect(broken.codeActions(FILE, place)).toBeDefined()
    expect(broken.fixAll(FILE).text).toBeDefined()
    expect(new Set(faults)).toEqual(new Set([`rule ${id}: the rule is on fire`]))
    vi.restoreAllMocks()
  }
})

const doc = { textDocument: { uri: uri('job.door') } }
const position = { line: 3, character: 4 }
const range = { start: position, end: position }
const options = { tabSize: 2, insertSpaces: true }
const valueData = { file: uri('job.door'), line: 0, path: 'opening.width' }
const item = { name: 'x', kind: 8, ...doc.textDocument, range, selectionRange: range, data: valueData }
/** Each request, the method of the service behind it, and what is answered instead. */
const REQUESTS: readonly (readonly [method: string, verb: keyof Service, params: object, none?: unknown])[] = [
  ['textDocument/hover', 'hover', { ...doc, position }],
  ['textDocument/completion', 'completion', { ...doc, position }],
  ['textDocument/signatureHelp', 'signature', { ...doc, position }],
  ['textDocument/definition', 'definition', { ...doc, position }],
  ['textDocument/typeDefinition', 'typeDefinition', { ...doc, position }],
  ['textDocument/references', 'references', { ...doc, position, context: { includeDeclaration: true } }],
  ['textDocument/documentHighlight', 'highlights', { ...doc, position }],
  ['textDocument/documentSymbol', 'outline', doc],
  ['textDocument/codeAction', 'codeActions', { ...doc, range, context: { diagnostics: [] } }],
  ['textDocument/codeLens', 'codeLenses', doc],
  ['textDocument/documentLink', 'links', doc],
  ['textDocument/formatting', 'formatEdits', { ...doc, options }],
  ['textDocument/rangeFormatting', 'formatRange', { ...doc, range, options }],
  ['textDocument/onTypeFormatting', 'formatOnType', { ...doc, position, ch: '}', options }],
  ['textDocument/prepareRename', 'renameTarget', { ...doc, position }],
  ['textDocument/rename', 'rename', { ...doc, position, newName: 'b' }],
  ['textDocument/foldingRange', 'folding', doc],
  ['textDocument/selectionRange', 'selectionRanges', { ...doc, positions: [position] }],
  ['textDocument/prepareCallHierarchy', 'valueAt', { ...doc, position }],
  ['callHierarchy/incomingCalls', 'usedBy', { item }],
  ['callHierarchy/outgoingCalls', 'feeds', { item }],
  ['textDocument/semanticTokens/full', 'semanticTokens', doc],
  ['textDocument/semanticTokens/full/delta', 'semanticTokens', { ...doc, previousResultId: 'none' }],
  ['textDocument/semanticTokens/range', 'semanticTokens', { ...doc, range }],
  ['textDocument/inlayHint', 'inlayHints', { ...doc, range }],
  ['workspace/symbol', 'workspaceSymbols', { query: 'o' }],
  ['workspace/willRenameFiles', 'moved', { files: [{ oldUri: uri('a.door'), newUri: uri('b.door') }] }],
  ['doorwright/preview', 'preview', doc.textDocument],
  ['doorwright/openings', 'openings', doc.textDocument],
  ['doorwright/size', 'size', doc.textDocument],
  ['doorwright/sheet', 'sheet', doc.textDocument],
]

test('over the wire: a fault in any verb gives no answer to that request, is told once, and the next is answered', async () => {
  for (const [method, verb, params] of REQUESTS) {
    const client = startInMemory({ 'job.door': GATE })
    await client.initialize(undefined)
    await client.open(uri('job.door'), GATE)
    await client.findings(uri('job.door'), () => true)
    const right = await client.ask(method, params).catch((e: Error) => e.message)
    const spy = vi.spyOn(Service.prototype, verb as 'hover').mockImplementation(boom)
    for (let i = 0; i < 3; i++) expect(await client.ask(method, params), method).toBeNull()
    spy.mockRestore()
    expect(client.logged.length, method).toBe(1)
    expect(client.logged[0]).toMatch(/A fault in Doorwright, please report it.*the rule is on fire/s)
    const again = await client.ask(method, params).catch((e: Error) => e.message)
    const plain = (x: unknown): string => JSON.stringify(x).replace(/"resultId":"\d+"/g, '')
    expect(plain(again), method).toBe(plain(right))
    client.connection.dispose()
  }
}, 60_000)

test('over the wire: a fault in any one rule is told once, and all other findings come', async () => {
  const client = startInMemory({ ...samples })
  await client.initialize(undefined)
  const file = uri(FILE)
  await client.open(file, samples[FILE]!)
  const before = await client.findings(file, () => true)
  let version = 1
  for (const rule of CHECKED) {
    const spies = [
      ...(rule.check ? [burn(rule, 'check')] : []),
      ...(rule.checkSingle ? [burn(rule, 'checkSingle')] : []),
    ]
    const told = client.logged.length
    for (let i = 0; i < 2; i++) {
      version++
      await client.change(file, version, [{ text: '' }, { text: samples[FILE]! }])
      const found = await client.findings(file, (_, v) => v === version)
      expect(found, rule.id).toEqual(before.filter(d => d.code !== rule.id))
    }
    // one and the same fault may lie in two places of a rule
    const spied = spies.filter(s => s.mock.calls.length > 0).length
    expect(client.logged.length - told, rule.id).toBe(spied)
    vi.restoreAllMocks()
  }
  client.connection.dispose()
}, 60_000)

test('on the command line: a fault in a rule is said on the error stream once, and the rest is checked', async () => {
  const folder = folderOf({
    'a.door': GATE,
    'b.door': GATE.replace('HS-2250', 'HS-2251').replace('cycles', 'colour = 3\n  cycles'),
  })
  for (const id of ['headroom', 'spring_yield']) {
    burn(RULES.find(r => r.id === id)!, 'check')
    const { out, err, status } = await call(folder, ['check', '.'])
    expect(out).toContain('unknown_field')
    expect(err).toContain(id)
    expect(err).toContain('the rule is on fire')
    expect(err.split('the rule is on fire').length - 1).toBe(1)
    // what was not looked at must not pass for right
    expect(status).not.toBe(0)
    vi.restoreAllMocks()
  }
  const sound = folderOf({ 'a.door': GATE })
  burn(RULES.find(r => r.id === 'headroom')!, 'check')
  expect((await call(sound, ['check', '.'])).status).toBe(2)
})
