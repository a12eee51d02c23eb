/**
 * Offsets to lines and columns, and back. What is worked out of a chunk or a source is kept for as long as that lives:
 * after an edit only the chunks that it touched are looked at again.
 */
import { type Chunk, positionAt as lineAndColumn, lineStarts, type Source, type Span } from '../../grammar/index.ts'
import type { Place } from '../model/index.ts'
import type { Location, Position, Range } from './types.ts'

export const TOP: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }

export const before = (a: Position, b: Position): boolean =>
  a.line < b.line || (a.line === b.line && a.character < b.character)

export const shift = ({ start, end }: Range, lines: number): Range => ({
  start: { line: start.line + lines, character: start.character },
  end: { line: end.line + lines, character: end.character },
})

/** @param firstLine that the chunk starts on; without it the line counts from the start of the chunk */
export function positionIn(chunk: Chunk, offset: number, firstLine = 0): Position {
  const { line, column } = lineAndColumn(startsOf(chunk), offset)
  return { line: line + firstLine, character: column }
}

export const rangeIn = (chunk: Chunk, { start, end }: Span, firstLine = 0): Range => ({
  start: positionIn(chunk, start, firstLine),
  end: positionIn(chunk, end, firstLine),
})

export function positionAt(source: Source, offset: number): Position {
  const i = lastUpTo(source.starts, offset)
  const chunk = source.chunks[i]
  return chunk ? positionIn(chunk, offset - source.starts[i]!, firstLines(source)[i]) : TOP.start
}

/** Positions outside of the text are moved to it: past the end of a line to that end. */
export function offsetAt(source: Source, { line, character }: Position): number {
  const lines = firstLines(source)
  const i = lastUpTo(lines, line)
  const chunk = source.chunks[i]
  if (!chunk) return 0
  const starts = startsOf(chunk)
  const row = Math.max(0, line - lines[i]!)
  const start = starts[row]
  if (start === undefined) return source.text.length
  let end = starts[row + 1] ?? chunk.text.length
  while (end > start && (chunk.text[end - 1] === '\n' || chunk.text[end - 1] === '\r')) end--
  return source.starts[i]! + Math.min(start + Math.max(0, character), end)
}

/** The last of the numbers in order that is no greater; the first where none is. */
function lastUpTo(numbers: readonly number[], most: number): number {
  let low = 0
  let high = numbers.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (numbers[middle]! <= most) low = middle
    else high = middle - 1
  }
  return low
}

/** The stretch between two places, whichever of them comes first. */
export function spanAt(source: Source, { start, end }: Range): Span {
  const [a, b] = [offsetAt(source, start), offsetAt(source, end)]
  return { start: Math.min(a, b), end: Math.max(a, b) }
}

/** @param source of the place's file. A place in a chunk that it does not hold counts from the start of that chunk. */
export function locate(source: Source | undefined, { file, chunk, start, end }: Place): Location {
  const i = source && indexes(source).get(chunk)
  return { file, range: rangeIn(chunk, { start, end }, i === undefined ? 0 : firstLines(source!)[i]) }
}

/** The line that each chunk starts on. A chunk ends with its line end, so all but the last start at a line's start. */
export const firstLines = kept((source: Source): readonly number[] => {
  const out: number[] = []
  let line = 0
  for (const chunk of source.chunks) {
    out.push(line)
    line += startsOf(chunk).length - 1
  }
  return out
})

const startsOf = kept((chunk: Chunk) => lineStarts(chunk.text))
const indexes = kept((source: Source): ReadonlyMap<Chunk, number> => new Map(source.chunks.map((c, i) => [c, i])))

/** Works something out once for each object. */
export function kept<K extends object, V extends object>(work: (of: K) => V): (of: K) => V {
  const known = new WeakMap<K, V>()
  return of => {
    let value = known.get(of)
    if (!value) known.set(of, (value = work(of)))
    return value
  }
}

/** The same for what stands on some line: where that has moved, what is kept moves with it. */
export function keptAt<K extends object, V>(
  work: (of: K, line: number) => V,
  move: (value: V, lines: number) => V,
): (of: K, line: number) => V {
  const known = new WeakMap<K, { readonly line: number; readonly value: V }>()
  return (of, line) => {
    let held = known.get(of)
    if (held?.line !== line)
      known.set(of, (held = { line, value: held ? move(held.value, line - held.line) : work(of, line) }))
    return held.value
  }
}
