/** The files of a server without a disk: where a `use` may lead, and what is asked of the client. */
import { PassThrough } from 'node:stream'
import { expect, test } from 'vitest'
import { type Connection, createConnection } from 'vscode-languageserver/node'
import { addressNaming, browserHost, join } from '../../../server/lsp/browser_host.ts'
import { startServer } from '../../../server/lsp/server.ts'
import { DOCK, STOCK } from '../features/editor.ts'
import { Client } from './client.ts'

function host() {
  const asked: string[] = []
  let bring: (p: { uri: string; text: string | null }) => void = () => {}
  const connection = {
    onNotification: (_: string, handler: typeof bring) => {
      bring = handler
    },
    sendNotification: async (_: string, { uri }: { uri: string }) => void asked.push(uri),
  } as unknown as Connection
  const made = browserHost(connection, () => {})
  made.setFolders(['vscode-vfs://host/jobs'])
  return { host: made, asked, bring: (uri: string, text: string | null) => bring({ uri, text }) }
}
const JOB = 'vscode-vfs://host/jobs/harbour/dock.door'

test('a path is relative to the file it stands in', () => {
  expect(join(JOB, 'stock/house.door')).toBe('vscode-vfs://host/jobs/harbour/stock/house.door')
  expect(join(JOB, '../stock/./house.door')).toBe('vscode-vfs://host/jobs/stock/house.door')
  expect(join('untitled:Untitled-1', 'house.door')).toBeUndefined()
})

test.each(['../../house.door', '../../../../house.door', '../../jobs2/house.door'])(
  '%s leaves the workspace and is refused',
  path => {
    const target = host().host.resolve(JOB, path)
    expect(target).toMatchObject({ ok: false, outside: true })
  },
)

test.each(['/house.door', 'https://example.org/house.door', 'file:///house.door'])('%s is no relative path', path => {
  expect(host().host.resolve(JOB, path)).toMatchObject({ ok: false, outside: true })
})

test.each(['', ' ', 'house.txt', 'stock\\house.door'])('"%s" names no job file', path => {
  const target = host().host.resolve(JOB, path)
  expect(target).toMatchObject({ ok: false, outside: false })
})

test('a file is asked for once, and there as soon as the client has brought it', () => {
  const { host: h, asked, bring } = host()
  const target = h.resolve(JOB, '../stock/our house.door')
  expect(target.ok).toBe(true)
  const file = target.ok ? target.file : ''
  expect(h.read(file)).toBeUndefined()
  expect(h.read(file)).toBeUndefined()
  expect(asked).toEqual(['vscode-vfs://host/jobs/stock/our%20house.door'])
  bring('vscode-vfs://host/jobs/stock/our%20house.door', 'slat flat_20 { }')
  expect(h.read(file)).toBe('slat flat_20 { }')
  bring('vscode-vfs://host/jobs/harbour/doorwright.json', null)
  bring('vscode-vfs://host/jobs/doorwright.json', null)
  expect(h.usePaths!(JOB)).toEqual(['../stock/our house.door'])
  // It went: nothing is left of it, and nobody asks again.
  bring('vscode-vfs://host/jobs/stock/our%20house.door', null)
  expect(h.read(file)).toBeUndefined()
  expect(h.usePaths!(JOB)).toEqual([])
  expect(asked).toHaveLength(1)
})

test('an address has one name, however much of it is escaped', () => {
  expect(addressNaming.name('vscode-vfs://host/a%2Db%20c.door')).toBe(
    addressNaming.name('vscode-vfs://host/a-b%20c.door'),
  )
  expect(addressNaming.uri(addressNaming.name('vscode-vfs://host/a%20%23b.door'))).toBe(
    'vscode-vfs://host/a%20%23b.door',
  )
  expect(addressNaming.name('untitled:Untitled-1')).toBe('untitled:Untitled-1')
  expect(addressNaming.name('no address %')).toBe('no address %')
})

test('the nearest project file up to the opened folder counts, and is the same object until it changes', () => {
  const { host: h, asked, bring } = host()
  expect(h.project!(JOB)).toBeUndefined()
  const [near, far] = ['vscode-vfs://host/jobs/harbour/doorwright.json', 'vscode-vfs://host/jobs/doorwright.json']
  expect(asked).toEqual([near, far])
  bring(near, null)
  bring(far, '{ "severity": { "drum_sag": "note" }, "stock": ["stock"] }')
  const project = h.project!(JOB)
  expect(project).toMatchObject({ file: far, severity: { drum_sag: 'note' } })
  expect(h.project!('vscode-vfs://host/jobs/gate.door')).toBe(project)
  // one that is not saved yet starts from the opened folder; what lies outside has none
  expect(h.project!('untitled:Untitled-1')).toBe(project)
  expect(h.project!('vscode-vfs://host/other/gate.door')).toBeUndefined()
  // stock comes first, and a project file is no job
  bring('vscode-vfs://host/jobs/harbour/gate.door', '')
  bring('vscode-vfs://host/jobs/stock/house.door', '')
  expect(h.usePaths!(JOB)).toEqual(['../stock/house.door', 'gate.door'])
  expect(h.workspaceFiles!()).not.toContain(far)
  bring(far, '{ "severity": { "drum_sag": "note" }, "stock": ["stock"] }')
  expect(h.project!(JOB)).toBe(project)
  bring(near, '{}')
  expect(h.project!(JOB)).toMatchObject({ file: near, severity: {} })
  bring(near, null)
  bring(far, null)
  expect(h.project!(JOB)).toBeUndefined()
  expect(asked).toHaveLength(2)
})

test('what the house sets is in force in a browser, and as it changes and goes', async () => {
  const at = (file: string): string => `mem://home/work/${file}`
  const files: Record<string, string> = { 'stock.door': STOCK }
  const [there, back] = [new PassThrough(), new PassThrough()]
  const connection = createConnection(there, back)
  startServer(connection, {
    naming: addressNaming,
    host: fault => browserHost(connection, fault),
    rulePage: () => undefined,
    version: '0',
  })
  const client = new Client(back, there)
  /** What the extension does when the server wants a file, and when one has changed. */
  const hand = async (uri: string): Promise<void> => {
    await client.tell('doorwright/file', { uri, text: files[uri.slice(at('').length)] ?? null })
    await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 2 }] })
  }
  client.connection.onNotification('doorwright/want', (p: { uri: string }) => void hand(p.uri))
  await client.ask('initialize', {
    processId: null, rootUri: null, capabilities: {}, workspaceFolders: [{ uri: at(''), name: 'work' }],
  }) // biome-ignore format: one call
  await client.tell('initialized', {})
  const set = async (text?: string): Promise<void> => {
    if (text === undefined) delete files['doorwright.json']
    else files['doorwright.json'] = text
    await hand(at('doorwright.json'))
  }
  const job = at('dock.door')
  const told = (wanted: Record<string, number | undefined>) =>
    client.findings(job, found =>
      Object.entries(wanted).every(([code, severity]) => found.find(d => d.code === code)?.severity === severity),
    )

  files['doorwright.json'] = '{ "limits": { "headroom_clearance": "12in" }, "severity": { "missing_field": "note" } }'
  await client.open(job, DOCK.replace('holes   = 8', ''))
  await told({ headroom: 1, missing_field: 3 })
  await set('{ "severity": { "missing_field": "off" } }')
  await told({ headroom: undefined, missing_field: undefined })
  await set('{ "severity": { "missing_feild": "off" } }')
  await told({ missing_field: 2 })
  const [wrong] = await client.findings(at('doorwright.json'), d => d.length === 1)
  expect(wrong!.message).toContain('missing_field')
  await set()
  await client.findings(at('doorwright.json'), d => d.length === 0)
  expect(client.logged).toEqual([])
})

test('nobody is told that a used file is not there before it was looked for', async () => {
  const at = (file: string): string => `mem://home/work/${file}`
  const [there, back] = [new PassThrough(), new PassThrough()]
  const connection = createConnection(there, back)
  startServer(connection, {
    naming: addressNaming,
    host: fault => browserHost(connection, fault),
    rulePage: () => undefined,
    version: '0',
  })
  const client = new Client(back, there)
  // Each file takes its time; one of the two is nowhere.
  client.connection.onNotification('doorwright/want', async ({ uri }: { uri: string }) => {
    await new Promise(resolve => setTimeout(resolve, 50))
    await client.tell('doorwright/file', { uri, text: uri === at('stock.door') ? STOCK : null })
    await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri, type: 2 }] })
  })
  await client.ask('initialize', {
    processId: null, rootUri: null, capabilities: {}, workspaceFolders: [{ uri: at(''), name: 'work' }],
  }) // biome-ignore format: one call
  await client.tell('initialized', {})
  const job = at('dock.door')
  await client.open(job, `use "nowhere.door"\n${DOCK}`)
  await client.findings(job, d => d.some(x => x.code === 'use_failed'))
  const told = client.published.filter(p => p.uri === job)
  expect(told[0]!.diagnostics.filter(d => d.code === 'use_failed')).toHaveLength(1)
  expect(told[0]!.diagnostics.map(d => d.code)).not.toContain('unknown_name')
})
