/** The drum as a pipe and a simply supported beam. */
import { GRAVITY } from './constants.ts'
import { DENSITY } from './tables/materials.ts'

/** Whether outside diameter and wall (m) make a pipe; a solid bar counts. */
function isPipe(od: number, wall: number): boolean {
  return od > 0 && wall > 0 && 2 * wall <= od * (1 + 1e-12)
}

/** Inside diameter, m: `od - 2 wall`; undefined where nothing is left. */
export function pipeInside(od: number, wall: number): number | undefined {
  return isPipe(od, wall) && od > 2 * wall ? od - 2 * wall : undefined
}

/** Area of metal, m2: `pi wall (od - wall)`; undefined where the walls (m) do not fit in the diameter (m). */
export function pipeArea(od: number, wall: number): number | undefined {
  return isPipe(od, wall) ? Math.PI * wall * (od - wall) : undefined
}

/** Second moment of area, m4: `pi/64 (OD^4 - ID^4)`; undefined where the walls (m) do not fit in the diameter (m). */
export function pipeInertia(od: number, wall: number): number | undefined {
  return isPipe(od, wall) ? (Math.PI / 64) * (od ** 4 - (od - 2 * wall) ** 4) : undefined
}

/** Weight of a steel pipe, kg: area x 7850 kg/m3 x span (m); undefined where it is no pipe. */
export function pipeWeight(od: number, wall: number, span: number): number | undefined {
  const area = pipeArea(od, wall)
  return area === undefined ? undefined : area * DENSITY.steel * span
}

/**
 * Deflection in the middle of a simply supported beam under uniform load: `5 w L^4 / (384 E I)`. Machinery's Handbook,
 * 31st ed., table 1, case 1.
 * @param load w, N/m
 * @param span L, m
 * @param modulus E, Pa
 * @param inertia I, m4
 * @returns m; undefined for a beam without stiffness
 */
export function beamSag(load: number, span: number, modulus: number, inertia: number): number | undefined {
  return modulus * inertia > 0 ? (5 * load * span ** 4) / (384 * modulus * inertia) : undefined
}

/**
 * Sag of the drum in the middle, all weight spread evenly over the span.
 * @param mass curtain with its dead wraps and bottom bar, pipe and springs, kg
 * @param span between the brackets, m, > 0
 * @param od outside diameter of the pipe, m
 * @param wall of the pipe, m
 * @param modulus Pa
 * @returns m; undefined where it is no pipe
 */
export function drumSag(mass: number, span: number, od: number, wall: number, modulus: number): number | undefined {
  const inertia = pipeInertia(od, wall)
  if (inertia === undefined || !(span > 0)) return undefined
  return beamSag((mass * GRAVITY) / span, span, modulus, inertia)
}
