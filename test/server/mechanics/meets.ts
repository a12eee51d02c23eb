import { expect, it } from 'vitest'

export interface PublishedCheck {
  readonly id: string
  readonly source: string
  readonly provenance: 'seen' | 'seen-quoted' | 'from-memory' | 'derived'
  /** Why the tolerance is wider than the figures printed. */
  readonly note?: string
  readonly given: Readonly<Record<string, readonly [value: number | string, unit: string]>>
  readonly expected: Readonly<Record<string, readonly [value: number, unit: string, relative: number]>>
}

const INCH = 0.0254
const LB = 0.45359237
const LBF = LB * 9.80665
const PSI = LBF / INCH ** 2
const TURN = 2 * Math.PI
const RPM = TURN / 60
const HP = 550 * 12 * INCH * LBF
const MPH = 0.44704
const PSF = LBF / 0.3048 ** 2

/** SI values of the units that the published records are in (NIST SP 811); not the project's own table. */
const UNITS: Readonly<Record<string, number>> = {
  '-': 1, turn: 1, pitch: 1, tooth: 1, rad: 1, J: 1, Pa: 1, m: 1, 'N/m': 1, 'm^4': 1, 'N*m/rad': 1, 'm/s': 1, 'kg/m^3': 1,
  deg: Math.PI / 180, in: INCH, ft: 0.3048, mm: 0.001, cm: 0.01, 'in^2': INCH ** 2, 'in^3': INCH ** 3, 'in^4': INCH ** 4,
  lb: LB, lbf: LBF, 'lb/ft': LB / 0.3048, 'lbf/ft': LBF / 0.3048, 'lbf/in': LBF / INCH, 'lb/ft^2': LB / 0.3048 ** 2,
  psi: PSI, ksi: 1000 * PSI, kpsi: 1000 * PSI, MPa: 1e6, 'N/mm^2': 1e6, psf: PSF,
  'lbf*in': LBF * INCH, 'lbf*ft': LBF * 0.3048, 'N*mm': 0.001, 'N*mm/rad': 0.001,
  'lbf*in/turn': (LBF * INCH) / TURN, 'N*mm/turn': 0.001 / TURN, hp: HP, rpm: RPM, mph: MPH,
  'lbf*in*rpm/hp': (LBF * INCH * RPM) / HP, 'lbf*ft*rpm/hp': (LBF * 0.3048 * RPM) / HP, 'N*m*rpm/kW': RPM / 1000,
  'psf/mph^2': PSF / MPH ** 2, 'Pa/(m/s)^2': 1,
  'kpsi*in^m': 1, 'MPa*mm^m': 1,
} // biome-ignore format: a table

const si = (value: number | string, unit: string): number => {
  const factor = UNITS[unit]
  if (factor === undefined) throw new Error(`no unit ${unit} in the tests' table`)
  return Number(value) * factor
}

/**
 * One test a record: `compute` gets what is given, in SI (a number of turns stays one; `A` and `m` of wire stay as they
 * are), and must give every expected value, no more and no fewer.
 */
export function meets(
  records: readonly PublishedCheck[],
  ids: RegExp,
  compute: (x: Record<string, number>, record: PublishedCheck) => Record<string, number | undefined>,
): void {
  const chosen = records.filter(r => ids.test(r.id))
  if (chosen.length === 0) throw new Error(`no record ${ids}`)
  for (const r of chosen) {
    it(`${r.id} [${r.provenance}] ${r.source}${r.note ? `; ${r.note}` : ''}`, () => {
      const given = Object.fromEntries(Object.entries(r.given).map(([k, [v, u]]) => [k, si(v, u)]))
      const got = compute(given, r)
      expect(Object.keys(got).sort()).toEqual(Object.keys(r.expected).sort())
      for (const [name, [value, unit, relative]] of Object.entries(r.expected)) {
        const want = si(value, unit)
        const off = Math.abs((got[name] ?? Number.NaN) - want) / Math.abs(want)
        expect(off, `${name}: ${got[name]} instead of ${want}`).toBeLessThanOrEqual(relative)
      }
    })
  }
}

/** Simpson's rule over `[0, end]`, exact for the cubics here. */
export function integral(f: (x: number) => number, end: number, steps = 200): number {
  const h = end / steps
  let sum = f(0) + f(end)
  for (let i = 1; i < steps; i++) sum += (i % 2 ? 4 : 2) * f(i * h)
  return (sum * h) / 3
}
