import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  convert,
  DIMENSION,
  type Dimension,
  defaultUnit,
  plainDecimal,
  type System,
  UNITS,
  unitOf,
  unitsFor,
  writeExact,
  writeFraction,
} from '../../../server/units/index.ts'
import { clean, read } from './reader.ts'

const IN = 0.0254
const FT = 0.3048
const TURN = 2 * Math.PI
const L = DIMENSION.length

const double = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }),
  fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e200, max: 1e200 }),
  fc.integer({ min: -100000, max: 100000 }).map(n => n / 64),
)
describe('writing into a job file', () => {
  it.each<[si: number, d: Dimension, unit: string, text: string]>([
    [148.5 * IN, L, 'ft+in', '12ft 4 1/2in'],
    [144 * IN, L, 'ft+in', '12ft'],
    [-148.5 * IN, L, 'ft+in', '-12ft 4 1/2in'],
    [0.375 * IN, L, 'ft+in', '3/8in'],
    [-0.375 * IN, L, 'in', '-3/8in'],
    [0.4063 * IN, L, 'in', '0.4063in'],
    [0, L, 'in', '0in'],
    [-0, L, 'ft+in', '0in'],
    [3.81, L, 'mm', '3810mm'],
    [0.1 + 0.2, L, 'm', '0.3m'],
    [1.75 * TURN, DIMENSION.angle, 'turns', '1 3/4 turns'],
    [1.7 * TURN, DIMENSION.angle, 'turn', '1.7 turns'],
    [TURN, DIMENSION.angle, 'turns', '1 turn'],
    [-TURN / 2, DIMENSION.angle, 'turns', '-1/2 turn'],
    [0, DIMENSION.angle, 'turn', '0 turns'],
    [Math.PI / 2, DIMENSION.angle, 'deg', '90deg'],
    [(320 * 4.4482216152605 * IN) / TURN, DIMENSION['torque per angle'], 'lbf*in/turn', '320 lbf*in/turn'],
    [20 / 86400, DIMENSION['count per time'], '/day', '20/day'],
    [0.03, DIMENSION.count, '%', '3%'],
    [0.0025, DIMENSION.count, 'in/ft', '0.03 in/ft'],
    [1e-7, DIMENSION.count, '', '0.0000001'],
    [1e21, DIMENSION.count, '', '1000000000000000000000'],
    [-1.5e-7, DIMENSION.count, '', '-0.00000015'],
    [5400, DIMENSION.time, 'h+min', '1h 30min'],
  ])('%d as %j in "%s" is %s', (si, d, unit, text) => {
    expect(writeExact(si, d, unit)).toBe(text)
    expect(Math.abs(read(text) - si)).toBeLessThanOrEqual(1e-12 * Math.abs(si))
  })

  it('reads back as the same value, in every unit', () => {
    const units = [...UNITS.keys(), ...Object.values(DIMENSION).flatMap(d => unitsFor(d)), 'in/ft', '']
    for (const unit of new Set(units)) {
      const { factor, dimension } = unitOf(unit)!
      fc.assert(
        fc.property(double, value => {
          const si = value * factor
          const text = writeExact(si, dimension, unit)
          fc.pre(Math.abs(value) > 1e-280 || value === 0)
          clean(text!)
          expect(Math.abs(read(text!) - si)).toBeLessThanOrEqual(1e-12 * Math.abs(si))
        }),
        { numRuns: 50 },
      )
    }
  })

  it('reads back as the same value in feet and inches, hours and minutes, and never carries wrongly', () => {
    fc.assert(
      fc.property(double, fc.constantFrom('ft+in', 'lb+oz', 'h+min', 'yd+ft'), (value, unit) => {
        const [big, small] = unit.split('+').map(name => UNITS.get(name)!)
        const si = value * small!.factor
        fc.pre(Math.abs(value) > 1e-280 || value === 0)
        const text = writeExact(si, small!.dimension, unit)!
        clean(text)
        expect(Math.abs(read(text) - si)).toBeLessThanOrEqual(1e-12 * Math.abs(si))
        const last = / ([^ ]*(?: \d+\/\d+)?)$/.exec(text.replace(/ (?=[a-z])/g, ''))
        if (last !== null) expect(read(last[1]!)).toBeLessThan(big!.factor)
      }),
    )
  })

  it('writes nothing that could be wrong', () => {
    expect(writeExact(Number.NaN, L, 'in')).toBeUndefined()
    expect(writeExact(Number.POSITIVE_INFINITY, L, 'in')).toBeUndefined()
    expect(writeExact(1e308, L, 'mm')).toBeUndefined()
    expect(writeExact(1, L, 'lb')).toBeUndefined()
    expect(writeExact(1, L, 'cubit')).toBeUndefined()
    expect(writeExact(1, L, 'in+ft')).toBeUndefined()
    expect(writeExact(1, L, 'ft+lb')).toBeUndefined()
    expect(writeExact(1, L, 'constructor')).toBeUndefined()
  })
})

describe('writing to a fraction', () => {
  it.each<[si: number, unit: string, denominator: number, rounding: 'nearest' | 'up' | 'down', text: string]>([
    [1.9999999 * TURN, 'turns', 8, 'nearest', '2 turns'],
    [1.9999999 * TURN, 'turns', 8, 'down', '1 7/8 turns'],
    [1.9999999999 * TURN, 'turns', 8, 'down', '2 turns'],
    [2.0000000001 * TURN, 'turns', 8, 'up', '2 turns'],
    [1.7 * TURN, 'turns', 8, 'up', '1 3/4 turns'],
    [1.7 * TURN, 'turns', 8, 'down', '1 5/8 turns'],
    [(11 / 6) * TURN, 'turns', 6, 'nearest', '1 5/6 turns'],
    [0.99999 * FT, 'ft+in', 16, 'nearest', '1ft'],
    [148.49 * IN, 'ft+in', 8, 'nearest', '12ft 4 1/2in'],
    [148.49 * IN, 'in', 8, 'nearest', '148 1/2in'],
    [-0.37 * IN, 'in', 8, 'nearest', '-3/8in'],
    [-0.37 * IN, 'in', 8, 'up', '-1/4in'],
    [-0.37 * IN, 'in', 8, 'down', '-3/8in'],
    [-0.01 * IN, 'in', 8, 'nearest', '0in'],
    [0.5 * IN, 'in', 1, 'nearest', '1in'],
    [-0.5 * IN, 'in', 1, 'nearest', '-1in'],
    [-2.5 * IN, 'in', 1, 'nearest', '-3in'],
    [0, 'turns', 8, 'up', '0 turns'],
  ])('%d in %s to 1/%d %s is %s', (si, unit, denominator, rounding, text) => {
    expect(writeFraction(si, unit, denominator, { rounding })).toBe(text)
  })

  it('is a whole number of steps, within a step, on the right side, and rounding again changes nothing', () => {
    const denominators = fc.constantFrom(1, 2, 4, 6, 8, 10, 16, 32, 64)
    const roundings = fc.constantFrom('nearest' as const, 'up' as const, 'down' as const)
    const value = fc.double({ noNaN: true, min: -5000, max: 5000 })
    fc.assert(
      fc.property(value, denominators, roundings, fc.constantFrom('in', 'ft+in', 'turns'), (v, den, rounding, unit) => {
        const factor = unit === 'turns' ? TURN : IN
        const text = writeFraction(v * factor, unit, den, { rounding })!
        clean(text)
        const back = read(text) / factor
        expect(Math.abs(back * den - Math.round(back * den))).toBeLessThan(1e-6)
        const off = (back - v) * den
        const slack = 2e-9 * Math.max(1, Math.abs(v * den))
        if (rounding === 'nearest') expect(Math.abs(off)).toBeLessThanOrEqual(0.5 + slack)
        if (rounding === 'up') expect(off > -slack && off < 1).toBe(true)
        if (rounding === 'down') expect(off < slack && off > -1).toBe(true)
        expect(writeFraction(read(text), unit, den, { rounding })).toBe(text)
        const inches = / (\d+)(?: \d+\/\d+)?in$/.exec(text)
        if (unit === 'ft+in' && inches !== null && text.includes('ft')) expect(Number(inches[1])).toBeLessThan(12)
      }),
      { numRuns: 500 },
    )
  })

  it('refuses what has no fraction', () => {
    expect(writeFraction(1 / 86400, '/day', 8)).toBeUndefined()
    expect(writeFraction(1, 'ft+mm', 8)).toBeUndefined()
    expect(writeFraction(Number.NaN, 'in', 8)).toBeUndefined()
    expect(writeFraction(1, 'in', 0)).toBeUndefined()
    expect(writeFraction(1, 'in', 2.5)).toBeUndefined()
    expect(writeFraction(1, 'nope', 8)).toBeUndefined()
  })
})

describe('converting', () => {
  it('is exact, or to a fraction of an inch', () => {
    expect(convert(148.5 * IN, L, 'metric')).toBe('3771.9mm')
    expect(convert(3.81, L, 'imperial')).toBe('12ft 6in')
    expect(convert(0.0127, L, 'imperial')).toBe('1/2in')
    expect(convert(3.8, L, 'imperial', { denominator: 16 })).toBe('12ft 5 5/8in') // 149.606 in, own number
    expect(convert(3.8, L, 'imperial', { denominator: 16, rounding: 'down' })).toBe('12ft 5 9/16in')
    expect(convert(10 * 0.45359237, DIMENSION.mass, 'metric')).toBe('4.5359237 kg')
    expect(convert(Number.NaN, L, 'metric')).toBeUndefined()
  })

  it('there and back is where it was, for every dimension', () => {
    const dimensions = fc.constantFrom<Dimension>(...Object.values(DIMENSION), [1, 1, 0, 0], [3, 1, -2, 0])
    const size = fc.double({ noNaN: true, min: 1e-9, max: 1e9 })
    fc.assert(
      fc.property(size, dimensions, fc.constantFrom<System>('imperial', 'metric'), (si, d, system) => {
        const text = convert(si, d, system)!
        clean(text)
        expect(Math.abs(read(text) / si - 1)).toBeLessThan(1e-12)
        expect(unitOf(defaultUnit(si, d, system).split('+')[0]!)?.dimension).toEqual(d)
      }),
      { numRuns: 1000 },
    )
  })
})

it('writes every double in plain digits that read back', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), value => {
      const text = plainDecimal(value)
      expect(text).toMatch(/^-?\d+(\.\d+)?$/)
      expect(Number(text)).toBe(value + 0)
    }),
  )
})
