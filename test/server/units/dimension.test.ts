import fc from 'fast-check'
import { expect, it } from 'vitest'
import {
  DIMENSION,
  type Dimension,
  describeDimension,
  dimensionName,
  divide,
  multiply,
  power,
  sameDimension,
  squareRoot,
} from '../../../server/units/index.ts'

const exponent = fc.integer({ min: -6, max: 6 })
const dimension = fc.tuple(exponent, exponent, exponent, exponent) as fc.Arbitrary<Dimension>

it('obeys the laws of algebra', () => {
  fc.assert(
    fc.property(dimension, dimension, dimension, fc.integer({ min: -4, max: 4 }), (a, b, c, n) => {
      expect(multiply(a, b)).toEqual(multiply(b, a))
      expect(multiply(multiply(a, b), c)).toEqual(multiply(a, multiply(b, c)))
      expect(divide(multiply(a, b), b)).toEqual(a)
      expect(multiply(a, DIMENSION.count)).toEqual(a)
      expect(power(multiply(a, b), n)).toEqual(multiply(power(a, n), power(b, n)))
      expect(multiply(power(a, n), power(a, -n))).toEqual(DIMENSION.count)
      expect(squareRoot(power(a, 2))).toEqual(a)
      expect(sameDimension(a, b)).toBe(a.join() === b.join())
    }),
  )
})

it('has no root of an odd exponent', () => {
  expect(squareRoot(DIMENSION.length)).toBeUndefined()
  expect(squareRoot(DIMENSION.area)).toEqual(DIMENSION.length)
  expect(squareRoot(DIMENSION.force)).toBeUndefined()
})

it('keeps the physics of the language', () => {
  expect(multiply(DIMENSION.force, DIMENSION.length)).toEqual(DIMENSION.torque)
  expect(multiply(DIMENSION['torque per angle'], DIMENSION.angle)).toEqual(DIMENSION.torque)
  expect(divide(multiply(DIMENSION.torque, DIMENSION['speed of rotation']), DIMENSION.angle)).toEqual(DIMENSION.power)
  expect(divide(DIMENSION.force, DIMENSION.area)).toEqual(DIMENSION.pressure)
  expect(multiply(DIMENSION.mass, DIMENSION.acceleration)).toEqual(DIMENSION.force)
})

it.each<[Dimension, string]>([
  [DIMENSION.count, 'a plain number'],
  [DIMENSION['torque per angle'], 'torque per angle'],
  [[1, 1, 0, 0], 'length x mass'],
  [[-1, 0, 0, 0], '1 / length'],
  [[-5, 0, 0, 0], '1 / length^5'],
  [[5, 0, 0, 0], 'length^5'],
  [[0, 1, -1, -1], 'mass / (time x angle)'],
  [[3, 1, -2, 0], 'force x length^2'],
  [[-3, 1, -2, 0], 'force / length^4'],
])('describes %j as %s', (d, words) => expect(describeDimension(d)).toBe(words))

it('describes every dimension, no two alike', () => {
  const small = fc.integer({ min: -3, max: 3 })
  const some = fc.tuple(small, small, small, small) as fc.Arbitrary<Dimension>
  fc.assert(
    fc.property(some, some, (a, b) => {
      expect(describeDimension(a) === describeDimension(b)).toBe(sameDimension(a, b))
      expect(describeDimension(a)).not.toMatch(/-|undefined|\^1\b/)
    }),
  )
  for (const [name, d] of Object.entries(DIMENSION)) expect(dimensionName(d)).toBe(name)
})
