import { lineEndAt } from './lines.ts'

/** Line and column from 0; columns count UTF-16 units. */
export interface Position {
  readonly line: number
  readonly column: number
}

/** Offset at which each line starts. CR LF, LF and lone CR end a line. */
export function lineStarts(text: string): readonly number[] {
  const starts = [0]
  for (let p = 0; p < text.length; ) {
    const length = lineEndAt(text, p)
    p += length || 1
    if (length > 0) starts.push(p)
  }
  return starts
}

export function positionAt(starts: readonly number[], offset: number): Position {
  let low = 0
  let high = starts.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (starts[middle]! <= offset) low = middle
    else high = middle - 1
  }
  return { line: low, column: Math.max(0, offset - (starts[low] ?? 0)) }
}

/** Positions past the end of a line or of the text are moved back to it. */
export function offsetAt(starts: readonly number[], position: Position, length: number): number {
  if (position.line < 0) return 0
  const start = starts[position.line]
  if (start === undefined) return length
  const next = starts[position.line + 1] ?? length + 1
  return Math.min(start + Math.max(0, position.column), Math.max(start, next - 1), length)
}
