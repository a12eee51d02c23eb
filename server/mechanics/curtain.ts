import { wholeUp } from './constants.ts'
import { sheetThickness } from './tables/gauges.ts'
import { DENSITY, type SheetMaterial } from './tables/materials.ts'

/**
 * Weight of the curtain per area from its sheet gauge: `thickness x density x developed / pitch x skins + core`.
 * The physical weight of the sheet, not the nominal weight of its gauge (2.5 % more).
 * @param gauge sheet gauge number
 * @param material which gauge table and density
 * @param developed width of the flat strip of one slat, m, > 0
 * @param pitch height one slat adds, m, > 0
 * @param skins sheets in one slat, 1 or 2
 * @param core weight of the insulation, kg/m2, >= 0
 * @returns kg/m2; undefined where the table has no such gauge
 */
export function areaWeight(
  gauge: number,
  material: SheetMaterial,
  developed: number,
  pitch: number,
  skins: number,
  core: number,
): number | undefined {
  const thickness = sheetThickness(material, gauge)
  if (thickness === undefined || !(pitch > 0)) return undefined
  return ((thickness * DENSITY[material] * developed) / pitch) * skins + core
}

/** Length of a slat, m: `between + 2 * engagement` (m, m). */
export function slatLength(between: number, engagement: number): number {
  return between + 2 * engagement
}

/**
 * Weight of the curtain per height: `area_weight * slat_length + 2 * endlock / (endlock_every * pitch)`: an endlock at
 * both ends of every n-th slat.
 * @param weight kg/m2
 * @param length length of a slat, m
 * @param endlock mass of one, kg
 * @param every n, >= 1
 * @param pitch height one slat adds, m, > 0
 * @returns kg/m; undefined where endlocks sit on no slat
 */
export function weightPerHeight(
  weight: number,
  length: number,
  endlock: number,
  every: number,
  pitch: number,
): number | undefined {
  if (endlock === 0) return weight * length
  if (!(every * pitch > 0)) return undefined
  return weight * length + (2 * endlock) / (every * pitch)
}

/** Weight of the bottom bar, kg: `bottom_bar * slat_length` (kg/m, m). */
export function barWeight(perLength: number, length: number): number {
  return perLength * length
}

/**
 * Slats in the curtain: `ceil((H0 + length of the dead wraps) / pitch)`.
 * @param hanging H0 = height of the opening + rise of the drum, m
 * @param dead length of the dead wraps, m
 * @param pitch height one slat adds, m, > 0
 */
export function slatCount(hanging: number, dead: number, pitch: number): number | undefined {
  if (!(pitch > 0)) return undefined
  return wholeUp((hanging + dead) / pitch)
}

/**
 * What hangs when the door is closed, kg: `weight_per_height * H0 + bottom_bar_weight`. The torque follows from this.
 * @param perHeight kg/m
 * @param hanging H0, m
 * @param bar weight of the bottom bar, kg
 */
export function hangingWeight(perHeight: number, hanging: number, bar: number): number {
  return perHeight * hanging + bar
}

/** The whole curtain, kg: what hangs (kg) and the dead wraps (kg/m, m). Lifting and the drum's sag follow from this. */
export function totalWeight(hangs: number, perHeight: number, dead: number): number {
  return hangs + perHeight * dead
}
