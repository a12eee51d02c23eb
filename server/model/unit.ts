/** What one chunk of a file comes to, and what is put together of it: let go, and made again when it is asked for. */
import type { Block, Chunk } from '../../grammar/index.ts'
import type { Door } from './door.ts'
import type { Evaluator } from './evaluate.ts'
import type { Dependencies, Item } from './files.ts'
import type { Finding } from './finding.ts'
import type { Instance } from './instance.ts'

/** A top-level block that is not an opening, with its values: stock, job, limits. */
export interface Single {
  readonly item: Item<Block>
  readonly root: Instance
  readonly evaluator: Evaluator
}

/** What is put together of a chunk: large, and made again when it is asked for after it was let go. */
export interface Parts {
  readonly doors: readonly Door[]
  readonly singles: readonly Single[]
}

/** What one chunk of a file comes to. */
export class Unit {
  readonly file: string
  readonly chunk: Chunk
  /** Findings of the Language group. */
  readonly findings: readonly Finding[]
  /** Everything that was looked up outside the chunk; grows as values are asked for. */
  readonly dependencies: Dependencies
  /** When all of these still meant the same, by the count of changes. */
  checked: number
  /** Whether it has a `use`: where that leads may change on the disk. */
  readonly follows: boolean
  /** The marks of its openings, in order. */
  readonly marks: readonly string[]
  /** Whether it holds no opening and no other block. */
  readonly empty: boolean
  #parts: Parts | undefined
  readonly #again: () => Parts
  readonly #used: (unit: Unit) => void

  constructor(
    of: Pick<Unit, 'file' | 'chunk' | 'findings' | 'dependencies' | 'checked'>,
    parts: Parts,
    again: () => Parts,
    used: (unit: Unit) => void,
  ) {
    this.file = of.file
    this.chunk = of.chunk
    this.findings = of.findings
    this.dependencies = of.dependencies
    this.checked = of.checked
    this.follows = of.chunk.statements.some(s => s.kind === 'use')
    this.marks = parts.doors.map(d => d.mark)
    this.empty = parts.doors.length + parts.singles.length === 0
    this.#parts = parts
    this.#again = again
    this.#used = used
  }

  /** Whoever goes through all units of a file asks for this of those only that it needs. */
  get parts(): Parts {
    const parts = (this.#parts ??= this.#again())
    this.#used(this)
    return parts
  }

  get doors(): readonly Door[] {
    return this.parts.doors
  }

  get singles(): readonly Single[] {
    return this.parts.singles
  }

  letGo(): void {
    this.#parts = undefined
  }
}

/** What a text without any statement comes to. */
export const emptyUnit = (file: string, chunk: Chunk): Unit =>
  new Unit(
    { file, chunk, findings: [], dependencies: new Map(), checked: 0 },
    NOTHING,
    () => NOTHING,
    () => {},
  )

const NOTHING: Parts = { doors: [], singles: [] }
