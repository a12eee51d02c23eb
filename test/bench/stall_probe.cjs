/**
 * Loaded into the language server by `stall.mjs`: how long its event loop stands still, by the clock and (on Linux) by
 * what its thread had of a processor, which other programs do not lengthen. At each word over the channel what was seen
 * since the last one goes back.
 */
const { closeSync, existsSync, openSync, readSync } = require('node:fs')
const { PerformanceObserver } = require('node:perf_hooks')

const path = `/proc/self/task/${process.pid}/schedstat`
const handle = existsSync(path) ? openSync(path, 'r') : undefined
const buffer = Buffer.alloc(64)
const onProcessor = () =>
  handle === undefined
    ? 0
    : Number(buffer.toString('latin1', 0, readSync(handle, buffer, 0, 64, 0)).split(' ')[0]) / 1e6
process.on('exit', () => handle !== undefined && closeSync(handle))

let clock = []
let processor = []
let collecting = 0
let [last, used] = [performance.now(), onProcessor()]
new PerformanceObserver(list => {
  for (const e of list.getEntries()) collecting = Math.max(collecting, e.duration)
}).observe({ entryTypes: ['gc'] })
setInterval(() => {
  const [now, usedNow] = [performance.now(), onProcessor()]
  clock.push(now - last)
  processor.push(usedNow - used)
  ;[last, used] = [now, usedNow]
}, 1).unref()

const p99 = list => list.toSorted((a, b) => a - b)[Math.floor(list.length * 0.99)] ?? 0
process.on('message', () => {
  process.send({
    clock: { longest: Math.max(0, ...clock), p99: p99(clock) },
    processor: { longest: Math.max(0, ...processor), p99: p99(processor) },
    collecting,
  })
  clock = []
  processor = []
  collecting = 0
})
process.channel.unref()
