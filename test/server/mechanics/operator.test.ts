import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

describe('published chains', () => {
  meets(P, /^E1$/, x => {
    const L = m.chainPitches(x.a!, x.p!, x.N1!, x.N2!)!
    return { L, L_whole: m.nextEven(L), C: m.centerDistance(m.nextEven(L), x.p!, x.N1!, x.N2!) }
  })
  meets(P, /^E3$/, x => {
    const L = m.chainPitches(x.C_over_p!, 1, x.N1!, x.N2!)!
    const links = m.nextEven(L)
    return {
      D1: m.pitchDiameter(x.p!, x.N1!),
      D2: m.pitchDiameter(x.p!, x.N2!),
      L,
      L_whole: links,
      C: m.centerDistance(links, 1, x.N1!, x.N2!),
      C_in: m.centerDistance(links, x.p!, x.N1!, x.N2!),
    }
  })
  meets(P, /^E4$/, x => {
    const L = m.chainPitches(x.C!, x.p!, x.N1!, x.N2!)!
    return { L, L_in: L * x.p! }
  })
  meets(P, /^E5$/, x => ({ L: m.chainPitches(x.C_over_p!, 1, x.N1!, x.N2!) }))
})

describe('chain', () => {
  it('length and centre distance undo each other', () =>
    fc.assert(
      fc.property(
        fc.integer({ min: 9, max: 40 }),
        fc.integer({ min: 9, max: 120 }),
        fc.double({ min: 1, max: 6, noNaN: true }),
        (n1, n2, spread) => {
          // sprockets that do not touch
          const centers = (spread * 0.0127 * (n1 + n2)) / (2 * Math.PI) + 0.0127
          const pitches = m.chainPitches(centers, 0.0127, n1, n2)!
          expect(m.centerDistance(pitches, 0.0127, n1, n2)! / centers).toBeCloseTo(1, 9)
        },
      ),
    ))
  it('too short to reach round, without distance or teeth, is unknown', () => {
    expect(m.centerDistance(20, 0.0127, 17, 48)).toBeUndefined()
    expect(m.centerDistance(40, 0.0127, 9, 65)).toBeUndefined()
    expect(m.centerDistance(20, 0.0127, 25, 25)).toBeUndefined()
    expect(m.centerDistance(25, 0.0127, 25, 25)).toBeUndefined()
    expect(m.chainPitches(0, 0.0127, 17, 48)).toBeUndefined()
    expect(m.pitchDiameter(0.0127, 1)).toBeUndefined()
    // three pitches round a circle: a triangle of that side, 2/sqrt(3) across
    expect(m.pitchDiameter(1, 3)).toBeCloseTo(2 / Math.sqrt(3), 12)
    expect(m.chainPull(10, 0, 17)).toBeUndefined()
  })
  it('pull: 100 N*m on a sprocket of 6 teeth, whose pitch diameter is twice the pitch [own arithmetic]', () => {
    expect(m.chainPull(100, 0.0254, 6)).toBeCloseTo(100 / 0.0254, 6)
  })
})

describe('published power', () => {
  /** Torque that a power turns at a speed. */
  const torque = (power: number, speed: number) => power / m.powerNeeded(1, speed, 1)!
  // torque times speed over power is a bare 1 in SI; the constants are what it is in these units
  meets(P, /^F0$/, () => {
    const c = 1 / m.powerNeeded(1, 1, 1)!
    return { c_lbf_in: c, c_lbf_ft: c, c_SI: c }
  })
  meets(P, /^F[13]$/, x => ({ T: torque(x.hp!, x.n!) }))
})

describe('operator', () => {
  const positive = fc.double({ min: 0.05, max: 1000, noNaN: true })
  it('through sprockets trades torque for speed; power goes in as it comes out, less the losses', () =>
    fc.assert(
      fc.property(
        positive,
        positive,
        fc.double({ min: 0.2, max: 6, noNaN: true }),
        fc.double({ min: 0.3, max: 1, noNaN: true }),
        (t, w, ratio, e) => {
          const out = m.torqueAtDrum(t, ratio, e)
          const needed = m.powerNeeded(out, m.drumSpeed(w, ratio)!, e)!
          expect(needed / (t * w)).toBeCloseTo(1, 9)
        },
      ),
    ))
  it('[own arithmetic] 3.6 m in 5 turns at 30 rpm through 48/16: 10 rpm, half a minute, 0.12 m/s', () => {
    const ratio = m.sprocketRatio(16, 48)!
    expect(ratio).toBe(3)
    const drum = m.drumSpeed(Math.PI, ratio)!
    expect(m.doorSpeed(3.6, 5, drum)).toBeCloseTo(0.12, 12)
    expect(m.limitTurnsUsed(5, 3)).toBe(15)
  })
  it('without sprockets is one to one; of one alone the ratio is unknown', () => {
    expect(m.sprocketRatio(undefined, undefined)).toBe(1)
    expect(m.sprocketRatio(16, undefined)).toBeUndefined()
    expect(m.sprocketRatio(undefined, 48)).toBeUndefined()
    expect(m.sprocketRatio(0, 48)).toBeUndefined()
  })
  it('[own arithmetic] 60 N*m out of balance, 5 % of 200 N*m: 70; by a 0.3 m wheel, 4 to 1, at 90 %: 129.63 N', () => {
    expect(m.torqueNeeded(60, 0.05, 200)).toBeCloseTo(70, 12)
    expect(m.handPull(70, 4, 0.9, 0.3)).toBeCloseTo(70 / 0.54, 9)
  })
  it('has no answer without ratio, efficiency, wheel or turns', () => {
    expect(m.handPull(70, 0, 0.9, 0.3)).toBeUndefined()
    expect(m.powerNeeded(70, 1, 0)).toBeUndefined()
    expect(m.drumSpeed(1, 0)).toBeUndefined()
    expect(m.doorSpeed(3, 0, 1)).toBeUndefined()
  })
})
