import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

const INCH = 0.0254
/** Ounces a square foot of the Manufacturers' Standard and the US Standard gauges, 7 upward [from memory]. */
const OUNCES = [120, 110, 100, 90, 80, 70, 60, 50, 45, 40, 36, 32, 28, 24, 22, 20, 18, 16, 14, 12]

describe('sheet gauges', () => {
  // the gauge's nominal weight is reckoned at 41.82 lb/ft2 an inch, steel weighs 7850 kg/m3 = 490.06 lb/ft3 = 40.84
  meets(P, /^G1\./, x => ({
    t: m.sheetThickness('steel', x.gauge!),
    w: (m.areaWeight(x.gauge!, 'steel', 1, 1, 1, 0)! * 41.82 * 12) / 490.06,
  }))
  const inches = (material: m.SheetMaterial, gauge: number) => m.sheetThickness(material, gauge)! / INCH
  const off = (material: m.SheetMaterial, of: (ounces: number, gauge: number) => number) =>
    Math.max(
      ...[...OUNCES.keys()]
        .map(i => i + 7)
        .filter(g => m.sheetThickness(material, g) !== undefined)
        .map(g => Math.abs(inches(material, g) - of(OUNCES[g - 7]!, g))),
    )
  it('steel is its nominal weight over 41.82 lb/ft2 an inch [from-memory]', () => {
    expect(off('steel', oz => oz / 16 / 41.82)).toBeLessThan(0.000051)
  })
  it('galvanized is that with 2 1/2 oz of zinc [from-memory]', () => {
    expect(off('galvanized', oz => (oz + 2.5) / 16 / 41.82)).toBeLessThan(0.000111)
  })
  it('stainless is the US Standard: ounces over 640 [from-memory]', () => {
    expect(off('stainless', oz => oz / 640)).toBeLessThan(0.000101)
  })
  it('aluminum is Brown & Sharpe: 0.005 * 92^((36 - n)/39) [from-memory]', () => {
    expect(off('aluminum', (_, n) => 0.005 * 92 ** ((36 - n) / 39))).toBeLessThan(0.000051)
  })
  it('a gauge that the table lacks is unknown', () => {
    expect(m.sheetThickness('stainless', 26)).toBeUndefined()
    expect(m.areaWeight(20.5, 'steel', 1, 1, 1, 0)).toBeUndefined()
    expect(m.areaWeight(20, 'steel', 1, 0, 1, 0)).toBeUndefined()
  })
  it('densities: steel 490, aluminum 170 lb/ft3 (Gere, table H-1) [seen]; stainless 0.29 lb/in3 [seen]', () => {
    const imperial = (kg: number) => kg / 16.01846
    expect(imperial(m.DENSITY.steel) / 490).toBeCloseTo(1, 3)
    // the source has 2700 kg/m3 beside the rounder 170 lb/ft3
    expect(Math.abs(imperial(m.DENSITY.aluminum) / 170 - 1)).toBeLessThan(0.01)
    expect(imperial(m.DENSITY.stainless) / 1728).toBeCloseTo(0.29, 2)
  })
})

describe('curtain', () => {
  it('two skins and a core weigh twice the sheet and the core [own arithmetic]', () => {
    // 24 gauge 0.0239 in = 0.60706 mm; 7850 * 0.00060706 = 4.765421 kg/m2; * 90/60 = 7.148132; twice and 1.2
    expect(m.areaWeight(24, 'steel', 0.09, 0.06, 2, 1.2)).toBeCloseTo(15.496263, 5)
  })
  it('a bottom bar of 3 kg/m on slats of 2.6 m weighs 7.8 kg [own arithmetic]', () => {
    expect(m.barWeight(3, m.slatLength(2.5, 0.05))).toBeCloseTo(7.8, 12)
  })
  it('endlocks on every second slat, both ends [own arithmetic]', () => {
    // 12 kg/m2 * 4 m = 48 kg/m; slats of 0.08 m: 12.5 a metre, 6.25 of them with two locks of 0.1 kg = 1.25 kg/m
    expect(m.weightPerHeight(12, 4, 0.1, 2, 0.08)).toBeCloseTo(49.25, 9)
    expect(m.weightPerHeight(12, 4, 0, 2, 0.08)).toBeCloseTo(48, 9)
    expect(m.weightPerHeight(12, 4, 0.1, 0, 0.08)).toBeUndefined()
    // without endlocks it does not matter on how many slats they would be
    expect(m.weightPerHeight(12, 4, 0, 0, 0.08)).toBeCloseTo(48, 9)
  })
  it('counts slats up to whole ones, and a whole number stays', () => {
    expect(m.slatCount(3, 0.3, 0.11)).toBe(30)
    expect(m.slatCount(3, 0.31, 0.11)).toBe(31)
    expect(m.slatCount(3, 0.3, 0)).toBeUndefined()
  })
  it('weighs more in every part that is heavier', () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 60, noNaN: true }),
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        (per, h) => {
          const hangs = m.hangingWeight(per, h, 5)
          expect(hangs - m.hangingWeight(per, h, 0)).toBeCloseTo(5, 9)
          expect(m.totalWeight(hangs, per, 0.4)).toBeCloseTo(m.hangingWeight(per, h + 0.4, 5), 9)
          expect(m.slatLength(h, 0.07)).toBeCloseTo(h + 0.14, 12)
        },
      ),
    ))
})
