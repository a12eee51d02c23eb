/** Completions as a person takes them: where they are asked for, what an editor makes of one, and what is wrong afterwards. */
import { InsertTextFormat, type TextEdit } from 'vscode-languageserver'
import { lineStarts, offsetAt, parseSource } from '../../grammar/index.ts'
import { type Context, toCompletionItem } from '../../server/lsp/convert.ts'
import { allBlocks, TRADE_WORDS } from '../../server/model/index.ts'
import type { CompletionItem, Position, Service } from '../../server/service.ts'
import { type Span, tokensOf } from './support.ts'

// ---- where somebody asks

export interface Place {
  /** How it came about, for a failure. */
  readonly how: string
  readonly text: string
  readonly cursor: number
  /** The syntax faults that stand around it and have nothing to do with it. */
  readonly faults: number
}

/** How a sample is made a piece of one: each takes a number that chooses where. */
export const PIECES: Readonly<Record<string, (text: string, n: number) => string>> = {
  whole: text => text,
  'cut off': (text, n) => {
    const all = tokensOf(text)
    return text.slice(0, all[n % all.length]![0])
  },
  'a line less': (text, n) => {
    const lines = text.split('\n')
    return lines.toSpliced(n % lines.length, 1).join('\n')
  },
  'a block emptied': (text, n) => {
    const opens = positionsOf(text, '{')
    if (opens.length === 0) return text
    const open = opens[n % opens.length]!
    let depth = 0
    for (const [start, end] of tokensOf(text).filter(t => t[0] >= open)) {
      if (text.slice(start, end) === '{') depth++
      if (text.slice(start, end) === '}' && --depth === 0) return `${text.slice(0, open + 1)}\n${text.slice(start)}`
    }
    return text
  },
}

/** Where tokens of this text start. */
const positionsOf = (text: string, image: string): number[] =>
  tokensOf(text).flatMap(([start, end]) => (text.slice(start, end) === image ? [start] : []))

const depthAt = (text: string, at: number): number =>
  Math.max(
    0,
    tokensOf(text)
      .filter(t => t[0] < at)
      .reduce((n, [start, end]) => n + ({ '{': 1, '}': -1 }[text.slice(start, end)] ?? 0), 0),
  )

/** A line of its own before the `n`th of those lines that are as deep as wanted; `|` is where the cursor stands. */
function newLine(text: string, n: number, line: string, deep?: (depth: number) => boolean): string | undefined {
  const starts = lineStarts(text).filter(at => !deep || deep(depthAt(text, at)))
  if (starts.length === 0) return undefined
  const at = starts[n % starts.length]!
  const broken = at > 0 && text[at - 1] !== '\n' ? '\n' : ''
  // as deep as an editor puts the cursor after a line end
  const above = text.slice(0, at).trimEnd()
  const last = above.slice(above.lastIndexOf('\n') + 1)
  const indent = last.match(/^ */)![0] + (last.endsWith('{') ? '  ' : '')
  // where a brace is missing and the line is less deep, it is anybody's guess which block it belongs to
  if (indent.length !== 2 * depthAt(text, at)) return undefined
  return `${text.slice(0, at)}${broken}${indent}${line}\n${text.slice(at)}`
}

/** The value of the `n`th field, `let` or limit, and what stands in its place. */
function newValue(text: string, n: number, value: string): string | undefined {
  const all = tokensOf(text)
  const equals = all.flatMap(([start, end], i) => (text.slice(start, end) === '=' ? [i] : []))
  if (equals.length === 0) return undefined
  const i = equals[n % equals.length]!
  let to = all[i]![1]
  for (const [start, end] of all.slice(i + 1)) {
    if (/[\n]/.test(text.slice(to, start)) || ['}', ';', 'because'].includes(text.slice(start, end))) break
    to = end
  }
  return `${text.slice(0, all[i]![1])}${value}${text.slice(to)}`
}

/** The cursor in the `n`th word of a text, after `part` of its letters. */
function inWord(text: string, n: number, part: number): string | undefined {
  const words = tokensOf(text).filter(([start, end]) => /^[a-z_]\w*$/i.test(text.slice(start, end)))
  if (words.length === 0) return undefined
  const [start, end] = words[n % words.length]!
  const at = start + 1 + (part % (end - start))
  return `${text.slice(0, at)}|${text.slice(at)}`
}

/** A `like` between the label of the `n`th opening and its brace. */
function likeIn(text: string, n: number, like: string): string | undefined {
  const ends = [...text.matchAll(/^opening "[^"]*"(?= \{)/gm)].map(m => m.index + m[0].length)
  const at = ends[n % ends.length]
  return at === undefined ? undefined : text.slice(0, at) + like + text.slice(at)
}

/** The cursor between the `n`th number that has a unit and that unit. */
function unitIn(text: string, n: number): string | undefined {
  const units = [...text.matchAll(/(?<=[^\w][\d/.]+ ?)[a-z]+(?=[ ;\n])/g)].map(m => m.index)
  const at = units[n % units.length]
  return at === undefined ? undefined : `${text.slice(0, at)}|${text.slice(at)}`
}

const pick = <T>(list: readonly T[], n: number): T => list[n % list.length]!
const WORDS = [
  ...new Set([
    ...allBlocks.flatMap(b => [b.name, ...b.fields.keys(), ...b.blocks.keys()]),
    ...Object.keys(TRADE_WORDS),
    ...['let', 'require', 'allow', 'use', 'limits', 'xyz'],
  ]),
]
const halfOf = (word: string, n: number): string => word.slice(0, 1 + (n % word.length))
const PATHS = ['drum', 'curtain', 'curtain.slat', 'rails', 'long', 'spring', 'adjuster', 'operator', 'balance', 'limits', 'nothing'] // biome-ignore format: a list
const NUMBERS = ['12', '12 ', '12f', '12 f', '12ft ', '12ft 4', '12ft 4 ', '12ft 4 1/2', '3 1/2', '1/2', '1/2 ', '20/', '20 p', '.5', '0', '1', '1.5 l', '320 lbf*in/', "12'", "12' 4"] // biome-ignore format: a list
const OPERATIONS = [' -|', ' width + |', ' 2 * |', ' (|)', ' max(1in, |)', ' not |', ' width < |', ' [|]', ' [1in, |]']
const LIKES = ['opening "New" like |', 'opening "New" like | {\n}', 'opening "New" like "|', 'opening "New" like "Do|"', 'opening "New" like "Do| {\n}', 'spring long like |', 'spring like |{ }', 'operator like |', 'operator like ha|nd { }', 'slat new_1 like |', 'slat new_3 like fl| { }', 'pipe new_2 like | { }'] // biome-ignore format: a list
const USES = ['use |', 'use "|', 'use "|"', 'use "st|', 'use "st|"', 'use "stock/|house.door"']
const ALLOWS = ['allow |', 'allow head|', 'allow headroom |', 'allow headroom bec|', 'allow | because "x"']
const HEADERS = ['opening "New" |', 'opening "New" |{\n}', 'opening "New" l|', 'spring long |', 'spring |{ }', 'operator |', 'slat new_4 |', 'rails |', 'job "1" |'] // biome-ignore format: a list
const REQUIRES = ['require |', 'require width < |', 'require width <= height and |', 'require headroom >= 2|', 'require width < height |', 'require (|)', 'let z = |', 'let z = 2|', 'let z = width + |', 'let z = drum.|'] // biome-ignore format: a list

/** What somebody does before asking: each with a number for where, and one for what. */
export const ASKED: Readonly<Record<string, (text: string, where: number, what: number) => string | undefined>> = {
  'at a line start': (t, n) => newLine(t, n, '|'),
  'after a half-typed word': (t, n, m) => newLine(t, n, `${halfOf(pick(WORDS, m), m >> 8)}|`),
  'within a word': inWord,
  'after =': (t, n, m) => newValue(t, n, pick([' |', '|', ' | '], m)),
  'after = and a half-typed word': (t, n, m) => newValue(t, n, ` ${halfOf(pick(WORDS, m), m >> 8)}|`),
  'in an expression': (t, n, m) => newValue(t, n, pick(OPERATIONS, m)),
  'before a unit': unitIn,
  'after a number': (t, n, m) => newValue(t, n, ` ${pick(NUMBERS, m)}|`),
  'after a value': (t, n, m) => newValue(t, n, pick([' 12ft |', ' width |', ' 12ft bec|', ' (1in + 2in) |'], m)),
  'after a dot': (t, n, m) => newValue(t, n, ` ${pick(PATHS, m)}.${pick(['', 'co', 'pi', 'x'], m >> 4)}|`),
  'in a requirement': (t, n, m) => newLine(t, n, pick(REQUIRES, m)),
  'after like': (t, n, m) => newLine(t, n, pick(LIKES, m), d => d === (/^(spr|oper)/.test(pick(LIKES, m)) ? 1 : 0)),
  'after like in a header that is there': (t, n, m) => likeIn(t, n, pick([' like |', ' like "|"', ' like "Do|"'], m)),
  'after use': (t, n, m) => newLine(t, n, pick(USES, m), d => d === 0),
  'after allow': (t, n, m) => newLine(t, n, pick(ALLOWS, m), d => d > 0),
  'after a header': (t, n, m) =>
    newLine(t, n, pick(HEADERS, m), d => d === (/^(spr|oper|rails)/.test(pick(HEADERS, m)) ? 1 : 0)),
}

/** A place in a piece of a text, or none where the piece has none of the kind. */
export function placeIn(base: string, asked: string, where: number, what: number): Place | undefined {
  const marked = ASKED[asked]!(base, where, what)
  return marked?.includes('|') ? placeOf(base, marked, asked) : undefined
}

/** @param marked the text with `|` where the cursor stands */
export function placeOf(base: string, marked: string, how: string): Place {
  const cursor = marked.indexOf('|')
  const text = marked.replace('|', '')
  const line = text.slice(text.lastIndexOf('\n', cursor - 1) + 1).split('\n')[0]!
  const faults = syntaxFaults(base)
  // no name that is chosen gives a header its braces, and none mends what is broken around it
  const unfinished = faults > 0 || (HEADER.test(line) && !line.includes('{'))
  return { how, text, cursor, faults: unfinished ? Math.max(faults, syntaxFaults(text)) : faults }
}

const HEADER = /^\s*(job|opening|spring|slat|pipe|operator|rails)\b/
const syntaxFaults = (text: string): number => parseSource(text).chunks.reduce((n, c) => n + c.findings.length, 0)

// ---- what an editor makes of it

/** A tab stop of a snippet: where it stands in the text, and what it holds until something is typed. */
export interface Stop {
  readonly start: number
  readonly end: number
  readonly text: string
}

/**
 * A snippet as an editor writes it: line ends indented like the line it begins in, two blanks for a tab, each stop with
 * what it holds at first. Reads the notation of the protocol (3.17, "Snippet Syntax") by itself.
 */
export function expand(snippet: string, indent: string): { readonly text: string; readonly stops: readonly Stop[] } {
  let text = ''
  const stops: Stop[] = []
  const put = (char: string): void => void (text += char === '\n' ? `\n${indent}` : char === '\t' ? '  ' : char)
  for (let i = 0; i < snippet.length; ) {
    const rest = snippet.slice(i)
    const plain = /^\$(\d+)|^\$\{(\d+)\}/.exec(rest)
    const choice = /^\$\{\d+\|((?:\\.|[^\\,|])*)(?:,(?:\\.|[^\\|])*)?\|\}/.exec(rest)
    const held = /^\$\{\d+:((?:\\.|[^\\}$])*)\}/.exec(rest)
    const found = plain ?? choice ?? held
    if (found) {
      const start = text.length
      const inside = plain ? '' : found[1]!.replace(choice ? /\\([\\,|])/g : /\\([\\$}])/g, '$1')
      for (const char of inside) put(char)
      if (!/^\$\{?0/.test(found[0])) stops.push({ start, end: text.length, text: inside })
      i += found[0].length
    } else {
      const escaped = /^\\[\\$}]/.test(rest)
      if (!escaped && rest[0] === '$') throw new Error(`no snippet: ${snippet}`)
      put(escaped ? rest[1]! : rest[0]!)
      i += escaped ? 2 : 1
    }
  }
  return { text, stops }
}

/** A completion written into a text. */
export interface Taken {
  readonly text: string
  /** What was replaced, in the text before, and what stands there now. */
  readonly old: Span
  readonly put: Span
  /** The tab stops, in the text afterwards. */
  readonly stops: readonly Stop[]
  /** How many edits there are besides. */
  readonly elsewhere: number
}

/** @param snippets whether the editor knows tab stops */
export function take({ text, cursor }: Place, item: CompletionItem, snippets: boolean): Taken {
  const sent = toCompletionItem(item, { can: { snippets, triggerSuggest: snippets } } as Context)
  const { range, newText } = sent.textEdit as TextEdit
  const starts = lineStarts(text)
  const at = (p: Position): number => offsetAt(starts, { line: p.line, column: p.character }, text.length)
  const old: Span = [at(range.start), at(range.end)]
  const line = text.slice(text.lastIndexOf('\n', cursor - 1) + 1, cursor)
  const { text: put, stops } =
    sent.insertTextFormat === InsertTextFormat.Snippet
      ? expand(newText, line.match(/^[ \t]*/)![0])
      : { text: newText, stops: [] }
  return {
    text: text.slice(0, old[0]) + put + text.slice(old[1]),
    old,
    put: [old[0], old[0] + put.length],
    stops: stops.map(s => ({ ...s, start: s.start + old[0], end: s.end + old[0] })),
    elsewhere: sent.additionalTextEdits?.length ?? 0,
  }
}

// ---- what is wrong afterwards

/** What is wrong with a name; a value that does not suit its field is another matter, and syntax is counted. */
const OF_TEXT: ReadonlySet<string> = new Set(['unknown_name', 'unknown_field', 'unknown_unit', 'unknown_block', 'use_failed', 'use_outside', 'like_failed', 'derived_assigned', 'trade_word']) // biome-ignore format: a list

export interface Fault {
  readonly rule: string
  readonly message: string
  readonly start: number
  readonly end: number
}

export const faultsOf = (service: Service, file: string): Fault[] =>
  service.findings(file).map(f => ({
    rule: f.rule,
    message: f.message,
    start: service.offset(file, f.range.start),
    end: service.offset(file, f.range.end),
  }))

const touches = (f: Fault, [start, end]: Span): boolean => f.start <= end && start <= f.end
const isDuplicate = (f: Fault): boolean => f.rule === 'duplicate'
const isCircle = (f: Fault): boolean => f.rule === 'circle' && f.message.startsWith('A circle of `like`')
const said = (f: Fault): string => `${f.rule}: ${f.message}`
/** The lines of a text that have something in them, however deep. */
const linesOf = (text: string): string =>
  text
    .split('\n')
    .map(l => l.trim())
    .filter(l => l !== '')
    .join('\n')

/** Whether a person has to write something in this stop before anything is worked out from it. */
const isHole = (text: string, stop: Stop): boolean =>
  ['choose', 'how_many', 'rule'].includes(stop.text) || isUnset(text, stop)

/** Whether the stop is the value of a field that has no default: whatever stands there is no value yet. */
function isUnset(text: string, { start }: Stop): boolean {
  const name = /(\w+) = "?$/.exec(text.slice(0, start))?.[1] ?? ''
  const specs = allBlocks.flatMap(b => b.fields.get(name) ?? [])
  return specs.length > 0 && specs.every(s => s.byDefault === undefined)
}

/**
 * What a completion makes worse; nothing for a good one.
 * @param service has the completed text afterwards
 * @param had the faults of the text before
 */
export function judged(
  place: Place,
  service: Service,
  file: string,
  item: CompletionItem,
  had: readonly Fault[],
): string[] {
  const out: string[] = []
  const taken = take(place, item, true)
  const replaced = place.text.slice(...taken.old)
  if (taken.elsewhere > 0) out.push('it changes the text elsewhere too')
  const words = item.kind === 'opening' || item.kind === 'file' ? /[\r\n]/ : /\S\s|[\r\n]/
  if (words.test(replaced) || taken.old[0] > place.cursor || taken.old[1] < place.cursor)
    out.push(`it replaces ${JSON.stringify(replaced)}, which is not what stands at the cursor`)
  if (linesOf(taken.text) !== linesOf(take(place, item, false).text)) out.push('it is another text without tab stops')

  service.edit(file, [{ range: item.range, text: taken.text.slice(...taken.put) }])
  if (service.text(file) !== taken.text) out.push('the text around it has changed')
  const { chunks } = parseSource(taken.text)
  if (JSON.stringify(service.source(file)!.chunks) !== JSON.stringify(chunks)) out.push('the chunks are stale')
  const has = faultsOf(service, file)

  const syntax = chunks.flatMap(c => c.findings.map(f => f.message))
  // `like ` waits for a name
  if (syntax.length > place.faults + (item.retrigger ? 1 : 0))
    out.push(`${syntax.length} syntax faults instead of ${place.faults}: ${syntax.join(' / ')}`)
  // these two may be told of another block than the one that was written; a name that was typed is nobody else's fault
  const begins = /(^|\n)[ \t]*$/.test(place.text.slice(0, taken.old[0]))
  for (const is of begins ? [isCircle, isDuplicate] : [isCircle])
    if (has.filter(is).length > had.filter(is).length) out.push(said(has.findLast(is)!))

  const holes = taken.stops.filter(s => s.text === '' || isHole(taken.text, s))
  // of what is copied from nowhere, and of a block that stands there already, nothing more is said
  const broken = had.some(f => f.rule === 'like_failed' || isDuplicate(f))
  for (const h of broken ? [] : holes)
    if (h.text !== '' && !has.some(f => f.start >= h.start - 1 && f.end <= h.end + 1))
      out.push(`nothing is said of \`${h.text}\``)
  // a path stops at a block until its value is named
  const isPath = item.kind === 'block' && item.snippet === undefined
  const before = had.filter(f => touches(f, taken.old)).map(said)
  for (const f of has) {
    if (!OF_TEXT.has(f.rule) || !touches(f, taken.put) || isPath || before.includes(said(f))) continue
    // what is wrong in the opening that is copied is told here too
    if (taken.text.startsWith('like "', f.start) && f.rule !== 'like_failed') continue
    if (!holes.some(h => f.start >= h.start - 1 && f.end <= h.end + 1)) out.push(said(f))
  }
  return out
}
