/** What the lexer and the splitter must agree on about lines and names. */

/** A name, with whatever letters a person may have typed; the lexer reports those that do not belong. */
export const NAME = /[\p{L}_][\p{L}\p{N}_]*/uy

const STATEMENT_START =
  /[ \t]*(?:\}|(?:use|let|require|allow)(?!\w)|[A-Za-z]\w*[ \t]*=(?!=)|[A-Za-z]\w*(?:[ \t]+(?:\w+|"[^"\r\n]*"))*[ \t]*\{)/y
const TOP_LEVEL = /[ \t]*(?:opening|job|use)[ \t]*"/y
const BRACE = /[ \t]*\{/y
const COMMENT_LINE = /[ \t]*#/y

function holds(pattern: RegExp, text: string, at: number): boolean {
  pattern.lastIndex = at
  return pattern.test(text)
}

/** Whether the line at `at` can only be a statement, so that an open `(` or `[` before it was never closed. */
export const startsStatement = (text: string, at: number): boolean => holds(STATEMENT_START, text, at)

/** Whether the line at `at` can only stand at top level, so that open braces before it were never closed. */
export const startsTopLevel = (text: string, at: number): boolean => holds(TOP_LEVEL, text, at)

/** Whether the line at `at` starts with the `{` that belongs to the header on the line before. */
export const startsWithBrace = (text: string, at: number): boolean => holds(BRACE, text, at)

export const isCommentLine = (text: string, at: number): boolean => holds(COMMENT_LINE, text, at)

/** Length of the line end at `at`: 2 for CR LF, 1 for LF or CR, else 0. */
export function lineEndAt(text: string, at: number): 0 | 1 | 2 {
  const code = text.charCodeAt(at)
  if (code === 10) return 1
  return code === 13 ? (text.charCodeAt(at + 1) === 10 ? 2 : 1) : 0
}

/** Offset of the first character of the line that holds `at`. */
export function lineStart(text: string, at: number): number {
  let p = at
  while (p > 0 && text.charCodeAt(p - 1) !== 10 && text.charCodeAt(p - 1) !== 13) p--
  return p
}

/** Width of the blanks at the start of the line that holds `at`, or -1 where something else stands before `at`. */
export function indentBefore(text: string, at: number): number {
  let p = at
  while (p > 0 && ' \t\ufeff'.includes(text[p - 1]!)) p--
  return p === 0 || text[p - 1] === '\n' || text[p - 1] === '\r' ? at - p : -1
}
