/** The text of a project file as a tree of JSON with places. */
import { type Node, type ParseError, parseTree, printParseErrorCode } from 'jsonc-parser'
import type { Position, Range } from '../service.ts'

/** Something in the file that is not in force, and why. Lines and columns count from 0. */
export interface ConfigProblem {
  readonly message: string
  readonly range: Range
}

export type Say = (node: Node | undefined, message: string) => void

const SYNTAX: Readonly<Record<string, string>> = {
  InvalidSymbol: 'This is no JSON. Expected a text in ", a number, true, false, [ ] or { }.',
  PropertyNameExpected: 'Expected a name in ", such as "limits".',
  ValueExpected: 'Expected a value.',
  ColonExpected: 'Expected : after the name.',
  CommaExpected: 'Expected , before the next one.',
  CloseBraceExpected: 'Expected }.',
  CloseBracketExpected: 'Expected ].',
  EndOfFileExpected: 'Nothing may follow the closing }.',
  UnexpectedEndOfString: 'This text is not closed. Expected ".',
  InvalidEscapeCharacter: 'A \\ in a text is written \\\\.',
}

/** A file of nothing says nothing: that is a root for `use`, and no fault. */
export function parse(text: string, problems: ConfigProblem[]): Node | undefined {
  const errors: ParseError[] = []
  try {
    const root = text.trim() === '' ? undefined : parseTree(text, errors, { allowTrailingComma: true })
    for (const e of errors.slice(0, 5)) {
      const code = printParseErrorCode(e.error)
      problems.push({
        message: SYNTAX[code] ?? `This is no JSON (${code}).`,
        range: rangeOf(text, e.offset, e.offset + e.length),
      })
    }
    return root
  } catch {
    problems.push({ message: 'This is nested too deeply to be read.', range: rangeOf(text, 0, 1) })
    return undefined
  }
}

export function rangeOf(text: string, start: number, end: number): Range {
  const position = (offset: number): Position => {
    const before = text.slice(0, offset).split(/\r\n|\n|\r/)
    return { line: before.length - 1, character: before.at(-1)!.length }
  }
  return { start: position(start), end: position(end) }
}

export function entries(object: Node | undefined): { key: Node; node: Node }[] {
  if (object?.type !== 'object') return []
  return (object.children ?? []).flatMap(p =>
    p.children?.[0] && p.children[1] ? [{ key: p.children[0], node: p.children[1] }] : [],
  )
}

/** JSON keeps the last of two with one name without a word; here it is said. */
export function twice(node: Node, say: Say): void {
  const seen = new Set<string>()
  for (const { key, node: inner } of entries(node)) {
    if (seen.has(key.value)) say(key, `"${key.value}" stands twice here. Remove one of them.`)
    seen.add(key.value)
    twice(inner, say)
  }
}
