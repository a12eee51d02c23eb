/**
 * The project file, `doorwright.json`: what a house sets for all of its jobs. Text in; what is in force and what is wrong
 * with the text out. Whoever has a disk finds the file.
 *
 * Its limits are handed on as a `limits { }` block of the language, each on the line that it stands on in the JSON. They
 * are so read, checked and explained like any other; only that every file is nearer than the house.
 */
import { findNodeAtLocation, getNodeValue, type Node, type ParseError, parseTree, printParseErrorCode } from 'jsonc-parser'
import { type Position, type Project, type Range, RULES, Service, type Severity, LIMITS, nearestNames } from './service.ts'
import { z } from 'zod'

export const CONFIG_NAME = 'doorwright.json'

/** Something in the file that is not in force, and why. Lines and columns count from 0. */
export interface ConfigProblem {
  readonly message: string
  readonly range: Range
}

/** A setting that is in force, and where it stands. */
export interface Setting {
  readonly name: string
  readonly text: string
  readonly because: string | undefined
  /** From 0. */
  readonly line: number
}

export interface Config extends Project {
  /** Folders or files, relative to the project file, that stock lives in: offered first where a `use` is written. */
  readonly stock: readonly string[]
  /** Patterns of files that a folder does not stand for. */
  readonly exclude: readonly string[]
  readonly maxWarnings: number | undefined
  readonly problems: readonly ConfigProblem[]
  readonly settings: readonly Setting[]
}

const quantity = z.union([z.string(), z.number()])
const value = z.union([quantity, z.tuple([quantity, quantity])])
const limit = z.union([value, z.strictObject({ value, because: z.string().optional() })])

/** Rules that nobody can accept away: a house cannot make them milder either. */
const firm = new Set(RULES.filter(r => r.severity === 'error' && (r.never || r.group === 'Language')).map(r => r.id))

export const configSchema = z
  .strictObject({
    $schema: z.string().optional(),
    stock: z.array(z.string()).optional().meta({ description: 'Folders or files that stock lives in, relative to this file: offered first where a `use` is written.' }),
    limits: z
      .strictObject(Object.fromEntries([...LIMITS].map(([name, l]) => [name, limit.optional().meta({ description: `${l.field.doc} Usual: ${usual(l.field.byDefault)} (${l.source}).`, examples: [l.field.example] })])))
      .optional()
      .meta({ description: 'Limits of the house, written as in the language: "0.02 in/ft". One that is looser than usual needs { "value": "0.05 in/ft", "because": "..." }. What a job or a file it uses says is nearer.' }),
    exclude: z.array(z.string().min(1)).optional().meta({ description: 'Patterns, relative to this file, of files that a folder on the command line does not stand for: "old/**".' }),
    severity: z
      .strictObject(Object.fromEntries(RULES.map(r => [r.id, (firm.has(r.id) ? z.literal('error') : z.enum(['error', 'warning', 'note', 'off'])).optional().meta({ description: r.what })])))
      .optional()
      .meta({ description: 'How severe a rule is here: error, warning, note or off.' }),
    max_warnings: z.int().gte(0).optional().meta({ description: 'More warnings than this are exit status 1 of `doorwright check`.' }),
  })
  .meta({ title: 'Doorwright project file' })

function usual(byDefault: (typeof LIMITS extends ReadonlyMap<string, infer L> ? L : never)['field']['byDefault']): string {
  return byDefault === undefined ? 'none until set' : 'text' in byDefault ? byDefault.text : byDefault.formula
}

/** @param file how the project file is called: its path, and what places in it are given by */
export function readConfig(text: string, file: string): Config {
  const problems: ConfigProblem[] = []
  const root = parse(text, problems)
  const at = (node: Node | undefined): Range => rangeOf(text, node?.offset ?? 0, (node?.offset ?? 0) + (node?.length ?? 0))
  const say = (node: Node | undefined, message: string): void => void problems.push({ message, range: at(node) })
  const empty: Config = { file, limits: '', severity: {}, stock: [], exclude: [], maxWarnings: undefined, problems, settings: [] }
  if (!root) return empty
  if (root.type !== 'object') {
    say(root, 'A project file is an object: { } holds no settings, { "limits": { } } those of the house.')
    return empty
  }
  twice(root, say)
  const bad = new Set<Node>()
  const parsed = configSchema.safeParse(getNodeValue(root))
  for (const issue of parsed.error?.issues ?? []) judge(issue, root, say, bad)
  const part = (name: string): Node | undefined => {
    const node = findNodeAtLocation(root, [name])
    return node && !bad.has(node) ? node : undefined
  }
  const texts = (name: string): string[] => (part(name)?.children ?? []).filter(n => !bad.has(n)).map(n => n.value as string)
  const severity: Record<string, Severity | 'off'> = {}
  for (const { key, node } of entries(part('severity'))) if (!bad.has(node) && RULES.some(r => r.id === key.value)) severity[key.value] = node.value
  const limits = readLimits(part('limits'), bad, text, file, say)
  const setting = (name: string, node: Node, shown = String(node.value), because?: string): Setting => ({ name, text: shown, because, line: at(node).start.line })
  const most = part('max_warnings')
  const config = { ...empty, limits: limits.text, severity, stock: texts('stock'), exclude: texts('exclude'), maxWarnings: most?.value as number | undefined }
  const settings = [
    ...limits.read.map(l => setting(`limits.${l.name}`, l.node, l.value, l.because)),
    ...entries(part('severity')).filter(e => e.key.value in severity).map(e => setting(`severity.${e.key.value}`, e.node)),
    ...['stock', 'exclude'].flatMap(name => (part(name) && texts(name).length > 0 ? [setting(name, part(name)!, texts(name).join(', '))] : [])),
    ...(most ? [setting('max_warnings', most)] : []),
  ]
  problems.sort((a, b) => a.range.start.line - b.range.start.line || a.range.start.character - b.range.start.character)
  return { ...config, settings }
}

type Say = (node: Node | undefined, message: string) => void

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
function parse(text: string, problems: ConfigProblem[]): Node | undefined {
  const errors: ParseError[] = []
  try {
    const root = text.trim() === '' ? undefined : parseTree(text, errors, { allowTrailingComma: true })
    for (const e of errors.slice(0, 5)) {
      const code = printParseErrorCode(e.error)
      problems.push({ message: SYNTAX[code] ?? `This is no JSON (${code}).`, range: rangeOf(text, e.offset, e.offset + e.length) })
    }
    return root
  } catch {
    problems.push({ message: 'This is nested too deeply to be read.', range: rangeOf(text, 0, 1) })
    return undefined
  }
}

function rangeOf(text: string, start: number, end: number): Range {
  const position = (offset: number): Position => {
    const before = text.slice(0, offset).split(/\r\n|\n|\r/)
    return { line: before.length - 1, character: before.at(-1)!.length }
  }
  return { start: position(start), end: position(end) }
}

function entries(object: Node | undefined): { key: Node; node: Node }[] {
  if (object?.type !== 'object') return []
  return (object.children ?? []).flatMap(p => (p.children?.[0] && p.children[1] ? [{ key: p.children[0], node: p.children[1] }] : []))
}

/** JSON keeps the last of two with one name without a word; here it is said. */
function twice(node: Node, say: Say): void {
  const seen = new Set<string>()
  for (const { key, node: inner } of entries(node)) {
    if (seen.has(key.value)) say(key, `"${key.value}" stands twice here. Remove one of them.`)
    seen.add(key.value)
    twice(inner, say)
  }
}

/** What the schema has against it, in words, at the place; the node is not in force. */
function judge(issue: z.core.$ZodIssue, root: Node, say: Say, bad: Set<Node>): void {
  const path = issue.path as (string | number)[]
  const node = findNodeAtLocation(root, path) ?? root
  if (issue.code === 'unrecognized_keys') {
    for (const name of issue.keys) {
      const entry = entries(node).find(e => e.key.value === name)
      if (entry) bad.add(entry.node)
      say(entry?.key ?? node, unknownKey(name, path))
    }
    return
  }
  // one end of a list, or the reason, spoils the setting it is part of
  const of = path[0] === 'limits' && path.length > 2 ? findNodeAtLocation(root, path.slice(0, 2)) : node
  bad.add(of ?? node)
  say(node, wrongValue(path, node))
}

function unknownKey(name: string, path: readonly (string | number)[]): string {
  const [what, known] = path[0] === 'limits' && path.length === 1 ? ['limit', [...LIMITS.keys()]] : path[0] === 'severity' ? ['rule', RULES.map(r => r.id)] : path.length === 0 ? ['setting', Object.keys(configSchema.shape)] : ['setting', ['value', 'because']]
  const near = nearestNames(name, known)
  const offer = near.length > 0 ? `Did you mean ${near.map(n => `"${n}"`).join(' or ')}?` : what === 'setting' ? `There are: ${known.filter(k => k !== '$schema').join(', ')}.` : what === 'limit' ? 'They are named as in the `limits` of a job.' : '`doorwright rules` lists them all.'
  return `There is no ${what} "${name}" here. ${offer}`
}

function wrongValue(path: readonly (string | number)[], node: Node): string {
  const [part, name] = path
  if (part === 'severity' && name !== undefined) {
    const rule = RULES.find(r => r.id === name)
    if (rule && firm.has(rule.id) && ['warning', 'note', 'off'].includes(node.value)) return `"${name}" stays an error: ${rule.never ? 'it keeps people safe' : 'what is wrong there has to be put right'}. Remove this line.`
    return `How severe a rule is: ${rule && firm.has(rule.id) ? '"error"' : '"error", "warning", "note" or "off"'}.`
  }
  if (part === 'limits' && name !== undefined) {
    const example = LIMITS.get(String(name))?.field.example ?? ''
    const text = JSON.stringify(example.startsWith('[') ? example.slice(1, -1).split(', ') : example).replace(',', ', ')
    return `A limit is written as in the language, in quotes: "${name}": ${text}; or { "value": ${text}, "because": "..." }.`
  }
  if (part === 'max_warnings') return 'Expected a whole number, 0 or more.'
  if (part === 'stock' || part === 'exclude') return path.length > 1 ? 'Expected a path in quotes.' : `Expected a list of paths: ["${part === 'stock' ? 'stock' : 'old/**'}"].`
  return part === '$schema' ? 'Expected an address in quotes.' : `Expected an object: { }.`
}

interface ReadLimit {
  readonly name: string
  readonly value: string
  /** The value as it stands in the file. */
  readonly json: string
  readonly because: string | undefined
  readonly key: Node
  readonly node: Node
}

/** The limits as text of the language; what the language has against one is said, and it is left out. */
function readLimits(object: Node | undefined, bad: ReadonlySet<Node>, text: string, file: string, say: Say): { text: string; read: ReadLimit[] } {
  let read: ReadLimit[] = []
  for (const { key, node } of entries(object)) {
    if (bad.has(node) || !LIMITS.has(key.value) || read.some(r => r.name === key.value)) continue
    const given = getNodeValue(node) as unknown
    const { value: v, because } = given !== null && typeof given === 'object' && !Array.isArray(given) ? (given as { value: unknown; because?: string }) : { value: given }
    const texts = (Array.isArray(v) ? v : [v]).map(String)
    const value = Array.isArray(v) ? `[${texts.join(', ')}]` : texts[0]!
    // whatever could end the value and begin something else is no quantity
    if (texts.some(t => t.trim() === '' || /[\r\n;{}#"“”„]/.test(t) || /\bbecause\b/.test(t))) say(node, wrongValue(['limits', key.value], node))
    else read.push({ name: key.value, value, json: JSON.stringify(v).replace(/,/g, ', '), because, key, node })
  }
  for (let all = false; !all && read.length > 0; ) {
    const wrong = against(read, text, file)
    for (const [one, message] of wrong) say(one.node, message)
    all = wrong.size === 0
    read = read.filter(r => !wrong.has(r))
  }
  return { text: asBlock(read, text).text, read }
}

const quoted = (t: string): string => `"${t.replace(/[\\"]/g, '\\$&').replace(/\r\n|\n|\r/g, '\\n').replace(/\t/g, '\\t')}"`

/** Each limit on its line, from its own column on where there is room. */
function asBlock(read: readonly ReadLimit[], text: string): { text: string; ends: readonly Position[] } {
  const lines: string[] = []
  const ends: Position[] = []
  read.forEach((r, i) => {
    const { line, character } = rangeOf(text, r.key.offset + 1, r.key.offset + 1).start
    while (lines.length <= line) lines.push('')
    if (i === 0) lines[line] = 'limits {'
    else if (lines[line] !== '') lines[line] += ';'
    lines[line] = `${lines[line]!.padEnd(character - 1)} ${r.name} = ${r.value}${r.because === undefined ? '' : ` because ${quoted(r.because)}`}`
    ends.push({ line, character: lines[line]!.length })
  })
  return { text: read.length > 0 ? `${lines.join('\n')}\n}\n` : '', ends }
}

/** What the language finds wrong, by limit. */
function against(read: readonly ReadLimit[], text: string, file: string): Map<ReadLimit, string> {
  const service = new Service({ read: () => undefined, resolve: () => ({ ok: false, outside: true, message: 'A project file uses no other.' }) })
  const block = asBlock(read, text)
  service.open(file, block.text)
  const out = new Map<ReadLimit, string>()
  for (const f of service.findings(file)) {
    const { line, character } = f.range.start
    const i = block.ends.findIndex(e => line < e.line || (line === e.line && character <= e.character))
    const one = read[i] ?? read.at(-1)!
    if (out.has(one)) continue
    out.set(one, f.rule === 'limit_loosened' ? f.message.replace(/ Write why after .*$/, ` Write { "value": ${one.json}, "because": "..." } with the reason, or keep to what is usual.`) : f.message)
  }
  return out
}
