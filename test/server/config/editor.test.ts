/** The project file in the editor: what it says counts, what is wrong in it is shown in it, and a change is seen. */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { PassThrough } from 'node:stream'
import { beforeEach, describe, expect, it } from 'vitest'
import { createConnection } from 'vscode-languageserver/node'
import { diskNaming, editorHost } from '../../../server/lsp/host.ts'
import { startServer } from '../../../server/lsp/server.ts'
import { folderOf, GATE } from '../cli/call.ts'
import { Client, uriOf } from '../lsp/client.ts'

let client: Client

beforeEach(() => {
  const there = new PassThrough()
  const back = new PassThrough()
  startServer(createConnection(there, back), {
    version: '0',
    naming: diskNaming,
    rulePage: () => undefined,
    host: editorHost,
  })
  client = new Client(back, there)
})

const codes = (list: readonly { code?: unknown }[]): unknown[] => list.map(d => d.code)

describe('in the editor', () => {
  it('limits and severity count, and a change of the file is seen at once', async () => {
    const folder = folderOf({ 'gate.door': GATE, 'doorwright.json': '{ "limits": { "drum_sag": "0.0001 in/ft" } }' })
    const [job, config] = [join(folder, 'gate.door'), join(folder, 'doorwright.json')]
    const changed = (type: number) =>
      client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(config), type }] })
    await client.initialize(folder)
    await client.open(job, GATE)
    const [sag] = await client.findings(job, d => codes(d).includes('drum_sag'))
    expect(sag).toMatchObject({ severity: 2, message: expect.stringContaining('set in doorwright.json') })
    writeFileSync(config, '{ "limits": { "drum_sag": "0.0001 in/ft" }, "severity": { "drum_sag": "error" } }')
    await changed(2)
    await client.findings(job, d => d.some(x => x.code === 'drum_sag' && x.severity === 1))
    writeFileSync(config, '{}')
    await changed(2)
    await client.findings(job, d => !codes(d).includes('drum_sag'))
    writeFileSync(config, '{ "limits": { "drum_sag": "0.0002 in/ft" } }')
    await changed(2)
    await client.findings(job, d => codes(d).includes('drum_sag'))
    rmSync(config)
    await changed(3)
    await client.findings(job, d => !codes(d).includes('drum_sag'))
  })

  it('what is wrong in it is shown in it, until it is right or nobody is left that it counts for', async () => {
    const folder = folderOf({ 'gate.door': GATE, 'doorwright.json': '{\n  "limits": { "drum_sagg": "0.02 in/ft" }\n}' })
    const [job, config] = [join(folder, 'gate.door'), join(folder, 'doorwright.json')]
    await client.initialize(folder)
    await client.open(job, GATE)
    const [wrong] = await client.findings(config, d => d.length === 1)
    expect(wrong).toMatchObject({
      severity: 1,
      source: 'doorwright',
      message: 'There is no limit "drum_sagg" here. Did you mean "drum_sag"?',
      range: { start: { line: 1, character: 14 }, end: { line: 1, character: 25 } },
    })
    writeFileSync(config, '{}')
    await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(config), type: 2 }] })
    await client.findings(config, d => d.length === 0)
    writeFileSync(config, '{ "limit": {} }')
    await client.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(config), type: 2 }] })
    await client.findings(config, d => d.length === 1)
    await client.tell('textDocument/didClose', { textDocument: { uri: uriOf(job) } })
    await client.findings(config, d => d.length === 0)
  })

  it('offers stock first where a `use` is written', async () => {
    const folder = folderOf({
      'gate.door': 'use ""\n',
      'doorwright.json': '{ "stock": ["zz"] }',
      'a.door': '',
      'zz/house.door': '',
    })
    mkdirSync(join(folder, 'empty'))
    const job = join(folder, 'gate.door')
    await client.initialize(folder)
    await client.open(job, 'use ""\n')
    const items = await client.ask<{ label: string; sortText: string }[]>('textDocument/completion', {
      textDocument: { uri: uriOf(job) },
      position: { line: 0, character: 5 },
    })
    const files = items.toSorted((a, b) => (a.sortText < b.sortText ? -1 : 1)).map(i => i.label)
    expect(files).toEqual(['zz/house.door', 'a.door'])
  })
})
