/**
 * Wind on the curtain, slats as simply supported strips (no windlocks), and on the rails. A design pressure, anchors and
 * curtains with windlocks are an engineer's to decide.
 */
import { beamSag } from './beam.ts'
import { type Exposure, exposureFactor } from './tables/kz.ts'
import { MODULUS, type SheetMaterial } from './tables/materials.ts'

/** Density of air and half, as ASCE 7 prints it in SI: Pa per (m/s)2. */
const PRESSURE = 0.613

/**
 * Velocity pressure from its factors: `0.613 Kz Kd V^2` with Kzt = Ke = 1. ASCE 7-16 eq. 26.10-1.
 * @param speed basic wind speed V, m/s
 * @param kz exposure coefficient
 * @param kd directionality factor; 0.85 for cladding (ASCE 7-16 table 26.6-1)
 * @returns Pa
 */
export function velocityPressureOf(speed: number, kz: number, kd = 0.85): number {
  return PRESSURE * kz * kd * speed * speed
}

/**
 * Velocity pressure at a height, Kz from exposure and height, level ground near sea level. ASCE 7-16 eq. 26.10-1 (the
 * constants of Kz hold from ASCE 7-05 to 7-16). It is not a design pressure: pressure coefficients, importance and gusts
 * are the engineer's.
 * @param speed basic wind speed, m/s
 * @param height above ground, m
 * @returns Pa
 */
export function velocityPressure(speed: number, exposure: Exposure, height: number): number {
  return velocityPressureOf(speed, exposureFactor(exposure, height))
}

/**
 * Bending stress of one slat: `M / section`, `M = w L^2 / 8`, `w = wind * pitch`. Machinery's Handbook, table 1, case 1.
 * @param wind Pa
 * @param pitch height of one slat, m
 * @param between span, m
 * @param section section modulus of one slat, m3
 * @returns Pa; undefined without a section
 */
export function slatStress(wind: number, pitch: number, between: number, section: number): number | undefined {
  return section > 0 ? (wind * pitch * between * between) / 8 / section : undefined
}

/**
 * Bow of one slat in the middle: `5 w L^4 / (384 E I)`, `w = wind * pitch`. Machinery's Handbook, table 1, case 1.
 * @param inertia second moment of area of one slat, m4
 * @returns m; undefined without inertia
 */
export function slatBow(
  wind: number,
  pitch: number,
  between: number,
  material: SheetMaterial,
  inertia: number,
): number | undefined {
  return beamSag(wind * pitch, between, MODULUS[material], inertia)
}

/**
 * How far each end draws in as a slat bows: `4 bow^2 / (3 L)`, half the first term of a parabola's extra length (Civil
 * Engineering Formulas, ch. 10). The bent slat itself, which is not a parabola, draws in 7 % less.
 * @param bow m
 * @param between L, m
 * @returns m; undefined without a span
 */
export function drawIn(bow: number, between: number): number | undefined {
  return between > 0 ? (4 * bow * bow) / (3 * between) : undefined
}

/** Wind load on one rail, N: `wind * between * height / 2` (Pa, m, m). */
export function railLoad(wind: number, between: number, height: number): number {
  return (wind * between * height) / 2
}
