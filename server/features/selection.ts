/** What a growing selection takes in: name, expression, statement, inside of the block, block, with its description, file. */
import { type Chunk, type Node, pathTo, type Span, tokenize } from '../../grammar/index.ts'

/** From the innermost to the chunk; each holds the one before and is larger. */
export function selections(chunk: Chunk, offset: number): Span[] {
  const out: Span[] = []
  const add = (s: Span | undefined): void => {
    const last = out.at(-1)
    if (!s || s.start > offset || s.end < offset) return
    if (!last || (s.start <= last.start && s.end >= last.end && s.end - s.start > last.end - last.start))
      out.push({ start: s.start, end: s.end })
  }
  const token = tokenize(chunk.text).findLast(t => t.start <= offset && offset <= t.end && t.kind !== 'punctuation')
  // the words of a text, before its quotes
  if (token?.kind === 'text' && token.end - token.start > 2) add({ start: token.start + 1, end: token.end - 1 })
  add(token)
  for (const node of [...pathTo(chunk, offset)].reverse()) for (const s of around(node, offset, chunk.text)) add(s)
  add({ start: 0, end: chunk.text.length })
  return out
}

function around(node: Node, offset: number, text: string): Span[] {
  if (node.kind !== 'block') return [node]
  const inside: Span[] = []
  if (node.open >= 0 && node.close >= 0 && offset > node.open && offset <= node.close) {
    const body = text.slice(node.open + 1, node.close)
    const start = node.open + 1 + (body.length - body.trimStart().length)
    inside.push({ start, end: Math.max(start, node.open + 1 + body.trimEnd().length) })
    inside.push({ start: node.open + 1, end: node.close })
  }
  return [...inside, node]
}
