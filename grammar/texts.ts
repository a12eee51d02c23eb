import { edit, finding, replaceFix } from './quantity.ts'
import type { SyntaxFinding, Text } from './tree.ts'

export interface ScannedText {
  readonly end: number
  readonly node: Text
  readonly findings: readonly SyntaxFinding[]
}

const STRAIGHT_BODY = /(?:[^"\\\r\n]|\\[^\r\n])*/y
const CURLY_BODY = /(?:[^"“”„\\\r\n]|\\[^\r\n])*/y
const ESCAPES: Readonly<Record<string, string>> = { '"': '"', '\\': '\\', n: '\n', t: '\t' }

export const startsText = (char: string | undefined): boolean =>
  char === '"' || char === '“' || char === '”' || char === '„'

/** Where the text that starts at `at` ends; it never goes past its line. */
export function textEnd(text: string, at: number): { readonly end: number; readonly closed: boolean } {
  const body = text[at] === '"' ? STRAIGHT_BODY : CURLY_BODY
  body.lastIndex = at + 1
  let end = at + 1 + (body.exec(text)?.[0].length ?? 0)
  // A lone backslash before the line end stops the body early; it belongs to the text.
  if (text[end] === '\\') end++
  const closed = startsText(text[end])
  return { end: closed ? end + 1 : end, closed }
}

/** Reads the text in quotes at `at`; curly quotes are read too, with a fix that writes straight ones. */
export function textAt(text: string, at: number): ScannedText {
  const { end, closed } = textEnd(text, at)
  const inner = text.slice(at + 1, closed ? end - 1 : end)
  const findings: SyntaxFinding[] = []
  const value = inner.includes('\\') ? resolveEscapes(inner, at + 1, findings) : inner
  if (text[at] !== '"' || (closed && text[end - 1] !== '"')) {
    const edits = [edit(at, at + 1, '"'), closed ? edit(end - 1, end, '"') : edit(end, end, '"')]
    findings.push(finding(at, end, 'Text stands in straight quotes `"`.', [{ title: 'Write straight quotes', edits }]))
  } else if (!closed) {
    const to = at + 1 + inner.trimEnd().length
    findings.push(
      finding(at, end, 'This text is not closed. Expected `"` before the end of the line.', [
        replaceFix('Close the text with `"`', to, to, /(^|[^\\])(\\\\)*\\$/.test(inner) ? '\\"' : '"'),
      ]),
    )
  }
  return { end, node: { kind: 'text', start: at, end, value, closed }, findings }
}

function resolveEscapes(inner: string, at: number, findings: SyntaxFinding[]): string {
  return inner.replace(/\\(.?)/gsu, (whole, char: string, offset: number) => {
    const known = ESCAPES[char]
    if (known !== undefined) return known
    const start = at + offset
    findings.push(
      finding(start, start + whole.length, 'Expected `\\"`, `\\\\`, `\\n` or `\\t`. A `\\` itself is written `\\\\`.', [
        replaceFix('Write `\\\\`', start, start + 1, '\\\\'),
      ]),
    )
    return char
  })
}
