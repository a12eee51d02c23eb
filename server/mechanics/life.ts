/** Strength of spring wire, and how many cycles a torsion spring lasts (Shigley's method, Gerber's line). */
import { publishedRange, WIRES, type WireMaterial } from './tables/wire.ts'

const INCH = 0.0254
const KPSI = 6894757.293168361
/** log10 of the cycles of the three published points. */
const POINTS = [3, 5, 6] as const

/**
 * Tensile strength of the wire, `Sut = A / d^m`, A and m of the wire table (Shigley table 10-4).
 * @param wire diameter, m
 * @returns Pa; undefined outside the diameters the constants are published for
 */
export function tensileStrength(material: WireMaterial, wire: number): number | undefined {
  const [from, to] = publishedRange(material)
  if (!(wire >= from * (1 - 1e-9) && wire <= to * (1 + 1e-9))) return undefined
  return (WIRES[material].kpsi * KPSI) / (wire / INCH) ** WIRES[material].exponent
}

/** Yield strength in bending, Pa: 0.87 or 0.78 of the tensile strength (Pa). Shigley eq. 10-57. */
export function springYield(material: WireMaterial, strength: number): number {
  return WIRES[material].yield * strength
}

/**
 * Range strength over tensile strength, `f(N)`: straight in log10 N through the published points of the wire table.
 * @param cycles N
 * @returns no unit; undefined outside 1e3 to 1e6
 */
export function fatigueFraction(material: WireMaterial, cycles: number): number | undefined {
  if (!(cycles >= 1e3 && cycles <= 1e6)) return undefined
  const x = Math.log10(cycles)
  const [f3, f5, f6] = WIRES[material].fatigue
  return x <= POINTS[1]
    ? f3 + ((f5 - f3) * (x - POINTS[0])) / (POINTS[1] - POINTS[0])
    : f5 + ((f6 - f5) * (x - POINTS[1])) / (POINTS[2] - POINTS[1])
}

/** Range strength `Sr = f(N) Sut`, Pa, from the tensile strength (Pa); undefined outside 1e3 to 1e6 cycles. */
export function rangeStrength(material: WireMaterial, strength: number, cycles: number): number | undefined {
  const fraction = fatigueFraction(material, cycles)
  return fraction === undefined ? undefined : fraction * strength
}

/**
 * Endurance strength for reversed bending, `Se = (Sr/2) / (1 - (Sr/(2 Sut))^2)`. Shigley eq. 10-58.
 * @param range Sr, Pa
 * @param strength Sut, Pa
 * @returns Pa; undefined where the range is not between nothing and twice the strength
 */
export function enduranceStrength(range: number, strength: number): number | undefined {
  if (!(range > 0 && range < 2 * strength)) return undefined
  return range / 2 / (1 - (range / (2 * strength)) ** 2)
}

/**
 * Factor of safety in fatigue, `Sa / sa`, with `Sa = r^2 Sut^2 / (2 Se) (-1 + sqrt(1 + (2 Se/(r Sut))^2))`, `r = sa/sm`:
 * Gerber's line, Shigley example 10-8 (c). Written here as `2 Se / (1 + sqrt(1 + (2 Se/(r Sut))^2))`, which is the same.
 * @param open stress with the door open, Pa, >= 0
 * @param closed stress with the door closed, Pa
 * @param strength Sut, Pa
 * @param range Sr at the cycles asked for, Pa
 * @returns no unit; undefined where the closed stress is over the yield, where the stress does not vary, and where a
 *   spring is let back past its free position (the method is for springs loaded one way only)
 */
export function fatigueFactor(
  open: number,
  closed: number,
  strength: number,
  range: number,
  material: WireMaterial,
): number | undefined {
  const endurance = enduranceStrength(range, strength)
  if (endurance === undefined || !(open >= 0 && closed > open)) return undefined
  if (closed > springYield(material, strength) * (1 + 1e-9)) return undefined
  const amplitude = (closed - open) / 2
  const mean = (closed + open) / 2
  const x = (2 * endurance * mean) / (amplitude * strength)
  return (2 * endurance) / (1 + Math.sqrt(1 + x * x)) / amplitude
}

export interface SpringLife {
  readonly cycles: number
  /** `more`: more than `cycles`; `less`: less than `cycles`; missing: `cycles` itself. */
  readonly bound?: 'more' | 'less'
}

/**
 * Cycles at which the fatigue factor is 1. From Gerber's line the endurance needed is `sa / (1 - (sm/Sut)^2)`; from it
 * the range needed, and `f(N)` read backwards. Never extrapolated: beyond 1e3 and 1e6 only the bound is known, and a
 * stress over the yield is `less` than 1e3.
 * @param open stress with the door open, Pa
 * @param closed stress with the door closed, Pa, >= open
 * @param strength Sut, Pa, > 0
 * @returns undefined where a spring within its yield is let back past its free position
 */
export function springLife(
  open: number,
  closed: number,
  strength: number,
  material: WireMaterial,
): SpringLife | undefined {
  if (!(closed >= open && strength > 0)) return undefined
  if (closed > springYield(material, strength) * (1 + 1e-9)) return { cycles: 1e3, bound: 'less' }
  if (!(open >= 0)) return undefined
  const endurance = (closed - open) / 2 / (1 - ((closed + open) / (2 * strength)) ** 2)
  const half = (2 * endurance) / (1 + Math.sqrt(1 + 4 * (endurance / strength) ** 2))
  const needed = (2 * half) / strength
  const [f3, f5, f6] = WIRES[material].fatigue
  if (needed > f3) return { cycles: 1e3, bound: 'less' }
  if (needed < f6) return { cycles: 1e6, bound: 'more' }
  return { cycles: 10 ** (needed >= f5 ? between(needed, f3, f5, 0) : between(needed, f5, f6, 1)) }
}

/** log10 of the cycles where `f` falls from `high` to `low` between two neighbouring published points. */
function between(f: number, high: number, low: number, from: 0 | 1): number {
  const next = from === 0 ? POINTS[1] : POINTS[2]
  return POINTS[from] + ((high - f) / (high - low)) * (next - POINTS[from])
}
