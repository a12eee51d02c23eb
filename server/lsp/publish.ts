/** Tells the client the findings of open files. */
/** How long a stream of changes without a pause may put the answer off. */
const LONGEST_WAIT_MS = 60

/**
 * Collects the files whose findings may have changed and publishes them as soon as no further change is waiting: several
 * changes that lie in the queue give one answer, for the last. There is no timer, so a single change is answered at once.
 */
export class Publisher {
  readonly #dirty = new Set<string>()
  readonly #publish: (file: string) => void
  #changes = 0
  #waiting = false

  constructor(publish: (file: string) => void) {
    this.#publish = publish
  }

  mark(files: Iterable<string>): void {
    for (const f of files) this.#dirty.add(f)
    this.#changes++
    if (this.#waiting) return
    this.#waiting = true
    this.#turn(-1, performance.now())
  }

  drop(file: string): void {
    this.#dirty.delete(file)
  }

  /** The connection hands on one message a turn of the event loop; a turn without a change means that none is waiting. */
  #turn(seen: number, since: number): void {
    setImmediate(() => {
      if (seen !== this.#changes && performance.now() - since < LONGEST_WAIT_MS) return this.#turn(this.#changes, since)
      this.#waiting = false
      const files = [...this.#dirty]
      this.#dirty.clear()
      for (const f of files) this.#publish(f)
    })
  }
}
