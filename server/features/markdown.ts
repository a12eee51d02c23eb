/** What hovers, hint tooltips and completion say about the language and its values, as Markdown. */

import {
  aDimension,
  type BlockSpec,
  CAUTIONS,
  type Caution,
  type DerivedSpec,
  type Door,
  dimensionOfEntry,
  type FieldSpec,
  type Takes,
} from '../model/index.ts'
import { DIMENSION, showQuantity } from '../units/index.ts'
import { type Explanation, explain } from './values.ts'

export const code = (text: string): string => (text.includes('`') ? `\`\` ${text} \`\`` : `\`${text}\``)

/** Text from the file that must not be read as Markdown. */
export const plain = (text: string): string => text.replace(/[\\`*_{}[\]<>#|]/g, '\\$&')

export const paragraphs = (...parts: readonly (string | undefined | false)[]): string =>
  parts.filter(p => p).join('\n\n')

export const cautionNote = (c: Caution | undefined): string | undefined =>
  c && `**${CAUTIONS[c].title}.** ${CAUTIONS[c].short}`

/** What a field takes, in a few words: `length`, `face or between`, `a slat from the stock`. */
export function takesText(takes: Takes): string {
  switch (takes.kind) {
    case 'quantity':
      return takes.dimensions.map(d => aDimension(DIMENSION[d])).join(' or ')
    case 'range':
      return `two values of ${aDimension(DIMENSION[takes.dimension])}`
    case 'word':
      return Object.keys(takes.words)
        .join(', ')
        .replace(/, ([^,]*)$/, ' or $1')
    case 'stock':
      return `a ${takes.block} from the stock`
    case 'date':
      return 'a date in quotes'
    case 'text':
      return 'a text in quotes'
    case 'truth':
      return 'true or false'
    case 'tick':
      return 'a count, or true or false'
  }
}

export function defaultText(spec: FieldSpec): string | undefined {
  if (spec.derived) return `worked out where it is not written: ${code(spec.derived.formula)}`
  if (!spec.byDefault) return undefined
  return 'compute' in spec.byDefault
    ? `default ${code(spec.byDefault.formula)}`
    : `default ${code(spec.byDefault.text)}`
}

export function fieldDoc(spec: FieldSpec): string {
  const words =
    spec.takes.kind === 'word'
      ? Object.entries(spec.takes.words)
          .map(([w, doc]) => `- ${code(w)}: ${doc}`)
          .join('\n')
      : undefined
  const facts = [`takes ${takesText(spec.takes)}`, spec.required && 'required', defaultText(spec)]
    .filter(f => f)
    .join('; ')
  return paragraphs(
    spec.doc,
    `${facts[0]!.toUpperCase()}${facts.slice(1)}. Example: ${code(`${spec.name} = ${spec.example}`)}`,
    words,
  )
}

export function derivedDoc(spec: DerivedSpec): string {
  const words =
    spec.words &&
    Object.entries(spec.words)
      .map(([w, doc]) => `- ${code(w)}: ${doc}`)
      .join('\n')
  return paragraphs(
    spec.doc,
    `Derived (${spec.words ? 'one of a few words' : aDimension(DIMENSION[spec.dimension])}): ${code(spec.formula)}`,
    words,
    `Source: ${spec.source}`,
    cautionNote(spec.caution),
  )
}

export function blockDoc(spec: BlockSpec): string {
  const fields = [...spec.fields.values()]
  const list = (of: readonly { name: string }[]): string => of.map(f => code(f.name)).join(', ')
  const required = fields.filter(f => f.required)
  return paragraphs(
    spec.doc,
    required.length > 0 && `Needs ${list(required)}.`,
    required.length < fields.length && spec.name !== 'limits' && `May have ${list(fields.filter(f => !f.required))}.`,
    spec.derived.size > 0 && `Derived: ${list([...spec.derived.values()])}.`,
  )
}

const ORIGIN = { written: 'written', derived: 'derived', default: 'default', stock: 'from the stock' } as const

/** A value and how it came about: formula, the numbers put in, source. */
export function derivation(e: Explanation, other?: string): string {
  const value =
    e.text === undefined
      ? `not known${e.missing.length ? `: ${e.missing.map(code).join(', ')} missing` : ''}`
      : `**${plain(e.text)}**${other ? ` (${other})` : ''}`
  return paragraphs(
    `${code(e.path)} = ${value}${e.origin ? `, ${ORIGIN[e.origin]}` : ''}`,
    e.because !== undefined && `Because: ${plain(e.because)}`,
    e.formula && `Formula: ${code(e.formula)}`,
    e.inputs.length > 0 && `With\n${e.inputs.map(i => `- ${code(i.path)} = ${plain(i.text)}`).join('\n')}`,
    e.source && `Source: ${e.source}`,
  )
}

/** The derivation of a value of a door by path. */
export function derivationOf(door: Door, path: string): string | undefined {
  const e = explain(door, path)
  return e && derivation(e, otherText(door, path))
}

/** The same with what the value is, and the caution that goes with it. */
export function explainPath(door: Door, path: string): string | undefined {
  return explainPaths(door, [path])
}

/** Several values; a caution that goes with more than one of them is given once. */
export function explainPaths(door: Door, paths: readonly string[]): string | undefined {
  const all = paths.flatMap(p => explain(door, p) ?? [])
  if (all.length === 0) return undefined
  const cautions = new Set(all.map(e => e.caution))
  return paragraphs(
    all.map(e => paragraphs(derivation(e, otherText(door, e.path)), e.doc)).join('\n\n---\n\n'),
    ...cautions,
  )
}

/** A value in the other system, where it reads differently there. */
export function otherText(door: Door, path: string): string | undefined {
  const entry = door.entry(path)
  const r = door.result(path)
  if (!entry || r.state === 'unknown' || r.value.kind !== 'number' || !dimensionOfEntry(entry.spec)) return undefined
  const unit = entry.spec.shown?.[door.system === 'imperial' ? 1 : 0]
  const text = showQuantity(r.value.si, r.value.dimension, {
    system: door.system === 'imperial' ? 'metric' : 'imperial',
    unit,
  }).text
  return text === door.show(path) ? undefined : text
}
