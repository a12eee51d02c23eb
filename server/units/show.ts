import { defaultUnit } from './common.ts'
import { plainDecimal, roundForReading, withoutNoise } from './decimal.ts'
import { DIMENSION, type Dimension, sameDimension } from './dimension.ts'
import type { System } from './units.ts'
import { roundToFraction, targetOf } from './write.ts'

/** A quantity for a person: a hint, a hover, a sheet, a message. */
export interface Shown {
  /** In `unit`, not rounded. Not finite where the quantity is not. */
  readonly value: number
  /** Of feet and inches it is `ft`; a plain number has the empty text. */
  readonly unit: string
  /** Rounded, with a space before the unit: `12 ft 4 1/2 in`, `4.01 turns`, `20/day`. */
  readonly text: string
}

export interface ShowOptions {
  readonly system: System
  /** A unit expression such as `lbf*in`, `deg`, `%` or `ft+in`; one of another dimension is passed over. */
  readonly unit?: string
  /**
   * Significant digits in decimals, 1 to 15. If not given: 4 (5 for metres, which are for large lengths), and inches that
   * are a multiple of 1/64 as a fraction. Digits left of the decimal point are never rounded off.
   */
  readonly digits?: number
  /** Round to 1/fraction of the unit and show that: 16 for sixteenths of an inch, 8 for an adjuster of 8 holes. */
  readonly fraction?: number
}

/** Feet and inches are shown to the sixteenth of an inch, as a tape has it, unless something else is asked for. */
const TAPE = 16

const DIGITS = 4

/** Words that take an s; the other units are symbols. */
const COUNTED = new Set(['turn', 'day', 'week', 'month', 'year'])

/**
 * A quantity in short text for a person. Without a unit the system's usual one for its dimension and size; a length of a
 * foot or more in feet, inches and sixteenths, a shorter one as a fraction of an inch where it is a multiple of 1/64.
 * @param si the quantity in SI base units (a turn is 2 pi rad); not finite shows as `no value`
 */
export function showQuantity(si: number, dimension: Dimension, options: ShowOptions): Shown {
  const { system, digits, fraction } = options
  const asked = options.unit === undefined ? undefined : targetOf(options.unit)
  const chosen = asked !== undefined && sameDimension(asked.dimension, dimension) ? options.unit : undefined
  const unit = chosen ?? unitToShow(si, dimension, system, digits ?? DIGITS, fraction)
  const target = targetOf(unit)!
  const shownUnit = target.big ?? (target.unit === 'turns' ? 'turn' : target.unit)
  const inLast = withoutNoise(si / target.factor)
  const value = (target.big === undefined ? inLast : withoutNoise(inLast / target.ratio)) + 0
  if (!Number.isFinite(value)) return { value, unit: shownUnit, text: 'no value' }

  const steps =
    fraction ??
    (target.big !== undefined ? TAPE : digits === undefined && unit === 'in' && isSixtyFourth(inLast) ? 64 : undefined)
  const rounded = steps === undefined ? undefined : roundToFraction(si, unit, steps, 'nearest')
  if (rounded !== undefined) {
    const sign = rounded.negative ? '-' : ''
    if (rounded.whole === 0) return { value, unit: shownUnit, text: sign + beside(rounded.rest, target.unit) }
    const big = sign + beside(plainDecimal(rounded.whole), target.big!)
    return { value, unit: shownUnit, text: rounded.rest === '0' ? big : `${big} ${beside(rounded.rest, target.unit)}` }
  }
  const significant = digits ?? (unit === 'm' ? DIGITS + 1 : DIGITS)
  const number = plainDecimal(roundForReading(inLast, Math.min(15, Math.max(1, Math.floor(significant)))))
  return { value, unit: shownUnit, text: beside(number, target.unit) }
}

/** The usual unit of a quantity, of what it is once rounded: 11.99999 in is a foot, 9.99999 m are ten. */
function unitToShow(si: number, dimension: Dimension, system: System, digits: number, fraction?: number): string {
  const unit = defaultUnit(si, dimension, system)
  if (!sameDimension(dimension, DIMENSION.length)) return unit
  if (unit === 'in' && fraction !== undefined) return 'ft+in'
  const step = unit === 'in' ? 0.0254 : 0.001
  if (unit === 'in' || unit === 'mm') return defaultUnit(roundForReading(si / step, digits) * step, dimension, system)
  return unit
}

function isSixtyFourth(inches: number): boolean {
  return Math.abs(inches * 64 - Math.round(inches * 64)) <= 1e-9 * Math.abs(inches * 64)
}

function beside(number: string, unit: string): string {
  if (unit === '') return number
  if (unit === '%' || unit.startsWith('/')) return number + unit
  const word = unit === 'turns' ? 'turn' : unit
  // One turn and half a turn, but 0 turns and 0.5 turns.
  return `${number} ${COUNTED.has(word) && !/^-?(1|\d+\/\d+)$/.test(number) ? `${word}s` : word}`
}
