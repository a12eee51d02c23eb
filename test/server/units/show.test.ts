import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DIMENSION, type Dimension, type System, showQuantity, unitOf } from '../../../server/units/index.ts'
import { clean, read } from './reader.ts'

const IN = 0.0254
const TURN = 2 * Math.PI
const L = DIMENSION.length

describe('showing', () => {
  const shown = (si: number, d: Dimension, options: Partial<Parameters<typeof showQuantity>[2]> = {}) =>
    showQuantity(si, d, { system: 'imperial', ...options }).text

  it.each<[si: number, d: Dimension, options: Partial<Parameters<typeof showQuantity>[2]>, text: string]>([
    [148.5 * IN, L, {}, '12 ft 4 1/2 in'],
    [-148.5 * IN, L, {}, '-12 ft 4 1/2 in'],
    [144.01 * IN, L, {}, '12 ft'],
    [11.99999 * IN, L, {}, '1 ft'],
    [11.97 * IN, L, { fraction: 8 }, '1 ft'],
    [-0.375 * IN, L, {}, '-3/8 in'],
    [0.4063 * IN, L, {}, '0.4063 in'],
    [0.5 * IN, L, { unit: 'in' }, '1/2 in'],
    [0.5 * IN, L, { unit: 'in', digits: 3 }, '0.5 in'],
    [0, L, {}, '0 in'],
    [-1e-15, L, {}, '0 in'],
    [3.81, L, { system: 'metric' }, '3810 mm'],
    [0.0373, L, { system: 'metric' }, '37.3 mm'],
    [9.999999, L, { system: 'metric' }, '10 m'],
    [12.3456, L, { system: 'metric' }, '12.346 m'],
    [1, L, { unit: 'lb' }, '3 ft 3 3/8 in'],
    [4.01 * TURN, DIMENSION.angle, {}, '4.01 turns'],
    [TURN, DIMENSION.angle, {}, '1 turn'],
    [-TURN, DIMENSION.angle, {}, '-1 turn'],
    [TURN / 2, DIMENSION.angle, { fraction: 8 }, '1/2 turn'],
    [1.9999999 * TURN, DIMENSION.angle, { fraction: 8 }, '2 turns'],
    [Math.PI / 4, DIMENSION.angle, { unit: 'deg' }, '45 deg'],
    [20 / 86400, DIMENSION['count per time'], {}, '20/day'],
    [0.05, DIMENSION.count, { unit: '%' }, '5%'],
    [123456, DIMENSION.count, {}, '123456'],
    [1e-7, DIMENSION.count, {}, '0.0000001'],
    [957.605, DIMENSION.pressure, {}, '20 psf'], // 20 x 47.88026 Pa
    [689475.7, DIMENSION.pressure, {}, '100 psi'],
    [2e8, DIMENSION.pressure, {}, '29.01 ksi'],
    [2e8, DIMENSION.pressure, { system: 'metric' }, '200 MPa'],
    [0.254, DIMENSION.speed, {}, '50 ft/min'],
    [0.25, DIMENSION.speed, { system: 'metric' }, '250 mm/s'],
    [315360000, DIMENSION.time, {}, '10 years'],
    [TURN / 60, DIMENSION['speed of rotation'], {}, '1 rpm'],
    [Number.NaN, L, {}, 'no value'],
    [Number.NEGATIVE_INFINITY, L, {}, 'no value'],
  ])('%d as %j with %j is %s', (si, d, options, text) => expect(shown(si, d, options)).toBe(text))

  it('gives the value in the unit it names, not rounded', () => {
    expect(showQuantity(4.01 * TURN, DIMENSION.angle, { system: 'imperial', unit: 'turns' })).toEqual({
      value: 4.01,
      unit: 'turn',
      text: '4.01 turns',
    })
    expect(showQuantity(148.5 * IN, L, { system: 'imperial' })).toMatchObject({ value: 12.375, unit: 'ft' })
    expect(showQuantity(-0, L, { system: 'metric' }).value).toBe(0)
  })

  it('is short, and near the value, whatever it is', () => {
    const size = fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e7, max: 1e7 })
    const systems = fc.constantFrom<System>('imperial', 'metric')
    fc.assert(
      fc.property(size, fc.constantFrom(...Object.values(DIMENSION)), systems, (si, d, system) => {
        const { text, value, unit } = showQuantity(si, d, { system })
        clean(text)
        expect(text.length).toBeLessThan(40)
        expect(Math.abs(value * unitOf(unit)!.factor - si)).toBeLessThanOrEqual(1e-12 * Math.abs(si) + 1e-300)
        const back = read(text.replace(/(day|week|month|year)s/, '$1'))
        // Half a digit of four, half of 1/16 in, or what is below nine decimals.
        const half = Math.max(5.01e-4 * Math.abs(si), (IN / 32) * 1.0001, 1e-9 * unitOf(unit)!.factor)
        expect(Math.abs(back - si)).toBeLessThanOrEqual(half)
      }),
      { numRuns: 1000 },
    )
  })
})
