/**
 * Buckingham: a law of physics does not know how large a metre is. With every length, force and time of a door multiplied
 * each value goes with the powers of its units. What has numbers of nature built in (the moduli of steel, its density, the
 * pitches of the chains) is tried where those numbers scale along.
 */
import { describe, expect, it } from 'vitest'
import { DERIVED, derivedOf, nameOf, scaleOf } from './derived.ts'
import {
  type Door,
  Draw,
  draws,
  type Entry,
  full,
  HOURS,
  isQuantity,
  jobText,
  type Kind,
  near,
  q,
  runs,
  SEED,
  springPaths,
  valuesOf,
  without,
} from './door.ts'

const KIND_POWERS: Readonly<Record<Kind, readonly [F: number, L: number, T: number]>> = {
  count: [0, 0, 0], length: [0, 1, 0], section: [0, 3, 0], inertia: [0, 4, 0], mass: [1, 0, 0], 'mass/length': [1, -1, 0],
  'mass/area': [1, -2, 0], force: [1, 0, 0], pressure: [1, -2, 0], torque: [1, 1, 0], rate: [1, 1, 0], power: [1, 1, -1],
  angle: [0, 0, 0], 'angle/time': [0, 0, -1], speed: [0, 1, -1], 'count/time': [0, 0, -1], time: [0, 0, 1],
} // biome-ignore format: a table

function scaled(door: Door, f: number, l: number, t: number): Door {
  return Object.fromEntries(
    Object.entries(door).map(([path, e]): [string, Entry] => {
      if (!isQuantity(e)) return [path, e]
      const [F, L, T] = KIND_POWERS[e.kind]
      return [path, q(e.kind, e.x * f ** F * l ** L * t ** T)]
    }),
  )
}

const SLAT_MODULUS = /^curtain\.(bow|draw_in|engagement_left)$/
const STEEL_DENSITY = /^(drum|spring)\.weight$|^drum\.sag$/
const PITCH = /^operator\.(chain_\w+|centers_set)$/

interface Way {
  readonly name: string
  readonly of: (d: Draw) => readonly [F: number, L: number, T: number]
  /** What does not scale along. */
  readonly but: RegExp
  readonly door: (door: Door, d: Draw) => Door
}
/** Springs by their rate and strength, so that no modulus and no published strength is read. */
const rated = (door: Door, d: Draw): Door => ({
  ...without(door, ...(d.often(30) ? ['drum.rise', 'adjuster.preload'] : [])),
  ...Object.fromEntries(
    springPaths(door).flatMap(s => [
      [`${s}.rate`, q('rate', d.over(10, 5000))],
      [`${s}.strength`, q('pressure', d.over(1e5, 1e6))],
    ]),
  ),
})
const either = (...of: readonly RegExp[]): RegExp => new RegExp(of.map(r => r.source).join('|'))
const WAYS: readonly Way[] = [
  {
    name: 'forces, lengths and times, each by itself',
    of: d => [d.over(0.1, 10), d.over(0.1, 10), d.over(0.1, 10)],
    but: either(SLAT_MODULUS, STEEL_DENSITY, PITCH),
    door: rated,
  },
  {
    name: 'forces and times alone: chains and their pulls',
    of: d => [d.over(0.1, 10), 1, d.over(0.1, 10)],
    but: either(SLAT_MODULUS, STEEL_DENSITY),
    door: rated,
  },
  {
    name: 'forces with the square of lengths: the moduli of springs and slats stay',
    of: d => {
      const l = d.over(0.1, 10)
      return [l * l, l, d.over(0.1, 10)]
    },
    but: either(STEEL_DENSITY, PITCH),
    door: (door, d) => without(rated(door, d), ...springPaths(door).map(s => `${s}.rate`)),
  },
  {
    name: 'weights with the cube of lengths: the density of steel stays',
    of: d => {
      const l = d.over(0.1, 10)
      return [l ** 3, l, d.over(0.1, 10)]
    },
    but: either(SLAT_MODULUS, PITCH),
    door: rated,
  },
]

describe('a door of another size', () => {
  for (const way of WAYS)
    it(
      `${way.name}: ${runs(10)} doors`,
      () => {
        const seen = new Map<string, number>()
        draws(10, g => {
          const d = new Draw(g)
          const door = way.door(full(d), d)
          const [f, l, t] = way.of(d)
          const other = scaled(door, f, l, t)
          const values = valuesOf({ a: door, b: other })
          const [a, b] = [values.get('a')!, values.get('b')!]
          const fault = (what: string): Error =>
            new Error(`${what}, F ${f} L ${l} T ${t}\n${jobText({ a: door, b: other })}`)
          const was = derivedOf(a)
          const now = derivedOf(b)
          for (const path of new Set([...was.keys(), ...now.keys()])) {
            if (way.but.test(nameOf(path))) continue
            const [x, y] = [was.get(path), now.get(path)]
            if (x === undefined || y === undefined) throw fault(`${path}: ${x} became ${y}`)
            const [F, L, T] = DERIVED[nameOf(path)]!
            const factor = f ** F * l ** L * t ** T
            const most = path === 'balance.worst_at' ? 1e-5 : 1e-9
            if (!near(x * factor, y, most, 1e-3 * factor * scaleOf(path, a)))
              throw fault(`${path}: ${x} became ${y}, not ${x * factor}`)
            if (a.bounds.get(path) !== b.bounds.get(path))
              throw fault(`${path}: ${a.bounds.get(path)} became ${b.bounds.get(path)}`)
            seen.set(nameOf(path), (seen.get(nameOf(path)) ?? 0) + 1)
          }
        })
        console.log(
          `physics, scaling: seed ${SEED}, ${[...seen.values()].reduce((x, y) => x + y, 0)} values of ${seen.size}`,
        )
        expect(Object.keys(DERIVED).filter(p => !seen.has(p) && !way.but.test(p))).toEqual([])
      },
      HOURS,
    )
})
