import type { IToken } from 'chevrotain'
import { parseSource } from './blocks.ts'
import * as T from './tokens.ts'
import { endOf } from './tokens.ts'
import type { Block, Chunk, Source, Statement, TextEdit } from './tree.ts'

export interface FormatOptions {
  /** Columns that a block written on one line may fill before it is broken up; 100 if not given. */
  readonly width?: number
}

export interface Formatted {
  readonly text: string
  readonly changed: boolean
}

/** Lays out a whole file. Chunks with syntax findings stay as they are, byte for byte. */
export function format(text: string, options: FormatOptions = {}): Formatted {
  const source = parseSource(text)
  const newline = newlineOf(text)
  const out = source.chunks.map((chunk, i) => formatChunk(chunk, i === 0, newline, options) ?? chunk.text).join('')
  return { text: out, changed: out !== text }
}

/** The edits that lay out every sound chunk touching `start` to `end`; offsets into the file. */
export function formatRange(
  source: Source,
  start = 0,
  end = source.text.length,
  options: FormatOptions = {},
): readonly TextEdit[] {
  const edits: TextEdit[] = []
  const newline = newlineOf(source.text)
  source.chunks.forEach((chunk, i) => {
    const at = source.starts[i]!
    if (at > end || at + chunk.text.length < start) return
    const laidOut = formatChunk(chunk, i === 0, newline, options)
    if (laidOut === undefined) return
    for (const e of gapEdits(chunk.text, laidOut)) edits.push({ start: at + e.start, end: at + e.end, text: e.text })
  })
  return edits
}

/** The line end that the file's first line has. */
export const newlineOf = (text: string): string => /\r\n|\n|\r/.exec(text)?.[0] ?? '\n'

/** The layout of one chunk, or undefined where it has syntax findings. */
export function formatChunk(
  chunk: Chunk,
  first: boolean,
  newline = '\n',
  options: FormatOptions = {},
): string | undefined {
  return chunk.findings.length > 0 ? undefined : new Layout(chunk, first, options.width ?? 100).run(newline)
}

interface Line {
  text: string
  readonly depth: number
  /** Where the name of a field ends in `text`; what follows is ` = `. Only for fields that are lined up. */
  readonly nameEnd: number
  readonly blankBefore: boolean
  /** Whether the line goes on in the next one, so that a row of fields ends here. */
  open: boolean
}

class Layout {
  readonly #text: string
  readonly #tokens: readonly IToken[]
  readonly #comments: readonly IToken[]
  readonly #lines: Line[] = []
  #nextComment = 0
  #nextToken = 0

  constructor(
    readonly chunk: Chunk,
    readonly first: boolean,
    readonly width: number,
  ) {
    this.#text = chunk.text
    const { tokens, comments } = T.lex(chunk.text)
    this.#tokens = tokens.filter(t => t.tokenType !== T.LineEnd)
    this.#comments = comments
  }

  run(newline: string): string {
    this.#body(this.chunk.statements, 0, this.#text.length, 0)
    alignFields(this.#lines)
    const mark = this.first && this.#text.startsWith('\ufeff') ? '\ufeff' : ''
    return mark + this.#lines.map(line => (line.blankBefore ? newline : '') + indented(line) + newline).join('')
  }

  #body(body: readonly Statement[], from: number, to: number, depth: number): void {
    const opening = this.#lines.length
    let at = from
    for (const statement of body) {
      at = this.#commentsBefore(statement.start, at, depth, opening)
      const blank = this.#blankLine(at, statement.start, depth, opening)
      this.#statement(statement, depth, blank)
      at = statement.end
    }
    this.#commentsBefore(to, at, depth, opening)
  }

  /** Writes the comments up to `to`: behind the line before, where they stood there, else on lines of their own. */
  #commentsBefore(to: number, from: number, depth: number, opening: number): number {
    let at = from
    for (let c = this.#comments[this.#nextComment]; c && c.startOffset < to; c = this.#comments[++this.#nextComment]) {
      const last = this.#lines.at(-1)
      const text = c.image.trimEnd()
      if (last && !/[\r\n]/.test(this.#text.slice(at, c.startOffset)) && (at > 0 || depth > 0)) last.text += ` ${text}`
      else this.#push(text, depth, this.#blankLine(at, c.startOffset, depth, opening))
      at = endOf(c)
    }
    return at
  }

  /** Whether a blank line stands between two offsets; none is kept at the start of a file or of a block. */
  #blankLine(from: number, to: number, depth: number, opening: number): boolean {
    const ends = this.#text.slice(from, to).match(/\r\n|\n|\r/g)?.length ?? 0
    if (this.#lines.length === opening) return depth === 0 && !this.first && ends > 0
    return ends > 1
  }

  #push(text: string, depth: number, blankBefore: boolean, nameEnd = -1): void {
    this.#lines.push({ text, depth, nameEnd, blankBefore, open: false })
  }

  #statement(statement: Statement, depth: number, blank: boolean): void {
    if (statement.kind !== 'block') {
      const nameEnd = statement.kind === 'field' && depth > 0 ? statement.name.text.length : -1
      this.#tokensTo(statement.start, statement.end, depth, blank, nameEnd)
      return
    }
    const oneLine = this.#oneLine(statement)
    if (oneLine !== undefined && (statement.body.length === 0 || depth * 2 + oneLine.length <= this.width)) {
      this.#push(oneLine, depth, blank)
      return
    }
    this.#tokensTo(statement.start, statement.open + 1, depth, blank, -1)
    this.#body(statement.body, statement.open + 1, statement.close, depth + 1)
    this.#push('}', depth, false)
  }

  /** A block as one line, where the author wrote it on one or it is empty. */
  #oneLine(block: Block): string | undefined {
    const inside = this.#text.slice(block.open + 1, block.close)
    if (block.body.length > 0 ? /[\r\n]/.test(inside) : inside.includes('#')) return undefined
    const header = this.#joined(block.start, block.open + 1)
    if (block.body.length === 0) return `${header}}`
    const body = block.body.map(s => (s.kind === 'block' ? this.#oneLine(s) : this.#joined(s.start, s.end)))
    return `${header} ${body.join('; ')} }`
  }

  #between(start: number, end: number): IToken[] {
    // Statements come in the order of the text, so the search goes on where it stopped; a retry may start before.
    while (this.#nextToken > 0 && this.#tokens[this.#nextToken - 1]!.startOffset >= start) this.#nextToken--
    while (this.#nextToken < this.#tokens.length && this.#tokens[this.#nextToken]!.startOffset < start)
      this.#nextToken++
    const found: IToken[] = []
    for (let i = this.#nextToken; i < this.#tokens.length && this.#tokens[i]!.startOffset < end; i++)
      found.push(this.#tokens[i]!)
    return found
  }

  #joined(start: number, end: number): string {
    let out = ''
    this.#between(start, end).forEach((t, i, all) => {
      out += spaceBefore(all[i - 2], all[i - 1], t) + t.image
    })
    return out
  }

  /** Writes tokens with one space where one belongs; line ends inside brackets stay where the author put them. */
  #tokensTo(start: number, end: number, depth: number, blank: boolean, nameEnd: number): void {
    const tokens = this.#between(start, end)
    let at = start
    tokens.forEach((t, i) => {
      if (i === 0) this.#push(t.image, depth, blank, nameEnd)
      else if (/[\r\n]/.test(this.#text.slice(at, t.startOffset))) {
        this.#lines.at(-1)!.open = true
        const closes = t.tokenType === T.RParen || t.tokenType === T.RSquare
        this.#commentsBefore(t.startOffset, at, depth + 1, -1)
        this.#lines.at(-1)!.open = true
        this.#push(t.image, closes ? depth : depth + 1, false)
      } else this.#lines.at(-1)!.text += spaceBefore(tokens[i - 2], tokens[i - 1], t) + t.image
      at = endOf(t)
    })
  }
}

const indented = (line: Line): string => ' '.repeat(line.depth * 2) + line.text

/** Lines up ` = ` in each row of field lines that follow each other without a blank line or anything else between. */
function alignFields(lines: readonly Line[]): void {
  for (let i = 0; i < lines.length; ) {
    let next = i + 1
    if (lines[i]!.nameEnd >= 0) {
      while (next < lines.length && lines[next]!.nameEnd >= 0 && !lines[next]!.blankBefore && !lines[next - 1]!.open) {
        if (lines[next]!.depth !== lines[i]!.depth) break
        next++
      }
      const width = Math.max(...lines.slice(i, next).map(line => line.nameEnd))
      for (const line of lines.slice(i, next))
        line.text = line.text.slice(0, line.nameEnd) + ' '.repeat(width - line.nameEnd) + line.text.slice(line.nameEnd)
    }
    i = next
  }
}

const OPENERS = new Set([T.LParen, T.LSquare])
const TIGHT_BEFORE = new Set([T.RParen, T.RSquare, T.Comma, T.Dot, T.Semicolon])

function spaceBefore(beforeLast: IToken | undefined, last: IToken | undefined, t: IToken): '' | ' ' {
  if (!last || OPENERS.has(last.tokenType) || last.tokenType === T.Dot || TIGHT_BEFORE.has(t.tokenType)) return ''
  if (t.tokenType === T.LParen && last.tokenType === T.Name) return ''
  const sign = last.image === '-' && last.tokenType === T.Minus
  return sign && !(beforeLast && endsValue(beforeLast)) ? '' : ' '
}

const VALUE_ENDS = new Set([T.Name, T.QuantityToken, T.TextToken, T.True, T.False, T.RParen, T.RSquare])
const endsValue = (t: IToken): boolean => VALUE_ENDS.has(t.tokenType)

/** Layout changes nothing but blanks, line ends and `;`, so the edits are the gaps that differ. */
export function gapEdits(from: string, to: string): readonly TextEdit[] {
  const edits: TextEdit[] = []
  const isGap = (char: string | undefined) => char !== undefined && /[\s;\ufeff]/.test(char)
  let [i, j] = [0, 0]
  while (i < from.length || j < to.length) {
    if (from[i] === to[j]) {
      i++
      j++
      continue
    }
    const [start, textStart] = [i, j]
    while (isGap(from[i])) i++
    while (isGap(to[j])) j++
    if (from[i] !== to[j]) return [{ start: 0, end: from.length, text: to }]
    edits.push({ start, end: i, text: to.slice(textStart, j) })
  }
  return edits
}
