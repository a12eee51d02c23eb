/** Pieces that the refactorings share: lines and names of a text. */
import type { Block, Span } from '../../../grammar/index.ts'

export const lineStart = (text: string, offset: number): number =>
  Math.max(text.lastIndexOf('\n', offset - 1), text.lastIndexOf('\r', offset - 1)) + 1

export const indentAt = (text: string, offset: number): string =>
  /^[ \t]*/.exec(text.slice(lineStart(text, offset)))![0]

export const newlineOf = (text: string): string => /\r\n|\n|\r/.exec(text)?.[0] ?? '\n'

/** Whether nothing but blanks stands before an offset in its line. */
export const firstInLine = (text: string, offset: number): boolean =>
  text.slice(lineStart(text, offset), offset).trim() === ''

/** A statement with its indentation and line end, where it has the line to itself; else undefined. */
export function wholeLines(text: string, s: Span): Span | undefined {
  const rest = /^[ \t]*(\r\n|\n|\r|$)/.exec(text.slice(s.end))
  return firstInLine(text, s.start) && rest
    ? { start: lineStart(text, s.start), end: s.end + rest[0].length }
    : undefined
}

/** `name`, or the first of `name_2`, `name_3`, ... that is free. */
export function freeName(name: string, isTaken: (name: string) => boolean): string {
  if (!isTaken(name)) return name
  let i = 2
  while (isTaken(`${name}_${i}`)) i++
  return `${name}_${i}`
}

/** A name made of a text: `Dock 3` gives `dock_3`. */
export const nameFrom = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^[_0-9]+|_+$/g, '')

/** Whether the cursor stands in the header of a block, before its brace. */
export const inHeader = (node: Block, offset: number): boolean =>
  node.open >= 0 && offset >= node.start && offset <= node.open
