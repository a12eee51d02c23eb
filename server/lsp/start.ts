/** Starts the language server on the transport that the arguments name. */
import { existsSync } from 'node:fs'
import { connect } from 'node:net'
import { fileURLToPath } from 'node:url'
import { type Connection, createConnection, IPCMessageReader, IPCMessageWriter } from 'vscode-languageserver/node'
import { version } from '../../package.json'
import { diskNaming, editorHost } from './host.ts'
import { type Machine, startServer } from './server.ts'

export const USAGE = 'Name the transport: --stdio, --node-ipc or --socket=PORT.'

/** The page with all rules lies beside the bundle; without it findings simply carry no link. */
const page = new URL('docs/rules.md', import.meta.url)

const machine: Machine = {
  naming: diskNaming,
  host: editorHost,
  rulePage: existsSync(fileURLToPath(page)) ? rule => `${page.href}#${rule}` : () => undefined,
  version,
}

/** Starts the server; false where the arguments name no transport. It then runs until the client ends it or is gone. */
export function start(args: readonly string[]): boolean {
  const connection = connectionFor(args)
  if (connection) startServer(connection, machine)
  return connection !== undefined
}

function connectionFor(args: readonly string[]): Connection | undefined {
  // Both ends of a stream end the process with it: status 0 after a proper shutdown, else 1.
  if (args.includes('--stdio')) return createConnection(process.stdin, process.stdout)
  if (args.includes('--node-ipc')) {
    if (!process.send) return undefined
    // Without its client the server has nobody to work for.
    process.on('disconnect', () => process.exit(1))
    return createConnection(new IPCMessageReader(process), new IPCMessageWriter(process))
  }
  const i = args.findIndex(a => a === '--socket' || a.startsWith('--socket='))
  const port = Number(args[i]?.split('=')[1] ?? args[i + 1])
  if (i < 0 || !Number.isInteger(port) || port < 1 || port > 65535) return undefined
  const socket = connect(port, '127.0.0.1')
  socket.on('error', error => {
    process.stderr.write(`doorwright: nobody listens on port ${port} (${error.message})\n`)
    process.exit(2)
  })
  return createConnection(socket, socket)
}
