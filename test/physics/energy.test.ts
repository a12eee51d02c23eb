/** Conservation: what the door takes to lift is what it weighs times how far, and what springs give is what is stored in them. */
import { describe, expect, it } from 'vitest'
import { scaleOf } from './derived.ts'
import {
  type Door,
  Draw,
  draws,
  full,
  HOURS,
  jobText,
  near,
  of,
  q,
  runs,
  SEED,
  springPaths,
  valuesOf,
  without,
} from './door.ts'

const TURN = 2 * Math.PI
const GRAVITY = 9.80665
const PSI = 6894.757293168361
const fault = (what: string, door: Door): Error => new Error(`${what}\n${jobText({ A: door })}`)

/**
 * The same door left standing at a part of its turns: a lower opening with more dead wraps. What is torque of that door
 * when closed is the torque of the whole one at that height.
 */
function standing(door: Door, turnsOpen: number, share: number): Door {
  const t = of(door, 'curtain.slat.thickness')
  const start = of(door, 'drum.pipe.od') / 2 + of(door, 'drum.ring') + t * (0.5 + of(door, 'drum.dead_wraps'))
  const n = turnsOpen * share
  const up = TURN * n * (start + (t * n) / 2)
  return {
    ...door,
    'opening.height': q('length', of(door, 'opening.height') - up),
    'drum.dead_wraps': q('angle', of(door, 'drum.dead_wraps') + n),
  }
}

describe('a door left standing half open', () => {
  it(
    `is a lower door with more dead wraps, ${runs(15)} times`,
    () => {
      draws(15, g => {
        const d = new Draw(g)
        const door = full(d)
        const open = valuesOf({ A: door }).get('A')!
        const turns = open.si.get('drum.turns')! / TURN
        const share = d.even(0.02, 0.98)
        const half = valuesOf({ A: standing(door, turns, share) }).get('A')!
        const height = open.si.get('opening.height')!
        for (const path of [
          'drum.coil_diameter',
          'balance.torque_open',
          'curtain.weight_total',
          'rigging.load_each',
          'drum.sag',
          'spring[0].stress_open',
        ])
          if (
            !near(
              open.si.get(path)!,
              half.si.get(path)!,
              1e-9,
              1e-3 * Math.max(scaleOf(path, open), path === 'drum.sag' ? 0 : scaleOf(path, half)),
            )
          )
            throw fault(`${path}: ${open.si.get(path)} and ${half.si.get(path)} at ${share}`, door)
        if (!near(half.si.get('drum.turns')! / TURN, turns * (1 - share), 1e-8, 1e-3 * turns))
          throw fault(`turns ${half.si.get('drum.turns')}`, door)
        // what is out of balance from here on is no more than over the whole travel
        for (const path of ['balance.worst', 'balance.raise_force', 'balance.lower_force'])
          if (!(half.si.get(path)! <= open.si.get(path)! + 1e-9 * Math.max(scaleOf(path, open), scaleOf(path, half))))
            throw fault(`${path}: ${half.si.get(path)} of ${open.si.get(path)} at ${share}`, door)
        expect(half.si.get('opening.height')!).toBeLessThan(height)
      })
    },
    HOURS,
  )
})

describe('work', () => {
  it(
    `of the door's torque over its turns is weight times height, ${runs(15)} times`,
    () => {
      draws(15, g => {
        const d = new Draw(g)
        const door = full(d)
        const open = valuesOf({ A: door }).get('A')!
        const n = (p: string): number => open.si.get(p)!
        const turns = n('drum.turns') / TURN
        const middle = valuesOf({ A: standing(door, turns, 0.5) })
          .get('A')!
          .si.get('balance.torque_closed')!
        // Simpson: exact for a cubic, which torque over turns is
        const work = (n('drum.turns') / 6) * (n('balance.torque_closed') + 4 * middle + n('balance.torque_open'))
        const h = n('opening.height')
        // the middle of what is wound up rises by half of it, all below it by the whole height
        const lifted =
          GRAVITY *
          (n('curtain.weight_per_height') * (h * (h + n('drum.rise')) - (h * h) / 2) +
            n('curtain.bottom_bar_weight') * h)
        if (!near(work, lifted, 1e-9)) throw fault(`work ${work}, lifting ${lifted}`, door)
        // what the springs give over the travel differs from that by no more than the worst torque all the way
        const twist = n('adjuster.preload')
        const given = (n('balance.rate') / 2) * ((twist + n('drum.turns')) ** 2 - twist ** 2)
        const most = n('balance.worst') * n('drum.turns')
        if (Math.abs(given - lifted) > most + 1e-9 * Math.max(given, lifted))
          throw fault(`springs give ${given} for ${lifted}, ${most} at most between`, door)
        // and by no more than the forces at the bar over its path
        const between = [-n('balance.lower_force') * h, n('balance.raise_force') * h] as const
        const slack = 1e-9 * Math.max(given, lifted)
        if (lifted - given < between[0] - slack || lifted - given > between[1] + slack)
          throw fault(`${lifted - given} is not between ${between}`, door)
      })
    },
    HOURS,
  )

  it(
    `stored in a spring is the same by moment and twist as by stress and volume, ${runs(15)} times`,
    () => {
      let springs = 0
      draws(15, g => {
        const d = new Draw(g)
        const door = Object.fromEntries(
          Object.entries(full(d)).map(([p, e]) => [p, p.endsWith('coil_friction') ? false : e]),
        ) as Door
        const values = valuesOf({ A: door }).get('A')!
        for (const s of springPaths(door)) {
          const n = (p: string): number => values.si.get(`${s}.${p}`)!
          const twist = values.si.get('adjuster.preload')! + values.si.get('drum.turns')!
          const byTwist = (n('rate') / 2) * twist ** 2
          const c = n('index')
          const nominal = n('stress_closed') / ((4 * c * c - c - 1) / (4 * c * (c - 1)))
          const modulus = (String(door[`${s}.material`]).startsWith('chrome') ? 29.5e6 : 28.5e6) * PSI
          // a round bar in bending stores stress^2 / 8E of its volume
          const byStress = (nominal ** 2 / (8 * modulus)) * (n('weight') / 7850)
          if (!near(byTwist, byStress, 1e-9)) throw fault(`${s}: ${byTwist} by twist, ${byStress} by stress`, door)
          // wound, the same wire lies on more coils of a smaller diameter
          const wire = n('wire')
          const coils = n('length_wound') / wire - n('dead_coils') - 1
          if (!near((n('inside_wound') + wire) * coils, n('diameter') * n('coils'), 1e-9))
            throw fault(`${s}: ${coils} coils`, door)
          springs++
        }
      })
      console.log(`physics, energy: seed ${SEED}, ${springs} springs`)
    },
    HOURS,
  )

  it(
    `power is force times speed: the chain, the hand and the door agree, ${runs(15)} times`,
    () => {
      draws(15, g => {
        const d = new Draw(g)
        const door = full(d)
        const values = valuesOf({ A: door }).get('A')!
        const n = (p: string): number => values.si.get(p)!
        const drum = n('operator.speed') * (n('operator.sprocket_drive') / n('operator.sprocket_drum'))
        // what goes in times the efficiency is what comes out
        if (!near(n('operator.power_needed') * n('operator.efficiency'), n('operator.torque_needed') * drum, 1e-9))
          throw fault('power', door)
        if (
          !near(
            n('operator.torque_available') * drum,
            n('operator.torque') * n('operator.speed') * n('operator.efficiency'),
            1e-9,
          )
        )
          throw fault('torque', door)
        // the door is up when the operator has made its turns
        if (
          !near(
            n('opening.height') / n('operator.door_speed'),
            n('operator.limit_turns_used') / n('operator.speed'),
            1e-9,
          )
        )
          throw fault('time', door)
        const without_ = valuesOf({ A: without(door, 'operator.friction') }).get('A')!
        // friction that is not written is 5 % of the torque of the closed door
        if (
          !near(
            without_.si.get('operator.torque_needed')!,
            n('balance.worst') + 0.05 * n('balance.torque_closed'),
            1e-9,
          )
        )
          throw fault('friction', door)
      })
    },
    HOURS,
  )

  it(
    `one spring lost takes at least as much to raise, and all of them the whole weight, ${runs(15)} times`,
    () => {
      draws(15, g => {
        const d = new Draw(g)
        const all = full(d)
        const door = {
          ...without(all, ...Object.keys(all).filter(p => /^spring\[[12]\]/.test(p))),
          'spring[0].count': q('count', 1),
        }
        const values = valuesOf({ A: door }).get('A')!
        const n = (p: string): number => values.si.get(p)!
        // the only spring gone: all that hangs at the floor, at the end of its lever, and less further up
        if (!near(n('spring[0].lost_force'), GRAVITY * n('curtain.weight'), 1e-9))
          throw fault(`${n('spring[0].lost_force')} for ${n('curtain.weight')} kg`, door)
        for (const s of springPaths(all)) {
          const whole = valuesOf({ A: all }).get('A')!
          const slack = 1e-9 * scaleOf('balance.raise_force', whole)
          if (!(whole.si.get(`${s}.lost_force`)! >= whole.si.get('balance.raise_force')! - slack))
            throw fault(`${s}`, all)
          // the same springs written without the one: the door that is left
          const count = of(all, `${s}.count`)
          if (count < 2) continue
          const rest = valuesOf({ A: { ...all, [`${s}.count`]: q('count', count - 1) } }).get('A')!
          if (
            !near(
              whole.si.get(`${s}.lost_force`)!,
              rest.si.get('balance.raise_force')!,
              1e-9,
              1e-3 * scaleOf('balance.raise_force', whole),
            )
          )
            throw fault(`${s} of ${count}`, all)
        }
      })
    },
    HOURS,
  )
})
