/** Long work is done in slices: what else the client wants comes in between, and what waited sees the latest text. */
import { expect, test } from 'vitest'
import type { DocumentSymbol } from 'vscode-languageserver/node'
import { Ready } from '../../../server/lsp/ready.ts'
import { Service } from '../../../server/service.ts'
import { DOCK, STOCK } from '../features/editor.ts'
import { startInMemory, uri } from './memory.ts'

const head = `${STOCK}\n${DOCK.replace('use "stock.door"', '')}\n`
const many = (n: number): string => {
  let text = head
  for (let i = 0; i < n; i++) text += `opening "Copy ${i}" like "Dock 3" { }\n`
  return text
}
const JOB = many(300)
const weight = STOCK.split('\n').findIndex(l => l.includes('weight'))
const at = { line: weight, character: STOCK.split('\n')[weight]!.indexOf('.6') }
const change = (text: string, length: number) => [
  { range: { start: at, end: { line: at.line, character: at.character + length } }, text },
]

test('a file is ready once nothing is left to do, whatever changes meanwhile', async () => {
  const service = new Service({ read: () => undefined, resolve: () => ({ ok: false, outside: true, message: '' }) })
  const ready = new Ready(service)
  service.open('a.door', JOB)
  ready.changed(['a.door'])
  const working = ready.of('a.door')
  expect(working).toBeInstanceOf(Promise)
  // all who ask meanwhile wait for the same
  expect(ready.of('a.door')).toBe(working)
  expect([...service.steps('a.door')].length).toBeGreaterThan(0)
  service.edit('a.door', change('.9', 2))
  ready.changed(['a.door'])
  await working
  expect([...service.steps('a.door')]).toEqual([])
  expect(ready.of('a.door')).toBeUndefined()
  // what touches one opening is one step
  const end = service.position('a.door', service.text('a.door')!.indexOf('"Copy 7"') + 1)
  service.edit('a.door', [{ range: { start: end, end }, text: 'A ' }])
  expect([...service.steps('a.door')]).toHaveLength(1)
})

test('a short question is answered while a long one waits, and findings are told for the last change', async () => {
  const client = startInMemory({})
  await client.ask('initialize', { processId: null, rootUri: null, capabilities: {}, workspaceFolders: null })
  await client.tell('initialized', {})
  const job = uri('long.door')
  await client.open(job, JOB)
  await client.findings(job, (_, version) => version === 1)
  const order: string[] = []
  const textDocument = { uri: job }
  void client.change(job, 2, change('.9', 2))
  const long = client
    .ask<DocumentSymbol[]>('textDocument/documentSymbol', { textDocument })
    .then(r => order.push(`${r.length} symbols`))
  const short = client
    .ask('textDocument/formatting', { textDocument, options: {} })
    .then(() => order.push('formatting'))
  void client.change(job, 3, change('.3', 2))
  await Promise.all([long, short])
  expect(order).toEqual(['formatting', expect.stringMatching(/symbols$/)])
  await client.findings(job, (_, version) => version === 3)
  expect(client.published.map(p => p.version)).toEqual([1, 3])
  expect(client.logged).toEqual([])
})
