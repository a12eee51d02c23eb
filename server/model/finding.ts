import type { Chunk, Span } from '../../grammar/index.ts'

export type Severity = 'error' | 'warning' | 'note'

/** A stretch of text in a chunk of a file. It stays valid while the chunk does, wherever the chunk moves to. */
export interface Place extends Span {
  readonly file: string
  readonly chunk: Chunk
}

export interface Edit {
  readonly place: Place
  readonly text: string
}

export interface Fix {
  readonly title: string
  /** Safe fixes are applied by `check --fix` and by "fix all"; the others are only offered. */
  readonly safe: boolean
  readonly edits: readonly Edit[]
}

export interface Related {
  readonly place: Place
  readonly message: string
}

/** What a rule has to say: what is wrong and by how much, the limit and its source, what to do, and the fixes. */
export interface Finding {
  readonly rule: string
  /** Only where it differs from the rule's own severity. */
  readonly severity?: Severity
  readonly message: string
  readonly place: Place
  readonly opening?: string
  readonly limit?: { readonly text: string; readonly source: string }
  readonly related?: readonly Related[]
  readonly fixes?: readonly Fix[]
  /** The block the finding belongs to, by path; an `allow` in that block or around it accepts the finding. */
  readonly block?: string
  /** The reason of the `allow` that accepts this finding. */
  readonly accepted?: string
}
