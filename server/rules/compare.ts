/** Comparisons with a tolerance of one part in 10^9, so that a value exactly at its limit passes; and what they compare. */
import { type Door, nearly } from '../model/index.ts'

/** The numbers at these paths, in SI units; undefined where one of them is not known. */
export function numbers<P extends readonly string[]>(
  door: Door,
  ...paths: P
): { readonly [K in keyof P]: number } | undefined {
  const all = paths.map(path => door.number(path))
  return all.includes(undefined) ? undefined : (all as { [K in keyof P]: number })
}

/** Above the limit. False where either is not known. */
export const over = (value: number | undefined, limit: number | undefined): value is number =>
  value !== undefined && limit !== undefined && value > limit && !nearly(value, limit)

/** Below the limit. False where either is not known. */
export const under = (value: number | undefined, limit: number | undefined): value is number =>
  value !== undefined && limit !== undefined && value < limit && !nearly(value, limit)
