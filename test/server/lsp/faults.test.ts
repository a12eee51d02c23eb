/** A fault inside costs the answer that it happened in, is told once, and ends nothing. */
import { PassThrough } from 'node:stream'
import { expect, test } from 'vitest'
import { createConnection } from 'vscode-languageserver/node'
import { startServer } from '../../../server/lsp/server.ts'
import { Client } from './client.ts'

test('a fault in reaching files is told once; the rest goes on', async () => {
  const there = new PassThrough()
  const back = new PassThrough()
  startServer(createConnection(there, back), {
    version: '0',
    rulePage: () => undefined,
    host: () => ({
      resolve: () => {
        throw new Error('the disk is on fire')
      },
      read: () => undefined,
      setFolders: () => {},
      forget: () => {},
    }),
  })
  const client = new Client(back, there)
  await client.initialize(undefined)
  const file = '/work/a.door'
  await client.open(file, 'use "b.door"\n')
  await client.findings(file, (_, version) => version === 1)
  await client.change(file, 2, [{ text: 'use "b.door"\n\n' }])
  await client.findings(file, (_, version) => version === 2)
  expect(client.logged.filter(l => l.includes('findings: ')).length).toBe(1)
  expect(client.logged[0]).toContain('the disk is on fire')
  await client.change(file, 3, [{ text: 'openning "A" {}\n' }])
  const found = await client.findings(file, (_, version) => version === 3)
  expect(found.map(d => d.code)).toContain('unknown_block')
})
