/** What a broken or ill-meaning client does to the built server: the right code, or the right exit; no hang, no orphan. */
import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { afterEach, expect, test } from 'vitest'
import { SERVER } from '../server/lsp/client.ts'

interface Message {
  readonly id?: number | string | null
  readonly method?: string
  readonly result?: unknown
  readonly error?: { readonly code: number; readonly message: string }
}

/** A server with its standard streams in the raw: bytes go in, messages come out. */
class Raw {
  readonly child: ChildProcess
  readonly ended: Promise<number | string | null>
  readonly messages: Message[] = []
  errors = ''
  #rest = Buffer.alloc(0)
  #waiting: (() => void)[] = []
  #ids = 0

  constructor() {
    this.child = spawn(process.execPath, [SERVER, '--stdio'], { stdio: 'pipe' })
    this.ended = once(this.child, 'exit').then(([code, signal]) => (code ?? signal) as number | string | null)
    this.child.stdin!.on('error', () => {})
    this.child.stderr!.on('data', d => void (this.errors += String(d)))
    this.child.stdout!.on('data', (d: Buffer) => {
      this.#rest = Buffer.concat([this.#rest, d])
      for (;;) {
        const head = this.#rest.indexOf('\r\n\r\n')
        if (head < 0) break
        const length = Number(/Content-Length: (\d+)/i.exec(this.#rest.subarray(0, head).toString())![1])
        if (this.#rest.length < head + 4 + length) break
        this.messages.push(JSON.parse(this.#rest.subarray(head + 4, head + 4 + length).toString()) as Message)
        this.#rest = this.#rest.subarray(head + 4 + length)
      }
      for (const w of this.#waiting.splice(0)) w()
    })
  }

  bytes(text: string | Uint8Array): void {
    this.child.stdin!.write(text)
  }

  body(body: string): void {
    this.bytes(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`)
  }

  say(message: object): void {
    this.body(JSON.stringify({ jsonrpc: '2.0', ...message }))
  }

  /** The first message that is as wanted; fails after `ms`. */
  async until(wanted: (m: Message) => boolean, ms = 15_000): Promise<Message> {
    for (const end = Date.now() + ms; ; ) {
      const found = this.messages.find(wanted)
      if (found) return found
      const left = end - Date.now()
      if (left <= 0) throw new Error(`silence; last: ${JSON.stringify(this.messages.slice(-3))} ${this.errors}`)
      await new Promise<void>(resolve => {
        const timer = setTimeout(resolve, left)
        this.#waiting.push(() => {
          clearTimeout(timer)
          resolve()
        })
      })
    }
  }

  ask(method: string, params?: unknown): Promise<Message> {
    const id = ++this.#ids
    this.say({ id, method, params })
    return this.until(m => m.id === id && m.method === undefined)
  }

  async start(more: object = {}): Promise<void> {
    const started = await this.ask('initialize', { processId: process.pid, rootUri: null, capabilities: {}, ...more })
    expect(started.error).toBeUndefined()
    this.say({ method: 'initialized', params: {} })
  }

  /** Still in its senses: a file with a fault has it told. */
  async alive(): Promise<void> {
    const uri = `file:///alive-${++this.#ids}.door`
    this.say({
      method: 'textDocument/didOpen',
      params: { textDocument: { uri, languageId: 'doorwright', version: 1, text: 'opening "A" {' } },
    })
    const symbols = await this.ask('textDocument/documentSymbol', { textDocument: { uri } })
    expect((symbols.result as unknown[]).length).toBe(1)
  }
}

const all: Raw[] = []
function start(): Raw {
  const raw = new Raw()
  all.push(raw)
  return raw
}
afterEach(async () => {
  for (const raw of all.splice(0)) {
    raw.child.kill('SIGKILL')
    await raw.ended
  }
})

const within = async <T>(what: Promise<T>, ms: number): Promise<T | 'still running'> => {
  let timer: NodeJS.Timeout | undefined
  const late = new Promise<'still running'>(resolve => void (timer = setTimeout(resolve, ms, 'still running')))
  return Promise.race([what, late]).finally(() => clearTimeout(timer))
}

const REQUESTS = [
  'textDocument/hover',
  'textDocument/completion',
  'textDocument/signatureHelp',
  'textDocument/definition',
  'textDocument/typeDefinition',
  'textDocument/references',
  'textDocument/documentHighlight',
  'textDocument/documentSymbol',
  'textDocument/codeAction',
  'textDocument/codeLens',
  'textDocument/documentLink',
  'textDocument/formatting',
  'textDocument/rangeFormatting',
  'textDocument/onTypeFormatting',
  'textDocument/rename',
  'textDocument/foldingRange',
  'textDocument/selectionRange',
  'textDocument/prepareCallHierarchy',
  'textDocument/semanticTokens/full',
  'textDocument/semanticTokens/full/delta',
  'textDocument/semanticTokens/range',
  'textDocument/inlayHint',
  'workspace/symbol',
  'completionItem/resolve',
  'inlayHint/resolve',
  'codeAction/resolve',
  'callHierarchy/incomingCalls',
  'callHierarchy/outgoingCalls',
  'workspace/willRenameFiles',
  'doorwright/preview',
  'doorwright/openings',
  'doorwright/size',
  'doorwright/sheet',
]
const SENSELESS: readonly unknown[] = [
  undefined,
  null,
  {},
  [],
  [1, 2],
  { textDocument: null },
  { textDocument: {} },
  { textDocument: { uri: 7 }, position: { line: 0, character: 0 } },
  { textDocument: { uri: 'file:///alive.door' } },
  { textDocument: { uri: 'file:///alive.door' }, position: 'here', range: 3, positions: 4, context: 5 },
  {
    textDocument: { uri: 'file:///alive.door' },
    position: { line: -1, character: -5 },
    range: { start: { line: 1e300, character: -1 }, end: null },
    positions: [null],
    context: { diagnostics: 'none' },
    options: null,
    newName: 3,
    ch: {},
  },
  { uri: 'not an address', mark: {}, position: {}, query: [], files: 3, item: null, data: [] },
  { textDocument: { uri: 'file:///%zz%00' }, position: { line: 0, character: 0 }, query: null, files: [{}], item: {} },
]

test('every request with senseless parameters is answered, and blames nobody but the client', async () => {
  const raw = start()
  await raw.start()
  raw.say({
    method: 'textDocument/didOpen',
    params: {
      textDocument: {
        uri: 'file:///alive.door',
        languageId: 'doorwright',
        version: 1,
        text: 'let a = 1ft\nlet b = a\n',
      },
    },
  })
  for (const method of REQUESTS)
    for (const params of SENSELESS) {
      const { error, result } = await raw.ask(method, params)
      // without any parameters the library of the protocol itself refuses
      const right = params === null ? [-32602, -32803, -32603] : [-32602, -32803]
      if (error) expect(right, `${method} ${JSON.stringify(params)}: ${error.message}`).toContain(error.code)
      else expect(result, method).toBeDefined()
    }
  await raw.alive()
  // a fault is asked to be reported; what a client does wrong is none
  expect(raw.messages.filter(m => m.method === 'window/logMessage')).toEqual([])
})

test('senseless notifications are passed over', async () => {
  const raw = start()
  await raw.start()
  for (const method of [
    'textDocument/didOpen',
    'textDocument/didChange',
    'textDocument/didClose',
    'textDocument/didSave',
    'workspace/didChangeConfiguration',
    'workspace/didChangeWatchedFiles',
    'workspace/didChangeWorkspaceFolders',
    'workspace/didDeleteFiles',
    'workspace/didCreateFiles',
    'workspace/didRenameFiles',
    '$/cancelRequest',
    '$/setTrace',
    '$/progress',
    '$/unheardOf',
    'initialized',
    'no/suchThing',
    'doorwright/file',
  ])
    for (const params of [
      ...SENSELESS,
      { textDocument: { uri: 'file:///x.door', text: 4 }, contentChanges: [{}, null] },
    ])
      raw.say({ method, params })
  await raw.alive()
})

test('before initialize -32002, twice -32600, an unknown method -32601, after shutdown -32600, then exit with 0', async () => {
  const raw = start()
  for (const method of REQUESTS)
    expect((await raw.ask(method, { textDocument: { uri: 'file:///a.door' } })).error?.code, method).toBe(-32002)
  await raw.start()
  expect((await raw.ask('no/suchThing', {})).error?.code).toBe(-32601)
  expect((await raw.ask('$/noSuchThing', {})).error?.code).toBe(-32601)
  expect((await raw.ask('shutdown')).result).toBeNull()
  for (const method of REQUESTS)
    expect((await raw.ask(method, { textDocument: { uri: 'file:///a.door' } })).error?.code, method).toBe(-32600)
  raw.say({ method: 'exit' })
  expect(await raw.ended).toBe(0)
})

test('bodies that are no messages cost no more than themselves', async () => {
  const raw = start()
  await raw.start()
  for (const body of [
    '{"jsonrpc": "2.0", "id": 9, ',
    'not JSON',
    '',
    '[]',
    '[[]]',
    'null',
    '3',
    '"x"',
    '{}',
    '{"id":{}}',
  ])
    raw.body(body)
  raw.body(`${'['.repeat(50_000)}${']'.repeat(50_000)}`)
  await raw.alive()
})

test('headers that are none: it goes on or ends, and says why, but does not hang', async () => {
  for (const bytes of [
    'Content-Length: many\r\n\r\n{}',
    'Content-Length: -5\r\n\r\n{}',
    'Content-Length\r\n\r\n{}',
    'hello\r\n\r\n',
    'Content-Length: 2\r\nContent-Length: 2\r\n\r\n{}',
    'Content-Type: nonsense\r\nContent-Length: 2\r\n\r\n{}',
    new Uint8Array([0, 255, 13, 10, 13, 10, 0]),
  ]) {
    const raw = start()
    await raw.start()
    raw.bytes(bytes)
    raw.child.stdin!.end()
    expect(await within(raw.ended, 15_000), String(bytes)).toBe(1)
  }
})

test('a length that is too large and a body that is cut off end with the client', async () => {
  for (const bytes of [
    'Content-Length: 99999999999\r\n\r\n{"jsonrpc"',
    'Content-Length: 40\r\n\r\n{"jsonrpc":"2.0",',
    'Content-',
  ]) {
    const raw = start()
    await raw.start()
    raw.bytes(bytes)
    raw.child.stdin!.end()
    expect(await within(raw.ended, 15_000), bytes).toBe(1)
  }
})

test('a message in pieces of one byte, and two in one piece, are read', async () => {
  const raw = start()
  await raw.start()
  const body = JSON.stringify({ jsonrpc: '2.0', id: 'a', method: 'workspace/symbol', params: { query: '😀é' } })
  for (const byte of Buffer.from(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`)) {
    raw.bytes(Uint8Array.of(byte))
    await new Promise(resolve => setImmediate(resolve))
  }
  expect((await raw.until(m => m.id === 'a')).result).toEqual([])
  raw.bytes(
    ['b', 'c']
      .map(id => body.replace('"a"', `"${id}"`))
      .map(b => `Content-Length: ${Buffer.byteLength(b)}\r\n\r\n${b}`)
      .join(''),
  )
  await raw.until(m => m.id === 'b')
  await raw.until(m => m.id === 'c')
})

test('a document of 8 MB is opened, asked about and closed', async () => {
  const raw = start()
  await raw.start()
  const text = '# a line that says nothing at all, again and again\n'.repeat(160_000)
  const textDocument = { uri: 'file:///large.door', languageId: 'doorwright', version: 1, text }
  raw.say({ method: 'textDocument/didOpen', params: { textDocument } })
  await raw.until(m => m.method === 'textDocument/publishDiagnostics', 30_000)
  await raw.alive()
})

test('a pipe that nobody reads any more ends it', async () => {
  const raw = start()
  await raw.start()
  raw.child.stdout!.destroy()
  for (let i = 0; i < 50; i++) raw.say({ id: 1000 + i, method: 'workspace/symbol', params: { query: 'o' } })
  expect(await within(raw.ended, 15_000)).not.toBe('still running')
})

test('it ends by itself when the process that it was told of is gone, though its pipes stay open', async () => {
  const client = spawn(process.execPath, ['-e', 'setInterval(() => {}, 1000)'], { stdio: 'ignore' })
  const raw = start()
  await raw.start({ processId: client.pid })
  client.kill('SIGKILL')
  await once(client, 'exit')
  expect(await within(raw.ended, 15_000)).toBe(1)
}, 30_000)

test('exit at any time: 1 without shutdown, also before initialize and with work in the queue', async () => {
  const fresh = start()
  fresh.say({ method: 'exit' })
  expect(await within(fresh.ended, 15_000)).toBe(1)
  const busy = start()
  await busy.start()
  for (let i = 0; i < 100; i++) busy.say({ id: 500 + i, method: 'workspace/symbol', params: { query: 'o' } })
  busy.say({ method: 'exit' })
  expect(await within(busy.ended, 15_000)).toBe(1)
})
