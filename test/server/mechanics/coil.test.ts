import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { doorFrom, sizes } from './doors.ts'
import { integral, meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

describe('published rolls: the same spiral, wound on a core', () => {
  const roll = (x: Record<string, number>) => {
    const turns = (x.D! - x.d!) / 2 / x.t!
    return { length: m.coilLength(x.d! / 2, x.t!, turns), turns }
  }
  meets(P, /^C[14]$/, x => ({ L: roll(x).length }))
  meets(P, /^C2$/, x => ({ L: roll(x).length, turns: m.coilTurns(x.d! / 2, x.t!, roll(x).length) }))
})

describe('coil', () => {
  it('takes up the travel in its turns; the integral of R over the turns is h / 2 pi', () =>
    fc.assert(
      fc.property(sizes, s => {
        const a = m.coilStart(s.od, s.ring, s.thickness, s.dead)
        const turns = m.coilTurns(a, s.thickness, s.height)
        expect(m.coilLength(a, s.thickness, turns) / s.height).toBeCloseTo(1, 9)
        const area = integral(n => m.coilRadius(a, s.thickness, n), turns)
        expect((area * 2 * Math.PI) / s.height).toBeCloseTo(1, 9)
      }),
    ))
  it('agrees with the printed formula where that has digits left', () =>
    fc.assert(
      fc.property(
        sizes.filter(s => s.thickness > 1e-4),
        s => {
          const a = m.coilStart(s.od, s.ring, s.thickness, s.dead)
          const printed = (-a + Math.sqrt(a * a + (s.thickness * s.height) / Math.PI)) / s.thickness
          expect(m.coilTurns(a, s.thickness, s.height) / printed).toBeCloseTo(1, 6)
        },
      ),
    ))
  it('of nothing thick is a plain drum: h / (2 pi a)', () => {
    expect(m.coilTurns(0.1, 0, 3)).toBeCloseTo(3 / (0.2 * Math.PI), 12)
    expect(m.coilTurns(0.1, 1e-15, 3)).toBeCloseTo(3 / (0.2 * Math.PI), 9)
    expect(m.coilTurns(0.1, 0.02, 0)).toBe(0)
  })
  it('starts with the dead wraps and ends half a slat outside its centre line', () =>
    fc.assert(
      fc.property(sizes, s => {
        const door = doorFrom(s)
        const last = m.coilRadius(door.start, s.thickness, door.turns)
        expect(m.coilDiameter(s.od, s.ring, s.thickness, s.dead, door.turns)).toBeCloseTo(2 * last + s.thickness, 12)
        const first = m.coilStart(s.od, s.ring, s.thickness, 0)
        const dead = integral(n => 2 * Math.PI * (first + s.thickness * n), s.dead)
        expect(m.deadWrapLength(s.od, s.ring, s.thickness, s.dead)).toBeCloseTo(dead, 9)
      }),
    ))
  it('grows with every wrap, so a longer curtain takes fewer turns a metre', () =>
    fc.assert(
      fc.property(
        sizes.filter(s => s.thickness > 1e-3),
        s => {
          const a = m.coilStart(s.od, s.ring, s.thickness, s.dead)
          expect(m.coilTurns(a, s.thickness, 2 * s.height)).toBeLessThan(2 * m.coilTurns(a, s.thickness, s.height))
          expect(m.coilTurns(a, s.thickness * 1.1, s.height)).toBeLessThan(m.coilTurns(a, s.thickness, s.height))
        },
      ),
    ))
})
