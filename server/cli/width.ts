/** How text stands on a terminal: how many columns it fills, and what may not go there as it is. */
import { eastAsianWidth } from 'get-east-asian-width'

const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' })
const PLAIN = /^[\x20-\x7e]*$/
/** What fills no column of its own: marks put on the letter before, joiners, variation selectors. */
const NO_WIDTH = /^[\p{Mark}\p{Default_Ignorable_Code_Point}]$/u
/** What a terminal obeys rather than shows, and what turns the direction of writing around: it could hide what is there. */
const UNSAFE = /[\p{Cc}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/gu

/** One thing that a person sees as a letter or sign, with the columns it fills. */
export interface Cell {
  readonly text: string
  readonly width: number
  /** Offset in the line as it stands in the file, in UTF-16 units. */
  readonly start: number
  readonly end: number
}

const visible = (c: string): string => `\\u{${c.codePointAt(0)!.toString(16)}}`

/** Text that a terminal shows as it is: control characters written out. Line ends stay where `lines` is true. */
export const safe = (text: string, lines = false): string =>
  PLAIN.test(text) ? text : text.replace(UNSAFE, c => (lines && c === '\n' ? c : c === '\t' ? ' ' : visible(c)))

function widthOfGrapheme(g: string): number {
  let width = 0
  for (const c of g) {
    if (c === '\ufe0f') width = 2
    else if (!NO_WIDTH.test(c)) width = Math.max(width, eastAsianWidth(c.codePointAt(0)!))
  }
  // Two regional indicators make one flag.
  return /^\p{RI}{2}$/u.test(g) ? 2 : width
}

/** Columns that a text without control characters fills. */
export function widthOf(text: string): number {
  if (PLAIN.test(text)) return text.length
  let width = 0
  for (const { segment } of graphemes.segment(text)) width += widthOfGrapheme(segment)
  return width
}

/** A line of a file, cell by cell: tabs as the blanks up to the next stop, unsafe characters written out. */
export function cells(line: string, tab = 4): Cell[] {
  if (PLAIN.test(line)) return Array.from(line, (text, i) => ({ text, width: 1, start: i, end: i + 1 }))
  const out: Cell[] = []
  let column = 0
  for (const { segment, index } of graphemes.segment(line)) {
    let text = segment
    if (segment === '\t') text = ' '.repeat(tab - (column % tab))
    else text = safe(segment)
    const width = text === segment ? widthOfGrapheme(text) : widthOf(text)
    out.push({ text, width, start: index, end: index + segment.length })
    column += width
  }
  return out
}

/** What is not broken: a word, or a short stretch of code with what touches it. */
const WORD = /[^\s`]*`[^`\n]{1,40}`\S*|\S+/g

/** Breaks text into lines of at most `width` columns, between words; a word longer than that stays whole. */
export function wrap(text: string, width: number): string[] {
  const out: string[] = []
  for (const paragraph of text.split('\n')) {
    if (widthOf(paragraph) <= width) {
      // As it is: blanks may line something up.
      out.push(paragraph)
      continue
    }
    let line = ''
    let filled = 0
    for (const word of paragraph.match(WORD) ?? []) {
      const w = widthOf(word)
      if (line !== '' && filled + 1 + w > width) {
        out.push(line)
        line = word
        filled = w
      } else {
        line = line === '' ? word : `${line} ${word}`
        filled += line === word ? w : w + 1
      }
    }
    out.push(line)
  }
  return out
}

export const padEnd = (text: string, width: number): string => text + ' '.repeat(Math.max(0, width - widthOf(text)))
