/** What a finding is known by from one version of its file to the next: not by its line, and not by its numbers. */
import { createHash } from 'node:crypto'
import type { LocatedFinding, Range } from '../service.ts'

/**
 * The same for the same rule at the same text of the same block and opening, wherever it stands in the file and whatever
 * numbers the message has. Blanks and line ends do not count. 16 hexadecimal digits.
 */
export const fingerprint = (f: LocatedFinding, lines: readonly string[]): string =>
  createHash('sha256')
    .update(JSON.stringify([f.rule, f.opening ?? '', f.block ?? '', subjectOf(f), normal(textOf(f.range, lines))]))
    .digest('hex')
    .slice(0, 16)

const normal = (text: string): string => text.replace(/\s+/g, ' ').trim()

/** The first name that the message is about: what is missing has no text of its own, and several may be missing at one place. */
const subjectOf = (f: LocatedFinding): string =>
  [...f.message.matchAll(/`([a-z][\w.[\]]*)`/g)].map(m => m[1]!).find(name => name !== f.opening) ?? ''

function textOf({ start, end }: Range, lines: readonly string[]): string {
  const part = lines.slice(start.line, end.line + 1)
  if (part.length === 0) return ''
  // the end first: on a single line both count from its start
  part[part.length - 1] = part.at(-1)!.slice(0, end.line < lines.length ? end.character : undefined)
  part[0] = part[0]!.slice(start.character)
  return part.join(' ')
}
