/** Edits that turn one text into another, no larger than they need be; the layout itself is the grammar's. */
import { formatRange, type Source, type TextEdit } from '../../grammar/index.ts'

/** Offsets into the file. Chunks that cannot be read stay as they are. */
export function formatEdits(source: Source, start = 0, end = source.text.length): readonly TextEdit[] {
  return formatRange(source, start, end)
}

/** The one stretch in which two texts differ. */
export function difference(before: string, after: string): TextEdit | undefined {
  if (before === after) return undefined
  let start = 0
  while (start < before.length && start < after.length && before[start] === after[start]) start++
  let back = 0
  while (back < before.length - start && back < after.length - start && before.at(-1 - back) === after.at(-1 - back))
    back++
  return { start, end: before.length - back, text: after.slice(start, after.length - back) }
}
