/** Threads that look at files in batches. Each runs this same program; what comes back is plain data. */
import { fileURLToPath } from 'node:url'
import { parentPort, Worker, workerData } from 'node:worker_threads'
import { engine } from './engine.ts'
import { CallError, type Io } from './io.ts'
import { type Looked, look, type PlainReport, type Wanted } from './look.ts'

/** What every thread has to know of the call. */
export interface Setting {
  readonly cwd: string
  readonly units: string | undefined
  readonly config: string | undefined
  readonly wanted: Wanted
}

/** A file's report, or the message of what was thrown while it was made. */
type Answer = { readonly report: PlainReport } | { readonly thrown: string }

interface Batch {
  readonly names: readonly string[]
  readonly done: (answers: readonly Answer[]) => void
  readonly failed: (error: Error) => void
}

/** The program as it is shipped. Run from its sources it has no threads, since these could not be loaded there. */
export const PROGRAM = import.meta.url.endsWith('.cjs') ? fileURLToPath(import.meta.url) : undefined

/** A message that names more files than these is not read. */
const MOST_NAMED = 20

class Thread {
  readonly worker: Worker
  readonly batches: Batch[] = []
  #over = false

  constructor(program: string, setting: Setting) {
    this.worker = new Worker(program, { workerData: setting })
    this.worker.on('message', (answers: readonly Answer[]) => this.batches.shift()?.done(answers))
    this.worker.on('error', error => this.#died(error.message))
    this.worker.on('exit', status => this.#died(`exit status ${status}`))
  }

  #died(why: string): void {
    if (this.#over) return
    this.#over = true
    const at = this.batches[0]
    const names = at?.names ?? []
    const more = names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : ''
    const error = new CallError(
      `a thread that looks at files came to an end (${why}), at one of: ${names.slice(0, MOST_NAMED).join(', ')}${more}. The run was broken off; --jobs 1 on these shows which of them it is.`,
    )
    for (const b of this.batches.splice(0)) b.failed(error)
  }
}

export class Pool {
  readonly #threads: Thread[] = []
  readonly #program: string
  readonly #most: number
  readonly #setting: Setting

  /** @param program that runs in each thread; `most` threads are started as they are needed */
  constructor(program: string, most: number, setting: Setting) {
    this.#program = program
    this.#most = most
    this.#setting = setting
  }

  /** Whether a thread would take another batch soon. */
  get free(): boolean {
    return this.#threads.length < this.#most || this.#threads.some(t => t.batches.length < 2)
  }

  /** @returns a report for each file, in their order. Rejects with a `CallError` that names the files where a thread dies. */
  look(files: readonly (Looked & { readonly name: string })[]): Promise<readonly PlainReport[]> {
    const idle = this.#threads.find(t => t.batches.length === 0)
    if (!idle && this.#threads.length < this.#most) this.#threads.push(new Thread(this.#program, this.#setting))
    const thread = idle ?? this.#threads.reduce((a, b) => (b.batches.length < a.batches.length ? b : a))
    const answered = new Promise<readonly Answer[]>((done, failed) => {
      thread.batches.push({ names: files.map(f => f.name), done, failed })
    })
    thread.worker.postMessage(files.map(({ file, text }) => ({ file, text })))
    return answered.then(answers =>
      answers.map(a => {
        if ('thrown' in a) throw new Error(a.thrown)
        return a.report
      }),
    )
  }

  async end(): Promise<void> {
    await Promise.all(this.#threads.map(t => t.worker.terminate()))
  }
}

/** The other end: answers batches until it is told to stop. */
export function workInThread(): void {
  const setting = workerData as Setting
  // What is to be said about project files the main thread says.
  const run = engine({ cwd: setting.cwd, err: () => {} } as unknown as Io, setting.units, setting.config)
  parentPort!.on('message', (files: readonly Looked[]) => parentPort!.postMessage(files.map(f => answer(f))))

  function answer(input: Looked): Answer {
    try {
      return { report: look(input, run, setting.wanted) }
    } catch (error) {
      return { thrown: error instanceof Error ? error.message : String(error) }
    }
  }
}
