/** Comparisons with a tolerance of one part in 10^9, so that a value exactly at its limit passes. */
import { nearly } from '../model/index.ts'

/** Above the limit. False where either is not known. */
export const over = (value: number | undefined, limit: number | undefined): value is number =>
  value !== undefined && limit !== undefined && value > limit && !nearly(value, limit)

/** Below the limit. False where either is not known. */
export const under = (value: number | undefined, limit: number | undefined): value is number =>
  value !== undefined && limit !== undefined && value < limit && !nearly(value, limit)
