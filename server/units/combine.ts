import { type Dimension, describeDimension, sameDimension } from './dimension.ts'

/** One of several neighbouring quantities, such as the `12ft` of `12ft 4 1/2in`. `factor` is one of its unit in SI. */
export interface Part {
  readonly value: number
  readonly factor: number
  readonly dimension: Dimension
}

export type Combined =
  | { readonly ok: true; readonly si: number; readonly dimension: Dimension }
  | {
      readonly ok: false
      readonly problem: 'none' | 'dimension' | 'order'
      /** The place in the list of the part that does not fit. */
      readonly index: number
      /** What is wrong and what to do, for a person. */
      readonly message: string
    }

/**
 * Neighbouring quantities as one: `12ft 4 1/2in`, `1h 30min`. All are of one dimension and each unit is smaller than the
 * one before it. The sum is in SI base units; a sign, which covers the whole, is the caller's.
 */
export function combineParts(parts: readonly Part[]): Combined {
  const first = parts[0]
  if (first === undefined) return { ok: false, problem: 'none', index: 0, message: 'There is no quantity here.' }
  let si = first.value * first.factor
  for (let index = 1; index < parts.length; index++) {
    const part = parts[index]!
    if (!sameDimension(part.dimension, first.dimension)) {
      const [a, b] = [describeDimension(first.dimension), describeDimension(part.dimension)]
      const message = `Quantities side by side are read as one, but this is ${b} beside ${a}. Write an operator between them.`
      return { ok: false, problem: 'dimension', index, message }
    }
    // Two spellings of one unit can differ in the last digit.
    if (part.factor >= parts[index - 1]!.factor * (1 - 1e-12)) {
      const message =
        'Quantities side by side are read as one, largest unit first, each unit once (12ft 4in). Put them in that order, or write an operator between them.'
      return { ok: false, problem: 'order', index, message }
    }
    si += part.value * part.factor
  }
  return { ok: true, si, dimension: first.dimension }
}
