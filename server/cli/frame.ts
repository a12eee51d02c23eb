/** The lines of a file that a finding stands on, with a run of carets under the text that is meant. */
import type { Range } from '../service.ts'
import { type Cell, cells } from './width.ts'

export interface FrameLine {
  /** From 1; none for a line of carets or for lines left out. */
  readonly number: number | undefined
  readonly kind: 'source' | 'carets' | 'left out'
  readonly text: string
}

/** Of a range over many lines only the ends are shown. */
const MOST_LINES = 4

/**
 * @param lines the lines of the file, without their ends
 * @param width columns that a line may fill; a longer one is cut on both sides of the carets, with `…` where it goes on
 */
export function frame(lines: readonly string[], range: Range, width: number): FrameLine[] {
  const out: FrameLine[] = []
  const first = range.start.line
  let last = Math.min(range.end.line, lines.length - 1)
  // A range that ends before the first character of a line does not reach into it.
  if (last > first && range.end.line === last && range.end.character === 0) last--
  for (let n = first; n <= last; n++) {
    if (last - first >= MOST_LINES && n === first + 2) {
      out.push({ number: undefined, kind: 'left out', text: '…' })
      n = last - 1
      continue
    }
    const line = lines[n] ?? ''
    const start = n === first ? range.start.character : 0
    const end = n === range.end.line ? range.end.character : line.length
    out.push(...lineWithCarets(line, n === first ? start : indentOf(line), end, n + 1, width))
  }
  return out
}

const indentOf = (line: string): number => line.length - line.trimStart().length

/** Of a line longer than this only the neighbourhood of the marked text is looked at: finding the letters takes time. */
const LONG_LINE = 2000
/** The neighbourhood starts at a multiple of this, so that findings side by side share it. */
const STEP = 500
let last: { readonly line: string; readonly cells: readonly Cell[] } = { line: '', cells: [] }

function cellsOf(line: string): readonly Cell[] {
  if (last.line !== line) last = { line, cells: cells(line) }
  return last.cells
}

function lineWithCarets(whole: string, from0: number, end0: number, number: number, width: number): FrameLine[] {
  let cutAt = whole.length > LONG_LINE ? Math.max(0, (Math.floor(from0 / STEP) - 1) * STEP) : 0
  if (/[\udc00-\udfff]/.test(whole.charAt(cutAt))) cutAt++
  const line = whole.length > LONG_LINE ? whole.slice(cutAt, cutAt + LONG_LINE) : whole
  const start = from0 - cutAt
  const end = Math.min(end0 - cutAt, line.length)
  const all = cellsOf(line)
  // The cells that the range touches; of an empty range the one it stands before, or the place after the last.
  const from = all.findIndex(c => c.end > start)
  const at = from < 0 ? all.length : from
  let to = at
  while (to < all.length && all[to]!.start < end) to++
  const window = cut(all, at, to, width)
  const shown = all.slice(window.from, window.to)
  const lead = window.from > 0 || cutAt > 0 ? '… ' : ''
  const tail = window.to < all.length || cutAt + line.length < whole.length ? ' …' : ''
  const before = lead.length + columns(all.slice(window.from, at))
  const under = Math.max(1, columns(all.slice(at, Math.min(to, window.to))))
  return [
    { number, kind: 'source', text: lead + shown.map(c => c.text).join('') + tail },
    { number: undefined, kind: 'carets', text: ' '.repeat(before) + '^'.repeat(under) },
  ]
}

const columns = (all: readonly Cell[]): number => all.reduce((sum, c) => sum + c.width, 0)

/** Which cells of a line to show so that it fits: the marked ones, from their start, with some text before them. */
function cut(all: readonly Cell[], at: number, to: number, width: number): { from: number; to: number } {
  if (columns(all) <= width) return { from: 0, to: all.length }
  // Room for the two signs that the line goes on.
  const room = Math.max(10, width - 4)
  let from = at
  let filled = 0
  const marked = Math.min(columns(all.slice(at, to)), room)
  // A third of what is left goes before the marked text, the rest after it.
  const before = Math.floor((room - marked) / 3)
  while (from > 0 && filled + all[from - 1]!.width <= before) filled += all[--from]!.width
  let end = at
  while (end < all.length && filled + all[end]!.width <= room) filled += all[end++]!.width
  // What the right side does not need goes to the left.
  while (from > 0 && filled + all[from - 1]!.width <= room) filled += all[--from]!.width
  return { from, to: end }
}
