import { expect } from 'vitest'
import { unitOf } from '../../../server/units/index.ts'

/**
 * A small reader of quantities, apart from the language's own: a sign, then numbers (whole, decimal, fraction or mixed),
 * each with at most one space and a unit. Throws where anything is left over.
 */
export function read(text: string): number {
  const sign = text.startsWith('-') ? -1 : 1
  let rest = text.replace(/^-/, '')
  let sum = 0
  while (rest !== '') {
    const match = /^(?:(\d+) )?(\d+(?:\.\d+)?)(?:\/(\d+))? ?((?:[A-Za-z%/][A-Za-z%*/^234]*)?)(?: (?=\d)|$)/.exec(rest)
    if (match === null) throw new Error(`cannot read ${JSON.stringify(rest)} of ${JSON.stringify(text)}`)
    const [all, whole = '0', over, under = '1', unit] = match
    sum += (Number(whole) + Number(over) / Number(under)) * unitOf(unit!)!.factor
    rest = rest.slice(all.length)
  }
  return sign * sum
}

/** No exponent, no `NaN`, no `-0`, no thousands comma. */
export function clean(text: string): void {
  expect(text).not.toMatch(/\de[+-]?\d|NaN|Infinity|undefined|,/)
  expect(text).not.toMatch(/^-0(?![./\d])/)
}
