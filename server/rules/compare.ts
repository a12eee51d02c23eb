/** Comparisons with a tolerance of one part in 10^9, so that a value exactly at its limit passes; and what they compare. */
import { type Door, nearly } from '../model/index.ts'

/** The numbers at these paths, in SI units; undefined where one is not known, and then those after it are not asked for. */
export function numbers<P extends readonly string[]>(
  door: Door,
  ...paths: P
): { readonly [K in keyof P]: number } | undefined {
  const all: number[] = []
  for (const path of paths) {
    const si = door.number(path)
    if (si === undefined) return undefined
    all.push(si)
  }
  return all as { [K in keyof P]: number }
}

/** Above the limit. False where either is not known. */
export const over = (value: number | undefined, limit: number | undefined): value is number =>
  value !== undefined && limit !== undefined && value > limit && !nearly(value, limit)

/** Below the limit. False where either is not known. */
export const under = (value: number | undefined, limit: number | undefined): value is number =>
  value !== undefined && limit !== undefined && value < limit && !nearly(value, limit)
