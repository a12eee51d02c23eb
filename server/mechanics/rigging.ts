/** Rails, slings and hood: the counts and loads that follow from plain geometry. */
import { GRAVITY, wholeUp } from './constants.ts'
import { railLoad } from './wind.ts'

/** Floor mark, m: from each jamb to the inner edge of its rail, `(between - width) / 2` (m, m). */
export function railMark(between: number, width: number): number {
  return (between - width) / 2
}

/**
 * Fasteners in one rail: `max(2, ceil((length - 2 * edge) / spacing) + 1)`. Geometry.
 * @param length of the rail, m
 * @param edge from the end of the rail to its first fastener, m
 * @param spacing m
 * @returns undefined without a spacing
 */
export function fastenerCount(length: number, edge: number, spacing: number): number | undefined {
  return spacing > 0 ? Math.max(2, wholeUp((length - 2 * edge) / spacing) + 1) : undefined
}

/**
 * Mean direct tension on one fastener of a face-mounted rail, without prying: `wind * between * height / 2 / fasteners`.
 * Shear and windlocks are an engineer's to decide.
 * @param wind Pa
 * @param between m
 * @param height m
 * @param fasteners in one rail
 * @returns N; undefined without fasteners
 */
export function fastenerLoad(wind: number, between: number, height: number, fasteners: number): number | undefined {
  return fasteners > 0 ? railLoad(wind, between, height) / fasteners : undefined
}

/**
 * Slings that the curtain asks for: `max(2, ceil(slat_length / spacing))`. Common practice, no source.
 * @param length of a slat, m
 * @param spacing largest length on one sling, m
 * @returns undefined without a spacing
 */
export function slingsNeeded(length: number, spacing: number): number | undefined {
  return spacing > 0 ? Math.max(2, wholeUp(length / spacing)) : undefined
}

/** Length of curtain on each sling, m: `slat_length / slings`; undefined without slings. */
export function slingSpacing(length: number, slings: number): number | undefined {
  return slings > 0 ? length / slings : undefined
}

/**
 * Load in each sling: `weight * g / (n sin(angle))`. The curtain alone, shared equally: without drum, springs and unequal
 * sharing. Statics; a rigging supplier's angle chart (seen).
 * @param weight of the curtain with its dead wraps, kg
 * @param slings n
 * @param angle to the horizontal, rad, above 0 to pi/2
 * @returns N; undefined without slings, or for slings that lie flat
 */
export function slingLoad(weight: number, slings: number, angle: number): number | undefined {
  return slings > 0 && angle > 0 && angle < Math.PI ? (weight * GRAVITY) / (slings * Math.sin(angle)) : undefined
}

/**
 * Supports of the hood between its brackets: `max(0, ceil(between / span) - 1)`. Common practice, no source.
 * @param between m
 * @param span largest free length, m
 * @returns undefined without a span
 */
export function hoodSupports(between: number, span: number): number | undefined {
  return span > 0 ? Math.max(0, wholeUp(between / span) - 1) : undefined
}
