/** Quantities as people write them, with the number that each stands for in inches, pounds, turns and seconds. */
import fc, { type GeneratorValue } from 'fast-check'

const KG = 1 / 0.45359237
const NEWTON = 1 / 4.4482216152605
const METRE = 1 / 0.0254

/** What SI makes of one of the second computation's units. */
export const SI = {
  '1': 1,
  in: 0.0254,
  in2: 0.0254 ** 2,
  in3: 0.0254 ** 3,
  in4: 0.0254 ** 4,
  lb: 0.45359237,
  'lb/in': 0.45359237 / 0.0254,
  'lb/in2': 0.45359237 / 0.0254 ** 2,
  lbf: 4.4482216152605,
  psi: 4.4482216152605 / 0.0254 ** 2,
  turn: 2 * Math.PI,
  'turn/s': 2 * Math.PI,
  '1/s': 1,
  'lbf*in': 4.4482216152605 * 0.0254,
  'lbf*in/turn': (4.4482216152605 * 0.0254) / (2 * Math.PI),
  'lbf*in/s': 4.4482216152605 * 0.0254,
  'in/s': 0.0254,
} as const
export type Base = keyof typeof SI

/** Units that the language has for each, with what one of them is in it (NIST SP 811). */
const UNITS: Readonly<Record<Base, readonly (readonly [text: string, factor: number])[]>> = {
  '1': [['', 1]],
  in: [['in', 1], ['mm', METRE / 1000], ['cm', METRE / 100], ['m', METRE], ['ft', 12], ['yd', 36]],
  in2: [],
  in3: [['in^3', 1], ['cm^3', (METRE / 100) ** 3], ['mm^3', (METRE / 1000) ** 3]],
  in4: [['in^4', 1], ['cm^4', (METRE / 100) ** 4], ['mm^4', (METRE / 1000) ** 4]],
  lb: [['lb', 1], ['oz', 1 / 16], ['kg', KG], ['g', KG / 1000]],
  'lb/in': [['lb/ft', 1 / 12], ['kg/m', KG / METRE], ['oz/in', 1 / 16], ['g/mm', KG / METRE]],
  'lb/in2': [['lb/ft^2', 1 / 144], ['kg/m^2', KG / METRE ** 2], ['oz/ft^2', 1 / 2304]],
  lbf: [['lbf', 1], ['kip', 1000], ['N', NEWTON], ['kN', NEWTON * 1000], ['kgf', KG]],
  psi: [['psi', 1], ['ksi', 1000], ['psf', 1 / 144], ['Pa', NEWTON / METRE ** 2], ['kPa', (1000 * NEWTON) / METRE ** 2], ['MPa', (1e6 * NEWTON) / METRE ** 2]],
  turn: [['turns', 1], ['turn', 1], ['deg', 1 / 360], ['rad', 1 / (2 * Math.PI)]],
  'turn/s': [['rpm', 1 / 60], ['deg/s', 1 / 360], ['rad/s', 1 / (2 * Math.PI)], ['turns/min', 1 / 60]],
  '1/s': [['/day', 1 / 86_400], ['/week', 1 / 604_800], ['/year', 1 / 31_536_000], ['/h', 1 / 3600]],
  'lbf*in': [['lbf*in', 1], ['lbf*ft', 12], ['N*m', NEWTON * METRE], ['N·m', NEWTON * METRE], ['kgf*m', KG * METRE]],
  'lbf*in/turn': [['lbf*in/turn', 1], ['lbf*ft/turn', 12], ['N*m/turn', NEWTON * METRE], ['N*m/rad', NEWTON * METRE * 2 * Math.PI]],
  'lbf*in/s': [['hp', 6600], ['W', NEWTON * METRE], ['kW', 1000 * NEWTON * METRE]],
  'in/s': [['mph', 17.6], ['m/s', METRE], ['ft/s', 12], ['km/h', METRE / 3.6]],
} // biome-ignore format: a table

export type Get = (path: string) => number | undefined
export type Value = number | string | boolean | { speed: number } | ((get: Get) => number | undefined)
export interface Written {
  readonly text: string
  readonly value: Value
  readonly unit: Base
}

/** Draws numbers and words, and writes them. */
export class Pen {
  readonly #g: GeneratorValue
  constructor(g: GeneratorValue) {
    this.#g = g
  }
  int(min: number, max: number): number {
    return this.#g(fc.integer, { min, max })
  }
  pick<T>(from: readonly T[]): T {
    return from[this.int(0, from.length - 1)]!
  }
  /** True in so many of a hundred. */
  often(percent: number): boolean {
    return this.int(0, 99) < percent
  }
  decimal(from: number, to: number, places: number): number {
    return this.int(Math.ceil(from * 10 ** places), Math.floor(to * 10 ** places)) / 10 ** places
  }

  word(word: string): Written {
    return { text: word, value: word, unit: '1' }
  }
  truth(): Written {
    const value = this.often(50)
    return { text: String(value), value, unit: '1' }
  }
  count(from: number, to: number): Written {
    const value = this.int(from, to)
    return { text: this.pick([String(value), String(value), `${value - 1} + 1`, `(${value})`]), value, unit: '1' }
  }
  percent(from: number, to: number): Written {
    const n = this.int(from, to)
    return { text: this.pick([`${n}%`, `${n} %`, String(n / 100), `${n}/100`]), value: n / 100, unit: '1' }
  }

  /** A quantity between two bounds given in the unit of the second computation. */
  quantity(unit: Base, from: number, to: number): Written {
    if (unit === 'in' && this.often(55)) return this.feet(from, to)
    const [text, factor] = this.pick(UNITS[unit])
    // enough places for four figures
    const places = Math.max(0, 3 - Math.floor(Math.log10(to / factor)))
    const n = this.decimal(from / factor, to / factor, places)
    const number = places > 12 ? n.toFixed(places) : plain(n, places)
    const written =
      text === ''
        ? number
        : `${this.often(15) && n < 1 ? number.replace(/^0\./, '.') : number}${this.pick(text.startsWith('/') ? [''] : ['', ' '])}${text}`
    const sum = this.often(8)
    return {
      text: sum
        ? this.pick([
            `(${written} + ${written}) / 2`,
            `max(${written}, ${written})`,
            `abs(-${written})`,
            `0.5 * (2 * ${written})`,
          ])
        : written,
      value: n * factor,
      unit,
    }
  }

  /** Feet, inches and fractions, in the ways of the trade. */
  feet(from: number, to: number): Written {
    const parts = this.pick([2, 4, 8, 16, 32, 64])
    const units = this.int(Math.ceil(from * parts), Math.floor(to * parts))
    const value = units / parts
    const feet = Math.floor(value / 12)
    const inches = (n: number): string => {
      const whole = Math.floor(n / parts)
      const rest = n % parts
      if (rest === 0) return String(whole)
      return whole === 0 ? `${rest}/${parts}` : `${whole}${this.pick([' ', '-'])}${rest}/${parts}`
    }
    const rest = units - feet * 12 * parts
    const forms = [`${inches(units)}in`, `${inches(units)} in`, `${inches(units)}"`, `${value}in`]
    if (feet > 0)
      forms.push(
        `${feet}ft ${inches(rest)}in`,
        `${feet}'-${inches(rest)}"`,
        `${feet}' ${inches(rest)}"`,
        `(${feet}ft + ${inches(rest)}in)`,
        `${feet + 1}ft - ${inches(12 * parts - rest)}in`,
      )
    return { text: this.pick(forms), value, unit: 'in' }
  }
}

const plain = (n: number, places: number): string => (Math.abs(n) < 1e-6 && n !== 0 ? n.toFixed(places) : String(n))

/** The unit that each is written in where a whole file is of one system; what is missing here is written as it is. */
const ONE_SYSTEM: Partial<Record<Base, readonly [imperial: string, metric: string, factor: number]>> = {
  in: ['in', 'mm', 25.4],
  in3: ['in^3', 'mm^3', 25.4 ** 3],
  in4: ['in^4', 'mm^4', 25.4 ** 4],
  lb: ['lb', 'kg', SI.lb],
  'lb/in': ['lb/in', 'kg/m', SI['lb/in']],
  'lb/in2': ['lb/in^2', 'kg/m^2', SI['lb/in2']],
  lbf: ['lbf', 'N', SI.lbf],
  psi: ['psi', 'Pa', SI.psi],
  turn: ['turns', 'rad', SI.turn],
  'turn/s': ['turns/s', 'rad/s', SI['turn/s']],
  'lbf*in': ['lbf*in', 'N*m', SI['lbf*in']],
  'lbf*in/turn': ['lbf*in/turn', 'N*m/rad', SI['lbf*in/turn']],
}

/** A quantity of one system, to the last digit; expressions of names stay as they are. */
export function inSystem(w: Written, system: 'imperial' | 'metric'): string {
  const speed = typeof w.value === 'object'
  const n = typeof w.value === 'object' ? w.value.speed : w.value
  const units = speed ? (['in/s', 'mm/s', 25.4] as const) : ONE_SYSTEM[w.unit]
  if (typeof n !== 'number' || !units) return w.text
  return `${plainDigits(system === 'imperial' ? n : n * units[2])} ${units[system === 'imperial' ? 0 : 1]}`
}
/** Seventeen figures, never with an exponent. */
const plainDigits = (n: number): string =>
  n.toFixed(n === 0 ? 1 : Math.min(30, Math.max(0, 16 - Math.floor(Math.log10(Math.abs(n))))))
