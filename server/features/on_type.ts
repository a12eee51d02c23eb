/** What is laid out while one types: the statement that a `}` closes, or the line that was just left. */
import { chunkIndexAt, formatRange, type Source, type TextEdit, tokenize } from '../../grammar/index.ts'

/**
 * Edits before the cursor only, and none in its own line after a line end: what the editor put there to start with is
 * its own. Text that cannot be read stays as it is, so a block is laid out as a whole once its last brace is there.
 * @param offset of the cursor, behind what was typed
 */
export function onType(source: Source, offset: number, typed: string): TextEdit[] {
  const before = source.text.slice(0, offset)
  const lineStart = Math.max(before.lastIndexOf('\n'), before.lastIndexOf('\r')) + 1
  const end = typed === '}' ? offset : lineStart - 1
  if (end <= 0) return []
  const i = chunkIndexAt(source, Math.max(0, end - 1))
  const start = source.starts[i] ?? 0
  // a brace in a text or comment closes nothing
  const closes = (): boolean =>
    source.text[offset - 1] === '}' &&
    tokenize(source.chunks[i]?.text ?? '').some(t => t.kind === 'punctuation' && start + t.end === offset)
  if (typed === '}' && !closes()) return []
  const from = typed === '}' ? start : startOfLine(source.text, end)
  return formatRange(source, start, end).filter(e => e.start >= from && e.end <= end)
}

function startOfLine(text: string, end: number): number {
  const line = text.slice(0, end).replace(/\r$/, '')
  return Math.max(line.lastIndexOf('\n'), line.lastIndexOf('\r')) + 1
}
