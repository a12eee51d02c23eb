/** The values of an opening as plain data, and how each came about. */

import {
  CAUTIONS,
  type Door,
  type Entry,
  type Known,
  type Origin,
  showAs,
  shownUnit,
  type Value,
} from '../model/index.ts'
import { showQuantity } from '../units/index.ts'

/** One value of an opening. `si` is in SI base units (m, kg, s, rad, N, Pa, W); words, texts and truths have none. */
export interface ShownValue {
  readonly path: string
  readonly si: number | undefined
  readonly unit: string
  readonly value: number | string | boolean | readonly number[]
  readonly text: string
  readonly origin: Origin
  readonly bound: 'more' | 'less' | undefined
}

/** Every known value of an opening, in the order of the vocabulary; what is unknown is left out. */
export function values(door: Door): ShownValue[] {
  const out: ShownValue[] = []
  for (const entry of door.entries()) {
    const r = door.evaluator.field(entry.instance, entry.spec.name)
    if (r.state === 'known') out.push(shown(entry, r, door.system))
  }
  return out
}

function shown(entry: Entry, r: Known, system: 'imperial' | 'metric'): ShownValue {
  const base = { path: entry.path, text: showAs(r, entry.spec.shown, system), origin: r.origin, bound: undefined }
  const v = r.value
  if (v.kind === 'number') {
    const q = showQuantity(v.si, v.dimension, { system, unit: shownUnit(entry.spec.shown, system) })
    return { ...base, si: v.si, unit: q.unit, value: q.value, bound: v.bound }
  }
  return { ...base, si: undefined, unit: '', value: plain(v) }
}

const plain = (v: Value): string | boolean | readonly number[] =>
  v.kind === 'text'
    ? v.text
    : v.kind === 'word'
      ? v.word
      : v.kind === 'truth'
        ? v.truth
        : v.kind === 'list'
          ? v.items.map(i => (i.kind === 'number' ? i.si : 0))
          : []

/** The fields that are missing: those the opening needs, and those that a derived value of a written block waits for. */
export function missing(door: Door): string[] {
  const out = new Set(door.missing())
  for (const entry of door.entries()) {
    if (!entry.derivedOnly || !(entry.instance.written || entry.instance.spec.name === 'balance')) continue
    const r = door.evaluator.field(entry.instance, entry.spec.name)
    if (r.state === 'unknown') for (const m of r.missing) out.add(m)
  }
  return [...out]
}

export interface Explanation {
  readonly path: string
  readonly doc: string
  /** The value in words, or undefined where it is not known. */
  readonly text: string | undefined
  readonly origin: Origin | undefined
  readonly formula: string | undefined
  readonly source: string | undefined
  /** The numbers put in. */
  readonly inputs: readonly { readonly path: string; readonly text: string }[]
  readonly missing: readonly string[]
  readonly because: string | undefined
  readonly caution: string | undefined
}

/** How a value came about: formula, numbers put in, source. Undefined where the path leads nowhere. */
export function explain(door: Door, path: string): Explanation | undefined {
  const entry = door.entry(path)
  if (!entry) return undefined
  const { spec, instance } = entry
  const r = door.evaluator.field(instance, spec.name)
  const source = instance.fields.get(spec.name)
  const derivation =
    !source &&
    ('compute' in spec
      ? spec
      : (spec.derived ?? (spec.byDefault && 'compute' in spec.byDefault ? spec.byDefault : undefined)))
  const inputs: { path: string; text: string }[] = []
  if (derivation)
    for (const read of Object.values(derivation.reads)) {
      const full = read.path.includes('.') ? read.path : `${instance.path}.${read.path}`
      const paths = read.each
        ? door.springs.map((_, i) => `spring[${i}].${read.path.slice(read.path.indexOf('.') + 1)}`)
        : [full]
      for (const p of paths) {
        const value = p.startsWith('job.') ? undefined : door.result(p)
        if (value?.state === 'known') inputs.push({ path: p, text: door.show(p) })
        else if (!read.optional) inputs.push({ path: p, text: 'not known' })
      }
    }
  return {
    path: entry.path,
    doc: spec.doc,
    text: r.state === 'known' ? showAs(r, spec.shown, door.system) : undefined,
    origin: r.state === 'known' ? r.origin : undefined,
    formula: derivation ? derivation.formula : undefined,
    source: derivation ? derivation.source : undefined,
    inputs,
    missing: r.state === 'unknown' ? r.missing : [],
    because: source?.node?.because?.text?.value,
    caution: spec.caution && CAUTIONS[spec.caution].short,
  }
}
