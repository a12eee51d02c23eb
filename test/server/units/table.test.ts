import { evaluate } from 'mathjs'
import { describe, expect, it } from 'vitest'
import {
  combineParts,
  DIMENSION,
  type Dimension,
  parseUnit,
  resolveUnit,
  systemOf,
  UNITS,
  unitOf,
  unitsFor,
} from '../../../server/units/index.ts'

/** Each unit as mathjs, whose table is its own, can say it, and the SI unit to compare in. */
const IN_MATHJS: Record<string, [expression: string, si: string]> = {
  in: ['1 inch', 'm'],
  ft: ['1 ft', 'm'],
  yd: ['1 yard', 'm'],
  mi: ['1 mile', 'm'],
  mm: ['1 mm', 'm'],
  cm: ['1 cm', 'm'],
  m: ['1 m', 'm'],
  km: ['1 km', 'm'],
  lb: ['1 lbm', 'kg'],
  oz: ['1 oz', 'kg'],
  kg: ['1 kg', 'kg'],
  g: ['1 g', 'kg'],
  lbf: ['1 lbf', 'N'],
  // mathjs has its kip to eight figures only.
  kip: ['1000 lbf', 'N'],
  N: ['1 N', 'N'],
  kN: ['1 kN', 'N'],
  kgf: ['1 kgf', 'N'],
  s: ['1 s', 's'],
  min: ['1 minute', 's'],
  h: ['1 hour', 's'],
  day: ['1 day', 's'],
  week: ['1 week', 's'],
  // mathjs has a year of 365.25 days; the language says 365.
  month: ['365 day / 12', 's'],
  year: ['365 day', 's'],
  mph: ['1 mile / hour', 'm/s'],
  turn: ['1 cycle', 'rad'],
  turns: ['1 cycle', 'rad'],
  deg: ['1 deg', 'rad'],
  rad: ['1 rad', 'rad'],
  psf: ['1 lbf / ft^2', 'Pa'],
  psi: ['1 lbf / inch^2', 'Pa'],
  ksi: ['1000 lbf / inch^2', 'Pa'],
  Pa: ['1 Pa', 'Pa'],
  kPa: ['1 kPa', 'Pa'],
  MPa: ['1 MPa', 'Pa'],
  hp: ['550 ft lbf / s', 'W'],
  W: ['1 W', 'W'],
  kW: ['1 kW', 'W'],
  rpm: ['1 cycle / minute', 'rad/s'],
}

describe('the unit table', () => {
  it.each([...UNITS.values()].filter(unit => unit.name !== '%'))('$name agrees with mathjs', unit => {
    const [expression, si] = IN_MATHJS[unit.name]!
    const theirs: number = evaluate(`number(${expression}, ${si})`)
    expect(Math.abs(unit.factor / theirs - 1)).toBeLessThan(1e-14)
  })

  it('has a hundredth for %', () => {
    expect(UNITS.get('%')).toMatchObject({ factor: 0.01, dimension: DIMENSION.count })
  })

  it('has exactly the units of the language, and each documents itself', () => {
    expect([...UNITS.keys()].sort()).toEqual([...Object.keys(IN_MATHJS), '%'].sort())
    for (const unit of UNITS.values()) expect(unit.doc.length).toBeGreaterThan(4)
  })

  it.each<[unit: string, si: number, provenance: string]>([
    // NIST SP 811 (2008), appendix B.8, seven figures.
    ['in', 0.0254, 'derived from the exact definition'],
    ['ft', 0.3048, 'derived from the exact definition'],
    ['lb', 0.45359237, 'derived from the exact definition'],
    ['lbf', 4.448222, 'seen'],
    ['lbf*in', 0.1129848, 'seen'],
    ['lbf*ft', 1.355818, 'from memory'],
    ['psi', 6894.757, 'from memory'],
    ['psf', 47.88026, 'from memory'],
    ['hp', 745.6999, 'from memory'],
    ['mph', 0.44704, 'derived from the exact definition'],
    ['lb/ft^3', 16.01846, 'from memory'],
    ['in^4', 416231.4256e-12, 'derived from the exact definition'],
    ['lbf/ft', 14.5939, 'from memory'],
  ])('%s is %d in SI (NIST SP 811 B.8, %s)', (unit, si) => {
    expect(Math.abs(unitOf(unit)!.factor / si - 1)).toBeLessThan(1e-6)
  })

  it('keeps the exact definitions to the last digit', () => {
    expect(UNITS.get('lbf')!.factor).toBe(4.4482216152605)
    expect(UNITS.get('month')!.factor).toBe(2628000)
    expect(UNITS.get('oz')!.factor).toBe(0.028349523125)
    expect(unitOf('/day')!.factor).toBe(1 / 86400)
  })
})

describe('unit expressions', () => {
  it('multiplies, divides and raises', () => {
    expect(unitOf('lbf*in/turn')).toEqual({
      factor: (4.4482216152605 * 0.0254) / (2 * Math.PI),
      dimension: DIMENSION['torque per angle'],
    })
    expect(unitOf('N·m')).toEqual({ factor: 1, dimension: DIMENSION.torque })
    expect(unitOf('kg*m/s^2')!.dimension).toEqual(DIMENSION.force)
    expect(unitOf('in/ft')!.dimension).toEqual(DIMENSION.count)
    expect(unitOf('in/ft')!.factor).toBeCloseTo(1 / 12, 15)
    expect(unitOf('')).toEqual({ factor: 1, dimension: DIMENSION.count })
  })

  it('says which factor is no unit, and has none by the names every object has', () => {
    const factors = [
      { name: 'lbf', power: 1 },
      { name: 'LB', power: 1 },
      { name: 'constructor', power: 1 },
    ]
    expect(resolveUnit(factors)).toEqual({ ok: false, unknown: 1 })
    for (const name of ['constructor', '__proto__', 'toString', 'KG', 'Mm', '']) {
      expect(resolveUnit([{ name, power: 1 }])).toEqual({ ok: false, unknown: 0 })
    }
  })

  it.each(['lbf in', 'in^5', 'in^', '*in', 'in*', 'in//ft', '^2', '/', 'in/ft/', '12', 'in^-2'])(
    'refuses "%s"',
    text => {
      expect(parseUnit(text)).toBeUndefined()
      expect(unitOf(text)).toBeUndefined()
    },
  )

  it('knows the system', () => {
    expect(systemOf('lbf*in/turn')).toBe('imperial')
    expect(systemOf('N*m/turn')).toBe('metric')
    expect(systemOf('/day')).toBe('both')
    expect(systemOf('furlong')).toBeUndefined()
  })

  it.each(Object.entries(DIMENSION))('%s has common ways to write it, of that dimension', (name, dimension) => {
    const units = unitsFor(dimension)
    expect(units.length).toBeGreaterThan(0)
    for (const unit of units) expect(unitOf(unit)?.dimension, unit).toEqual(dimension)
    const systems = new Set(units.map(systemOf))
    if (!['count', 'time', 'angle', 'speed of rotation', 'count per time'].includes(name)) {
      expect(systems).toContain('imperial')
      expect(systems).toContain('metric')
    }
  })

  it('writes dimensions without a name too', () => {
    const odd: Dimension[] = [
      [1, 1, 0, 0],
      [6, -5, 1, 0],
      [3, 1, -2, 0],
      [0, 0, 0, -1],
      [-2, 1, -2, -1],
    ]
    for (const d of odd) {
      const units = unitsFor(d)
      expect(units).toHaveLength(2)
      for (const unit of units) expect(unitOf(unit)?.dimension, unit).toEqual(d)
    }
  })
})

describe('neighbouring quantities', () => {
  const part = (value: number, unit: string) => ({ value, ...unitOf(unit)! })

  it('adds what descends', () => {
    const sum = combineParts([part(12, 'ft'), part(4.5, 'in')])
    expect(sum).toMatchObject({ ok: true, dimension: DIMENSION.length })
    expect(sum.ok && sum.si).toBeCloseTo(3.7719, 12) // 148.5 x 0.0254, own number
    expect(combineParts([part(1, 'h'), part(30, 'min')])).toMatchObject({ ok: true, si: 5400 })
    expect(combineParts([part(7, 'lb')])).toMatchObject({ ok: true, si: 7 * 0.45359237 })
  })

  it('refuses what is no one quantity, and says where and what to do', () => {
    const mixed = combineParts([part(12, 'ft'), part(3, 'lb')])
    expect(mixed).toMatchObject({ ok: false, problem: 'dimension', index: 1 })
    expect(!mixed.ok && mixed.message).toMatch(/mass beside length.*operator/)
    expect(combineParts([part(4, 'in'), part(12, 'ft')])).toMatchObject({ ok: false, problem: 'order', index: 1 })
    expect(combineParts([part(4, 'in'), part(4, 'in')])).toMatchObject({ ok: false, problem: 'order', index: 1 })
    expect(combineParts([part(1, 'turn'), part(1, 'turns')])).toMatchObject({ ok: false, problem: 'order' })
    expect(combineParts([part(1, 'yd'), part(1, 'in'), part(1, 'ft')])).toMatchObject({ problem: 'order', index: 2 })
    expect(combineParts([])).toMatchObject({ ok: false, problem: 'none' })
  })
})
