/** Doors as flat records, drawn far beyond what is ever built, and written as job files in one system of units or the other. */
import fc, { type GeneratorValue } from 'fast-check'
import { Service } from '../../server/service.ts'
import { runs } from '../support/long.ts'

export { runs }

/** Every run says its seed; a failure is repeated by setting it. */
export const SEED = Number(process.env.DOORWRIGHT_SEED ?? (process.env.CI ? 2207 : Date.now() % 2 ** 31))
export const HOURS = 3_600_000

/** Draws `usual` times, or as many times that as LONG says, from one seed. */
export function draws(usual: number, each: (g: GeneratorValue) => void): void {
  fc.assert(fc.property(fc.gen(), each), { numRuns: runs(usual), seed: SEED, endOnFailure: true })
}

/**
 * The kinds of quantities. The number of a quantity counts the inch-pound unit; the metric text is that number times an
 * exact decimal (NIST SP 811), in the unit, over a whole divisor where the exact factor is no decimal.
 */
const KINDS = {
  count: ['', '1', ''],
  length: ['in', '25.4', 'mm'],
  section: ['in^3', '16387.064', 'mm^3'],
  inertia: ['in^4', '416231.4256', 'mm^4'],
  mass: ['lb', '0.45359237', 'kg'],
  'mass/length': ['lb/in', '0.45359237', 'kg / 25.4 mm'],
  'mass/area': ['lb/in^2', '0.45359237', 'kg / 645.16 mm^2'],
  force: ['lbf', '4.4482216152605', 'N'],
  pressure: ['psi', '4.4482216152605', 'N / 645.16 mm^2'],
  torque: ['lbf*in', '0.1129848290276167', 'N*m'],
  rate: ['lbf*in/turn', '0.1129848290276167', 'N*m/turn'],
  power: ['lbf*in/s', '0.1129848290276167', 'W'],
  angle: ['turns', '360', 'deg'],
  'angle/time': ['rpm', '6', 'deg/s'],
  speed: ['in/s', '25.4', 'mm/s'],
  'count/time': ['/day', '1', '/h / 24'],
  time: ['year', '365', 'day'],
} as const
export type Kind = keyof typeof KINDS
export type System = 'imperial' | 'metric'
export interface Quantity {
  readonly x: number
  readonly kind: Kind
}
export type Entry = Quantity | string | boolean
/** By path: `curtain.slat.pitch`, `spring[0].wire`, `limits.hood_span`. */
export type Door = Readonly<Record<string, Entry>>

export const q = (kind: Kind, x: number): Quantity => ({ x, kind })
export const isQuantity = (e: Entry | undefined): e is Quantity => typeof e === 'object'
/** The number at a path, in the inch-pound unit. */
export function of(door: Door, path: string): number {
  const e = door[path]
  if (!isQuantity(e)) throw new Error(`no quantity at ${path}`)
  return e.x
}
/** The door with some quantities multiplied. */
export function times(door: Door, factors: Readonly<Record<string, number>>): Door {
  const out: Record<string, Entry> = { ...door }
  for (const [path, factor] of Object.entries(factors)) {
    const e = out[path]
    if (isQuantity(e)) out[path] = { ...e, x: e.x * factor }
  }
  return out
}
export const without = (door: Door, ...paths: readonly string[]): Door =>
  Object.fromEntries(Object.entries(door).filter(([p]) => !paths.includes(p)))

// ---- text

/** The shortest digits of a number, without an exponent. */
export function decimal(x: number): string {
  const [mantissa, exponent] = String(Math.abs(x)).split('e') as [string, string | undefined]
  const sign = x < 0 ? '-' : ''
  if (exponent === undefined) return sign + mantissa
  const [whole, part = ''] = mantissa.split('.') as [string, string | undefined]
  const point = whole.length + Number(exponent)
  const digits = whole + part
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`
  return (
    sign + (digits.length <= point ? digits.padEnd(point, '0') : `${digits.slice(0, point)}.${digits.slice(point)}`)
  )
}

/** The product of two decimals, to the last digit. */
export function product(a: string, b: string): string {
  const places = (t: string): number => t.split('.')[1]?.length ?? 0
  const whole = (t: string): bigint => BigInt(t.replace('.', ''))
  const n = whole(a) * whole(b)
  const digits = String(n < 0n ? -n : n).padStart(places(a) + places(b) + 1, '0')
  const point = digits.length - places(a) - places(b)
  const part = digits.slice(point).replace(/0+$/, '')
  return `${n < 0n ? '-' : ''}${digits.slice(0, point)}${part && `.${part}`}`
}

export function said(e: Entry, system: System): string {
  if (!isQuantity(e)) return String(e)
  const [inch, factor, metric] = KINDS[e.kind]
  if (system === 'imperial') return `${decimal(e.x)}${inch.startsWith('/') ? '' : ' '}${inch}`.trim()
  return `${product(decimal(e.x), factor)}${metric.startsWith('/') ? '' : ' '}${metric}`.trim()
}

/** What may be done with the text without a change of meaning. */
export interface Hand {
  /** The order in which lines and blocks stand. */
  order<T>(of: readonly T[]): readonly T[]
  say(e: Entry, path: string): string
  /** Whether the lines of a block stand on one line. */
  flat(): boolean
}
export const plainHand = (system: System): Hand => ({
  order: all => all,
  say: e => said(e, system),
  flat: () => false,
})

/** The lines of a block; `at` is its path with a dot. Blocks written as stock stand in `named`: path to `pipe = name`. */
export function block(
  door: Door,
  at: string,
  indent: string,
  hand: Hand,
  named: Readonly<Record<string, string>> = {},
): string {
  const below = (paths: Iterable<string>): string[] =>
    [...paths].filter(p => p.startsWith(at)).map(p => p.slice(at.length))
  const here = below(Object.keys(door))
  const fields = here
    .filter(name => !name.includes('.'))
    .map(name => `${name} = ${hand.say(door[at + name]!, at + name)}${at === 'limits.' ? ' because "agreed"' : ''}`)
  const inner = new Set([
    ...here.filter(p => p.includes('.')).map(p => p.split('.')[0]!),
    ...below(Object.keys(named)).filter(p => !p.includes('.')),
  ])
  const written = (name: string): string => {
    const header = named[at + name] ?? name.replace(/\[\d+\]$/, '')
    const body = block(door, `${at + name}.`, `${indent}  `, hand, named)
    if (header.includes('=')) return header
    if (hand.flat() && !body.includes('{')) return `${header} { ${body.trim().replaceAll(/\n */g, '; ')} }`
    return `${header} {\n${body}${indent}}`
  }
  // the order of springs is their number
  const springs = [...inner].filter(name => name.startsWith('spring[')).sort()
  const others = [...inner].filter(name => !springs.includes(name))
  const all = [...hand.order([...fields, ...others.map(written)]), ...springs.map(written)]
  return all.map(l => `${indent}${l}\n`).join('')
}

/** The fields of the opening itself are written `opening.width`; its blocks stand inside it. */
export function inside(door: Door): Door {
  return Object.fromEntries(
    Object.entries(door).map(([p, e]) => [p.startsWith('opening.') ? p.slice(8) : p, e] as const),
  )
}
export const openingText = (
  door: Door,
  header: string,
  hand: Hand,
  named: Readonly<Record<string, string>> = {},
): string => `opening ${header} {\n${block(inside(door), '', '  ', hand, named)}}\n`
export const head = (system: System): string => `job "HS-1" {\n  site = "Harbour Street"\n  units = ${system}\n}\n`
export const jobText = (doors: Readonly<Record<string, Door>>, system: System = 'imperial'): string =>
  head(system) +
  Object.entries(doors)
    .map(([mark, d]) => openingText(d, `"${mark}"`, plainHand(system)))
    .join('')

// ---- reading

export interface Read {
  readonly si: ReadonlyMap<string, number>
  readonly words: ReadonlyMap<string, unknown>
  readonly bounds: ReadonlyMap<string, string>
}
export function served(files: Readonly<Record<string, string>>): Service {
  const service = new Service({
    resolve: (_, path) => ({ ok: true, file: path }),
    read: file => files[file],
    fault: (where, error) => {
      throw new Error(where, { cause: error })
    },
  })
  service.open('job.door', files['job.door']!)
  return service
}
/** Every value of every opening, by mark; a file that the language has anything against is a fault of the test. */
export function read(files: Readonly<Record<string, string>>, service = served(files)): Map<string, Read> {
  return new Map(
    service.values('job.door').map(o => [
      o.mark,
      {
        si: new Map(o.values.flatMap(v => (v.si === undefined ? [] : [[v.path, v.si] as const]))),
        words: new Map(o.values.flatMap(v => (v.si === undefined ? [[v.path, v.value] as const] : []))),
        bounds: new Map(o.values.flatMap(v => (v.bound ? [[v.path, v.bound] as const] : []))),
      },
    ]),
  )
}
export function readDoors(doors: Readonly<Record<string, Door>>, system: System = 'imperial'): Map<string, Read> {
  const files = { 'job.door': jobText(doors, system) }
  const service = served(files)
  const wrong = service.findings('job.door').filter(f => LANGUAGE.has(f.rule))
  if (wrong.length > 0) throw new Error(`${wrong.map(f => f.message).join('\n')}\n${files['job.door']}`)
  return read(files, service)
}
/** The same without asking for findings. */
export const valuesOf = (doors: Readonly<Record<string, Door>>): Map<string, Read> =>
  read({ 'job.door': jobText(doors) })
/** What the language has against a file, besides what is only missing. */
export const LANGUAGE = new Set([
  'syntax', 'unknown_name', 'unknown_block', 'unknown_field', 'unknown_unit', 'wrong_dimension', 'wrong_type', 'value_range',
  'duplicate', 'circle', 'derived_assigned', 'use_failed', 'use_outside', 'like_failed', 'limit_loosened',
]) // biome-ignore format: a list

// ---- drawing

export class Draw {
  readonly #g: GeneratorValue
  constructor(g: GeneratorValue) {
    this.#g = g
  }
  int(min: number, max: number): number {
    return this.#g(fc.integer, { min, max })
  }
  /** Evenly between two numbers. */
  even(min: number, max: number): number {
    return Number((min + ((max - min) * this.int(0, 1_000_000)) / 1_000_000).toPrecision(8))
  }
  /** Over orders of magnitude. */
  over(min: number, max: number): number {
    return Number(Math.exp(Math.log(min) + (Math.log(max / min) * this.int(0, 1_000_000)) / 1_000_000).toPrecision(8))
  }
  pick<T>(from: readonly T[]): T {
    return from[this.int(0, from.length - 1)]!
  }
  often(percent: number): boolean {
    return this.int(0, 99) < percent
  }
  shuffle<T>(all: readonly T[]): T[] {
    const out = [...all]
    for (let i = out.length - 1; i > 0; i--) {
      const j = this.int(0, i)
      ;[out[i], out[j]] = [out[j]!, out[i]!]
    }
    return out
  }
}

export const MATERIALS = ['music_wire', 'oil_tempered', 'hard_drawn', 'chrome_vanadium', 'chrome_silicon'] as const
export const SHEETS = ['steel', 'galvanized', 'stainless', 'aluminum'] as const
export const CHAINS = ['ansi_25', 'ansi_35', 'ansi_40', 'ansi_41', 'ansi_50', 'ansi_60', 'ansi_80'] as const

/**
 * A door of which everything is written. `strange`: sizes over orders of magnitude in both directions, all within what the
 * language takes; else near to what is built, with springs that come near to holding it.
 */
export function full(d: Draw, strange = d.often(60)): Door {
  const size = (usual: readonly [number, number], wide: readonly [number, number]): number =>
    strange && d.often(70) ? d.over(...wide) : d.over(...usual)
  const width = size([48, 280], [1, 1e4])
  const height = size([48, 260], [1, 1e4])
  const between = d.often(70) ? width + d.even(0.5, 5) : size([48, 280], [1, 1e4])
  const od = size([4, 16], [0.5, 200])
  const bore = od * d.even(0.3, 0.97)
  const thickness = d.often(5) ? 0 : size([0.3, 1.4], [1e-4, 50])
  const out: Record<string, Entry> = {
    'opening.width': q('length', width),
    'opening.height': q('length', height),
    'opening.wall': d.pick(['masonry', 'concrete', 'steel', 'wood']),
    'opening.headroom': q('length', size([14, 40], [0.1, 1000])),
    'opening.wind': q('pressure', size([0.01, 0.3], [1e-4, 10])),
    'opening.cycles': q('count/time', size([1, 100], [0.01, 1e5])),
    'opening.coil_side': d.pick(['inside', 'outside']),
    'curtain.slat.pitch': q('length', size([1.5, 4], [0.05, 100])),
    'curtain.slat.thickness': q('length', thickness),
    'curtain.slat.weight': q('mass/area', size([0.005, 0.035], [1e-5, 5])),
    'curtain.slat.material': d.pick(SHEETS),
    'curtain.slat.inertia': q('inertia', size([0.01, 0.2], [1e-5, 1e3])),
    'curtain.slat.section': q('section', size([0.02, 0.3], [1e-5, 1e3])),
    'curtain.slat.yield': q('pressure', size([33e3, 50e3], [100, 1e6])),
    'curtain.engagement': q('length', d.often(10) ? 0 : size([1, 2.4], [0.01, 50])),
    'curtain.bottom_bar': q('mass/length', d.often(15) ? 0 : size([0.05, 0.5], [1e-4, 50])),
    'curtain.endlock': q('mass', d.often(20) ? 0 : size([0.05, 0.5], [1e-3, 50])),
    'curtain.endlock_every': q('count', d.int(1, strange ? 50 : 4)),
    'rails.between': q('length', between),
    'rails.depth': q('length', size([2.5, 5], [0.1, 100])),
    'rails.length': q('length', size([48, 280], [1, 1e4])),
    'rails.fastener_spacing': q('length', size([8, 36], [0.5, 500])),
    'rails.fastener_edge': q('length', d.often(10) ? 0 : size([2, 10], [0.1, 100])),
    'rails.fastener_capacity': q('force', size([200, 3000], [1, 1e5])),
    'drum.pipe.od': q('length', od),
    'drum.pipe.wall': q('length', (od - bore) / 2),
    'drum.span': q('length', size([60, 300], [2, 1e4])),
    'drum.ring': q('length', d.often(40) ? 0 : size([0.2, 3], [0.01, 100])),
    'drum.attach': d.pick(['direct', 'rings']),
    'drum.dead_wraps': q('angle', d.often(15) ? 0 : size([0.1, 1.5], [0.01, 50])),
    'drum.rise': q('length', d.often(5) ? 0 : size([4, 16], [0.1, 500])),
    'drum.leaves': d.pick(['wall_side', 'room_side']),
    'drum.modulus': q('pressure', size([10e6, 30e6], [1e4, 1e8])),
    'drum.shaft': q('length', size([0.75, 2], [0.05, 20])),
    'drum.drop_guard': d.often(50),
    'adjuster.side': d.pick(['left', 'right']),
    'adjuster.holes': q('count', d.int(1, strange ? 1000 : 12)),
    'adjuster.preload': q('angle', strange && d.often(20) ? d.over(1e-3, 500) : d.even(0.1, 6)),
    'operator.drive': d.pick(['push_up', 'hand_chain', 'crank', 'motor']),
    'operator.torque': q('torque', size([100, 3000], [1, 1e6])),
    'operator.speed': q('angle/time', size([6, 60], [0.1, 1e4])),
    'operator.power': q('power', size([1000, 1e4], [1, 1e7])),
    'operator.ratio': q('count', size([2, 30], [0.01, 1e4])),
    'operator.efficiency': q('count', d.even(0.2, 0.98)),
    'operator.hand_wheel': q('length', size([6, 24], [0.5, 500])),
    'operator.sprocket_drive': q('count', d.int(6, 60)),
    'operator.sprocket_drum': q('count', d.int(6, 100)),
    'operator.chain': d.pick(CHAINS),
    'operator.centers': q('length', d.even(70, 400)),
    'operator.limit_turns': q('angle', size([5, 30], [0.1, 1e4])),
    'operator.friction': q('count', d.often(10) ? 0 : d.over(0.001, strange ? 3 : 0.2)),
    'operator.holds': d.often(50),
    'rigging.slings': q('count', d.int(1, strange ? 100 : 6)),
    'rigging.sling_angle': q('angle', d.even(0.01, 0.2)),
    'rigging.sling_capacity': q('force', size([500, 6000], [1, 1e6])),
    'hood.supports': q('count', d.int(0, 4)),
    'limits.sling_spacing': q('length', size([48, 160], [5, 1000])),
    'limits.hood_span': q('length', size([60, 200], [5, 1000])),
    'limits.spring_cycles': q('count', d.often(90) ? d.over(1000, 1e6) : d.over(1, 1e9)),
    'limits.drum_sag': q('count', d.over(1e-4, 0.01)),
  }
  const springs = d.pick([1, 1, 2, 3])
  for (let i = 0; i < springs; i++) Object.assign(out, spring(d, `spring[${i}].`, bore, strange, guess(out) / springs))
  return out
}

/** About the rate that would hold the door, in lbf*in/turn: only to draw springs that come near to it. */
function guess(out: Readonly<Record<string, Entry>>): number {
  const n = (p: string): number => (out[p] as Quantity).x
  const a = n('drum.pipe.od') / 2 + n('drum.ring') + n('curtain.slat.thickness') * (0.5 + n('drum.dead_wraps'))
  const turns =
    n('opening.height') /
    Math.PI /
    (a + Math.sqrt(a * a + (n('curtain.slat.thickness') * n('opening.height')) / Math.PI))
  const weight = n('curtain.slat.weight') * (n('rails.between') + 2 * n('curtain.engagement')) * n('opening.height')
  return (weight * a) / turns
}

export function spring(d: Draw, at: string, bore: number, strange: boolean, rate: number): Record<string, Entry> {
  const wire = strange && d.often(30) ? d.over(0.01, 5) : d.over(0.18, 0.5)
  const diameter = strange && d.often(30) ? wire * d.over(1.01, 100) : Math.max(wire * 1.5, bore - wire)
  const count = d.pick([1, 1, 2, 3, strange ? 40 : 4])
  const fit = (28.5e6 * wire ** 4 * count * Math.PI) / (32 * diameter * rate)
  const coils = fit > 0.5 && fit < 1e5 && d.often(70) ? fit * d.over(0.5, 2) : d.over(3, strange ? 1e4 : 300)
  const out: Record<string, Entry> = {
    wire: q('length', wire),
    diameter: q('length', Number(diameter.toPrecision(8))),
    coils: q('count', Number(coils.toPrecision(6))),
    dead_coils: q('count', d.int(0, 6)),
    count: q('count', count),
    material: d.pick(MATERIALS),
    hand: d.pick(['left', 'right']),
    shaft_end: d.pick(['adjuster', 'drive']),
    coil_friction: d.often(30),
  }
  return Object.fromEntries(Object.entries(out).map(([name, e]) => [at + name, e]))
}

export const springPaths = (door: Door): string[] => [
  ...new Set(Object.keys(door).flatMap(p => p.match(/^spring\[\d+\]/)?.[0] ?? [])),
]

/** Equal to so many parts of the larger, or of `scale` where the value is a difference of larger ones. */
export const near = (a: number, b: number, most: number, scale = 0): boolean =>
  Math.abs(a - b) <= most * Math.max(Math.abs(a), Math.abs(b), scale)
