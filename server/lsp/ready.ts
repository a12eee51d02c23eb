/**
 * Works out in slices what a change has made unknown, and lets whatever else the client wants come in between: a change
 * in the stock may touch every opening of a long job. What looks at all of a file waits here.
 */
import type { Service } from '../service.ts'

/** How long the server works before it looks whether the client wants something else. */
const SLICE_MS = 10

let last: Promise<void> = Promise.resolve()

/** A turn of the event loop to oneself: of several that wait, each has its own. */
export function turn(): Promise<void> {
  last = last.then(() => new Promise(resolve => setImmediate(resolve)))
  return last
}

/**
 * Takes steps for a slice of time: the last one where some are left, else nothing. A fault ends them: it comes again, and
 * is told, where somebody asks for what it is about.
 */
export function slice<T>(steps: Iterator<T>): { readonly last: T } | undefined {
  const until = performance.now() + SLICE_MS
  try {
    for (let step = steps.next(); !step.done; step = steps.next())
      if (performance.now() >= until) return { last: step.value }
  } catch {}
  return undefined
}

export class Ready {
  readonly #service: Service
  /** Files that something has changed for since all of them was worked out. */
  readonly #stale = new Set<string>()
  readonly #working = new Map<string, Promise<void>>()

  constructor(service: Service) {
    this.#service = service
  }

  /** Something has changed for these. */
  changed(files: Iterable<string>): void {
    for (const f of files) this.#stale.add(f)
  }

  /**
   * Resolves once all of a file is worked out, with the changes that came meanwhile. Nothing where it is, or where that
   * took no more than a slice: most changes touch one opening.
   */
  of(file: string): Promise<void> | undefined {
    if (!this.#stale.has(file)) return undefined
    const steps = this.#steps(file)
    const working = this.#working.get(file)
    if (working || this.#slice(file, steps)) return working
    const started = this.#work(file, steps)
    this.#working.set(file, started)
    return started
  }

  async #work(file: string, steps: Iterator<void>): Promise<void> {
    do await turn()
    while (!this.#slice(file, steps))
    this.#working.delete(file)
  }

  #slice(file: string, steps: Iterator<void>): boolean {
    if (slice(steps)) return false
    this.#stale.delete(file)
    return true
  }

  /** A change between two slices may undo what was done before it: all is there once nothing is left to do. */
  *#steps(file: string): Generator<void> {
    for (let more = true; more; ) {
      more = false
      for (const step of this.#service.steps(file)) {
        more = true
        yield step
      }
    }
  }
}
