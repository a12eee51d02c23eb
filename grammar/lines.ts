/** What the lexer and the splitter must agree on about lines and names. */

/** A name, with whatever letters a person may have typed; the lexer reports those that do not belong. */
const NAME = /[\p{L}_][\p{L}\p{N}_]*/uy
/** The characters of nearly all names. */
const PLAIN = new Uint8Array(128)
for (const char of 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_') PLAIN[char.charCodeAt(0)] = 1

const STATEMENT_START =
  /[ \t]*(?:\}|(?:use|let|require|allow)(?!\w)|[A-Za-z]\w*[ \t]*=(?!=)|[A-Za-z]\w*(?:[ \t]+(?:\w+|"[^"\r\n]*"))*[ \t]*\{)/y
const TOP_LEVEL = /(?:opening|job|use)[ \t]*"/y

function holds(pattern: RegExp, text: string, at: number): boolean {
  pattern.lastIndex = at
  return pattern.test(text)
}

/** Where the name ends that starts at `at`, which is no digit; `at` itself where there is none. */
export function nameEnd(text: string, at: number): number {
  let p = at
  while (PLAIN[text.charCodeAt(p)] === 1) p++
  // Only a character beyond ASCII could still belong to the name; behind the last character there is none (NaN).
  if (!(text.charCodeAt(p) > 127)) return p
  NAME.lastIndex = at
  return at + (NAME.exec(text)?.[0].length ?? 0)
}

/** Whether the line at `at` can only be a statement, so that an open `(` or `[` before it was never closed. */
export const startsStatement = (text: string, at: number): boolean => holds(STATEMENT_START, text, at)

/** Offset of the first character after the blanks at `at`. */
export function afterBlanks(text: string, at: number): number {
  let p = at
  while (text.charCodeAt(p) === 32 || text.charCodeAt(p) === 9) p++
  return p
}

/** Whether what stands at `at`, the first on its line, can only be at top level, so that open braces before it were never closed. */
export function startsTopLevel(text: string, at: number): boolean {
  const char = text[at]
  return (char === 'o' || char === 'j' || char === 'u') && holds(TOP_LEVEL, text, at)
}

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
  for (let p = at; p > 0; p--) {
    const code = text.charCodeAt(p - 1)
    if (code === 10 || code === 13) return at - p
    if (code !== 32 && code !== 9 && code !== 0xfeff) return -1
  }
  return at
}
