/**
 * The project file, `doorwright.json`: what a house sets for all of its jobs. Text in; what is in force and what is wrong
 * with the text out. Whoever has a disk finds the file.
 *
 * Its limits are handed on as a `limits { }` block of the language, each on the line that it stands on in the JSON. They
 * are so read, checked and explained like any other; only that every file is nearer than the house.
 */

import { findNodeAtLocation, getNodeValue, type Node } from 'jsonc-parser'
import { type Project, type Range, RULES, type Severity } from '../service.ts'
import { type ConfigProblem, entries, parse, rangeOf, twice } from './json.ts'
import { judge } from './judge.ts'
import { readLimits } from './limits.ts'
import { configSchema } from './schema.ts'

export type { ConfigProblem } from './json.ts'
export { configSchema } from './schema.ts'

export const CONFIG_NAME = 'doorwright.json'

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

/** @param file how the project file is called: its path, and what places in it are given by */
export function readConfig(text: string, file: string): Config {
  const problems: ConfigProblem[] = []
  const root = parse(text, problems)
  const at = (node: Node | undefined): Range =>
    rangeOf(text, node?.offset ?? 0, (node?.offset ?? 0) + (node?.length ?? 0))
  const say = (node: Node | undefined, message: string): void => void problems.push({ message, range: at(node) })
  const empty: Config = {
    file,
    limits: '',
    severity: {},
    stock: [],
    exclude: [],
    maxWarnings: undefined,
    problems,
    settings: [],
  }
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
  const texts = (name: string): string[] =>
    (part(name)?.children ?? []).filter(n => !bad.has(n)).map(n => n.value as string)
  const severity: Record<string, Severity | 'off'> = {}
  for (const { key, node } of entries(part('severity')))
    if (!bad.has(node) && RULES.some(r => r.id === key.value)) severity[key.value] = node.value
  const limits = readLimits(part('limits'), bad, text, file, say)
  const setting = (name: string, node: Node, shown = String(node.value), because?: string): Setting => ({
    name,
    text: shown,
    because,
    line: at(node).start.line,
  })
  const most = part('max_warnings')
  const config = {
    ...empty,
    limits: limits.text,
    severity,
    stock: texts('stock'),
    exclude: texts('exclude'),
    maxWarnings: most?.value as number | undefined,
  }
  const settings = [
    ...limits.read.map(l => setting(`limits.${l.name}`, l.node, l.value, l.because)),
    ...entries(part('severity'))
      .filter(e => e.key.value in severity)
      .map(e => setting(`severity.${e.key.value}`, e.node)),
    ...['stock', 'exclude'].flatMap(name =>
      part(name) && texts(name).length > 0 ? [setting(name, part(name)!, texts(name).join(', '))] : [],
    ),
    ...(most ? [setting('max_warnings', most)] : []),
  ]
  problems.sort((a, b) => a.range.start.line - b.range.start.line || a.range.start.character - b.range.start.character)
  return { ...config, settings }
}
