/** What can be folded away: blocks, rows of comments, the `use` lines at the top. */
import {
  type Chunk,
  lineStarts,
  type Node,
  positionAt,
  type Source,
  type Span,
  tokenize,
  walk,
} from '../../grammar/index.ts'

/** The first line and the last that are seen as one when it is folded. */
export interface Fold {
  readonly start: number
  readonly end: number
  readonly kind?: 'comment' | 'imports'
}

/** @param firstLines the line that each chunk starts on. A fold is of use only where it spans several lines. */
export function folding(source: Source, firstLines: readonly number[]): Fold[] {
  const out: Fold[] = []
  let uses: { readonly start: number; readonly end: number } | undefined
  const endUses = (): void => {
    if (uses && uses.end > uses.start) out.push({ ...uses, kind: 'imports' })
    uses = undefined
  }
  source.chunks.forEach((chunk, i) => {
    const line = firstLines[i]!
    const { folds, use } = inChunk(chunk)
    if (use) uses = { start: uses?.start ?? use.start + line, end: use.end + line }
    else endUses()
    for (const f of folds) out.push({ ...f, start: f.start + line, end: f.end + line })
  })
  endUses()
  return out
}

/** Lines counted from the start of the chunk. */
interface Own {
  readonly folds: readonly Fold[]
  /** The lines of its `use`. */
  readonly use: { readonly start: number; readonly end: number } | undefined
}

const known = new WeakMap<Chunk, Own>()

function inChunk(chunk: Chunk): Own {
  let own = known.get(chunk)
  if (own) return own
  const starts = lineStarts(chunk.text)
  const line = (offset: number): number => positionAt(starts, offset).line
  const folds = foldsOf(chunk).flatMap(({ start, end, kind }): Fold[] => {
    // the closing brace stays in sight
    const [first, last] = [line(start), line(end) - (kind === 'block' ? 1 : 0)]
    return last > first ? [kind === 'block' ? { start: first, end: last } : { start: first, end: last, kind }] : []
  })
  const only = chunk.statements[0]
  const use = only?.kind === 'use' ? { start: line(only.start), end: line(only.end) } : undefined
  known.set(chunk, (own = { folds, use }))
  return own
}

interface Folded extends Span {
  readonly kind: 'block' | 'comment'
}

function foldsOf(chunk: Chunk): Folded[] {
  const out: Folded[] = []
  walk(chunk.statements as readonly Node[], node => {
    if (node.kind === 'block' && node.open >= 0 && node.close >= 0)
      out.push({ start: node.start, end: node.close, kind: 'block' })
  })
  let row: { start: number; end: number } | undefined
  for (const t of tokenize(chunk.text)) {
    const alone = (t.kind === 'comment' || t.kind === 'doc') && /(^|[\r\n])[ \t]*$/.test(chunk.text.slice(0, t.start))
    if (alone && row && /^[ \t]*(\r\n|\n|\r)[ \t]*$/.test(chunk.text.slice(row.end, t.start))) {
      row.end = t.end
      continue
    }
    if (row) out.push({ ...row, kind: 'comment' })
    row = alone ? { start: t.start, end: t.end } : undefined
  }
  if (row) out.push({ ...row, kind: 'comment' })
  return out
}
