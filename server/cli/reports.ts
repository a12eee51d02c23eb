/** Reports of many files in the order of the files, whoever makes them: a cache, other threads, this one. */
import type { Cache } from './cache.ts'
import type { Engine } from './engine.ts'
import { type Found, type InputFile, readFiles } from './files.ts'
import type { Io } from './io.ts'
import { look, type PlainReport, type Wanted } from './look.ts'
import type { Pool } from './pool.ts'

/** A file with its report; without both, one that could not be read. */
export interface Reported {
  readonly input: InputFile | undefined
  readonly report: PlainReport | undefined
}

export interface Makers {
  readonly run: Engine
  readonly pool: Pool | undefined
  /** How many threads there are, this one and those of the pool. */
  readonly jobs: number
  readonly cache: Cache | undefined
  readonly wanted: Wanted
}

/** Files that go to a thread together. */
const BATCH = 16
/** Batches a thread that are read ahead: enough that none waits, few enough that memory stays small. */
const AHEAD = 4

interface Item {
  readonly input: InputFile | undefined
  /** What there was to say when it was read: said when its turn comes. */
  readonly said: readonly string[]
  /** It came out of the cache. */
  readonly kept: boolean
  result: PlainReport | Promise<PlainReport> | undefined
}

export async function* reports(inputs: Inputs, makers: Makers, io: Io): AsyncGenerator<Reported> {
  const { pool, cache, run } = makers
  const window = pool ? makers.jobs * BATCH * AHEAD : 1
  const queue: Item[] = []
  /** Read, in no cache, and taken by nobody yet. */
  const waiting: Item[] = []
  const hand = (): void => {
    while (pool?.free && waiting.length >= BATCH) send(waiting.splice(0, BATCH), pool)
  }
  const source = inputs[Symbol.asyncIterator]()
  for (let more = true; ; ) {
    while (more && queue.length < window) {
      const next = await source.next()
      if (next.done) {
        more = false
        break
      }
      const { input, said } = next.value
      const kept = input && cache?.get(input)
      const item: Item = { input, said, kept: kept !== undefined, result: kept }
      queue.push(item)
      if (input && !kept) waiting.push(item)
      hand()
    }
    const item = queue.shift()
    if (!item) return
    const { input } = item
    // this thread looks at files as well, rather than wait for the others
    while (input && waiting.length > 0 && (!item.result || item.result instanceof Promise)) {
      const own = waiting.shift()!
      own.result = lookLater(own.input!, makers)
      // what the others have done meanwhile comes in now
      if (pool) await new Promise(setImmediate)
      hand()
    }
    for (const text of item.said) io.err(text)
    const report = await item.result
    if (input && report && !item.kept) cache?.put(input, report)
    yield { input, report }
  }

  /** What is thrown is thrown when its turn comes. */
  function lookLater(input: InputFile, { wanted }: Makers): PlainReport | Promise<PlainReport> {
    try {
      return look(input, run, wanted)
    } catch (error) {
      const failed = Promise.reject(error)
      failed.catch(() => {})
      return failed
    }
  }
}

function send(items: readonly Item[], pool: Pool): void {
  const all = pool.look(items.map(i => i.input!))
  items.forEach((item, i) => {
    const result = all.then(reports => (item.result = reports[i]!))
    // one that fails after the run was left is nobody's
    result.catch(() => {})
    item.result = result
  })
}

export type Inputs = AsyncIterable<{ readonly input: InputFile | undefined; readonly said: readonly string[] }>

/** The files, each with what there was to say about reading it. */
export async function* readAhead(found: Found, io: Io, stdinPath: string | undefined): Inputs & AsyncGenerator {
  let said: string[] = []
  const own: Io = Object.create(io, { err: { value: (text: string) => void said.push(text) } })
  for await (const input of readFiles(found, own, stdinPath)) {
    yield { input, said }
    said = []
  }
}
