/**
 * How long a change takes to become findings, from outside: a client over stdio against the built language server. Every
 * timed edit adds or removes a finding, so a stale answer cannot count as a fast one. Also the command line's speed.
 */
import { spawn, spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import rpc from 'vscode-jsonrpc/node'

const root = fileURLToPath(new URL('../..', import.meta.url))
const sample = readFileSync(join(root, 'samples/harbour/gate.door'), 'utf8')
const at = sample.indexOf('opening')
const job = sample.slice(0, at)
const opening = sample.slice(at)
const perOpening = opening.split('\n').length - 1

const text = lines => {
  let out = job
  for (let i = 0; i * perOpening < lines; i++) out += opening.replace('"Gate"', `"Gate ${i}"`)
  return out
}
const median = list => list.toSorted((a, b) => a - b)[list.length >> 1]
const p95 = list => list.toSorted((a, b) => a - b)[Math.floor(list.length * 0.95)]
const ms = n => n.toFixed(1).padStart(8)

async function session(lines, edits) {
  const began = performance.now()
  const child = spawn(process.execPath, ['--expose-gc', join(root, 'dist/server.cjs'), '--stdio'], {
    stdio: ['pipe', 'pipe', 'ignore'],
  })
  const connection = rpc.createMessageConnection(
    new rpc.StreamMessageReader(child.stdout),
    new rpc.StreamMessageWriter(child.stdin),
  )
  const waiting = new Map()
  connection.onNotification('textDocument/publishDiagnostics', p => waiting.get(p.version)?.(p))
  connection.onRequest(() => null)
  connection.listen()
  await connection.sendRequest('initialize', { processId: process.pid, rootUri: null, capabilities: {} })
  await connection.sendNotification('initialized', {})
  const uri = pathToFileURL(join(tmpdir(), 'bench.door')).href
  const content = text(lines)
  const published = version => new Promise(resolve => waiting.set(version, resolve))
  let version = 1
  let answer = published(version)
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'doorwright', version, text: content },
  })
  await answer
  const cold = performance.now() - began
  const rows = content.split('\n')
  const line = rows.findIndex((r, i) => i > rows.length / 2 && r.includes('preload'))
  const end = rows[line].indexOf(' turns')
  const times = []
  for (let i = 0; i < edits; i++) {
    version++
    answer = published(version)
    const start = performance.now()
    const range = { start: { line, character: end }, end: { line, character: i % 2 === 0 ? end : end + 2 } }
    await connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ range, text: i % 2 === 0 ? '.7' : '' }],
    })
    const { diagnostics } = await answer
    times.push(performance.now() - start)
    const wrong = diagnostics.some(d => d.code === 'preload_increment')
    if (wrong !== (i % 2 === 0)) throw new Error('a stale answer')
  }
  const status = readFileSync(`/proc/${child.pid}/status`, 'utf8')
  const memory = Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024
  connection.dispose()
  child.kill()
  return { cold, times: times.slice(10), memory }
}

console.log(`${process.version}, ${process.platform}\n`)
console.log('change to findings over stdio, ms\n   lines   start    p50     p95   memory MB')
for (const lines of [100, 1000, 10_000, 50_000]) {
  const passes = []
  for (let i = 0; i < 3; i++) passes.push(await session(lines, 110))
  const middle = f => median(passes.map(f))
  console.log(
    `${String(lines).padStart(8)}${ms(middle(p => p.cold))}${ms(middle(p => median(p.times)))}${ms(middle(p => p95(p.times)))}${ms(middle(p => p.memory))}`,
  )
}

const folder = mkdtempSync(join(tmpdir(), 'doorwright-bench-'))
const files = 500
for (let i = 0; i < files; i++) writeFileSync(join(folder, `${i}.door`), text(perOpening * 2))
const start = performance.now()
spawnSync(process.execPath, [join(root, 'dist/cli.cjs'), 'check', folder], { stdio: 'ignore' })
const seconds = (performance.now() - start) / 1000
console.log(
  `\ncheck: ${files} files of ${text(perOpening * 2).split('\n').length} lines in ${seconds.toFixed(2)} s (${Math.round(files / seconds)} files a second, one process, cold)`,
)
rmSync(folder, { recursive: true })
