import { applyEdits, lineStarts, offsetAt, parseSource, positionAt, type SyntaxFinding } from '../../grammar/index.ts'

/** A line of marks is a comment: `#` at the start, carets under what is meant, and the message. */
const MARKS = /^#\s*\^+ /

/** Every finding of a file, at offsets into the file. */
export function findingsOf(text: string): SyntaxFinding[] {
  const source = parseSource(text)
  return source.chunks.flatMap((chunk, i) => {
    const at = source.starts[i]!
    return chunk.findings.map(f => ({
      ...f,
      start: f.start + at,
      end: f.end + at,
      fixes: f.fixes.map(fix => ({
        ...fix,
        edits: fix.edits.map(e => ({ ...e, start: e.start + at, end: e.end + at })),
      })),
    }))
  })
}

/** Takes the mark lines out of a marked source. */
export const unmarked = (marked: string): string =>
  marked
    .split('\n')
    .filter(line => !MARKS.test(line))
    .join('\n')

/** Writes the findings of a source under its lines. Sources are indented by two, to leave room for the `#`. */
export function marked(text: string): string {
  const starts = lineStarts(text)
  const below = new Map<number, string[]>()
  for (const f of findingsOf(text)) {
    const { line, column } = positionAt(starts, f.start)
    const lineEnd = offsetAt(starts, { line, column: Number.MAX_SAFE_INTEGER }, text.length)
    const carets = '^'.repeat(Math.max(1, Math.min(f.end, lineEnd) - f.start))
    const marks = below.get(line) ?? []
    marks.push(`#${' '.repeat(Math.max(0, column - 1))}${carets} ${f.message}`)
    below.set(line, marks)
  }
  return text
    .split('\n')
    .flatMap((line, i) => [line, ...(below.get(i) ?? [])])
    .join('\n')
}

/** The text after the fix of the given title, or the first fix there is. */
export function fixed(text: string, title?: string): string {
  const fixes = findingsOf(text).flatMap(f => f.fixes)
  const fix = title === undefined ? fixes[0] : fixes.find(one => one.title.includes(title))
  if (!fix) throw new Error(`no fix ${title ?? ''} for ${text}`)
  return applyEdits(text, fix.edits)
}

/** The tree without offsets, as comparable text. */
export function shape(text: string): string {
  return JSON.stringify(
    parseSource(text).chunks.flatMap(c => c.statements),
    (key, value: unknown) =>
      ['start', 'end', 'open', 'close', 'at'].includes(key)
        ? typeof value === 'number' && value < 0
          ? 'none'
          : undefined
        : typeof value === 'number' && Number.isNaN(value)
          ? 'NaN'
          : value,
    1,
  )
}
