/** Pairs of changes that cancel: what one adds the other takes away, exactly, in everything that both act through. */
import { describe, expect, it } from 'vitest'
import { derivedOf, nameOf, scaleOf } from './derived.ts'
import {
  type Door,
  Draw,
  draws,
  full,
  HOURS,
  jobText,
  near,
  of,
  type Quantity,
  q,
  runs,
  SEED,
  springPaths,
  times,
  valuesOf,
} from './door.ts'

interface Trade {
  readonly name: string
  readonly change: (door: Door, d: Draw) => Door
  /** What stays. */
  readonly stays: RegExp
}
/** The door with amounts added, each in its own unit. */
const plus = (door: Door, more: Readonly<Record<string, number>>): Door => ({
  ...door,
  ...Object.fromEntries(
    Object.entries(more).map(([p, x]) => [p, { kind: (door[p] as Quantity).kind, x: of(door, p) + x }]),
  ),
})
const springs = (door: Door, factors: Readonly<Record<string, number>>): Door =>
  times(
    door,
    Object.fromEntries(springPaths(door).flatMap(s => Object.entries(factors).map(([f, by]) => [`${s}.${f}`, by]))),
  )
const ALL = /./
const HANGS = /^(balance|drum\.(turns|coil_diameter)|curtain\.weight$|spring|adjuster)/

const TRADES: readonly Trade[] = [
  {
    name: 'rails further apart by what the slats reach less into them: the slats are as long as before',
    change: (door, d) => {
      const x = of(door, 'curtain.engagement') * d.even(0.1, 1)
      return plus(door, { 'curtain.engagement': -x, 'rails.between': 2 * x })
    },
    stays: /^(balance|curtain\.(slat_length|weight|bottom)|drum|rigging|spring|operator)/,
  },
  {
    name: 'an opening wider by as much as its rails are further apart: the marks stay',
    change: (door, d) => {
      const x = d.over(0.1, 100)
      return plus(door, { 'opening.width': x, 'rails.between': x })
    },
    stays: /^rails\.(mark|clearance|fasteners)$/,
  },
  {
    name: 'deeper rails and slats as much longer: the clearance stays',
    change: (door, d) => {
      const x = d.over(0.1, 10)
      return plus(door, { 'rails.depth': x, 'curtain.engagement': x })
    },
    stays: /^rails|^curtain\.(bow|draw_in|slat_stress)/,
  },
  {
    name: 'a thinner pipe in thicker rings: the coil starts where it did',
    change: (door, d) => {
      const x = of(door, 'drum.pipe.od') * d.even(0.001, 0.01)
      return plus(door, { 'drum.pipe.od': -2 * x, 'drum.ring': x, 'drum.pipe.wall': -x })
    },
    stays: /^(balance|curtain|drum\.(turns|coil_diameter|inside|sag_limit)|spring|operator|adjuster|rails|hood)/,
  },
  {
    name: 'a thinner pipe under more dead wraps: the coil starts where it did',
    change: (door, d) => {
      const wraps = (of(door, 'drum.pipe.od') / (of(door, 'curtain.slat.thickness') + 1e-3)) * d.even(0.001, 0.01)
      const x = wraps * of(door, 'curtain.slat.thickness')
      return plus(door, { 'drum.pipe.od': -2 * x, 'drum.dead_wraps': wraps, 'drum.pipe.wall': -x / 2 })
    },
    stays: HANGS,
  },
  {
    name: 'rails longer by what is left free at their ends: as many fasteners',
    change: (door, d) => {
      const x = d.over(0.1, 10)
      return plus(door, { 'rails.length': 2 * x, 'rails.fastener_edge': x })
    },
    stays: ALL,
  },
  {
    name: 'fewer coils of thinner wire: the same rate, the same index',
    change: (door, d) => {
      const x = d.over(0.5, 2)
      return springs(door, { wire: x, diameter: x, coils: x ** 3 })
    },
    stays:
      /^(balance|adjuster|drum\.(turns|coil_diameter|weight)|operator|spring\.(rate|index|lost_force)|curtain|rigging)/,
  },
  {
    name: 'a narrower coil of more turns: the same wire, the same rate, the same weight',
    change: (door, d) => {
      const x = d.over(1, 2)
      return springs(door, { diameter: x, coils: 1 / x })
    },
    stays: /^(balance|adjuster|drum|operator|spring\.(rate|weight|strength|range_strength|lost_force)|curtain|rigging)/,
  },
  {
    name: 'twice as many springs of twice the coils: the same rate together, half the moment in each',
    change: door => springs(door, { count: 2, coils: 2 }),
    stays: /^(balance|adjuster|drum\.(turns|weight)|operator|spring\.(rate|index|strength|range_strength)|curtain)/,
  },
  {
    name: 'heavier endlocks on as many fewer slats',
    change: (door, d) => {
      const x = d.int(2, 5)
      return times(door, { 'curtain.endlock': x, 'curtain.endlock_every': x })
    },
    stays: ALL,
  },
  {
    name: 'more wind on smaller slats of the same bending',
    change: (door, d) => {
      const x = d.over(0.2, 5)
      return times(door, { 'opening.wind': x, 'curtain.slat.pitch': 1 / x })
    },
    stays: /^curtain\.(bow|slat_stress|draw_in|engagement_left|slat_length)/,
  },
  {
    name: 'more wind on a stiffer slat of a larger section: the same bow and stress',
    change: (door, d) => {
      const x = d.over(0.2, 5)
      return times(door, { 'opening.wind': x, 'curtain.slat.inertia': x, 'curtain.slat.section': x })
    },
    stays: /^(curtain|drum|balance|spring)/,
  },
  {
    name: 'both sprockets twice as large: the same ratio',
    change: door => times(door, { 'operator.sprocket_drive': 2, 'operator.sprocket_drum': 2 }),
    stays:
      /^operator\.(torque_available|power_needed|door_speed|limit_turns_used|hand_pull|torque_needed)|^(balance|drum)/,
  },
  {
    name: 'a faster operator through a larger sprocket: the same door',
    change: door => times(door, { 'operator.speed': 2, 'operator.sprocket_drum': 2 }),
    stays: /^operator\.(power_needed|door_speed|hand_pull|torque_needed)|^(balance|drum)/,
  },
  {
    name: 'a smaller hand wheel at a higher ratio: the same pull',
    change: (door, d) => {
      const x = d.over(0.2, 5)
      return times(door, { 'operator.hand_wheel': 1 / x, 'operator.ratio': x })
    },
    stays: /^operator\.hand_pull|^(balance|drum)/,
  },
  {
    name: 'everything that hangs twice as heavy, and every spring twice: the same balance, twice the forces',
    change: door =>
      springs(times(door, { 'curtain.slat.weight': 2, 'curtain.bottom_bar': 2, 'curtain.endlock': 2 }), { count: 2 }),
    stays: /^(balance\.(preload|ideal_preload|worst_at)|adjuster|drum\.turns|spring\.(stress|life|fatigue|length))/,
  },
  {
    name: 'twice the curtain on twice the slings',
    change: door =>
      times(door, {
        'curtain.slat.weight': 2,
        'curtain.bottom_bar': 2,
        'curtain.endlock': 2,
        'rigging.slings': 2,
      }),
    stays: /^rigging\.load_each/,
  },
]

describe('changes that cancel', () => {
  it(
    `${TRADES.length} trades, each on ${runs(8)} doors`,
    () => {
      const seen = new Map<string, number>()
      let values = 0
      draws(8, g => {
        const d = new Draw(g)
        // room for the amounts that are moved
        const drawn = full(d)
        const door = { ...drawn, 'curtain.engagement': q('length', of(drawn, 'curtain.engagement') || 1) }
        const changed = TRADES.map(t => t.change(door, d))
        const all = valuesOf({ base: door, ...Object.fromEntries(changed.map((c, i) => [`${i}`, c])) })
        const base = all.get('base')!
        for (const [i, trade] of TRADES.entries()) {
          const after = all.get(`${i}`)!
          const now = derivedOf(after)
          for (const [path, was] of derivedOf(base)) {
            if (!trade.stays.test(nameOf(path))) continue
            const is = now.get(path)
            const scale = 1e-3 * Math.max(scaleOf(path, base), scaleOf(path, after))
            if (
              is === undefined
                ? !/strength|stress_ratio|fatigue|life/.test(path)
                : !near(was, is, path === 'balance.worst_at' ? 1e-5 : 1e-9, scale)
            )
              throw new Error(
                `${trade.name}\n${path}: ${was} became ${is}\n${jobText({ before: door, after: changed[i]! })}`,
              )
            seen.set(trade.name, (seen.get(trade.name) ?? 0) + 1)
            values++
          }
        }
      })
      console.log(`physics, trades: seed ${SEED}, ${values} values`)
      expect(TRADES.filter(t => !seen.get(t.name)).map(t => t.name)).toEqual([])
    },
    HOURS,
  )
})
