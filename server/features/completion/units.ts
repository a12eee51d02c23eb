/** Units behind a number, each with what the number would come to. */

import { withUnit } from '../../model/index.ts'
import { type Dimension, parseUnit, resolveUnit, sameDimension, systemOf, UNITS, unitsFor } from '../../units/index.ts'
import { inBothSystems } from '../quantities.ts'
import type { Cursor } from './context.ts'
import { type Item, sortKey } from './item.ts'

const NUMBER = String.raw`(?:\d+[ -]\d+\/\d+|\d+\/\d+|\d*\.\d+|\d+)`
/** A number at the end of the text, with as much of a unit as has been typed. */
const BEHIND = new RegExp(
  String.raw`(?<![\w.])((?:${NUMBER} ?[A-Za-z'"%*·/^]+ ?)*)(${NUMBER})( ?)((?:\/|[A-Za-z%])[A-Za-z%*·/^2-4]*)?$`,
)

/** The unit of the part that comes next: of `ft` in `12ft 4in` the `in`. */
const NEXT = new RegExp(`^ ?${NUMBER} ?([A-Za-z]+)`)

export interface NumberBefore {
  /** All of it. */
  readonly text: string
  readonly number: string
  readonly space: string
  readonly unit: string
  /** The quantity that this one goes on from (`12ft ` in `12ft 4`). */
  readonly first: string
}

export function numberBefore(line: string): NumberBefore | undefined {
  const m = line.match(BEHIND)
  return m ? { text: m[0], first: m[1]!, number: m[2]!, space: m[3]!, unit: m[4] ?? '' } : undefined
}

const amount = (text: string): number => {
  const [whole, over, under] = text.match(/^(?:(\d+)[ -])?(\d+)\/(\d+)$/)?.slice(1) ?? []
  return under === undefined ? Number(text) : Number(whole ?? 0) + Number(over) / Number(under)
}

/** @param expected the dimensions that fit here; none where any does */
export function unitItems(c: Cursor, n: NumberBefore, expected: readonly Dimension[]): Item[] {
  const value = amount(n.number)
  const larger = n.first.trim() === '' ? undefined : lastUnit(n.first)
  const dimensions = larger ? [larger.dimension] : expected
  const names = dimensions.length > 0 ? dimensions.flatMap(unitsFor) : [...UNITS.keys()]
  const rest = c.at.chunk.text.slice(c.at.offset)
  const begun = n.unit !== '' || c.at.tokens.some(t => t.kind === 'unit' && t.start === c.at.offset)
  const end = c.at.offset + (begun ? rest.match(/^[A-Za-z%*·/^]*/)![0].length : 0)
  const next = c.at.chunk.text.slice(end).match(NEXT)?.[1]
  const smaller = next === undefined ? undefined : unitOf(next)
  const out: Item[] = []
  const system = c.at.evaluator?.system ?? 'imperial'
  const foreign = (name: string): boolean => ![system, 'both'].includes(systemOf(name) ?? system)
  for (const [i, name] of [...new Set(names)].entries()) {
    const unit = unitOf(name)
    if (name === '' || !unit || (larger && unit.factor >= larger.factor)) continue
    if (smaller && (unit.factor <= smaller.factor || !sameDimension(unit.dimension, smaller.dimension))) continue
    // `3 1/2` and `/day` would be read as something else
    if (name.startsWith('/') && n.number.includes('/')) continue
    const word = name === 'turns' && (value === 1 || /^\d+\/\d+$/.test(n.number)) ? 'turn' : name
    const text = withUnit(n.number, word)
    const detail = inBothSystems({ si: value * unit.factor, dimension: unit.dimension }, text)
    const insert = `${text.slice(n.number.length)}`
    out.push({
      label: word,
      kind: 'unit',
      detail: Number.isFinite(value) && detail ? detail : undefined,
      insert,
      sort: sortKey(foreign(name) ? 1 : 0, i),
      // the number stays as it is; a space between is written as the unit wants it
      filter: `${n.space}${word}`,
      span: { start: c.at.offset - n.unit.length - n.space.length, end },
      doc: `unit ${word}`,
    })
  }
  return out
}

function unitOf(text: string) {
  const factors = parseUnit(text)
  const unit = factors && resolveUnit(factors)
  return unit?.ok ? unit : undefined
}

/** The unit of the last part of `12ft 4in `, which the next one must be smaller than. */
function lastUnit(first: string) {
  const name = first.trim().match(/([A-Za-z'"%*·/^]+)$/)?.[1]
  return name === undefined ? undefined : unitOf(name === "'" ? 'ft' : name === '"' ? 'in' : name)
}
