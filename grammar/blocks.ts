import { afterBlanks, lineEndAt, nameEnd, startsStatement, startsTopLevel } from './lines.ts'
import { parseChunk } from './parser.ts'
import { isBlank, quantityAt } from './quantity.ts'
import { startsText, textEnd } from './texts.ts'
import type { Chunk, Source, TextEdit } from './tree.ts'

const DIGIT = /\d/
/** What a quantity has before an inch mark: a digit, or a fraction that is one character. */
const BEFORE_INCHES = /[\d½¼¾⅛⅜⅝⅞]/

/** Line ends, quotes, `#`, brackets, braces and `;`: whatever has a say in where a chunk ends. */
const SPLITTERS = new Uint8Array(128)
for (const char of '\r\n"#()[]{};') SPLITTERS[char.charCodeAt(0)] = 1

/** Offset of the first splitter at or after `at`. */
function nextSplitter(text: string, at: number): number {
  let p = at
  for (; p < text.length; p++) {
    const code = text.charCodeAt(p)
    if (code < 128 ? SPLITTERS[code] === 1 : code >= 0x201c && code <= 0x201e) break
  }
  return p
}

/**
 * Where the chunk that starts at `start` ends: after the line end of its statement (unless the next line starts with a `{`), or before a line that can only
 * stand at top level. It looks at nothing before `start` and nothing after the line that follows the chunk.
 */
export function chunkEnd(text: string, start: number): number {
  let braces = 0
  let brackets = 0
  let seen = false
  /** Start of the comment lines that stand directly above the current line, or -1. */
  let comments = -1
  let splitter = -1
  let p = start
  while (p < text.length) {
    const char = text[p]!
    const lineEnd = lineEndAt(text, p)
    if (lineEnd > 0) {
      p += lineEnd
      const first = afterBlanks(text, p)
      if (brackets > 0 && startsStatement(text, p)) brackets = 0
      if (seen && braces === 0 && brackets === 0 && text[first] !== '{') return p
      if (seen && startsTopLevel(text, first)) return comments < 0 ? p : comments
      comments = text[first] === '#' ? (comments < 0 ? p : comments) : -1
      p = first
      continue
    }
    if (isBlank(char)) {
      p++
      continue
    }
    if (char === '#') {
      while (p < text.length && lineEndAt(text, p) === 0) p++
      continue
    }
    seen = true
    if (splitter < p) splitter = nextSplitter(text, p)
    if (p < splitter) {
      // Names and quantities hold no splitter but the quotes that are inch marks, and those touch their number.
      const inches = startsText(text[splitter]) && BEFORE_INCHES.test(text[splitter - 1]!)
      p = inches ? wordEnd(text, p) : splitter
      continue
    }
    if (startsText(char)) {
      p = textEnd(text, p).end
      continue
    }
    p++
    if (char === '{') braces++
    else if (char === '}') braces = Math.max(0, braces - 1)
    else if (char === '(' || char === '[') brackets++
    else if (char === ')' || char === ']') brackets = Math.max(0, brackets - 1)
    if (char === '{' || char === '}' || char === ';') brackets = 0
  }
  return text.length
}

/** Where the quantity or name at `at` ends, or the one character that is neither. */
function wordEnd(text: string, at: number): number {
  const char = text[at]!
  if (DIGIT.test(char) || (char === '.' && DIGIT.test(text[at + 1] ?? ''))) return quantityAt(text, at)?.end ?? at + 1
  return Math.max(at + 1, nameEnd(text, at))
}

/** Reads a whole file: split into chunks, each chunk read by itself. */
export function parseSource(text: string): Source {
  const chunks: Chunk[] = []
  const starts: number[] = []
  for (let at = 0; at < text.length; ) {
    const end = chunkEnd(text, at)
    starts.push(at)
    chunks.push(parseChunk(text.slice(at, end)))
    at = end
  }
  return { text, chunks, starts }
}

/** Applies edits, given by offsets into the old text and not overlapping, in any order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let out = ''
  let at = 0
  for (const e of sorted(edits)) {
    out += text.slice(at, e.start) + e.text
    at = e.end
  }
  return out + text.slice(at)
}

const sorted = (edits: readonly TextEdit[]) => [...edits].sort((a, b) => a.start - b.start || a.end - b.end)

/** Index of the chunk that holds `offset`; an offset between two chunks belongs to the later. -1 in an empty file. */
export function chunkIndexAt(source: Source, offset: number): number {
  let low = 0
  let high = source.starts.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (source.starts[middle]! <= offset) low = middle
    else high = middle - 1
  }
  return high
}

/**
 * The source after `edits` (offsets into the old text, not overlapping). Equals `parseSource` of the new text, but
 * reads only the chunks that changed; every other chunk is the same object as before.
 */
export function editSource(source: Source, edits: readonly TextEdit[]): Source {
  if (edits.length === 0) return source
  const ordered = sorted(edits)
  const text = applyEdits(source.text, ordered)
  const old = source.starts
  const count = old.length
  const editStart = ordered[0]!.start
  const editEnd = ordered.at(-1)!.end
  const shift = text.length - source.text.length
  // Whether a chunk ends where it does may hang on the first line of the next one, so reading starts one chunk earlier.
  const first = Math.max(0, chunkIndexAt(source, editStart) - 1)
  const kept = reusable(source, first, editEnd)

  const chunks = source.chunks.slice(0, first)
  const starts = old.slice(0, first)
  let next = first
  let at = old[first] ?? 0
  while (at < text.length) {
    while (next < count && (old[next]! < editEnd || old[next]! + shift < at)) next++
    if (next < count && old[next]! + shift === at && at > editStart) break
    const end = chunkEnd(text, at)
    const piece = text.slice(at, end)
    starts.push(at)
    chunks.push(kept.get(piece)?.pop() ?? parseChunk(detached(piece)))
    at = end
  }
  if (at < text.length) {
    for (let i = next; i < count; i++) {
      chunks.push(source.chunks[i]!)
      starts.push(old[i]! + shift)
    }
  }
  return { text, chunks, starts }
}

/** The chunks that the edits may have left as they were, by their text, each to be used once. */
function reusable(source: Source, first: number, editEnd: number): Map<string, Chunk[]> {
  const kept = new Map<string, Chunk[]>()
  for (let i = first; i < source.chunks.length && source.starts[i]! <= editEnd; i++) {
    const chunk = source.chunks[i]!
    const same = kept.get(chunk.text)
    if (same) same.unshift(chunk)
    else kept.set(chunk.text, [chunk])
  }
  return kept
}

/** A copy that does not keep the whole file's text alive, as a slice of it would. */
const detached = (piece: string): string => JSON.parse(JSON.stringify(piece)) as string
