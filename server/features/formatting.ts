/** Edits that lay text out; the layout itself is the grammar's. */
import { formatRange, type Source, type TextEdit } from '../../grammar/index.ts'

/** Offsets into the file. Chunks that cannot be read stay as they are. */
export function formatEdits(source: Source, start = 0, end = source.text.length): readonly TextEdit[] {
  return formatRange(source, start, end)
}
