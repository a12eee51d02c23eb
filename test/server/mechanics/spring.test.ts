import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { meets } from './meets.ts'
import { PUBLISHED_SPRINGS as P } from './published-springs.ts'

const TURN = 2 * Math.PI
/** Moment at which the inner fibre has this stress. */
const momentAt = (d: number, D: number, stress: number): number => stress / m.springStress(d, D, 1)!
/** The same, without the factor of the inner fibre. */
const plainMoment = (d: number, D: number, stress: number): number => momentAt(d, D, stress) * m.stressFactor(D / d)!
/** The handbook has 392 S N D / (E d) degrees, where theory has 360: its springs are 8.9 % softer. */
const HANDBOOK = 392 / 360

describe('published springs', () => {
  meets(P, /^A1$/, x => {
    const D = x.OD! - x.d!
    const strength = m.tensileStrength('music_wire', x.d!)!
    const yields = m.springYield('music_wire', strength)
    const M = momentAt(x.d!, D, yields)
    const body = M / m.springRate(x.d!, D, x.Nb!, 'music_wire', true)
    const inside = m.insideWound(x.d!, D, x.Nb!, body)!
    const k = m.springRate(x.d!, D, x.Nb! + (x.l1! + x.l2!) / (3 * Math.PI * D), 'music_wire', true)
    return {
      Sut: strength,
      Sy: yields,
      C: m.springIndex(x.d!, D),
      Ki: m.stressFactor(D / x.d!),
      M,
      theta_body: body / TURN,
      k_turn: k,
      theta_total: M / k / TURN,
      D_wound: inside + x.d!,
      ID_wound: inside,
    }
  })
  meets(P, /^A3$/, x => {
    const D = x.ID! + x.d!
    const T = plainMoment(x.d!, D, x.S!)
    const perCoil = (T / m.torsionRate(x.E!, x.d!, D, 1, false)) * HANDBOOK
    return {
      T_table: T,
      F_per_coil: perCoil,
      N: x.deflection! / perCoil,
      C: m.springIndex(x.d!, D),
      sigma_corrected: m.springStress(x.d!, D, T),
      body_length: m.lengthFree(x.d!, x.N_chosen!, 0),
    }
  })
  it("A3 [seen] Machinery's Handbook, 31st ed., p. 336: shrinks the inside itself to 0.479 in; the wire does not shrink, so here less is left", () => {
    const inside = m.insideWound(0.085, 0.585, 5.75, Math.PI / 2)!
    expect((inside + 0.085) / 0.585).toBeCloseTo(0.479 / 0.5, 3)
    expect(inside).toBeLessThan(0.479)
  })
  meets(P, /^A4\./, x => {
    const D = x.ID! + x.d!
    const T = plainMoment(x.d!, D, x.S!)
    return { T, F_per_coil: (T / m.torsionRate(x.E!, x.d!, D, 1, false)) * HANDBOOK }
  })
  meets(P, /^A5$/, x => ({ N: m.wholeUp(m.torsionRate(x.E!, x.d!, x.D!, 1, false) / x.k_rad!) }))
  meets(P, /^A6$/, x => {
    const D = x.OD! - x.d!
    const printed = (x.A! * 1e6) / (x.d! * 1000) ** x.m!
    const M = momentAt(x.d!, D, x.yield_fraction! * printed)
    const body = M / m.torsionRate(x.E!, x.d!, D, x.Nb!, true)
    return {
      Sut: m.tensileStrength('music_wire', x.d!),
      Ki: m.stressFactor(D / x.d!),
      M,
      theta_body: body / TURN,
      k_turn: m.torsionRate(x.E!, x.d!, D, x.Nb! + (x.l1! + x.l2!) / (3 * Math.PI * D), true),
      D_wound: m.insideWound(x.d!, D, x.Nb!, body)! + x.d!,
    }
  })
  meets(P, /^A9\./, x => ({ Ki: m.stressFactor(x.C!) }))
  meets(P, /^A10$/, () => ({
    theory_per_turn: 1 / (m.torsionRate(1, 1, 1, 1, false) * TURN),
    shigley_smi: 1 / (m.torsionRate(1, 1, 1, 1, true) * TURN),
  }))
})

const coil = fc.record({
  wire: fc.double({ min: 0.002, max: 0.016, noNaN: true }),
  index: fc.double({ min: 1.5, max: 25, noNaN: true }),
  coils: fc.double({ min: 1, max: 400, noNaN: true }),
})

describe('springs of any size', () => {
  it('are stiffer with thicker wire, softer with more coils and with friction', () =>
    fc.assert(
      fc.property(coil, ({ wire, index, coils }) => {
        const D = wire * index
        const rate = m.springRate(wire, D, coils, 'oil_tempered', false)
        expect(rate).toBeGreaterThan(0)
        expect(m.springRate(wire * 1.01, D, coils, 'oil_tempered', false)).toBeGreaterThan(rate)
        expect(m.springRate(wire, D, coils + 1, 'oil_tempered', false)).toBeLessThan(rate)
        expect(m.springRate(wire, D, coils, 'oil_tempered', true)).toBeLessThan(rate)
        expect(m.springRate(wire, D, coils, 'chrome_silicon', false)).toBeGreaterThan(rate)
      }),
    ))
  it('have more stress with more moment, never less than the straight bar has', () =>
    fc.assert(
      fc.property(coil, fc.double({ min: 0, max: 1e4, noNaN: true }), ({ wire, index }, moment) => {
        const stress = m.springStress(wire, wire * index, moment)!
        expect(stress).toBeGreaterThanOrEqual((32 * moment) / (Math.PI * wire ** 3))
        expect(m.springStress(wire, wire * index, moment + 1)!).toBeGreaterThan(stress)
      }),
    ))
  it('keep their wire when wound: length of wire is the same before and after', () =>
    fc.assert(
      fc.property(coil, fc.double({ min: 0, max: 100, noNaN: true }), ({ wire, index, coils }, twist) => {
        const D = wire * index
        const wound = m.insideWound(wire, D, coils, twist)! + wire
        const coilsWound = m.lengthWound(wire, coils, 0, twist) / wire - 1
        expect((wound * coilsWound) / (D * coils)).toBeCloseTo(1, 9)
      }),
    ))
  it('weigh what steel weighs: 1 m of 10 mm wire is 0.617 kg [reinforcing bar table, from memory]', () => {
    expect(m.springWeight(0.01, 0.1, 10 / Math.PI)).toBeCloseTo(0.617, 3)
    expect(m.outsideFree(0.01, 0.1)).toBeCloseTo(0.11, 12)
  })
  it('with a coil not larger than its wire have no stress, and without a wire no index', () => {
    expect(m.springStress(0.01, 0.01, 5)).toBeUndefined()
    expect(m.springIndex(0, 0.1)).toBeUndefined()
    expect(m.stressFactor(1)).toBeUndefined()
    expect(m.insideWound(0.01, 0.1, 1, -4 * Math.PI)).toBeUndefined()
    expect(m.insideWound(0.01, 0.1, 1, -TURN)).toBeUndefined()
    expect(m.springIndex(0.01, 0.005)).toBe(0.5)
  })
  it('wound until nothing is left of the inside say so with a number below zero', () => {
    expect(m.insideWound(0.01, 0.02, 2, 2 * TURN)).toBeCloseTo(0, 12)
    expect(m.insideWound(0.01, 0.02, 2, 3 * TURN)!).toBeLessThan(0)
  })
})

describe('shaft', () => {
  it('1 in solid shaft, 1000 lbf*in: 16000/pi = 5093 psi [own arithmetic]', () => {
    expect(m.shaftStress(1000, 1)).toBeCloseTo(5092.958, 3)
    expect(m.shaftStress(1000, 2)).toBeCloseTo(5092.958 / 8, 3)
    expect(m.shaftStress(1000, 0)).toBeUndefined()
  })
})
