/** A server in this process, over streams in memory, with files that are nowhere but here. */
import { PassThrough } from 'node:stream'
import { createConnection } from 'vscode-languageserver/node'
import { startServer } from '../../../server/lsp/server.ts'
import { Client } from './client.ts'

export const HOME = 'mem://home/work'

/** @param files by path below the workspace; changed by the test as it likes */
export function startInMemory(files: Record<string, string>): Client {
  const there = new PassThrough()
  const back = new PassThrough()
  startServer(createConnection(there, back), {
    version: '0',
    rulePage: () => undefined,
    host: fault => ({
      resolve: (from, path) => ({ ok: true, file: new URL(path, from).href }),
      read: file => files[file.slice(HOME.length + 1)],
      workspaceFiles: () => Object.keys(files).map(f => `${HOME}/${f}`),
      setFolders: () => {},
      forget: () => {},
      fault,
    }),
  })
  return new Client(back, there)
}

export const uri = (file: string): string => `${HOME}/${file}`
