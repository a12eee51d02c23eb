/** The entry of the Web Worker's bundle. */
import { startInWorker } from './browser.ts'

// A worker has no `setImmediate`. A message to itself comes as soon, and after those that wait already.
const { port1, port2 } = new MessageChannel()
const waiting: (() => void)[] = []
Object.assign(port1, { onmessage: () => waiting.shift()?.() })
globalThis.setImmediate ??= ((work: () => void) => {
  waiting.push(work)
  port2.postMessage(undefined)
}) as unknown as typeof setImmediate

startInWorker(globalThis)
