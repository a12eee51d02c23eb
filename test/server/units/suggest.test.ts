import fc from 'fast-check'
import { expect, it } from 'vitest'
import { DIMENSION, suggestUnits, UNITS, unitMeant, unitOf } from '../../../server/units/index.ts'

it.each<[written: string, meant: string]>([
  ['Mm', 'mm'],
  ['KG', 'kg'],
  ['LB', 'lb'],
  ['MPA', 'MPa'],
  ['RPM', 'rpm'],
  ['inch', 'in'],
  ['Inches', 'in'],
  ['feet', 'ft'],
  ['foot', 'ft'],
  ['ft.', 'ft'],
  ['psf.', 'psf'],
  ['degrees', 'deg'],
  ['degres', 'deg'],
  ['°', 'deg'],
  ['hours', 'h'],
  ['sec', 's'],
  ['ft-lb', 'lbf*ft'],
  ['newton', 'N'],
  ['Nm', 'N*m'],
  ['spf', 'psf'],
  ['truns', 'turns'],
])('%s was meant as %s', (written, meant) => expect(suggestUnits(written)).toEqual([meant]))

it('takes the dimension to tell a mass from a force', () => {
  expect(suggestUnits('pounds')).toEqual(['lb', 'lbf'])
  expect(suggestUnits('lbs', DIMENSION.force)).toEqual(['lbf'])
  expect(suggestUnits('lbs', DIMENSION.mass)).toEqual(['lb'])
  expect(suggestUnits('kgs', DIMENSION.mass)).toEqual(['kg'])
  expect(suggestUnits('feet', DIMENSION.mass)).toEqual([])
  expect(suggestUnits('lfb')).toEqual([]) // lb or lbf
  expect(suggestUnits('lfb', DIMENSION.force)).toEqual(['lbf'])
})

it.each([
  'mil',
  'mils',
  'ton',
  'ksf',
  'bar',
  'nm',
  'psy',
  'x',
  '',
  '.',
  'banana',
  'constructor',
  '__proto__',
  'toString',
])('guesses nothing for "%s"', name => {
  expect(suggestUnits(name)).toEqual([])
  expect(suggestUnits(name, DIMENSION.length)).toEqual([])
})

it('only ever names units, and none for a unit', () => {
  const short = fc.string({ maxLength: 6 })
  const near = fc.constantFrom(...UNITS.keys()).chain(unit => short.map(tail => unit + tail))
  fc.assert(
    fc.property(fc.oneof(short, near), name => {
      for (const unit of suggestUnits(name)) expect(unitOf(unit)).toBeDefined()
    }),
  )
  for (const name of UNITS.keys()) expect(suggestUnits(name)).toEqual([])
})

it('knows the unit that was meant where one of the wrong dimension stands', () => {
  expect(unitMeant('lb', DIMENSION.force)).toBe('lbf')
  expect(unitMeant('lbf', DIMENSION.mass)).toBe('lb')
  expect(unitMeant('kg', DIMENSION.force)).toBe('kgf')
  expect(unitMeant('psf', DIMENSION['mass per area'])).toBe('lb/ft^2')
  expect(unitMeant('lb/ft^2', DIMENSION.pressure)).toBe('psf')
  expect(unitMeant('lb*in', DIMENSION.torque)).toBe('lbf*in')
  expect(unitMeant('lbf*in', DIMENSION['torque per angle'])).toBe('lbf*in/turn')
  expect(unitMeant('lb*in', DIMENSION['torque per angle'])).toBe('lbf*in/turn')
  expect(unitMeant('in', DIMENSION.mass)).toBeUndefined()
  expect(unitMeant('lb', DIMENSION.mass)).toBeUndefined()
  expect(unitMeant('constructor', DIMENSION.mass)).toBeUndefined()
})
