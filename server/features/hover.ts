/** What a person sees who rests on a word: what it is, what it comes to here, where that comes from. */
import type { Block, Call, Field, Label, Let, Node, Path, Quantity, Span, Word } from '../../grammar/index.ts'
import {
  type Door,
  type Evaluator,
  type Files,
  FUNCTIONS,
  type Instance,
  labelOf,
  plainName,
  showAs,
  standardPipe,
  type Target,
  TRADE_WORDS,
  topBlock,
} from '../model/index.ts'
import { describeDimension, dimensionName, resolveUnit, UNITS } from '../units/index.ts'
import { type At, inside, scopeOf, textOf, tokenAt } from './at.ts'
import {
  blockDoc,
  cautionNote,
  code,
  derivationOf,
  derivedDoc,
  explainPath,
  fieldDoc,
  paragraphs,
  plain,
} from './markdown.ts'
import { amountOf, inBothSystems } from './quantities.ts'
import { type Rules, ruleDoc } from './rule_info.ts'
import { blockAtPath } from './scope.ts'
import { KEYWORDS } from './words.ts'

export interface Hover {
  readonly markdown: string
  readonly span: Span
}

export interface HoverWorld {
  readonly rules: Rules
  readonly files: Files
}

export function hover(a: At, world: HoverWorld): Hover | undefined {
  if (inside(a, 'comment')) return undefined
  const token = tokenAt(a)
  if (token?.kind === 'keyword') {
    const doc = KEYWORDS[textOf(a, token)]
    return doc === undefined ? undefined : { markdown: paragraphs(code(textOf(a, token)), doc), span: token }
  }
  const node = a.nodes.at(-1)
  if (!node) return undefined
  switch (node.kind) {
    case 'block':
      return block(a, node, world)
    case 'field':
      return holds(node.name, a) ? fieldName(a, node) : because(a, node.because)
    case 'let':
      return node.name && holds(node.name, a) ? letName(a, node) : undefined
    case 'allow': {
      const rule = node.rule && holds(node.rule, a) ? world.rules.get(node.rule.text) : undefined
      return rule && { markdown: ruleDoc(rule), span: node.rule! }
    }
    case 'use':
      return node.path && holds(node.path, a) ? used(a, node.path, world) : undefined
    case 'quantity':
      return quantity(a, node)
    case 'path':
      return path(a, node, world)
    case 'call':
      return holds(node.name, a) ? func(node) : undefined
    default:
      return undefined
  }
}

const holds = (span: Span, a: At): boolean => span.start <= a.offset && a.offset <= span.end

function because(a: At, span: Span | undefined): Hover | undefined {
  return span && holds(span, a) ? { markdown: KEYWORDS.because!, span } : undefined
}

// ---- blocks

function block(a: At, node: Block, world: HoverWorld): Hover | undefined {
  const like = node.like?.target
  if (like && holds(like, a)) return likeTarget(a, node, like, world)
  const span = holds(node.name, a) ? node.name : node.label && holds(node.label, a) ? node.label : undefined
  const name = plainName(node.name.text)
  // the header stands outside of its own braces, so what is around it is the parent
  const parent = a.blocks.at(-1) === node ? undefined : a.spec
  const spec = a.blocks.length === 0 ? topBlock(name) : parent?.blocks.get(name)
  if (!span || !spec) return undefined
  const own = ownInstance(a, node)
  const trade =
    name !== node.name.text
      ? `${code(node.name.text)} is a word of the trade; the language's is ${code(name)}.`
      : undefined
  return {
    markdown: paragraphs(
      `**${title(node)}**`,
      trade,
      node.doc && plain(node.doc),
      blockDoc(spec),
      own && valuesTable(own.instance, own.evaluator),
    ),
    span,
  }
}

const title = (node: Block): string =>
  plain(`${plainName(node.name.text)}${labelOf(node) === undefined ? '' : ` ${labelOf(node)}`}`)

function ownInstance(a: At, node: Block): { instance: Instance; evaluator: Evaluator } | undefined {
  const evaluator = a.evaluator
  const top = a.roots.find(r => r.node === node)
  if (top) return top
  const found = a.instance?.blocks.find(b => b.written?.node === node)
  return found && evaluator && { instance: found, evaluator }
}

/** The derived values of a block that are known, as a table. */
function valuesTable(at: Instance, evaluator: Evaluator): string | undefined {
  const rows: string[] = []
  const given = [...at.spec.fields.values()].filter(f => f.derived)
  for (const spec of [...given, ...at.spec.derived.values()]) {
    const r = evaluator.field(at, spec.name)
    if (r.state === 'known') rows.push(`| ${code(spec.name)} | ${plain(showAs(r, spec.shown, evaluator.system))} |`)
  }
  return rows.length > 0 ? `| derived | |\n|---|---|\n${rows.join('\n')}` : undefined
}

function likeTarget(a: At, node: Block, label: Label, world: HoverWorld): Hover | undefined {
  const markdown = stockText(
    plainName(node.name.text),
    label.kind === 'text' ? label.value : label.text,
    a.file,
    world.files,
  )
  return markdown === undefined ? undefined : { markdown, span: label }
}

/** A stock item or opening as it is written, with its description and file. */
function source(node: Block, text: string, file: string, here: string): string {
  const lines = text.slice(node.start, node.end).split(/\r\n|\n|\r/)
  const shown = lines.length > 24 ? [...lines.slice(0, 24), '  ...'] : lines
  return paragraphs(
    node.doc && plain(node.doc),
    `\`\`\`doorwright\n${shown.join('\n')}\n\`\`\``,
    file !== here && `in ${code(fileName(file))}`,
  )
}

const fileName = (file: string): string => file.slice(file.lastIndexOf('/') + 1)

function used(a: At, path: Span & { value: string }, world: HoverWorld): Hover {
  const target = world.files.target(a.file, path.value)
  if (!target.ok) return { markdown: plain(target.message), span: path }
  const index = world.files.get(target.file)
  if (!index) return { markdown: `There is no file ${code(path.value)} beside this one.`, span: path }
  const names = [...index.named.values()].flatMap(i =>
    i.node.kind === 'block' && i.node.label ? [`- ${plainName(i.node.name.text)} ${code(labelOf(i.node) ?? '')}`] : [],
  )
  const more = names.length > 30 ? [...names.slice(0, 30), `- and ${names.length - 30} more`] : names
  return {
    markdown: paragraphs(
      `${code(path.value)} brings`,
      more.join('\n') || 'nothing that has a name',
      index.limits.length > 0 && 'and its limits',
    ),
    span: path,
  }
}

// ---- fields and names

function fieldName(a: At, node: Field): Hover | undefined {
  const name = plainName(node.name.text)
  const trade =
    name !== node.name.text && Object.hasOwn(TRADE_WORDS, node.name.text)
      ? `${code(node.name.text)} is a word of the trade; the language's is ${code(name)}.`
      : undefined
  const spec = a.spec?.fields.get(name)
  const derived = a.spec?.derived.get(name)
  if (spec) {
    const value =
      a.instance && a.evaluator ? targetText({ kind: 'field', instance: a.instance, spec }, a, false) : undefined
    return { markdown: paragraphs(trade, value, fieldDoc(spec), cautionNote(spec.caution)), span: node.name }
  }
  return derived && { markdown: paragraphs(code(name), derivedDoc(derived)), span: node.name }
}

function letName(a: At, node: Let): Hover | undefined {
  const target = a.evaluator?.target([node.name!.text], scopeOf(a))
  return target && a.evaluator && { markdown: letText(node, target, a.evaluator), span: node.name! }
}

function letText(node: Let, target: Target, evaluator: Evaluator): string {
  const r = evaluator.quietly(() => evaluator.value(target))
  const value = r.state === 'known' ? `**${plain(showAs(r, undefined, evaluator.system))}**` : 'not known'
  return paragraphs(`${code(`let ${node.name!.text}`)} = ${value}`, 'A name for a value, in the block it stands in.')
}

/** A field or derived value where it stands: its derivation, and where a copied one comes from. */
function targetText(target: Target, a: At, doc = true): string | undefined {
  const evaluator = a.evaluator
  if (!evaluator) return undefined
  if (target.kind === 'let') return letText(target.written.node, target, evaluator)
  const { instance, spec } = target
  const home = instance.fields.get(spec.name)?.home
  const copied =
    home?.via &&
    `From ${code(home.via.chunk.text.slice(home.via.start, home.via.end))}${home.file === a.file ? '' : `, in ${code(fileName(home.file))}`}`
  const door = a.door && leads(a.door, instance) ? a.door : undefined
  const path = `${instance.path}.${spec.name}`
  if (door) return paragraphs(doc ? explainPath(door, path) : derivationOf(door, path), copied)
  const r = evaluator.field(instance, spec.name)
  const value = r.state === 'known' ? `**${plain(showAs(r, spec.shown, evaluator.system))}**, ${r.origin}` : 'not known'
  return paragraphs(`${code(path)} = ${value}`, doc && spec.doc, copied)
}

const leads = (door: Door, instance: Instance): boolean => {
  let root = instance
  while (root.parent) root = root.parent
  return root === door.root
}

// ---- expressions

function path(a: At, node: Path, world: HoverWorld): Hover | undefined {
  const i = node.names.findIndex(n => holds(n, a))
  const name = node.names[i]
  if (!name) return undefined
  const takes = node.names.length === 1 && isWholeValue(a, node) ? a.field?.takes : undefined
  if (takes?.kind === 'word') {
    const doc = takes.words[name.text]
    return doc === undefined ? undefined : { markdown: `${code(name.text)}: ${doc}`, span: name }
  }
  if (takes?.kind === 'stock') return stock(a, takes.block, name, world)
  const evaluator = a.evaluator
  if (!evaluator) return undefined
  const names = node.names.slice(0, i + 1).map(n => n.text)
  const last = i === node.names.length - 1
  const target = last ? evaluator.target(names, scopeOf(a)) : undefined
  if (target) return { markdown: targetText(target, a) ?? '', span: { start: node.start, end: name.end } }
  const instance = blockAtPath(names, scopeOf(a), evaluator)
  return (
    instance && {
      markdown: paragraphs(`**${instance.path}**`, blockDoc(instance.spec), valuesTable(instance, evaluator)),
      span: name,
    }
  )
}

const isWholeValue = (a: At, node: Node): boolean => a.statement?.kind === 'field' && a.statement.value === node

function stock(a: At, kind: string, name: Word, world: HoverWorld): Hover | undefined {
  const markdown = stockText(kind, name.text, a.file, world.files)
  return markdown === undefined ? undefined : { markdown, span: name }
}

/** A stock item, opening or standard pipe, with what it brings. */
export function stockText(kind: string, name: string, file: string, files: Files): string | undefined {
  const item = files.item(file, `${kind} ${name}`)
  if (item?.node.kind === 'block') return source(item.node, item.chunk.text, item.file, file)
  const pipe = kind === 'pipe' ? standardPipe(name) : undefined
  if (!pipe) return undefined
  const fields = [...pipe].map(([field, v]) => `- ${code(field)} ${v.kind === 'number' ? inBothSystems(v) : ''}`)
  return paragraphs(`**${plain(name)}**, a standard pipe (ASME B36.10M)`, fields.join('\n'))
}

function func(node: Call): Hover | undefined {
  const f = FUNCTIONS.get(node.name.text)
  return f && { markdown: paragraphs(code(f.form), f.doc), span: node.name }
}

function quantity(a: At, node: Quantity): Hover | undefined {
  const part =
    node.parts.find(p => p.unit && p.unit.start < a.offset && a.offset <= p.unit.end) ??
    node.parts.find(p => p.unit && p.unit.start <= a.offset && a.offset < p.unit.end)
  const amount = amountOf(node)
  const both = amount && inBothSystems(amount, textOf(a, node))
  const value = both ? `${code(textOf(a, node))} ${plain(both)}` : undefined
  if (!part?.unit) return value ? { markdown: value, span: node } : undefined
  return { markdown: paragraphs(unitText(part.unit.text, part.unit.factors), value), span: part.unit }
}

/** A unit expression: what it is, and each of its units with its exact factor. */
export function unitText(text: string, factors: readonly { name: string; power: number }[]): string | undefined {
  const unit = resolveUnit(factors)
  if (!unit.ok) return undefined
  const single = factors.map(f => UNITS.get(f.name)).filter(u => u !== undefined)
  const name = dimensionName(unit.dimension) ?? describeDimension(unit.dimension)
  const both = factors.length > 1 ? inBothSystems({ si: unit.factor, dimension: unit.dimension }, text) : ''
  return paragraphs(
    `${code(text)}: ${name === 'count' ? 'a plain number' : name}${both ? `; one is ${plain(both.replace(/^= /, ''))}` : ''}`,
    single.map(u => `- ${code(u.name)} ${plain(u.doc)}`).join('\n'),
    'Factors: NIST SP 811',
  )
}
