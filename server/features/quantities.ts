/** Quantities as they are written in a file: what they come to, and how they look in the other system. */
import type { Part, Quantity } from '../../grammar/index.ts'
import {
  combineParts,
  convert,
  DIMENSION,
  type Dimension,
  resolveUnit,
  type System,
  sameDimension,
  showQuantity,
  systemOf,
} from '../units/index.ts'

export interface Amount {
  readonly si: number
  readonly dimension: Dimension
}

/** Undefined where it has no value: an unknown unit, a fraction over zero, parts that do not go together. */
export function amountOf(q: Quantity): Amount | undefined {
  const parts = q.parts.map(amountOfPart)
  if (parts.some(p => p === undefined)) return undefined
  const sum = combineParts(parts.map(p => p!))
  return sum.ok && Number.isFinite(sum.si) ? sum : undefined
}

function amountOfPart(p: Part) {
  const unit = resolveUnit(p.unit?.factors ?? [])
  return unit.ok && !Number.isNaN(p.number.value)
    ? { value: p.number.value, factor: unit.factor, dimension: unit.dimension }
    : undefined
}

/** The system a quantity is written in; undefined for a plain number, and for units that both systems have. */
export function systemOfQuantity(q: Quantity): System | undefined {
  for (const { unit } of q.parts)
    for (const f of unit?.factors ?? []) {
      const system = systemOf(f.name)
      if (system !== undefined && system !== 'both') return system
    }
  return undefined
}

export const otherSystem = (s: System): System => (s === 'imperial' ? 'metric' : 'imperial')

/** `= 1 ft = 304.8 mm`, for reading: in both systems, and once where they agree. */
export function inBothSystems({ si, dimension }: Amount, not = ''): string {
  const shown = (['imperial', 'metric'] as const).map(system => showQuantity(si, dimension, { system }).text)
  if (sameDimension(dimension, DIMENSION.angle))
    shown.push(showQuantity(si, dimension, { system: 'metric', unit: 'deg' }).text)
  return [...new Set(shown)]
    .filter(s => s.replaceAll(' ', '') !== not.replaceAll(' ', ''))
    .map(s => `= ${s}`)
    .join(' ')
}

/** A quantity in the other system, as text of the language: exact, and a length also to the nearest 1/16 in or 1 mm. */
export function conversions(
  q: Quantity,
): { readonly text: string; readonly exact: boolean; readonly to: System; readonly off: number }[] {
  const amount = amountOf(q)
  const from = systemOfQuantity(q)
  if (!amount || !from) return []
  const to = otherSystem(from)
  const out: { text: string; exact: boolean; to: System; off: number }[] = []
  const exact = convert(amount.si, amount.dimension, to)
  if (exact !== undefined && exact.length <= 24) out.push({ text: exact, exact: true, to, off: 0 })
  if (sameDimension(amount.dimension, DIMENSION.length) && amount.si > 0) {
    const step = to === 'imperial' ? 0.0254 / 16 : 0.001
    const near = Math.round(amount.si / step) * step
    const text =
      to === 'imperial'
        ? convert(amount.si, amount.dimension, to, { denominator: 16 })
        : convert(near, amount.dimension, to)
    if (text !== undefined && text !== exact && near > 0) out.push({ text, exact: false, to, off: near - amount.si })
  }
  return out
}
