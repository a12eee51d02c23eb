/**
 * How long the language server stands still while somebody types at speed in a long job, with all that an editor asks
 * after each key: 20 keys a second in an opening and in the stock that all openings use, over stdio against the built
 * server. Every key changes what is found, so a stale answer cannot count as a fast one.
 *
 * `node test/bench/stall.mjs [server] [options of node...]`
 */
import { spawn } from 'node:child_process'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { fileURLToPath, pathToFileURL } from 'node:url'
import rpc from 'vscode-jsonrpc/node'

const LINES = 10_000
const KEY_MS = 50
const [server = fileURLToPath(new URL('../../dist/server.cjs', import.meta.url)), ...options] = process.argv.slice(2)
const probe = fileURLToPath(new URL('stall_probe.cjs', import.meta.url))

const HEAD = `# Harbour Street cold store: a long row of gates
job "HS-2250" {
  units = imperial
}
slat yard_20 {
  pitch     = 2 1/2in
  thickness = 3/4in
  weight    = 2.4 lb/ft^2
}
`
const opening = i => `
## Gate ${i}
opening "Gate ${i}" {
  width    = 10ft
  height   = 10ft
  headroom = 20in
  cycles   = 6/day
  curtain {
    slat       = yard_20
    engagement = 2 1/2in
    bottom_bar = 2.5 lb/ft
    endlock    = 0.2 lb
  }
  rails {
    between = width + 1in
    depth   = 3 1/4in
  }
  drum {
    pipe       = nps5_std
    span       = 10ft 9in
    drop_guard = true
  }
  adjuster {
    side    = right
    holes   = 8
    preload = 2 turns
  }
  spring {
    wire     = 3/8in
    diameter = 4 1/2in
    coils    = 120
    count    = 2
    hand     = right
  }
}
`
let text = HEAD
for (let i = 1; text.split('\n').length < LINES; i++) text += opening(i)
const rows = text.split('\n')

/** A place to type at, and the text that is there once something is typed behind `end`. */
function placeOf(line, end) {
  const character = rows[line].indexOf(end)
  return { line, character }
}
const middle = placeOf(
  rows.findIndex((r, i) => i > rows.length / 2 && r.includes('preload')),
  ' turns',
)
const stock = placeOf(
  rows.findIndex(r => r.includes('2.4 lb/ft^2')),
  ' lb/ft^2',
)

const child = spawn(process.execPath, ['--require', probe, ...options, server, '--stdio'], {
  stdio: ['pipe', 'pipe', 'inherit', 'ipc'],
})
const connection = rpc.createMessageConnection(
  new rpc.StreamMessageReader(child.stdout),
  new rpc.StreamMessageWriter(child.stdin),
)
const uri = pathToFileURL(join(tmpdir(), 'stall.door')).href
const textDocument = { uri }
let version = 1
let told = { version: 0, diagnostics: [] }
const since = new Map()
const latencies = []
connection.onNotification('textDocument/publishDiagnostics', p => {
  told = p
  for (const [v, start] of since)
    if (v <= p.version) {
      latencies.push(performance.now() - start)
      since.delete(v)
    }
})
connection.onRequest(() => null)
connection.listen()

const measured = () =>
  new Promise(resolve => {
    child.once('message', resolve)
    child.send('tell')
  })
const published = async v => {
  while (told.version < v) await sleep(5)
}

/** What is asked and not answered yet: at the next key the editor takes it back. */
let waiting = []
const asked = new Set()
let tokens
/** Slowest answer by request. */
const slowest = new Map()
function ask(method, params) {
  const source = new rpc.CancellationTokenSource()
  waiting.push(source)
  const start = performance.now()
  const answer = connection.sendRequest(method, params, source.token).then(
    result => {
      slowest.set(method, Math.max(slowest.get(method) ?? 0, performance.now() - start))
      return result
    },
    error => {
      if (error.code !== -32800) throw error
    },
  )
  const done = answer.finally(() => {
    waiting = waiting.filter(w => w !== source)
    asked.delete(done)
  })
  asked.add(done)
  return done
}

/** All that an editor with our extension asks after a key, at once. */
function burst(position, key) {
  for (const w of waiting) w.cancel()
  const visible = {
    start: { line: Math.max(0, position.line - 25), character: 0 },
    end: { line: position.line + 25, character: 0 },
  }
  const cursor = { start: position, end: position }
  const all = [
    ...(key % 4 === 0 ? [ask('textDocument/completion', { textDocument, position })] : []),
    (tokens
      ? ask('textDocument/semanticTokens/full/delta', { textDocument, previousResultId: tokens })
      : ask('textDocument/semanticTokens/full', { textDocument })
    ).then(r => {
      tokens = r?.resultId ?? tokens
    }),
    ask('textDocument/inlayHint', { textDocument, range: visible }),
    ask('textDocument/codeLens', { textDocument }),
    ask('textDocument/documentSymbol', { textDocument }),
    ask('textDocument/foldingRange', { textDocument }),
    ask('textDocument/documentHighlight', { textDocument, position }),
    ask('textDocument/codeAction', { textDocument, range: cursor, context: { diagnostics: [] } }),
    ask('textDocument/documentLink', { textDocument }),
    ask('doorwright/preview', { uri, position }),
    ask('doorwright/openings', { uri }),
  ]
  return Promise.all(all)
}

/** The keys of a word, typed and taken back one by one. */
const strokes = word => [...[...word].map(c => ({ text: c })), ...[...word].map(() => ({ text: '' }))]

async function type(place, word, rounds) {
  let { character } = place
  const { line } = place
  const keys = Array.from({ length: rounds }, () => strokes(word)).flat()
  let due = performance.now()
  for (const [i, { text }] of keys.entries()) {
    due += KEY_MS
    await sleep(Math.max(0, due - performance.now()))
    const end = { line, character }
    const start = text === '' ? { line, character: character - 1 } : end
    character += text === '' ? -1 : 1
    version++
    since.set(version, performance.now())
    void connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ range: { start, end }, text }],
    })
    void burst({ line, character }, i)
  }
  await Promise.all(asked)
  await published(version)
}

const ms = n => n.toFixed(1).padStart(9)
const p95 = list => list.toSorted((a, b) => a - b)[Math.floor(list.length * 0.95)] ?? 0
async function phase(name, work) {
  await measured()
  latencies.length = 0
  slowest.clear()
  await work()
  const { clock, processor, collecting } = await measured()
  const [worst] = [...slowest].sort((a, b) => b[1] - a[1])
  console.log(
    `${name.padEnd(26)}${ms(clock.longest)}${ms(clock.p99)}${ms(processor.longest)}${ms(processor.p99)}${ms(collecting)}${ms(p95(latencies))}   ${worst ? `${worst[0]} ${worst[1].toFixed(0)}` : ''}`,
  )
}
const expectFound = n => {
  const found = told.diagnostics.length
  if (found !== n) throw new Error(`${found} findings where ${n} are right`)
}

console.log(`${process.version}, ${rows.length} lines, a key each ${KEY_MS} ms\n`)
console.log(`${''.padEnd(26)}     by the clock     on the processor   longest p95 until`)
console.log(`${'ms'.padEnd(26)}  longest      p99  longest      p99       gc     told   slowest answer`)
await phase('start', () =>
  connection.sendRequest('initialize', { processId: process.pid, rootUri: null, capabilities: {} }),
)
await connection.sendNotification('initialized', {})
await phase('open: to findings', async () => {
  since.set(1, performance.now())
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'doorwright', version, text },
  })
  await published(1)
})
const before = told.diagnostics.length
await phase('open: first answers', () => burst(middle, 0))
await phase('warm-up', async () => {
  await type(middle, '.7', 10)
  await type(stock, '81', 5)
})
await phase('typing in an opening', () => type(middle, '.7', 50))
expectFound(before)
await phase('typing in the stock', () => type(stock, '81', 25))
expectFound(before)
await connection.sendRequest('shutdown')
await connection.sendNotification('exit')
connection.dispose()
