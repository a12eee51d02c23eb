export type Exposure = 'B' | 'C' | 'D'

const FOOT = 0.3048

/** ASCE 7-05 to 7-16, terrain exposure constants: alpha, and the gradient height in feet (seen on an ASCE 7-05 page). */
const TERRAIN: Readonly<Record<Exposure, readonly [alpha: number, gradientFeet: number]>> = {
  B: [7, 1200],
  C: [9.5, 900],
  D: [11.5, 700],
}

/**
 * Velocity pressure exposure coefficient: `Kz = 2.01 (z / zg)^(2/alpha)`, z not below 15 ft and not above zg. No unit.
 * Source: ASCE 7-16 table 26.10-1, note 1, the same from ASCE 7-05 on; ASCE 7-22 changed the constants. Some editions
 * ask for at least 0.70 for cladding below 30 ft in exposure B: that is for the engineer who gives the design pressure.
 * @param height above ground, m, >= 0
 */
export function exposureFactor(exposure: Exposure, height: number): number {
  const [alpha, gradient] = TERRAIN[exposure]
  const z = Math.min(Math.max(height / FOOT, 15), gradient)
  return 2.01 * (z / gradient) ** (2 / alpha)
}
