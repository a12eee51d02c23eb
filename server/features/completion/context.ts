/** What is being typed: the statement before the cursor as tokens, and the word under it. Reads no tree, so half-typed text will do. */
import type { Span, Token } from '../../../grammar/index.ts'
import type { Files } from '../../model/index.ts'
import { type At, inside } from '../at.ts'
import type { Rules } from '../rule_info.ts'

export interface World {
  readonly files: Files
  readonly rules: Rules
  /** The rules that have something to say in this chunk. */
  readonly found: () => ReadonlySet<string>
  /** Other files that could be used, by path relative to this one. */
  readonly usable: () => readonly string[]
}

export interface Cursor {
  readonly at: At
  readonly world: World
  /** The name under the cursor: what a choice takes the place of. */
  readonly word: Span
  /** Its part before the cursor. */
  readonly typed: string
  /** The tokens of the statement before that name. */
  readonly head: readonly Token[]
  /** The text of the line before the cursor. */
  readonly line: string
  /** What the line goes on with behind that name: a token as it is written, empty where the statement ends. */
  readonly follows: string
  /** The text the cursor stands in, without its quotes. */
  readonly quoted: Span | undefined
}

export function cursor(at: At, world: World): Cursor | undefined {
  if (inside(at, 'comment')) return undefined
  const text = at.chunk.text
  const before = text.slice(0, at.offset)
  const token = inside(at, 'text')
  const typed = token ? text.slice(token.start + 1, at.offset) : (before.match(/[A-Za-z_]\w*$/)?.[0] ?? '')
  const after = typed === '' || token ? '' : text.slice(at.offset).match(/^\w*/)![0]
  const word = { start: at.offset - typed.length, end: at.offset + after.length }
  const quoted = token && { start: token.start + 1, end: Math.max(at.offset, textEnd(text, token)) }
  return {
    at,
    world,
    word: quoted ?? word,
    typed,
    head: headOf(at, token ? token.start : word.start),
    line: before.slice(Math.max(before.lastIndexOf('\n'), before.lastIndexOf('\r')) + 1),
    follows: followsOf(at, word.end),
    quoted,
  }
}

/** Where a text ends without its closing quote; where that is missing, a brace behind it is no part of it. */
function textEnd(text: string, { start, end }: Span): number {
  if (text[end - 1] === '"' && end > start + 1) return end - 1
  const brace = text.slice(start, end).search(/[ \t]*\{[^{]*$/)
  return brace > 0 ? start + brace : end
}

function followsOf(at: At, end: number): string {
  const next = at.tokens.find(t => t.start >= end)
  if (!next || next.kind === 'comment' || next.kind === 'doc') return ''
  const image = at.chunk.text.slice(next.start, next.end)
  return /[\r\n]/.test(at.chunk.text.slice(end, next.start)) || /^[};]$/.test(image) ? '' : image
}

/** Goes from token to token; a line end outside of brackets, a brace or a `;` begins a new statement. */
function headOf(at: At, end: number): Token[] {
  const text = at.chunk.text
  let head: Token[] = []
  let depth = 0
  let last = 0
  const newLine = (to: number): void => {
    if (depth === 0 && /[\r\n]/.test(text.slice(last, to))) head = []
  }
  for (const t of at.tokens) {
    if (t.end > end) break
    if (t.kind === 'comment' || t.kind === 'doc') continue
    newLine(t.start)
    last = t.end
    const image = text.slice(t.start, t.end)
    if (t.kind === 'punctuation' && /^[{};]$/.test(image)) {
      head = []
      depth = 0
      continue
    }
    if (image === '(' || image === '[') depth++
    if (image === ')' || image === ']') depth = Math.max(0, depth - 1)
    head.push(t)
  }
  newLine(end)
  return head
}

export const image = (c: Cursor, t: Token | undefined): string => (t ? c.at.chunk.text.slice(t.start, t.end) : '')

/** The blanks that the cursor's line starts with. */
export const indentOf = (c: Cursor): string => c.line.match(/^[ \t]*/)![0]
