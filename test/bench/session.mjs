/** One server and one file: everything that is timed in it, in ms. */
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { Client } from './client.mjs'
import { places } from './jobs.mjs'

const heap = fileURLToPath(new URL('heap.cjs', import.meta.url))
const WORD = 'abcdefghijklmnopqrs'

/** A file open in a server, and a place in it where one character makes a finding come and go. */
class Editing {
  version = 1
  wrong = false
  named = false

  constructor(server, content, options = []) {
    this.at = places(content)
    this.server = server
    this.content = content
    this.uri = pathToFileURL(join(tmpdir(), `doorwright-bench.${server.notation}`)).href
    this.document = { uri: this.uri }
    this.client = new Client(server, options)
  }

  /**
   * Findings of this state and no other: of its version, where the server says which, and with the finding or without.
   * The floor looks at nothing, so its answers go by the version alone.
   */
  #fits = ({ uri, version, diagnostics }) => {
    this.last = `last were ${diagnostics.length} findings of version ${version}, now it is ${this.version}`
    if (uri !== this.uri || (version ?? this.version) !== this.version) return false
    return this.server.blind || diagnostics.some(d => d.range.start.line === this.at.preload.line) === this.wrong
  }

  async open() {
    const answer = this.client.findings(this.#fits)
    const { notation: languageId } = this.server
    const textDocument = { uri: this.uri, languageId, version: 1, text: this.content }
    this.client.send({ method: 'textDocument/didOpen', params: { textDocument } })
    await answer
  }

  #change(place, text) {
    const end = { line: place.line, character: place.character + (text ? 0 : 1) }
    const textDocument = { uri: this.uri, version: ++this.version }
    const contentChanges = [{ range: { start: place, end }, text }]
    return { method: 'textDocument/didChange', params: { textDocument, contentChanges } }
  }

  #flip() {
    this.wrong = !this.wrong
    return this.#change(this.at.preload, this.wrong ? '1' : '')
  }

  /** A character more or less, by which a finding comes or goes. */
  edit() {
    const change = this.#flip()
    const answer = this.client.findings(this.#fits)
    this.client.send(change)
    return answer
  }

  /** Twenty keys at once: a word in the name of the opening, or away again, and the character that tells. */
  twenty() {
    const { mark } = this.at
    const there = this.named
    this.named = !there
    const type = i => this.#change({ line: mark.line, character: mark.character + i }, there ? '' : WORD[i])
    const order = [...WORD].map((_, i) => (there ? WORD.length - 1 - i : i))
    const keys = [...order.map(type), this.#flip()]
    const answer = this.client.findings(this.#fits)
    this.client.send(...keys)
    return answer
  }

  ask(verb, params) {
    return this.client.request(`textDocument/${verb}`, { textDocument: this.document, ...params })
  }

  async complete() {
    const list = await this.ask('completion', { position: this.at.word, context: { triggerKind: 1 } })
    if (!(list.items ?? list).some(i => /left/.test(i.label))) throw new Error('completion does not offer what fits')
  }

  async hover() {
    if (!(await this.ask('hover', { position: this.at.hover }))) throw new Error('hover says nothing')
  }

  async hints() {
    if (!(await this.ask('inlayHint', { range: this.at.visible })).length) throw new Error('there are no hints')
  }

  async tokens() {
    const before = this.tokensId
    const answer = before
      ? await this.ask('semanticTokens/full/delta', { previousResultId: before })
      : await this.ask('semanticTokens/full')
    this.tokensId = answer.resultId
  }

  /** All that an editor asks after a key, at once. */
  keystroke() {
    return Promise.all([
      this.edit(),
      this.tokens(),
      this.hints(),
      this.ask('codeLens'),
      this.ask('documentSymbol'),
      this.ask('foldingRange'),
      this.ask('documentHighlight', { position: this.at.hover }),
    ])
  }
}

const timed = async work => {
  const start = performance.now()
  await work()
  return performance.now() - start
}

/**
 * Repeats a timed piece of work until there is enough of it or the time is up, after some that warm the server up. The
 * work of the processor, which a busy machine disturbs less than the clock, is that of the whole server from first to last.
 */
async function repeat(client, { warm, least, most, ms }, work) {
  const start = performance.now()
  for (let i = 0; i < warm && (i < 1 || performance.now() - start < ms / 3); i++) await work()
  const before = client.cpu()
  const times = []
  while (times.length < most && (times.length < least || performance.now() - start < ms)) times.push(await work())
  const cpu = (client.cpu() - before) / times.length
  times.sort((a, b) => a - b)
  return { p50: times[times.length >> 1], p95: times[Math.floor(times.length * 0.95)], cpu }
}

/** What the table shows of one server and one file; `brief`: only what a change costs. */
export async function session(server, content, budget, brief) {
  const e = new Editing(server, content, ['-r', heap])
  const { client } = e
  const asked = brief ? [] : (server.asked ?? [])
  const measured = {}
  const measure = async (name, work) => {
    measured[name] = await repeat(client, budget, work).catch(error => {
      throw new Error(`${name}: ${error.message}; ${e.last}`)
    })
  }
  /** Timed right after an edit whose findings are there, so that nothing can be answered from before. */
  const afterwards = work => async () => {
    await e.edit()
    return timed(work)
  }
  try {
    await client.start()
    await e.open()
    await measure('edit', () => timed(() => e.edit()))
    Object.assign(measured, client.memory())
    if (!brief) await measure('twenty', () => timed(() => e.twenty()))
    if (asked.includes('completion'))
      await measure('completion', async () => {
        const start = performance.now()
        const [, time] = await Promise.all([e.edit(), e.complete().then(() => performance.now() - start)])
        return time
      })
    if (asked.includes('hover'))
      await measure(
        'hover',
        afterwards(() => e.hover()),
      )
    if (asked.includes('hints'))
      await measure(
        'hints',
        afterwards(() => e.hints()),
      )
    if (asked.includes('keystroke')) {
      await e.tokens()
      await measure('keystroke', () => timed(() => e.keystroke()))
    }
    const { rss, peak } = client.memory()
    return { ...measured, rssAtEnd: rss, peak, heap: await client.heap() }
  } finally {
    await client.stop()
  }
}

/** From nothing to the findings of a file: when the server answers at all, and when it has said what it finds. */
export async function coldStart(server, content) {
  const start = performance.now()
  const e = new Editing(server, content)
  try {
    await e.client.start()
    const answered = performance.now() - start
    await e.open()
    return { answered, found: performance.now() - start }
  } finally {
    await e.client.stop()
  }
}
