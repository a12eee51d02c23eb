import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { integral, meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

describe('published wind', () => {
  meets(P, /^H1\./, x => ({ q: m.velocityPressureOf(x.V!, x.Kz! * x.Kzt! * x.Ke!, x.Kd!) }))
  meets(P, /^H2$/, x => ({ q: m.velocityPressureOf(x.V!, x.K!, 1) }))
  meets(P, /^H3$/, x => ({ q: m.velocityPressureOf(x.V!, 1, 1) }))
  meets(P, /^H4$/, () => ({ c_SI: m.velocityPressureOf(1, 1, 1) }))
  it('H4 [derived] 0.00256 psf at 1 mph is the same constant, to its three figures', () => {
    expect(m.velocityPressureOf(0.44704, 1, 1) / 47.88026).toBeCloseTo(0.00256, 5)
  })
  meets(P, /^H5$/, x => ({ sag: Math.sqrt(x.extra_length! / 2 / m.drawIn(1, x.L!)!) }))
  meets(P, /^H6$/, x => ({ extra: 2 * m.drawIn(x.s!, x.L!)! }))
})

describe('Kz', () => {
  it('as ASCE 7-16 table 26.10-1 prints it, two figures [from-memory]', () => {
    const printed = {
      B: [0.57, 0.62, 0.66, 0.7, 0.76, 0.81, 0.85],
      C: [0.85, 0.9, 0.94, 0.98, 1.04, 1.09, 1.13],
      D: [1.03, 1.08, 1.12, 1.16, 1.22, 1.27, 1.31],
    }
    for (const [exposure, row] of Object.entries(printed))
      for (const [i, feet] of [15, 20, 25, 30, 40, 50, 60].entries())
        expect(Math.abs(m.exposureFactor(exposure as m.Exposure, feet * 0.3048) - row[i]!)).toBeLessThan(0.007)
  })
  it('is flat below 15 ft and above the gradient height, and finite everywhere', () => {
    expect(m.exposureFactor('C', 0)).toBe(m.exposureFactor('C', 15 * 0.3048))
    expect(m.exposureFactor('C', 1e5)).toBeCloseTo(2.01, 9)
  })
  it('is rougher ground, less wind', () => {
    expect(m.velocityPressure(50, 'B', 10)).toBeLessThan(m.velocityPressure(50, 'C', 10))
    expect(m.velocityPressure(50, 'C', 10)).toBeLessThan(m.velocityPressure(50, 'D', 10))
    expect(m.velocityPressure(50, 'C', 10)).toBeCloseTo(0.613 * 0.85 * m.exposureFactor('C', 10) * 2500, 9)
  })
})

describe('slats in the wind', () => {
  it('[own arithmetic, N and mm] 1 kPa on 60 mm slats over 4 m: 0.06 N/mm', () => {
    // M = 0.06 * 16e6 / 8 = 120000 N*mm; / 1500 mm3 = 80 MPa
    expect(m.slatStress(1000, 0.06, 4, 1500e-9)).toBeCloseTo(80e6, 0)
    // bow = 5 * 0.06 * 2.56e14 / (384 * 68947.57 * 20000) = 145.04 mm
    expect(m.slatBow(1000, 0.06, 4, 'aluminum', 20000e-12)! * 1000).toBeCloseTo(145.04, 1)
    expect(m.railLoad(1000, 4, 3)).toBeCloseTo(6000, 9)
  })
  it("draw in no less than a bent slat really does: half the integral of y'^2 / 2", () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        fc.double({ min: 0.001, max: 0.05, noNaN: true }),
        (L, share) => {
          const bow = share * L
          // shape of a beam under uniform load, 1 in the middle: 16/5 (u - 2 u^3 + u^4)
          const slope = (x: number) => ((bow * 16) / 5 / L) * (1 - 6 * (x / L) ** 2 + 4 * (x / L) ** 3)
          const real = integral(x => slope(x) ** 2 / 2, L) / 2
          const ratio = m.drawIn(bow, L)! / real
          expect(ratio).toBeGreaterThan(1)
          expect(ratio).toBeLessThan(1.08)
        },
      ),
    ))
  it('is unknown without section, inertia or span', () => {
    expect(m.slatStress(1000, 0.06, 4, 0)).toBeUndefined()
    expect(m.slatBow(1000, 0.06, 4, 'steel', 0)).toBeUndefined()
    expect(m.drawIn(0.1, 0)).toBeUndefined()
  })
})
