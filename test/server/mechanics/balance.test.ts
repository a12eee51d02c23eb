import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { balanced, doorFrom, everywhere, nearlyBest, sizes } from './doors.ts'
import { integral, meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

const TURN = 2 * Math.PI
const G = 9.80665
type Case = { door: m.Door; rate: number; preload: number }

const unbalance = ({ door, rate, preload }: Case, n: number) =>
  m.doorTorque(door, n) - m.springTorque(rate, preload, door.turns, n)
const radius = (door: m.Door, n: number) => m.coilRadius(door.start, door.thickness, n)
const scale = (c: Case) =>
  Math.max(...everywhere(c.door, 50).map(n => Math.abs(unbalance(c, n)) + m.doorTorque(c.door, n)))
/** The largest of f over the travel by brute force. */
const searched = (door: m.Door, f: (n: number) => number) => Math.max(...everywhere(door).map(f))

describe('published energy of springs', () => {
  const energy = (k: number, angle: number) =>
    TURN * integral(n => m.springTorque(k * TURN, 0, angle / TURN, n), angle / TURN)
  meets(P, /^B[23]$/, x => ({ U: energy(x.k!, x.theta!) }))
  meets(P, /^B4$/, x => {
    const rate = (x.T1! - x.T0!) / x.turns!
    return { U: TURN * integral(n => m.springTorque(rate, x.T0! / rate, x.turns!, n), x.turns!) }
  })
})

describe("the door's torque", () => {
  it('does over the travel the work that lifting the curtain takes', () =>
    fc.assert(
      fc.property(
        sizes.filter(s => s.per + s.bar > 0.1),
        s => {
          const door = doorFrom(s)
          const { per, bar, height: h, rise } = s
          const lifting = G * (per * ((h + rise) * h - (h * h) / 2) + bar * h)
          expect((TURN * integral(n => m.doorTorque(door, n), door.turns)) / lifting).toBeCloseTo(1, 8)
        },
      ),
    ))
  it('is the closed weight on the first radius, and what still hangs on the last', () =>
    fc.assert(
      fc.property(sizes, s => {
        const door = doorFrom(s)
        const closed = G * (s.per * (s.height + s.rise) + s.bar) * door.start
        const open = G * (s.per * s.rise + s.bar) * radius(door, door.turns)
        expect(m.doorTorque(door, 0)).toBeCloseTo(closed, 8)
        expect(Math.abs(m.doorTorque(door, door.turns) - open)).toBeLessThan(1e-9 * (closed + 1))
      }),
    ))
  it('is more for a heavier curtain', () =>
    fc.assert(
      fc.property(balanced, ({ door }) => {
        for (const n of everywhere(door, 10).slice(0, -1)) {
          const heavier = m.doorTorque({ ...door, perHeight: door.perHeight + 1 }, n)
          expect(heavier).toBeGreaterThan(m.doorTorque(door, n))
        }
      }),
    ))
})

describe('against a dense search', () => {
  it('worst is the largest |T - S|, and worst_at a height where it is reached', () =>
    fc.assert(
      fc.property(balanced, c => {
        const { torque, height } = m.worstTorque(c.door, c.rate, c.preload)
        const found = searched(c.door, n => Math.abs(unbalance(c, n)))
        const slack = 1e-6 * scale(c)
        expect(Math.abs(torque - found)).toBeLessThanOrEqual(slack)
        expect(torque).toBeGreaterThanOrEqual(found * (1 - 1e-9))
        const there = m.coilTurns(c.door.start, c.door.thickness, height)
        expect(Math.abs(Math.abs(unbalance(c, there)) - torque)).toBeLessThanOrEqual(slack)
        // nothing lower is as bad
        for (const n of everywhere(c.door).filter(n => n < there - c.door.turns / 500))
          expect(Math.abs(unbalance(c, n))).toBeLessThanOrEqual(torque)
      }),
    ))
  it('no other preload has a smaller worst than the best one', () =>
    fc.assert(
      fc.property(balanced, fc.double({ min: -1, max: 1, noNaN: true }), (c, step) => {
        const best = m.bestPreload(c.door, c.rate)!
        const worst = (preload: number) => searched(c.door, n => Math.abs(unbalance({ ...c, preload }, n)))
        const slack = 1e-6 * scale(c)
        expect(worst(best)).toBeLessThanOrEqual(worst(best + step) + slack)
        expect(worst(best)).toBeLessThanOrEqual(worst(best + step / 100) + slack)
        // the price of a wrong preload is its distance times the rate
        expect(worst(best + step)).toBeGreaterThanOrEqual(worst(best) + Math.abs(step) * c.rate - slack)
      }),
    ))
  it('raise and lower forces are the largest both ways, at least 0', () =>
    fc.assert(
      fc.property(balanced, c => {
        const force = (n: number) => unbalance(c, n) / radius(c.door, n)
        const slack = (1e-6 * scale(c)) / c.door.start
        const up = Math.max(0, searched(c.door, force))
        const down = Math.max(
          0,
          searched(c.door, n => -force(n)),
        )
        expect(Math.abs(m.raiseForce(c.door, c.rate, c.preload) - up)).toBeLessThanOrEqual(slack)
        expect(Math.abs(m.lowerForce(c.door, c.rate, c.preload) - down)).toBeLessThanOrEqual(slack)
      }),
    ))
  it('the largest raising force is found inside the travel too, where springs are near to their best', () => {
    let inside = 0
    fc.assert(
      fc.property(nearlyBest, c => {
        const force = (n: number) => unbalance(c, n) / radius(c.door, n)
        const found = searched(c.door, force)
        if (found > Math.max(0, force(0), force(c.door.turns)) * 1.001) inside++
        const weight = m.doorTorque(c.door, 0) / c.door.start
        expect(Math.abs(m.raiseForce(c.door, c.rate, c.preload) - Math.max(0, found))).toBeLessThan(2e-6 * weight)
        expect(m.raiseForce(c.door, c.rate, c.preload)).toBeGreaterThanOrEqual(found * (1 - 1e-12))
      }),
      { numRuns: 300 },
    )
    expect(inside).toBeGreaterThan(30)
  })
  it('no straight line lies nearer to T than the ideal one', () =>
    fc.assert(
      fc.property(balanced, fc.double({ min: 0.5, max: 2, noNaN: true }), ({ door }, factor) => {
        const ideal = m.idealLine(door)
        const fall = m.doorTorque(door, 0) - m.doorTorque(door, door.turns)
        if (ideal === undefined) {
          expect(fall).toBeLessThanOrEqual(0)
          return
        }
        const c = { door, rate: ideal.rate, preload: ideal.preload }
        const slack = 1e-6 * scale(c)
        if (ideal.worst > 0 && fall > 1e-3 * m.doorTorque(door, 0)) {
          expect(Math.abs(m.worstTorque(door, ideal.rate, ideal.preload).torque - ideal.worst)).toBeLessThan(slack)
          expect(Math.abs(m.bestPreload(door, ideal.rate)! - ideal.preload) * ideal.rate).toBeLessThan(slack)
          const rate = ideal.rate * factor
          const other = searched(door, n => Math.abs(unbalance({ door, rate, preload: m.bestPreload(door, rate)! }, n)))
          expect(other).toBeGreaterThanOrEqual(ideal.worst - slack)
        }
      }),
    ))
  it('covers inner extremes of every kind: worst, raise and ideal inside the travel', () => {
    const door = doorFrom({ od: 0.17, ring: 0, thickness: 0.03, dead: 0.5, per: 20, bar: 5, height: 4, rise: 0.3 })
    const ideal = m.idealLine(door)!
    // with the ideal line moved down, the inner point alone is worst
    const { height } = m.worstTorque(door, ideal.rate, ideal.preload - 0.2)
    expect(height).toBeGreaterThan(0.2)
    expect(height).toBeLessThan(3.8)
    const ends = [0, door.turns].map(
      n => unbalance({ door, rate: ideal.rate, preload: ideal.preload - 0.2 }, n) / radius(door, n),
    )
    expect(m.raiseForce(door, ideal.rate, ideal.preload - 0.2)).toBeGreaterThan(Math.max(...ends) * 1.01)
  })
})

describe('balance', () => {
  it('at the best preload two places are equally bad, and the lower one is given', () =>
    fc.assert(
      fc.property(balanced, c => {
        const best = m.bestPreload(c.door, c.rate)!
        const { torque, height } = m.worstTorque(c.door, c.rate, best)
        const all = everywhere(c.door).map(n => unbalance({ ...c, preload: best }, n))
        const slack = 1e-6 * scale(c)
        expect(Math.abs(Math.max(...all) - torque)).toBeLessThanOrEqual(slack)
        expect(Math.abs(Math.min(...all) + torque)).toBeLessThanOrEqual(slack)
        // a concave curve is lowest at an end; where it is lowest at the floor, the floor is the answer
        if (Math.abs(all[0]! + torque) < 1e-12 * scale(c)) expect(height).toBe(0)
      }),
    ))
  it('a drum without thickness and a curtain without weight balance exactly: a bar alone asks for one torque', () => {
    const door = doorFrom({ od: 0.2, ring: 0, thickness: 0, dead: 0, per: 0, bar: 10, height: 3, rise: 0.2 })
    expect(m.idealLine(door)).toBeUndefined()
    expect(m.worstTorque(door, 0, 0)).toEqual({ torque: expect.closeTo(10 * G * 0.1, 9), height: 0 })
    expect(m.raiseForce(door, 0, 0)).toBeCloseTo(10 * G, 9)
    expect(m.lowerForce(door, 0, 0)).toBe(0)
  })
  it('a curtain on a thin coil is balanced by straight springs without rest', () => {
    const door = doorFrom({ od: 0.2, ring: 0, thickness: 0, dead: 0, per: 12, bar: 4, height: 3, rise: 0 })
    // T = g (12 (3 - 0.2 pi n) + 4) 0.1: falls by g * 12 * 0.02 pi a turn, and the bar is the preload
    const ideal = m.idealLine(door)!
    expect(ideal.rate).toBeCloseTo(G * 12 * 0.02 * Math.PI, 9)
    expect(ideal.preload).toBeCloseTo((4 * 0.1) / (12 * 0.02 * Math.PI), 9)
    expect(ideal.worst).toBeLessThan(1e-9)
  })
  it('has no best preload without springs', () => {
    const door = doorFrom({ od: 0.2, ring: 0, thickness: 0.02, dead: 0.5, per: 12, bar: 4, height: 3, rise: 0.2 })
    expect(m.bestPreload(door, 0)).toBeUndefined()
    expect(m.bestPreload(door, Number.NaN)).toBeUndefined()
    expect(m.bestPreload(door, -5)).toBeUndefined()
    expect(m.idealLine({ ...door, turns: 0 })).toBeUndefined()
  })
  it('no springs come near a door that gets heavier on the drum as it opens: a bar on a growing coil', () => {
    const door = doorFrom({ od: 0.2, ring: 0, thickness: 0.03, dead: 0, per: 1, bar: 60, height: 3, rise: 0.2 })
    expect(m.doorTorque(door, door.turns)).toBeGreaterThan(m.doorTorque(door, 0))
    expect(m.idealLine(door)).toBeUndefined()
  })
  it('a place that is worse than another by a millionth is the worst one, the upper too', () => {
    const door = doorFrom({ od: 0.2, ring: 0, thickness: 0, dead: 0, per: 12, bar: 4, height: 3, rise: 0 })
    const ideal = m.idealLine(door)!
    const closed = m.doorTorque(door, 0)
    // the difference is a straight line: so much at the floor, as much the other way at the head, and a little more
    const off = 0.05 * closed
    const worst = (more: number) => {
      const rate = ideal.rate * (1 - (off * (2 + more)) / (ideal.rate * door.turns))
      return m.worstTorque(door, rate, (closed - off) / rate - door.turns)
    }
    expect(worst(1e-6).height).toBeCloseTo(3, 9)
    expect(worst(-1e-6).height).toBe(0)
    expect(worst(1e-6).torque).toBeCloseTo(off, 3)
  })
  it('with one spring of several lost takes more to raise, and with the only one its whole weight', () =>
    fc.assert(
      fc.property(balanced, fc.double({ min: 0.05, max: 1, noNaN: true }), (c, share) => {
        const preload = Math.max(0, c.preload)
        const lost = m.lostForce(c.door, c.rate, c.rate * share, preload)
        expect(lost).toBeGreaterThanOrEqual(m.raiseForce(c.door, c.rate, preload))
        const alone = G * (c.sizes.per * (c.sizes.height + c.sizes.rise) + c.sizes.bar)
        expect(m.lostForce(c.door, c.rate, c.rate, preload) / alone).toBeCloseTo(1, 9)
        expect(lost).toBeLessThanOrEqual(alone * (1 + 1e-9))
      }),
    ))
  it('more preload takes less to raise and more to lower', () =>
    fc.assert(
      fc.property(balanced, ({ door, rate, preload }) => {
        expect(m.raiseForce(door, rate, preload + 0.5)).toBeLessThanOrEqual(m.raiseForce(door, rate, preload))
        expect(m.lowerForce(door, rate, preload + 0.5)).toBeGreaterThanOrEqual(m.lowerForce(door, rate, preload))
      }),
    ))
})
