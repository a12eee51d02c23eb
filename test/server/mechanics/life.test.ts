import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { meets } from './meets.ts'
import { PUBLISHED_SPRINGS as P } from './published-springs.ts'

const ASTM: Record<string, m.WireMaterial> = { A228: 'music_wire', A227: 'hard_drawn', A229: 'oil_tempered' }
const MATERIALS = Object.keys(m.WIRES) as m.WireMaterial[]
const KSI = 6894757.293168361

describe('published strength and fatigue', () => {
  meets(P, /^A2$/, x => {
    const [open, closed] = [x.Mmin!, x.Mmax!].map(M => m.springStress(x.d!, x.D!, M)!) as [number, number]
    const range = m.rangeStrength('music_wire', x.Sut!, 1e6)!
    const factor = m.fatigueFactor(open, closed, x.Sut!, range, 'music_wire')!
    return {
      sigma_a: (closed - open) / 2,
      sigma_m: (closed + open) / 2,
      Sr: range,
      Se: m.enduranceStrength(range, x.Sut!),
      Sa: (factor * (closed - open)) / 2,
      nf: factor,
    }
  })
  meets(P, /^A7\.1$/, x => ({ Sut: m.tensileStrength('music_wire', x.d!) }))
  // A / d^m is A itself at one millimetre
  meets(P, /^A7\.4$/, () => ({ A_SI: m.tensileStrength('music_wire', 0.001)! / 1e6 }))
  meets(P, /^A8\./, (x, r) => {
    const material = ASTM[String(r.given.wire![0]).slice(0, 4)]!
    return { Sut_min_tabulated: m.tensileStrength(material, x.d!) }
  })
  it('points of f(N): Jiang table 14.3 at 1e3 [seen], Shigley table 10-10 unpeened [seen-quoted]', () => {
    const at = (material: m.WireMaterial) => [1e3, 1e5, 1e6].map(n => m.fatigueFraction(material, n))
    expect(at('oil_tempered')).toEqual([0.8, 0.53, 0.5])
    expect(at('music_wire')).toEqual([0.78, 0.53, 0.5])
    expect(at('hard_drawn')).toEqual([0.78, 0.53, 0.5])
    expect(at('chrome_vanadium')).toEqual([0.78, 0.55, 0.53])
    expect(at('chrome_silicon')).toEqual([0.78, 0.55, 0.53])
  })
  it('every wire that borrows a column says from which, and has the same one', () => {
    for (const w of Object.values(m.WIRES))
      if (w.standIn) expect(w.fatigue.slice(1)).toEqual(m.WIRES[w.standIn].fatigue.slice(1))
    expect(MATERIALS.filter(x => m.WIRES[x].standIn).sort()).toEqual(['chrome_silicon', 'hard_drawn', 'oil_tempered'])
  })
})

describe('strength', () => {
  it('is unknown outside the published diameters and known at both ends of them', () => {
    for (const material of MATERIALS) {
      const [from, to] = m.publishedRange(material)
      expect(m.tensileStrength(material, from)).toBeGreaterThan(m.tensileStrength(material, to)!)
      expect(m.tensileStrength(material, from * 0.999)).toBeUndefined()
      expect(m.tensileStrength(material, to * 1.001)).toBeUndefined()
    }
    expect(m.tensileStrength('oil_tempered', Number.NaN)).toBeUndefined()
  })
  it('is published for oil-tempered wire from 0.020 to 0.500 in: Shigley table 10-4 [from-memory]', () => {
    const at = (inches: number) => m.tensileStrength('oil_tempered', inches * 0.0254)
    expect([0.0199, 0.501].map(at)).toEqual([undefined, undefined])
    expect([0.02, 0.5].map(d => Math.round(at(d)! / KSI))).toEqual([306, 167])
  })
  it('half-way between two published points of f in log10 N is the mean [own arithmetic]', () => {
    expect(m.fatigueFraction('oil_tempered', 1e4)).toBeCloseTo((0.8 + 0.53) / 2, 12)
    expect(m.fatigueFraction('music_wire', 10 ** 5.5)).toBeCloseTo(0.515, 12)
    expect(m.fatigueFraction('music_wire', 999)).toBeUndefined()
    expect(m.fatigueFraction('music_wire', 1.01e6)).toBeUndefined()
    expect(m.rangeStrength('music_wire', 200, 5e6)).toBeUndefined()
  })
})

const loaded = fc.record({
  material: fc.constantFrom(...MATERIALS),
  strength: fc.double({ min: 100 * KSI, max: 350 * KSI, noNaN: true }),
  closed: fc.double({ min: 0.001, max: 1.2, noNaN: true }),
  part: fc.double({ min: 0, max: 0.999, noNaN: true }),
})

describe('life', () => {
  it('is where the factor, with the range strength at that life, is 1; else the bound is on the right side', () =>
    fc.assert(
      fc.property(loaded, ({ material, strength, closed, part }) => {
        const high = closed * strength
        const low = part * high
        const life = m.springLife(low, high, strength, material)!
        const at = (n: number) =>
          m.fatigueFactor(low, high, strength, m.rangeStrength(material, strength, n)!, material)
        expect(life.cycles).toBeGreaterThanOrEqual(1e3)
        expect(life.cycles).toBeLessThanOrEqual(1e6 * (1 + 1e-9))
        if (life.bound === undefined) expect(at(Math.min(life.cycles, 1e6))!).toBeCloseTo(1, 6)
        if (life.bound === 'more') expect(at(1e6)!).toBeGreaterThanOrEqual(1 - 1e-9)
        if (life.bound === 'less') expect(at(1e3) ?? 0).toBeLessThanOrEqual(1 + 1e-9)
      }),
      { numRuns: 1000 },
    ))
  it('between no stress and the range strength at N cycles is N cycles: what that strength is (Shigley eq. 10-58)', () => {
    for (const material of MATERIALS)
      for (const n of [1.5e3, 3e4, 1e5, 2e5, 8e5]) {
        const { cycles, bound } = m.springLife(0, m.rangeStrength(material, 200 * KSI, n)!, 200 * KSI, material)!
        expect([cycles / n, bound], `${material} ${n}`).toEqual([expect.closeTo(1, 9), undefined])
      }
  })
  it('gets all three answers in that range [own arithmetic]', () => {
    const of = (open: number, closed: number) => m.springLife(open, closed, 1, 'oil_tempered')
    expect(of(0.1, 0.3)).toEqual({ cycles: 1e6, bound: 'more' })
    // sa 0.33, sm 0.53: Se 0.33/0.7191 = 0.458907; Sr/2 0.917814/2.357345 = 0.389342; f 0.778684; log10 N 3 + 0.021316/0.135
    expect(of(0.2, 0.86)).toEqual({ cycles: expect.closeTo(10 ** 3.1579, 0) })
    expect(of(0, 0.86)).toEqual({ cycles: 1e3, bound: 'less' })
  })
  it('is less than 1e3 over the yield, where the factor is unknown', () => {
    expect(m.springLife(0.8, 0.88, 1, 'oil_tempered')).toEqual({ cycles: 1e3, bound: 'less' })
    expect(m.fatigueFactor(0.8, 0.88, 1, 0.5, 'oil_tempered')).toBeUndefined()
    expect(m.fatigueFactor(0.8, 0.87, 1, 0.5, 'oil_tempered')).toBeGreaterThan(0)
    expect(m.fatigueFactor(0.7, 0.79, 1, 0.5, 'hard_drawn')).toBeUndefined()
  })
  it('at the yield itself is not over it, and there is none where open and closed are the wrong way round', () => {
    expect(m.springLife(0.86, 0.87, 1, 'oil_tempered')).toEqual({ cycles: 1e6, bound: 'more' })
    expect(m.springLife(0.3, 0.2, 1, 'oil_tempered')).toBeUndefined()
    expect(m.springLife(0, 0, 0, 'oil_tempered')).toBeUndefined()
  })
  it('is unknown for a spring let back past its free position, and has no factor for a stress that does not vary', () => {
    expect(m.springLife(-0.1, 0.5, 1, 'music_wire')).toBeUndefined()
    expect(m.fatigueFactor(-0.1, 0.5, 1, 0.5, 'music_wire')).toBeUndefined()
    expect(m.fatigueFactor(0.5, 0.5, 1, 0.5, 'music_wire')).toBeUndefined()
    expect(m.springLife(0.5, 0.5, 1, 'music_wire')).toEqual({ cycles: 1e6, bound: 'more' })
    expect(m.enduranceStrength(2, 1)).toBeUndefined()
    expect(m.enduranceStrength(0, 1)).toBeUndefined()
  })
  it('the factor falls as the closed stress rises', () =>
    fc.assert(
      fc.property(loaded, ({ material, strength, closed, part }) => {
        const high = Math.min(closed, 0.75) * strength
        const factor = (s: number) => m.fatigueFactor(part * high, s, strength, 0.5 * strength, material)
        expect(factor(high * 1.02)!).toBeLessThan(factor(high)!)
      }),
    ))
  it('meets the form of Gerber that is printed: r^2 Sut^2 / (2 Se) (-1 + sqrt(1 + (2 Se/(r Sut))^2))', () => {
    const [low, high, sut, sr] = [60, 140, 240, 130] as const
    const [sa, sm] = [(high - low) / 2, (high + low) / 2]
    const se = sr / 2 / (1 - (sr / (2 * sut)) ** 2)
    const r = sa / sm
    const printed = ((r * r * sut * sut) / (2 * se)) * (-1 + Math.sqrt(1 + ((2 * se) / (r * sut)) ** 2))
    expect(m.fatigueFactor(low, high, sut, sr, 'oil_tempered')).toBeCloseTo(printed / sa, 12)
  })
})
