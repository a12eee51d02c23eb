/** Random tests with few draws, the same for every mutant, and without looking for the smallest case. */
import * as fc from 'fast-check'

export * from 'fast-check'

const MOST = Number(process.env.DOORWRIGHT_DRAWS ?? 50)

export function assert<T>(property: fc.IProperty<T>, parameters: fc.Parameters<T> = {}): void {
  const numRuns = Math.min(parameters.numRuns ?? 100, MOST)
  fc.assert(property, { ...parameters, numRuns, seed: 2207, endOnFailure: true })
}

export default { ...fc, assert }
