import type { IToken } from 'chevrotain'
import { indentBefore } from './lines.ts'
import { LCurly, LineEnd, RCurly } from './tokens.ts'

interface Open {
  readonly at: number
  readonly indent: number
  /** Indent of the first line inside, or -1 where there is none. */
  inner: number
}

/**
 * Finds the blocks that are never closed: the offset of each such `{`, with the offset at which its block is taken to
 * end. Braces alone only tell how many are missing; which ones is told by how the author indented the lines.
 */
export function unclosedBlocks(text: string, tokens: readonly IToken[]): ReadonlyMap<number, number> {
  const limits = new Map<number, number>()
  let missing = 0
  let depth = 0
  for (const { tokenType } of tokens) {
    if (tokenType === LCurly) depth++
    else if (tokenType === RCurly) depth = Math.max(0, depth - 1)
  }
  missing = depth
  if (missing === 0) return limits

  const open: Open[] = []
  let lineIndent = 0
  let firstOfLine = true
  const leave = (at: number) => {
    const block = open.pop()
    if (block) limits.set(block.at, at)
    missing--
  }
  for (const t of tokens) {
    if (t.tokenType === LineEnd) {
      firstOfLine = true
      continue
    }
    if (firstOfLine) {
      lineIndent = Math.max(0, indentBefore(text, t.startOffset))
      const top = open.at(-1)
      if (top && top.inner < 0) top.inner = lineIndent
      const closes = t.tokenType === RCurly
      // Inside a block lines stand deeper than its header; one that does not has left the block.
      while (missing > 0 && leftBy(open, lineIndent, closes)) leave(t.startOffset)
    }
    firstOfLine = false
    if (t.tokenType === LCurly) open.push({ at: t.startOffset, indent: lineIndent, inner: -1 })
    else if (t.tokenType === RCurly) open.pop()
  }
  while (open.length > 0) leave(Number.POSITIVE_INFINITY)
  return limits
}

function leftBy(open: readonly Open[], indent: number, closes: boolean): boolean {
  const top = open.at(-1)
  if (!top || top.inner <= top.indent) return false
  if (!closes) return indent <= top.indent
  return indent < top.indent && open.some(outer => outer.indent === indent)
}
