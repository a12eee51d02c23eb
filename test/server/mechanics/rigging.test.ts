import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

const G = 9.80665

describe('published slings', () => {
  meets(P, /^K1\./, x => {
    const factor = m.slingLoad(1 / G, 1, x.angle_horizontal!)!
    return { reduction: 1 / factor, tension_factor: factor }
  })
  meets(P, /^K2$/, x => ({ T_leg: m.slingLoad(x.load!, x.legs!, x.angle_horizontal!)! / G }))
})

describe('rails, slings, hood', () => {
  it('[own arithmetic] a rail of 3.5 m, 0.15 m from its ends, at most 0.75 m apart: 3.2/0.75 = 4.27, 5 spaces, 6 fasteners', () => {
    expect(m.fastenerCount(3.5, 0.15, 0.75)).toBe(6)
    // 3 m exactly is 4 spaces, 5 fasteners, even where 3/0.75 went through inches
    expect(m.fastenerCount(3.3, 0.15, 0.75)).toBe(5)
    expect(m.fastenerCount(0.2, 0.15, 0.75)).toBe(2)
    expect(m.fastenerLoad(1000, 4, 3, 6)).toBeCloseTo(1000, 9)
    expect(m.railMark(3.7, 3.66)).toBeCloseTo(0.02, 12)
  })
  it('[own arithmetic] slings every 3 m and supports every 3.6 m', () => {
    expect([2, 6, 6.1, 9].map(l => m.slingsNeeded(l, 3))).toEqual([2, 2, 3, 3])
    expect([3, 3.6, 3.7, 7.2, 7.3].map(l => m.hoodSupports(l, 3.6))).toEqual([0, 0, 1, 1, 2])
    expect(m.slingSpacing(6, 3)).toBe(2)
  })
  it('slings pull more the flatter they lie, and never less than their share', () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: Math.PI / 2 - 0.05, noNaN: true }),
        fc.integer({ min: 1, max: 9 }),
        (angle, n) => {
          expect(m.slingLoad(100, n, angle)!).toBeGreaterThan(m.slingLoad(100, n, angle + 0.04)!)
          expect(m.slingLoad(100, n, angle)!).toBeGreaterThanOrEqual((100 * G) / n)
        },
      ),
    ))
  it('has no answer for no spacing, no slings, flat slings, no fasteners', () => {
    expect(m.fastenerCount(3, 0.1, 0)).toBeUndefined()
    expect(m.fastenerLoad(1000, 4, 3, 0)).toBeUndefined()
    expect(m.slingsNeeded(3, 0)).toBeUndefined()
    expect(m.slingSpacing(3, 0)).toBeUndefined()
    expect(m.slingLoad(100, 2, 0)).toBeUndefined()
    expect(m.slingLoad(100, 2, Math.PI)).toBeUndefined()
    expect(m.slingLoad(100, 2, 4)).toBeUndefined()
    expect(m.slingLoad(100, 0, 1)).toBeUndefined()
    expect(m.hoodSupports(3, 0)).toBeUndefined()
  })
})
