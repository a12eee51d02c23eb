/** What `leaks.test.ts` runs in a process of its own, with `--expose-gc`: prints the heap after collections, in bytes. */
import { readFileSync } from 'node:fs'
import { Service } from '../../server/service.ts'

const [kind = '', rounds = '0', sample = '', stock = ''] = process.argv.slice(2)
const text = readFileSync(sample, 'utf8')
const house = readFileSync(stock, 'utf8')
const collect = (globalThis as unknown as { gc: () => void }).gc
const service = new Service({
  resolve: (_, path) => ({ ok: true, file: path }),
  read: file => (file === 'stock/house.door' ? house : undefined),
  workspaceFiles: () => ['stock/house.door'],
  fault: (where, error) => {
    throw new Error(where, { cause: error })
  },
})
const ALL = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } }
/** What an editor asks after each change. */
function look(file: string, i: number): void {
  service.findings(file).forEach(f => void f.range)
  if (i % 5 === 0) service.semanticTokens(file)
  if (i % 10 === 0) service.inlayHints(file, ALL)
  if (i % 20 === 0) service.codeLenses(file)
  if (i % 50 === 0) service.completion(file, service.position(file, (i * 37) % text.length))
  if (i % 100 === 0) service.codeActions(file, { start: service.position(file, (i * 53) % text.length), end: ALL.end })
  if (i % 250 === 0) service.workspaceSymbols('o')
}

const WORK: Record<string, (i: number) => void> = {
  /** Types and takes back, here and there, and now and then writes a line that no file had before. */
  edits(i) {
    const file = 'job.door'
    if (i === 0) service.open(file, text)
    const at = service.position(file, (i * 7919) % text.length)
    const put = i % 3 === 0 ? `x${i}` : i % 3 === 1 ? '\n' : '{'
    service.edit(file, [{ range: { start: at, end: at }, text: put }])
    look(file, i)
    service.edit(file, [{ text }])
    if (i % 7 === 0) look(file, i)
  },
  /** Opens, looks and closes: every time another file, and every other time with the stock open too. */
  files(i) {
    const file = `job-${i}.door`
    if (i % 2) service.open('stock/house.door', `${house}\n# ${i}\n`)
    service.open(file, text.replace('HS-', `HS-${i}`))
    look(file, i * 10)
    service.close(file)
    if (i % 2) service.close('stock/house.door')
  },
}

const samples = 20
for (let i = 0; i < Number(rounds); i++) {
  WORK[kind]!(i)
  if ((i + 1) % Math.ceil(Number(rounds) / samples) !== 0) continue
  // what is held by weak references goes with the second collection
  await new Promise(resolve => setImmediate(resolve))
  collect()
  collect()
  console.log(process.memoryUsage().heapUsed)
}
