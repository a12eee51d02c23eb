/**
 * The coil of the curtain on the drum: an Archimedean spiral of the curtain's centre line. The length is counted as
 * the integral of the radius over the angle (the "area" length of a roll); the true arc is longer by some 1e-5.
 */
import { TURN } from './constants.ts'

/**
 * Radius of the centre line where the curtain leaves the closed drum: `od/2 + ring + t (1/2 + dead_wraps)`.
 * @param od outside diameter of the pipe, m, > 0
 * @param ring what rings add to the radius, m, >= 0
 * @param thickness what one wrap adds to the radius, m, >= 0
 * @param turnsDead turns of curtain on the closed drum, turns, >= 0
 * @returns m
 */
export function coilStart(od: number, ring: number, thickness: number, turnsDead: number): number {
  return od / 2 + ring + thickness * (0.5 + turnsDead)
}

/** Radius of the centre line after `turns` turns, m: `R(n) = a + t n`, with `start` a (m) and `thickness` t (m). */
export function coilRadius(start: number, thickness: number, turns: number): number {
  return start + thickness * turns
}

/** Curtain taken up in `turns` turns, m: `l(n) = 2 pi (a n + t n^2 / 2)`, with `start` a (m) and `thickness` t (m). */
export function coilLength(start: number, thickness: number, turns: number): number {
  return TURN * turns * (start + (thickness * turns) / 2)
}

/**
 * Turns that take up a length: `(-a + sqrt(a^2 + t h / pi)) / t`, written so that t = 0 gives its limit
 * `h / (2 pi a)`.
 * @param start radius at the closed door, m, > 0
 * @param thickness what one wrap adds to the radius, m, >= 0
 * @param travel length to take up, m, >= 0
 * @returns turns
 */
export function coilTurns(start: number, thickness: number, travel: number): number {
  return travel / Math.PI / (start + Math.sqrt(start * start + (thickness * travel) / Math.PI))
}

/**
 * Outside diameter of the coil after `turns` turns: `2 (od/2 + ring + t (dead_wraps + turns + 1))`; the last half
 * thickness is from the centre line to the outside.
 * @returns m; arguments as for `coilStart`
 */
export function coilDiameter(od: number, ring: number, thickness: number, turnsDead: number, turns: number): number {
  return 2 * (od / 2 + ring + thickness * (turnsDead + turns + 1))
}

/**
 * Length of the dead wraps: the same spiral from `od/2 + ring + t/2` over `dead_wraps` turns.
 * @returns m; arguments as for `coilStart`
 */
export function deadWrapLength(od: number, ring: number, thickness: number, turnsDead: number): number {
  return coilLength(coilStart(od, ring, thickness, 0), thickness, turnsDead)
}
