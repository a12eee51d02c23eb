/** The paths after `use`, as links to their files. */
import type { Chunk, Span } from '../../grammar/index.ts'
import type { Files } from '../model/index.ts'

export interface Link {
  /** The path without its quotes. */
  readonly span: Span
  readonly file: string
}

export function links(chunk: Chunk, file: string, files: Files): Link[] {
  return chunk.statements.flatMap(s => {
    if (s.kind !== 'use' || !s.path) return []
    const target = files.target(file, s.path.value)
    const span = { start: s.path.start + 1, end: s.path.closed ? s.path.end - 1 : s.path.end }
    return target.ok && span.end > span.start ? [{ span, file: target.file }] : []
  })
}
