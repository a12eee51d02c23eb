import { defaultUnit } from './common.ts'
import { fewestDigits, fractionText, plainDecimal, type Rounding, roundWhole, withoutNoise } from './decimal.ts'
import { DIMENSION, type Dimension, sameDimension } from './dimension.ts'
import { type System, unitOf } from './units.ts'

/** A unit to write in: one, or two of a dimension side by side (`ft+in`) of which the first holds `ratio` of the last. */
export interface Target {
  readonly big: string | undefined
  readonly ratio: number
  readonly unit: string
  readonly factor: number
  readonly dimension: Dimension
}

/** What was read once; units come from the vocabulary and from what is written, so there are few. */
const targets = new Map<string, Target | undefined>()

/** Reads `in`, `lbf*in/turn`, `/day`, `ft+in`, or the empty text of a plain number; undefined where it is no unit. */
export function targetOf(text: string): Target | undefined {
  if (targets.has(text)) return targets.get(text)
  const target = readTarget(text)
  if (targets.size < 1000) targets.set(text, target)
  return target
}

function readTarget(text: string): Target | undefined {
  const [first = '', second, ...more] = text.split('+')
  const one = unitOf(first)
  if (one === undefined || more.length > 0) return undefined
  if (second === undefined) return { big: undefined, ratio: 0, unit: first, ...one }
  const two = unitOf(second)
  if (two === undefined || !sameDimension(one.dimension, two.dimension)) return undefined
  const ratio = withoutNoise(one.factor / two.factor)
  return ratio > 1 ? { big: first, ratio, unit: second, ...two } : undefined
}

/** Units that stand directly behind the number in a job file; the others take a space. */
const TOUCHING = new Set(['in', 'ft', 'yd', 'mm', 'cm', 'm', 'km', 'deg', '%', 'h', 'min', 's'])

/** The units that are halved and halved again in this trade, and not divided into tenths. */
const HALVED = new Set(['in', 'turn', 'turns'])

function joined(number: string, unit: string): string {
  if (unit === '') return number
  // 1 turn and 1/2 turn, but 0 turns, 1.7 turns and 1 3/4 turns.
  if (unit === 'turn' || unit === 'turns') return `${number} ${/^(1|\d+\/\d+)$/.test(number) ? 'turn' : 'turns'}`
  return TOUCHING.has(unit) || unit.startsWith('/') ? number + unit : `${number} ${unit}`
}

/** A number as it stands in a job file: as a fraction to 1/64 where it is one and its unit is a halved one. */
function numberText(value: number, unit: string): string {
  if (HALVED.has(unit) && !Number.isInteger(value) && value < 1e6) {
    const parts = value * 64
    if (Math.round(parts) > 0 && Math.abs(parts - Math.round(parts)) <= 1e-12 * parts) {
      return fractionText(Math.round(parts), 64)
    }
  }
  return plainDecimal(value)
}

/**
 * A quantity as a job file has it, to be read back as the same value within one part in 10^12: `3810mm`, `12ft 4 1/2in`,
 * `320 lbf*in/turn`, `20/day`, `3%`, `1 3/4 turns`. Inches and turns that are a multiple of 1/64 are written as a
 * fraction, everything else in decimals without an exponent.
 * @param si the quantity in SI base units (a turn is 2 pi rad)
 * @param unit a unit expression, `ft+in` or another pair, or the empty text for a plain number
 * @returns undefined where the value is not finite, or the unit does not exist or is of another dimension
 */
export function writeExact(si: number, dimension: Dimension, unit: string): string | undefined {
  const target = targetOf(unit)
  if (target === undefined || !sameDimension(target.dimension, dimension)) return undefined
  const value = withoutNoise(Math.abs(si) / target.factor)
  // Beside the overflow: what is too small for the digits of a double would not read back.
  if (!Number.isFinite(value) || (si !== 0 && value < 1e-290)) return undefined
  const sign = si < 0 ? '-' : ''
  if (target.big === undefined) return sign + joined(numberText(value, target.unit), target.unit)
  const noise = value * 1e-14
  let whole = Math.floor(value / target.ratio)
  let rest = fewestDigits(value - whole * target.ratio, noise)
  if (rest >= target.ratio) {
    whole += 1
    rest = 0
  }
  return sign + pair(whole, target, rest > 0 ? numberText(rest, target.unit) : '0')
}

function pair(whole: number, target: Target, rest: string): string {
  if (whole === 0) return joined(rest, target.unit)
  const big = joined(plainDecimal(whole), target.big!)
  return rest === '0' ? big : `${big} ${joined(rest, target.unit)}`
}

export interface FractionOptions {
  /** `up` is toward the greater value, `down` toward the smaller one; `nearest`, with halves away from zero, if not given. */
  readonly rounding?: Rounding
}

/** A quantity rounded to a fraction, in its parts: what `writeFraction` writes and a sheet shows. */
export interface Fraction {
  readonly negative: boolean
  /** Whole ones of the first unit of a pair, else 0. */
  readonly whole: number
  /** Of the unit, as `4 1/2`. */
  readonly rest: string
  readonly target: Target
  /** The rounded quantity in SI. */
  readonly si: number
}

export function roundToFraction(
  si: number,
  unit: string,
  denominator: number,
  rounding: Rounding,
): Fraction | undefined {
  const target = targetOf(unit)
  if (target === undefined || !Number.isInteger(denominator) || denominator < 1 || denominator > 10000) return undefined
  // 1/2/day cannot be read, and a pair whose units do not divide (ft+mm) has no whole parts.
  if (target.unit.startsWith('/') || !Number.isInteger(target.ratio)) return undefined
  const parts = roundWhole((si / target.factor) * denominator, rounding)
  if (!Number.isFinite(parts)) return undefined
  const size = Math.abs(parts)
  const inBig = target.ratio * denominator
  const whole = target.big === undefined ? 0 : Math.floor(size / inBig)
  const rest = fractionText(size - whole * inBig, denominator)
  return { negative: parts < 0, whole, rest, target, si: (parts / denominator) * target.factor }
}

/**
 * A quantity rounded to a fraction of a unit, as a job file has it: `12ft 4 1/2in` (of `ft+in`, which carries to feet),
 * `3/8in`, `1 3/4 turns`. Within one part in 10^9 of a step it is that step, whatever the rounding.
 * @param si the quantity in SI base units; that it is of the unit's dimension is the caller's to know
 * @param denominator the step is 1/denominator of the last unit: a whole number from 1 to 10000, of 8 holes 8
 * @returns undefined where the value is not finite, the unit does not exist, or it takes no fraction (`/day`)
 */
export function writeFraction(
  si: number,
  unit: string,
  denominator: number,
  { rounding = 'nearest' }: FractionOptions = {},
): string | undefined {
  const fraction = roundToFraction(si, unit, denominator, rounding)
  if (fraction === undefined) return undefined
  return (fraction.negative ? '-' : '') + pair(fraction.whole, fraction.target, fraction.rest)
}

export interface ConvertOptions extends FractionOptions {
  /** Write a length in inches, or feet and inches, to 1/denominator of an inch; without it the conversion is exact. */
  readonly denominator?: number
}

/**
 * A quantity of a job file written in a system, in that system's usual unit: `3810mm` as `12ft 6in`. Exact, to be read
 * back as the same value, or an imperial length to a chosen fraction of an inch.
 * @returns undefined where the value is not finite
 */
export function convert(
  si: number,
  dimension: Dimension,
  system: System,
  { denominator, rounding }: ConvertOptions = {},
): string | undefined {
  if (denominator !== undefined && system === 'imperial' && sameDimension(dimension, DIMENSION.length)) {
    // Feet and inches of less than a foot write no feet, and 11.999in becomes 1ft.
    return writeFraction(si, 'ft+in', denominator, { rounding })
  }
  return writeExact(si, dimension, defaultUnit(si, dimension, system))
}
