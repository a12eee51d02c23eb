/** What can be folded away: blocks, rows of comments, the `use` lines at the top. */
import { type Chunk, type Node, type Source, type Span, tokenize, walk } from '../../grammar/index.ts'

export interface Fold extends Span {
  readonly kind: 'block' | 'comment' | 'imports'
}

/** Offsets into the file; a fold is of use only where it spans several lines. */
export function folding(source: Source): Fold[] {
  const out: Fold[] = []
  let uses: { start: number; end: number } | undefined
  source.chunks.forEach((chunk, i) => {
    const at = source.starts[i]!
    for (const f of inChunk(chunk)) out.push({ start: f.start + at, end: f.end + at, kind: f.kind })
    const only = chunk.statements[0]
    if (only?.kind !== 'use') uses = undefined
    else if (uses) {
      const last = out.findLast(f => f.kind === 'imports' && f.start === uses!.start)
      if (last) out.splice(out.indexOf(last), 1)
      out.push({ start: uses.start, end: at + only.end, kind: 'imports' })
    } else uses = { start: at + only.start, end: at + only.end }
  })
  return out
}

const known = new WeakMap<Chunk, readonly Fold[]>()

function inChunk(chunk: Chunk): readonly Fold[] {
  let folds = known.get(chunk)
  if (!folds) known.set(chunk, (folds = foldsOf(chunk)))
  return folds
}

function foldsOf(chunk: Chunk): Fold[] {
  const out: Fold[] = []
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
