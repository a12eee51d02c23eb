/** The entry of the Web Worker's bundle: the language server on the worker's own messages. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser'
import { version } from '../../package.json'
import { addressNaming, browserHost } from './browser_host.ts'
import { startServer } from './server.ts'

// A worker has no `setImmediate`. A message to itself comes as soon, and after those that wait already.
const { port1, port2 } = new MessageChannel()
const waiting: (() => void)[] = []
Object.assign(port1, { onmessage: () => waiting.shift()?.() })
globalThis.setImmediate ??= ((work: () => void) => {
  waiting.push(work)
  port2.postMessage(undefined)
}) as unknown as typeof setImmediate

const scope = globalThis as never
const connection = createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope))
startServer(connection, {
  naming: addressNaming,
  host: fault => browserHost(connection, fault),
  rulePage: () => undefined,
  version,
})
