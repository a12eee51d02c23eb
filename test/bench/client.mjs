/** An editor as far as the benchmark needs one: it starts a server over stdio and speaks the protocol with it. */
import { spawn } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'

const LONGEST_MS = 120_000
const CAPABILITIES = {
  workspace: { configuration: true, didChangeConfiguration: {} },
  textDocument: {
    synchronization: {},
    publishDiagnostics: { versionSupport: true, relatedInformation: true, codeDescriptionSupport: true },
    completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown'] } },
    hover: { contentFormat: ['markdown'] },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    inlayHint: { resolveSupport: { properties: ['tooltip', 'textEdits'] } },
    semanticTokens: {
      requests: { full: { delta: true }, range: true },
      tokenTypes: ['class', 'property', 'variable', 'enumMember', 'keyword', 'number', 'string', 'comment', 'function'],
      tokenModifiers: ['declaration', 'readonly', 'defaultLibrary'],
      formats: ['relative'],
    },
  },
}

export class Client {
  #child
  #settings
  #rest = Buffer.alloc(0)
  #wanted = -1
  #ids = 0
  #answers = new Map()
  #watch = () => {}
  #stderr = ''
  #failed
  #fail = () => {}

  constructor({ script, node = [], env = {}, settings = {} }, options = []) {
    this.#settings = settings
    this.#failed = new Promise((_, fail) => {
      this.#fail = fail
    })
    this.#failed.catch(() => {})
    this.#child = spawn(process.execPath, [...options, ...node, script, '--stdio'], {
      env: { ...process.env, ...env },
      stdio: ['pipe', 'pipe', 'pipe'],
    })
    this.#child.stdout.on('data', data => this.#read(data))
    this.#child.stderr.on('data', data => {
      this.#stderr = (this.#stderr + data).slice(-2000)
    })
    this.#child.stdin.on('error', () => {})
    this.#child.on('exit', code => this.#fail(new Error(`the server ended (${code}): ${this.#stderr}`)))
  }

  #read(data) {
    this.#rest = this.#rest.length ? Buffer.concat([this.#rest, data]) : data
    for (;;) {
      if (this.#wanted < 0) {
        const end = this.#rest.indexOf('\r\n\r\n')
        if (end < 0) return
        this.#wanted = Number(/Content-Length: (\d+)/i.exec(this.#rest.toString('latin1', 0, end))[1])
        this.#rest = this.#rest.subarray(end + 4)
      }
      if (this.#rest.length < this.#wanted) return
      const message = JSON.parse(this.#rest.toString('utf8', 0, this.#wanted))
      this.#rest = this.#rest.subarray(this.#wanted)
      this.#wanted = -1
      this.#take(message)
    }
  }

  #take(message) {
    if (message.method === 'textDocument/publishDiagnostics') this.#watch(message.params)
    else if (message.method === undefined) {
      const answer = this.#answers.get(message.id)
      this.#answers.delete(message.id)
      answer?.(message)
    } else if (message.id !== undefined) {
      const { items } = message.params ?? {}
      const result =
        message.method === 'workspace/configuration' ? items.map(i => this.#settings[i.section] ?? null) : null
      this.#child.stdin.write(pack({ id: message.id, result }))
    }
  }

  /** Several messages at once are written as one piece, as they lie in the pipe when somebody types faster than we read. */
  send(...messages) {
    this.#child.stdin.write(Buffer.concat(messages.map(pack)))
  }

  async request(method, params) {
    const id = ++this.#ids
    const answer = new Promise(resolve => this.#answers.set(id, resolve))
    this.send({ id, method, params })
    const { result, error } = await this.#before(answer, method)
    if (error) throw new Error(`${method}: ${error.message}`)
    return result
  }

  /** The findings that `fits` accepts, whenever they come; the caller starts to wait before it sends. */
  findings(fits) {
    return this.#before(
      new Promise(resolve => {
        this.#watch = params => fits(params) && resolve(params)
      }),
      'findings',
    )
  }

  async #before(answer, what) {
    let timer
    const late = new Promise((_, fail) => {
      timer = setTimeout(() => fail(new Error(`${what}: no answer in ${LONGEST_MS / 1000} s`)), LONGEST_MS)
    })
    try {
      return await Promise.race([answer, late, this.#failed])
    } finally {
      clearTimeout(timer)
    }
  }

  async start() {
    await this.request('initialize', { processId: process.pid, rootUri: null, capabilities: CAPABILITIES })
    this.send({ method: 'initialized', params: {} })
    if (Object.keys(this.#settings).length)
      this.send({ method: 'workspace/didChangeConfiguration', params: { settings: this.#settings } })
  }

  /** Resident memory now and at its highest, in MB. */
  memory() {
    const status = readFileSync(`/proc/${this.#child.pid}/status`, 'utf8')
    const of = name => Number(new RegExp(`${name}:\\s+(\\d+)`).exec(status)[1]) / 1024
    return { rss: of('VmRSS'), peak: of('VmHWM') }
  }

  /** What the processor has worked for it so far, all threads, in ms. */
  cpu() {
    const tasks = `/proc/${this.#child.pid}/task`
    return (
      readdirSync(tasks).reduce(
        (sum, t) => sum + Number(readFileSync(`${tasks}/${t}/schedstat`, 'utf8').split(' ')[0]),
        0,
      ) / 1e6
    )
  }

  /** The live heap after a collection, in MB; the server has to have `heap.cjs` loaded. */
  async heap() {
    this.#stderr = ''
    this.#child.kill('SIGUSR2')
    const told = new Promise(resolve =>
      this.#child.stderr.on('data', () => /heap \d+\n/.test(this.#stderr) && resolve()),
    )
    await this.#before(told, 'heap')
    return Number(/heap (\d+)/.exec(this.#stderr)[1]) / 1024 / 1024
  }

  async stop() {
    if (this.#child.exitCode !== null) return
    const gone = new Promise(resolve => this.#child.once('exit', resolve))
    this.#child.kill('SIGKILL')
    await gone
  }
}

function pack(message) {
  const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }))
  return Buffer.concat([Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body])
}
