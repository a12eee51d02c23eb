import { DIMENSION, type Dimension, type DimensionName, dimensionName, sameDimension } from './dimension.ts'
import type { System } from './units.ts'

/** How each dimension is commonly written in this trade, most usual first, both systems. */
const COMMON: Readonly<Record<DimensionName, readonly string[]>> = {
  count: ['%'],
  length: ['ft', 'in', 'mm', 'm', 'cm', 'yd'],
  area: ['ft^2', 'in^2', 'm^2', 'mm^2'],
  'length^3': ['in^3', 'mm^3', 'ft^3', 'm^3'],
  'length^4': ['in^4', 'mm^4'],
  mass: ['lb', 'kg', 'oz', 'g'],
  time: ['s', 'min', 'h', 'day', 'week', 'month', 'year'],
  angle: ['turns', 'deg', 'rad'],
  speed: ['ft/min', 'mph', 'm/s', 'mm/s', 'ft/s', 'in/s'],
  acceleration: ['ft/s^2', 'm/s^2'],
  force: ['lbf', 'N', 'kN', 'kip', 'kgf'],
  torque: ['lbf*in', 'lbf*ft', 'N*m'],
  'torque per angle': ['lbf*in/turn', 'N*m/turn', 'N*m/rad', 'lbf*ft/turn', 'lbf*in/deg'],
  pressure: ['psf', 'psi', 'ksi', 'Pa', 'kPa', 'MPa'],
  power: ['hp', 'W', 'kW'],
  'speed of rotation': ['rpm', 'turn/s', 'deg/s', 'rad/s'],
  'count per time': ['/day', '/week', '/month', '/year', '/h'],
  'mass per length': ['lb/ft', 'kg/m', 'lb/in'],
  'mass per area': ['lb/ft^2', 'kg/m^2'],
  'mass per volume': ['lb/ft^3', 'kg/m^3', 'lb/in^3'],
  'force per length': ['lbf/ft', 'N/m', 'lbf/in', 'N/mm'],
}

/** The unit each dimension is written in when nobody says; the ones that go by size are in `defaultUnit`. */
const USUAL: Readonly<Record<DimensionName, readonly [imperial: string, metric: string]>> = {
  count: ['', ''],
  length: ['in', 'mm'],
  area: ['ft^2', 'm^2'],
  'length^3': ['in^3', 'mm^3'],
  'length^4': ['in^4', 'mm^4'],
  mass: ['lb', 'kg'],
  time: ['s', 's'],
  angle: ['turn', 'turn'],
  speed: ['ft/min', 'mm/s'],
  acceleration: ['ft/s^2', 'm/s^2'],
  force: ['lbf', 'N'],
  torque: ['lbf*in', 'N*m'],
  'torque per angle': ['lbf*in/turn', 'N*m/turn'],
  pressure: ['psi', 'MPa'],
  power: ['hp', 'W'],
  'speed of rotation': ['rpm', 'rpm'],
  'count per time': ['/day', '/day'],
  'mass per length': ['lb/ft', 'kg/m'],
  'mass per area': ['lb/ft^2', 'kg/m^2'],
  'mass per volume': ['lb/ft^3', 'kg/m^3'],
  'force per length': ['lbf/ft', 'N/m'],
}

/**
 * The common ways to write a dimension, for completion and for fixes, most usual first. A plain number gives `%`; a
 * dimension without a name gives one expression of basic units for each system.
 */
export function unitsFor(dimension: Dimension): readonly string[] {
  const name = dimensionName(dimension)
  if (name !== undefined) return COMMON[name]
  return [basicUnit(dimension, 'imperial'), basicUnit(dimension, 'metric')]
}

/** From this much on (SI) the unit behind it is taken; the first line that fits wins. */
type Steps = readonly (readonly [atLeast: number, unit: string])[]

const BY_SIZE: Readonly<Record<System, Partial<Record<DimensionName, Steps>>>> = {
  imperial: {
    // Wind pressures stay below 1 psi and stresses above it.
    pressure: [
      [6894.757e4 * (1 - 1e-6), 'ksi'],
      [6894.757 * (1 - 1e-6), 'psi'],
      [0, 'psf'],
    ],
    // No door moves at 20 mph; a wind does.
    speed: [
      [8.94, 'mph'],
      [0, 'ft/min'],
    ],
  },
  metric: {
    pressure: [
      [1e6, 'MPa'],
      [1e4, 'kPa'],
      [0, 'Pa'],
    ],
    speed: [
      [1, 'm/s'],
      [0, 'mm/s'],
    ],
  },
}

const TIMES: Steps = [
  [365 * 86400, 'year'],
  [86400, 'day'],
  [3600, 'h'],
  [60, 'min'],
  [0, 's'],
]

/**
 * The unit a quantity is written in when nobody says. `si` is in SI base units; its size chooses among some units. A
 * length of a foot or more is `ft+in`, feet and inches; an angle is turns; a plain number is the empty text.
 */
export function defaultUnit(si: number, dimension: Dimension, system: System): string {
  const name = dimensionName(dimension)
  if (name === undefined) return basicUnit(dimension, system)
  const size = Math.abs(si)
  if (name === 'length') {
    if (system === 'imperial') return size >= 0.3048 * (1 - 1e-12) ? 'ft+in' : 'in'
    return size >= 10 ? 'm' : 'mm'
  }
  // Nothing is nothing in any unit: a zero takes the plain one.
  const steps = size === 0 ? undefined : name === 'time' ? TIMES : BY_SIZE[system][name]
  return steps?.find(([atLeast]) => size >= atLeast)?.[1] ?? USUAL[name][system === 'imperial' ? 0 : 1]
}

/** A unit expression for any dimension, from `in lb s turn` or `m kg s rad`, or with a force where that is shorter. */
function basicUnit(dimension: Dimension, system: System): string {
  if (sameDimension(dimension, DIMENSION.count)) return ''
  const imperial = system === 'imperial'
  const forceful = dimension[1] === 1 && dimension[2] === -2
  const parts: [string, number][] = [
    [imperial ? 'lbf' : 'N', forceful ? 1 : 0],
    [imperial ? 'lb' : 'kg', forceful ? 0 : dimension[1]],
    [imperial ? 'in' : 'm', forceful ? dimension[0] - 1 : dimension[0]],
    ['s', forceful ? 0 : dimension[2]],
    [imperial ? 'turn' : 'rad', dimension[3]],
  ]
  let text = ''
  for (const [unit, exponent] of [...parts.filter(([, n]) => n > 0), ...parts.filter(([, n]) => n < 0)]) {
    // The language has powers up to the fourth; beyond, the unit is repeated.
    for (let left = Math.abs(exponent); left > 0; left -= 4) {
      const join = exponent < 0 ? '/' : text === '' ? '' : '*'
      text += join + unit + (left === 1 ? '' : `^${Math.min(left, 4)}`)
    }
  }
  return text
}
