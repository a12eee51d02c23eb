/** Helical torsion springs of round wire: rate, stress and size. Strength and life: `life.ts`. */
import { TURN } from './constants.ts'
import { DENSITY } from './tables/materials.ts'
import { WIRES, type WireMaterial } from './tables/wire.ts'

/**
 * Spring index `C = D / d`.
 * @param wire d, m, > 0
 * @param diameter mean coil diameter D, m
 * @returns no unit; undefined without a wire. At 1 and below there is no coil, which is the caller's to refuse
 */
export function springIndex(wire: number, diameter: number): number | undefined {
  return wire > 0 ? diameter / wire : undefined
}

/**
 * Stress factor of the inner fibre, `Ki = (4C^2 - C - 1) / (4C (C - 1))`. Shigley eq. 10-43.
 * @param index C, > 1
 * @returns no unit, >= 1; undefined for C <= 1
 */
export function stressFactor(index: number): number | undefined {
  if (!(index > 1)) return undefined
  return (4 * index * index - index - 1) / (4 * index * (index - 1))
}

/**
 * Rate of one torsion spring: `k = E d^4 / (64 D N)` per radian; with `friction` the handbook's `E d^4 / (10.8 D N)` per
 * turn (5.7 % softer, for the friction between coils). Shigley eq. 10-50, 10-51.
 * @param modulus E, Pa
 * @param wire d, m
 * @param diameter mean coil diameter D, m, > 0
 * @param coils active coils N, > 0
 * @returns N*m/rad
 */
export function torsionRate(modulus: number, wire: number, diameter: number, coils: number, friction: boolean): number {
  return (modulus * wire ** 4) / ((friction ? 10.8 * TURN : 64) * diameter * coils)
}

/** Rate of one spring of a material, N*m/rad: `torsionRate` with the modulus of the wire table (Shigley table 10-5). */
export function springRate(
  wire: number,
  diameter: number,
  coils: number,
  material: WireMaterial,
  friction: boolean,
): number {
  return torsionRate(WIRES[material].modulus, wire, diameter, coils, friction)
}

/**
 * Bending stress at the inside of the coil: `Ki 32 M / (pi d^3)`. Shigley eq. 10-44.
 * @param wire d, m
 * @param diameter mean coil diameter D, m
 * @param moment M of one spring, N*m: `k * twist`
 * @returns Pa, with the sign of the moment; undefined where the coil is not larger than its wire
 */
export function springStress(wire: number, diameter: number, moment: number): number | undefined {
  const index = springIndex(wire, diameter)
  const factor = index === undefined ? undefined : stressFactor(index)
  return factor === undefined ? undefined : (factor * 32 * moment) / (Math.PI * wire ** 3)
}

/**
 * Length of the close-wound spring, free: `d (N + dead_coils + 1)`. Geometry.
 * @param wire d, m
 * @param coils active coils N
 * @param dead dead coils
 * @returns m
 */
export function lengthFree(wire: number, coils: number, dead: number): number {
  return wire * (coils + dead + 1)
}

/**
 * Length of the spring when wound: every turn of twist adds a coil, `d (N + dead_coils + 1 + twist / 2 pi)`. Geometry.
 * @param twist with the door closed, rad
 * @returns m
 */
export function lengthWound(wire: number, coils: number, dead: number, twist: number): number {
  return lengthFree(wire, coils, dead) + (wire * twist) / TURN
}

/** Outside diameter, free, m: `D + d`, from wire d (m) and mean coil diameter D (m). */
export function outsideFree(wire: number, diameter: number): number {
  return diameter + wire
}

/**
 * Inside diameter when wound: `D N / (N + twist / 2 pi) - d`: the same wire on more coils. Shigley eq. 10-54.
 * @param twist with the door closed, rad
 * @returns m; zero or negative where nothing is left of the inside; undefined where no coils are left
 */
export function insideWound(wire: number, diameter: number, coils: number, twist: number): number | undefined {
  const wound = coils + twist / TURN
  return wound > 0 ? (diameter * coils) / wound - wire : undefined
}

/**
 * Weight of the active coils of one spring: steel 7850 kg/m3 x `pi/4 d^2` x `pi D N`.
 * @returns kg
 */
export function springWeight(wire: number, diameter: number, coils: number): number {
  return DENSITY.steel * (Math.PI / 4) * wire * wire * Math.PI * diameter * coils
}

/**
 * Shear stress of a solid shaft, `16 T / (pi d^3)`. Theory of torsion.
 * @param torque T, N*m
 * @param diameter d, m
 * @returns Pa; undefined for no diameter
 */
export function shaftStress(torque: number, diameter: number): number | undefined {
  return diameter > 0 ? (16 * torque) / (Math.PI * diameter ** 3) : undefined
}
