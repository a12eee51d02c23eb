import { DIMENSION, type Dimension, multiply, power } from './dimension.ts'

/** A system of units to write in. */
export type System = 'imperial' | 'metric'

/** A unit of the language. One of it is `factor` in SI base units (m, kg, s, rad and their products). */
export interface Unit {
  readonly name: string
  readonly dimension: Dimension
  /** Exact by definition, to the last digit that a double holds. */
  readonly factor: number
  readonly system: System | 'both'
  /** One line for hover and completion. */
  readonly doc: string
  readonly source: 'NIST SP 811'
}

/** One unit of a unit expression with its exponent: `lbf*in/turn` is lbf^1, in^1, turn^-1. */
export interface UnitFactor {
  readonly name: string
  readonly power: number
}

// The definitions everything else follows from (NIST SP 811, appendix B): the inch, the pound and standard gravity.
const IN = 0.0254
const FT = 0.3048
const LB = 0.45359237
const LBF = 4.4482216152605 // 0.45359237 kg x 9.80665 m/s^2, written out because the product of two doubles is not exact
const DAY = 86400
const TURN = 2 * Math.PI

const table = new Map<string, Unit>()

function add(system: Unit['system'], dimension: Dimension, name: string, factor: number, doc: string): void {
  table.set(name, { name, dimension, factor, system, doc, source: 'NIST SP 811' })
}

const { length, mass, force, time, speed, angle, pressure, power: watts } = DIMENSION
add('imperial', length, 'in', IN, 'inch; 25.4 mm exactly')
add('imperial', length, 'ft', FT, 'foot; 12 in, 0.3048 m exactly')
add('imperial', length, 'yd', 0.9144, 'yard; 3 ft, 0.9144 m exactly')
add('imperial', length, 'mi', 1609.344, 'mile; 5280 ft, 1609.344 m exactly')
add('metric', length, 'mm', 0.001, 'millimetre; 0.001 m')
add('metric', length, 'cm', 0.01, 'centimetre; 0.01 m')
add('metric', length, 'm', 1, 'metre')
add('metric', length, 'km', 1000, 'kilometre; 1000 m')
add('imperial', mass, 'lb', LB, 'pound, a mass; 0.45359237 kg exactly')
add('imperial', mass, 'oz', LB / 16, 'ounce, a mass; 1/16 lb')
add('metric', mass, 'kg', 1, 'kilogram')
add('metric', mass, 'g', 0.001, 'gram; 0.001 kg')
add('imperial', force, 'lbf', LBF, 'pound-force; 4.4482216152605 N exactly')
add('imperial', force, 'kip', 1000 * LBF, '1000 pounds-force; 4448.2216152605 N exactly')
add('metric', force, 'N', 1, 'newton; 1 kg*m/s^2')
add('metric', force, 'kN', 1000, 'kilonewton; 1000 N')
add('metric', force, 'kgf', 9.80665, 'kilogram-force; 9.80665 N exactly')
add('both', time, 's', 1, 'second')
add('both', time, 'min', 60, 'minute; 60 s')
add('both', time, 'h', 3600, 'hour; 60 min')
add('both', time, 'day', DAY, 'day; 24 h')
add('both', time, 'week', 7 * DAY, 'week; 7 days')
add('both', time, 'month', (365 * DAY) / 12, 'month; a twelfth of a year of 365 days')
add('both', time, 'year', 365 * DAY, 'year; 365 days')
add('imperial', speed, 'mph', 0.44704, 'mile per hour; 0.44704 m/s exactly')
add('both', angle, 'turn', TURN, 'one full turn; 360 deg, 2 pi rad')
add('both', angle, 'turns', TURN, 'full turns; 360 deg each, 2 pi rad')
add('both', angle, 'deg', TURN / 360, 'degree; 1/360 turn')
add('both', angle, 'rad', 1, 'radian; 1/(2 pi) turn')
add('imperial', pressure, 'psf', LBF / (FT * FT), 'pound-force per square foot, a pressure; about 47.88026 Pa')
add('imperial', pressure, 'psi', LBF / (IN * IN), 'pound-force per square inch; about 6894.757 Pa')
add('imperial', pressure, 'ksi', (1000 * LBF) / (IN * IN), '1000 psi; about 6.894757 MPa')
add('metric', pressure, 'Pa', 1, 'pascal; 1 N/m^2')
add('metric', pressure, 'kPa', 1000, 'kilopascal; 1000 Pa')
add('metric', pressure, 'MPa', 1e6, 'megapascal; 1 N/mm^2')
add('imperial', watts, 'hp', 550 * FT * LBF, 'horsepower; 550 ft*lbf/s, about 745.6999 W')
add('metric', watts, 'W', 1, 'watt; 1 N*m/s')
add('metric', watts, 'kW', 1000, 'kilowatt; 1000 W')
add('both', DIMENSION['speed of rotation'], 'rpm', TURN / 60, 'turns per minute')
add('both', DIMENSION.count, '%', 0.01, 'hundredths; a plain number')

/** Every unit of the language by its name. Names are case sensitive. */
export const UNITS: ReadonlyMap<string, Unit> = table

export type ResolvedUnit =
  | { readonly ok: true; readonly factor: number; readonly dimension: Dimension }
  | { readonly ok: false; readonly unknown: number }

/**
 * What one of a unit expression is in SI base units, and its dimension. No factors at all is a plain number. Where a
 * name is no unit, `unknown` is the place of the first such factor in the list.
 */
export function resolveUnit(factors: readonly UnitFactor[]): ResolvedUnit {
  let factor = 1
  let dimension: Dimension = DIMENSION.count
  for (const [index, part] of factors.entries()) {
    const unit = UNITS.get(part.name)
    if (unit === undefined) return { ok: false, unknown: index }
    // Dividing by a whole power rounds once less than multiplying by its inverse, so that 20/day stays 20 / 86400.
    if (part.power < 0) factor /= unit.factor ** -part.power
    else factor *= unit.factor ** part.power
    dimension = multiply(dimension, power(unit.dimension, part.power))
  }
  return { ok: true, factor, dimension }
}

/**
 * The factors of a unit written as text: `lbf*in/turn`, `kg/m^2`, `/day`, `%`; the empty text is a plain number with no
 * factors. A `/` holds for the one unit behind it. Undefined where the text is not of that form; whether the names are
 * units is for `resolveUnit` to say.
 */
export function parseUnit(text: string): UnitFactor[] | undefined {
  if (text === '') return []
  const source = text.startsWith('/') ? text : `*${text}`
  const factors: UnitFactor[] = []
  let end = 0
  for (const match of source.matchAll(/([*·/])([A-Za-z]+|%)(?:\^([234]))?/gy)) {
    const exponent = match[3] === undefined ? 1 : Number(match[3])
    factors.push({ name: match[2]!, power: match[1] === '/' ? -exponent : exponent })
    end = match.index + match[0].length
  }
  return end === source.length ? factors : undefined
}

/** `parseUnit` and `resolveUnit` in one; undefined where the text is no unit of the language. */
export function unitOf(text: string): { factor: number; dimension: Dimension } | undefined {
  const factors = parseUnit(text)
  if (factors === undefined) return undefined
  const resolved = resolveUnit(factors)
  return resolved.ok ? { factor: resolved.factor, dimension: resolved.dimension } : undefined
}

/** The system a unit text belongs to: the first unit in it that is not common to both; undefined if it is no unit. */
export function systemOf(text: string): System | 'both' | undefined {
  const factors = parseUnit(text)
  if (factors === undefined || factors.some(part => !UNITS.has(part.name))) return undefined
  return factors.map(part => UNITS.get(part.name)!.system).find(system => system !== 'both') ?? 'both'
}
