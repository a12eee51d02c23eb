/** A language client as a test needs it: says things to the server and remembers what it is told. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath, pathToFileURL } from 'node:url'
import {
  createProtocolConnection,
  type Diagnostic,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node'

export const SERVER = fileURLToPath(new URL('../../../dist/server.cjs', import.meta.url))

export class Client {
  readonly connection: ProtocolConnection
  readonly published: PublishDiagnosticsParams[] = []
  readonly logged: string[] = []
  /** What the server is told when it asks for settings. */
  settings: Record<string, unknown> = {}
  #waiting: (() => void)[] = []

  constructor(input: NodeJS.ReadableStream, output: NodeJS.WritableStream) {
    this.connection = createProtocolConnection(new StreamMessageReader(input), new StreamMessageWriter(output))
    this.connection.onNotification('textDocument/publishDiagnostics', (p: PublishDiagnosticsParams) => {
      this.published.push(p)
      for (const w of this.#waiting.splice(0)) w()
    })
    this.connection.onNotification('window/logMessage', (p: { message: string }) => void this.logged.push(p.message))
    this.connection.onRequest('workspace/configuration', () => [this.settings])
    this.connection.onRequest('client/registerCapability', () => null)
    this.connection.listen()
  }

  ask<T = unknown>(method: string, params: unknown): Promise<T> {
    return this.connection.sendRequest<T>(method, params)
  }

  tell(method: string, params: unknown): Promise<void> {
    return this.connection.sendNotification(method, params)
  }

  async initialize(
    folder: string | undefined,
    capabilities: object = {},
  ): Promise<{ capabilities: Record<string, unknown> }> {
    const folders = folder ? [{ uri: pathToFileURL(folder).href, name: 'work' }] : null
    const answer = await this.ask<{ capabilities: Record<string, unknown> }>('initialize', {
      processId: process.pid,
      rootUri: null,
      capabilities,
      workspaceFolders: folders,
    })
    await this.tell('initialized', {})
    return answer
  }

  open(path: string, text: string, version = 1): Promise<void> {
    return this.tell('textDocument/didOpen', {
      textDocument: { uri: uriOf(path), languageId: 'doorwright', version, text },
    })
  }

  change(path: string, version: number, contentChanges: object[]): Promise<void> {
    return this.tell('textDocument/didChange', { textDocument: { uri: uriOf(path), version }, contentChanges })
  }

  /** The latest findings of a file, as soon as they are what is expected; fails with the last seen after `ms`. */
  async findings(
    path: string,
    wanted: (d: Diagnostic[], version: number | undefined) => boolean,
    ms = 5000,
  ): Promise<Diagnostic[]> {
    const end = Date.now() + ms
    for (;;) {
      const last = this.published.findLast(p => p.uri === uriOf(path))
      if (last && wanted(last.diagnostics, last.version)) return last.diagnostics
      const left = end - Date.now()
      if (left <= 0) throw new Error(`Not told as expected; last: ${JSON.stringify(last, undefined, 1)}`)
      await new Promise<void>(resolve => {
        const timer = setTimeout(resolve, left)
        this.#waiting.push(() => {
          clearTimeout(timer)
          resolve()
        })
      })
    }
  }
}

export const uriOf = (path: string): string =>
  path.includes('://') || path.startsWith('untitled:') ? path : pathToFileURL(path).href

export interface Session {
  readonly client: Client
  readonly child: ChildProcess
  /** The exit status, once it has ended. */
  readonly ended: Promise<number | null>
}

/** Starts the built server on its standard streams. */
export function startSession(): Session {
  const child = spawn(process.execPath, [SERVER, '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] })
  const ended = once(child, 'exit').then(([code]) => code as number | null)
  const client = new Client(child.stdout!, child.stdin!)
  child.stdin!.on('error', () => {})
  return { client, child, ended }
}
