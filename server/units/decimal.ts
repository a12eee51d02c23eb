/**
 * A finite number as plain decimal digits that read back as the same double: never an exponent, never `-0`, no thousands
 * separators.
 */
export function plainDecimal(value: number): string {
  const text = String(value === 0 ? 0 : value)
  const match = /^(-?)(\d+)(?:\.(\d+))?e([+-]\d+)$/.exec(text)
  if (match === null) return text
  const [, sign = '', whole = '', part = '', exponent] = match
  const digits = whole + part
  const point = whole.length + Number(exponent)
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`
  return sign + digits.padEnd(point, '0').slice(0, point) + (digits.length > point ? `.${digits.slice(point)}` : '')
}

/** The number with the fewest digits that lies within `tolerance` of `value`; takes the noise off 0.30000000000000004. */
export function fewestDigits(value: number, tolerance: number): number {
  if (Math.abs(value) <= tolerance) return 0
  let [low, high, found] = [1, 16, value]
  // one digit more never makes it worse, so the fewest can be looked for by halves; most of what is worked out needs 15
  let digits = 14
  while (low < high) {
    const short = Number(value.toPrecision(digits))
    if (Math.abs(short - value) <= tolerance) [high, found] = [digits, short]
    else low = digits + 1
    digits = (low + high) >> 1
  }
  return found
}

/** Takes off what the arithmetic of doubles added: the fewest digits within one part in 10^14. */
export function withoutNoise(value: number): number {
  if (!Number.isFinite(value)) return value
  // of 13 digits or fewer none can be left out: that would change more than one part in 10^14
  if (String(value).length <= 13) return value + 0
  return fewestDigits(value, Math.abs(value) * 1e-14)
}

/**
 * A number for reading: `digits` significant digits, but never rounded left of the decimal point, and not more than nine
 * decimals (what is smaller shows as 0). Zeros at the end are dropped.
 */
export function roundForReading(value: number, digits: number): number {
  if (value === 0 || !Number.isFinite(value)) return 0
  const decimals = Math.min(9, Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value)))))
  // toFixed writes exponents from 10^21 on; no digits are left to round there.
  if (Math.abs(value) >= 1e15) return value
  return Number(value.toFixed(decimals)) + 0
}

export type Rounding = 'nearest' | 'up' | 'down'

/**
 * A number to a whole one. `up` is toward the greater value, `down` toward the smaller; a half goes away from zero. What
 * lies within one part in 10^9 of a whole number counts as that, or 2.0000000001 would be rounded up to 3.
 */
export function roundWhole(value: number, rounding: Rounding): number {
  const slack = 1e-9 * Math.max(1, Math.abs(value))
  const near = Math.round(value)
  if (Math.abs(near - value) <= slack) return near + 0
  if (rounding === 'up') return Math.ceil(value) + 0
  if (rounding === 'down') return Math.floor(value) + 0
  return Math.sign(value) * Math.floor(Math.abs(value) + 0.5 + Math.min(slack, 0.1)) + 0
}

/** `parts` of 1/`denominator`, none below zero, as `4 1/2`, `3/8`, `2` or `0`, in lowest terms. */
export function fractionText(parts: number, denominator: number): string {
  const whole = Math.floor(parts / denominator)
  const rest = parts - whole * denominator
  if (rest === 0) return plainDecimal(whole)
  let [a, b] = [denominator, rest]
  while (b !== 0) [a, b] = [b, a % b]
  const fraction = `${rest / a}/${denominator / a}`
  return whole === 0 ? fraction : `${plainDecimal(whole)} ${fraction}`
}
