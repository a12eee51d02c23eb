/** What is called the best is better than everything else that is tried, on whole job files. */
import { describe, expect, it } from 'vitest'
import { applyEdits, type Service } from '../../server/service.ts'
import { scaleOf, type Values } from './derived.ts'
import { type Door, Draw, draws, full, HOURS, head, jobText, of, openingText, plainHand, q, read, readDoors, runs, SEED, served, springPaths, times, without } from './door.ts' // biome-ignore format: one import

const TURN = 2 * Math.PI
const GRAVITY = 9.80665

/** The door's torque at a height of the bottom bar, by statics from what is written (not by the program's own coil). */
function torqueAt(door: Door, values: Values, height: number): number {
  const inch = 0.0254
  const t = of(door, 'curtain.slat.thickness') * inch
  const start = (of(door, 'drum.pipe.od') / 2 + of(door, 'drum.ring')) * inch + t * (0.5 + of(door, 'drum.dead_wraps'))
  // the area of the curtain on edge fills a ring of the spiral: pi (R^2 - a^2) = t l
  const radius = Math.sqrt(start * start + (t * height) / Math.PI)
  const n = (p: string): number => values.si.get(p)!
  const hangs = n('opening.height') + n('drum.rise') - height
  return GRAVITY * (n('curtain.weight_per_height') * hangs + n('curtain.bottom_bar_weight')) * radius
}
/** Turns of the drum from closed to a height. */
function turnsAt(door: Door, height: number): number {
  const inch = 0.0254
  const t = of(door, 'curtain.slat.thickness') * inch
  const start = (of(door, 'drum.pipe.od') / 2 + of(door, 'drum.ring')) * inch + t * (0.5 + of(door, 'drum.dead_wraps'))
  const radius = Math.sqrt(start * start + (t * height) / Math.PI)
  return height / (Math.PI * (start + radius))
}
const onlyBalance = (door: Door): Door =>
  without(door, ...Object.keys(door).filter(p => /^(operator|rigging|hood|limits)\./.test(p)))
const like = (mark: string, body: string): string => `opening "${mark}" like "A" {\n${body}}\n`
const preloadLine = (turns: number): string => `  adjuster { preload = ${turns.toFixed(12)} turns }\n`

describe('the best preload', () => {
  it(
    `leaves less out of balance than a grid and random others, on ${runs(8)} doors`,
    () => {
      let tried = 0
      draws(8, g => {
        const d = new Draw(g)
        const door = onlyBalance(without(full(d), 'adjuster.preload'))
        const best = readDoors({ A: door }).get('A')!
        const p = best.si.get('balance.preload')! / TURN
        const worst = best.si.get('balance.worst')!
        const turns = best.si.get('drum.turns')! / TURN
        const others = [
          ...Array.from({ length: 21 }, (_, i) => p + ((i - 10) / 10) * Math.max(turns, Math.abs(p), 0.1)),
          ...Array.from({ length: 11 }, (_, i) => p + ((i - 5) / 5) * 1e-3 * Math.max(turns, Math.abs(p))),
          ...Array.from({ length: 8 }, () => d.even(-2 * Math.abs(p) - 2, 2 * Math.abs(p) + 2 * turns + 2)),
        ]
        const text = jobText({ A: door }) + others.map((x, i) => like(`${i}`, preloadLine(x))).join('')
        const all = read({ 'job.door': text })
        const slack = 1e-9 * scaleOf('balance.worst', best)
        for (const [i, x] of others.entries()) {
          tried++
          const other = all.get(`${i}`)!.si.get('balance.worst')!
          if (!(other >= worst - slack)) throw new Error(`${x} turns leave ${other}, the best, ${p}, ${worst}\n${text}`)
          // off the best by so much leaves that much more: the curve is a V
          const by = best.si.get('balance.rate')! * Math.abs(x * TURN - p * TURN)
          if (Math.abs(other - (worst + by)) > 1e-8 * Math.max(other, scaleOf('balance.worst', best)))
            throw new Error(`${x} turns leave ${other}, not ${worst} + ${by}\n${text}`)
        }
      })
      console.log(`physics, optimum: seed ${SEED}, ${tried} other preloads`)
    },
    HOURS,
  )

  it(
    `the worst is the largest that is found by looking along the travel, and the forces too, on ${runs(30)} doors`,
    () => {
      draws(30, g => {
        const d = new Draw(g)
        const door = onlyBalance(d.often(50) ? without(full(d), 'adjuster.preload') : full(d))
        const values = readDoors({ A: door }).get('A')!
        const n = (p: string): number => values.si.get(p)!
        const [rate, twist, height] = [n('balance.rate'), n('adjuster.preload') + n('drum.turns'), n('opening.height')]
        const scale = scaleOf('balance.worst', values)
        const heights = [
          ...Array.from({ length: 401 }, (_, i) => (height * i) / 400),
          ...Array.from({ length: 100 }, () => height * d.even(0, 1)),
          n('balance.worst_at'),
        ]
        const off = heights.map(h => {
          const torque = torqueAt(door, values, h)
          const lever =
            torque /
            (GRAVITY *
              (n('curtain.weight_per_height') * (height + n('drum.rise') - h) + n('curtain.bottom_bar_weight')))
          return { h, torque: torque - rate * (twist - turnsAt(door, h) * TURN), lever }
        })
        const fault = (what: string): Error => new Error(`${what}\n${jobText({ A: door })}`)
        const most = Math.max(...off.map(o => Math.abs(o.torque)))
        if (Math.abs(most - n('balance.worst')) > 1e-9 * scale)
          throw fault(`worst ${n('balance.worst')}, found ${most}`)
        const there = Math.abs(off.at(-1)!.torque)
        if (Math.abs(there - n('balance.worst')) > 1e-8 * scale)
          throw fault(`worst ${n('balance.worst')}, at worst_at ${there}`)
        for (const [path, sign] of [
          ['raise_force', 1],
          ['lower_force', -1],
        ] as const) {
          const found = Math.max(0, ...off.map(o => (sign * o.torque) / o.lever))
          const said = n(`balance.${path}`)
          const start = Math.min(...off.map(o => o.lever))
          if (found > said + (1e-9 * scale) / start) throw fault(`${path} ${said}, found ${found}`)
          // looked for in 400 steps a flat top is missed by little
          if (said > found * 1.02 + (1e-4 * scale) / start) throw fault(`${path} ${said}, found only ${found}`)
        }
        // a lever is at least the start of the coil and at most its end
        const levers = off.map(o => o.lever)
        const both = Math.max(n('balance.raise_force'), n('balance.lower_force'))
        if (both * Math.max(...levers) < n('balance.worst') - 1e-9 * scale)
          throw fault(`forces of ${both} for ${n('balance.worst')}`)
        if (both * Math.min(...levers) > n('balance.worst') + 1e-9 * scale)
          throw fault(`forces of ${both} for ${n('balance.worst')}`)
      })
    },
    HOURS,
  )
})

describe('the ideal springs', () => {
  it(
    `leave less than any others, and what they say is what such springs do, on ${runs(8)} doors`,
    () => {
      let ideals = 0
      draws(8, g => {
        const d = new Draw(g)
        const door = onlyBalance(full(d))
        const base = readDoors({ A: door }).get('A')!
        const n = (p: string): number | undefined => base.si.get(p)
        const rate = n('balance.ideal_rate')
        if (rate === undefined) return
        ideals++
        const [preload, worst] = [n('balance.ideal_preload')! / TURN, n('balance.ideal_worst')!]
        const with_ = (perTurn: number, turns: number | undefined): string =>
          `  spring { wire = 0.3 in; diameter = 3 in; coils = 100; rate = ${perTurn.toFixed(30)} N*m/turn }\n${turns === undefined ? '' : preloadLine(turns)}`
        const others = Array.from(
          { length: 20 },
          () =>
            [
              rate * TURN * d.over(0.3, 3),
              preload + d.pick([0, 1, -1]) * d.over(1e-4, 3) * Math.max(Math.abs(preload), 1),
            ] as const,
        )
        const bare = onlyBalance(without(door, 'adjuster.preload'))
        const text = `${head('imperial')}${openingText(bare, '"A"', plainHand('imperial'))}${like('ideal', with_(rate * TURN, undefined))}${others.map(([r, p], i) => like(`${i}`, with_(r, p))).join('')}${others.map(([r], i) => like(`best ${i}`, with_(r, undefined))).join('')}`
        const all = read({ 'job.door': text })
        const scale = scaleOf('balance.worst', base)
        const slack = 1e-9 * Math.max(n('balance.torque_closed')!, n('balance.torque_open')!)
        const fault = (what: string): Error => new Error(`${what}\n${text}`)
        const ideal = all.get('ideal')!
        if (Math.abs(ideal.si.get('balance.worst')! - worst) > slack)
          throw fault(`ideal springs leave ${ideal.si.get('balance.worst')}, said ${worst}`)
        if (Math.abs(ideal.si.get('balance.preload')! / TURN - preload) * rate * TURN > slack)
          throw fault(`ideal preload ${ideal.si.get('balance.preload')! / TURN}, said ${preload}`)
        for (const i of others.keys())
          for (const name of [`${i}`, `best ${i}`]) {
            const left = all.get(name)!.si.get('balance.worst')!
            if (!(left >= worst - slack)) throw fault(`${name}: ${others[i]} leave ${left}, ideal springs ${worst}`)
          }
        for (const i of others.keys())
          if (
            all.get(`best ${i}`)!.si.get('balance.worst')! >
            all.get(`${i}`)!.si.get('balance.worst')! + 1e-9 * scale + slack
          )
            throw fault(`${others[i]}`)
      })
      expect(ideals).toBeGreaterThan(runs(8) / 4)
    },
    HOURS,
  )
})

describe('whole increments', () => {
  it(
    `a fix rounds up, offers the nearest, and the best of whole steps is next to the best, on ${runs(12)} doors`,
    () => {
      let fixes = 0
      draws(12, g => {
        const d = new Draw(g)
        const holes = d.int(3, 16)
        const drawn = full(d, false)
        // springs soft enough to be wound
        const near = times(drawn, Object.fromEntries(springPaths(drawn).map(s => [`${s}.coils`, 5])))
        const door = { ...near, 'adjuster.holes': q('count', holes) }
        const service = served({ 'job.door': jobText({ A: onlyBalance(without(door, 'adjuster.preload')) }) })
        const best = (service.values('job.door')[0]!.values.find(v => v.path === 'balance.preload')!.si! / TURN) * holes
        const offered = service
          .findings('job.door')
          .find(f => f.rule === 'preload_missing')!
          .fixes()
        if (best <= 0) {
          expect(offered).toEqual([])
          return
        }
        const written = apply(service, offered[0]!.edits)
        const after = read({ 'job.door': written }).get('A')!
        const steps = after.si.get('adjuster.increments')!
        expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-9)
        expect(steps).toBeGreaterThanOrEqual(best - 1e-8)
        expect(steps).toBeLessThan(best + 1 + 1e-8)
        fixes++
        // of all whole steps the two beside the best are the best ones
        const from = Math.max(1, Math.round(best) - 4)
        const around = Array.from({ length: 9 }, (_, i) => from + i)
        const text =
          written +
          around.map(k => `opening "${k}" like "A" { adjuster { preload = ${k} * (1 turn / ${holes}) } }\n`).join('')
        const all = read({ 'job.door': text })
        const left = around.map(k => all.get(`${k}`)!.si.get('balance.worst')!)
        const least = around[left.indexOf(Math.min(...left))]!
        const nearest = Math.max(from, Math.round(best))
        const scale = 1e-9 * scaleOf('balance.worst', after)
        if (left[around.indexOf(nearest)]! > Math.min(...left) + scale)
          throw new Error(`best ${best}, nearest ${nearest}, but ${least} leaves less\n${text}`)
      })
      expect(fixes).toBeGreaterThan(runs(12) / 6)
    },
    HOURS,
  )
})

function apply(
  service: Service,
  edits: readonly {
    range: Parameters<Service['locate']>[0] extends never
      ? never
      : { start: { line: number; character: number }; end: { line: number; character: number } }
    text: string
  }[],
): string {
  return applyEdits(
    service.text('job.door')!,
    edits.map(e => ({
      start: service.offset('job.door', e.range.start),
      end: service.offset('job.door', e.range.end),
      text: e.text,
    })),
  )
}

describe('proposals for springs', () => {
  it(
    `are what they say once written, in order, and none is against a rule it does not name, on ${runs(12)} doors`,
    () => {
      let proposals = 0
      draws(12, g => {
        const d = new Draw(g)
        const all = full(d, d.often(10))
        const door: Door = {
          ...without(
            all,
            ...Object.keys(all).filter(p =>
              /^(spring|operator|limits|rigging|hood)|preload|drum\.shaft|headroom/.test(p),
            ),
          ),
          'drum.pipe.od': q('length', d.over(6, 16)),
          'drum.pipe.wall': q('length', d.over(0.25, 0.5)),
          'drum.modulus': q('pressure', 29e6),
          'adjuster.holes': q('count', d.int(4, 12)),
          // slats that add nothing to the coil leave the ideal nothing out of balance
          'curtain.slat.thickness': q('length', d.often(50) ? 0 : d.over(1e-12, 1.4)),
        }
        const system = d.pick(['imperial', 'metric'] as const)
        const text = jobText({ A: door }, system)
        const service = served({ 'job.door': text })
        const sized = service.size('job.door', 'A', 4)
        if (!sized.ok) return
        const fault = (what: string): Error => new Error(`${what}\n${text}`)
        for (const group of [
          sized.proposals.filter(p => p.against.length === 0),
          sized.proposals.filter(p => p.against.length > 0),
        ]) {
          const scores = group.map(p => p.score)
          if (!scores.every(Number.isFinite)) throw fault(`scores ${scores}`)
          if (scores.some((s, i) => i > 0 && s < scores[i - 1]!)) throw fault(`scores out of order: ${scores}`)
        }
        for (const p of sized.proposals) {
          proposals++
          const after = apply(service, p.edits)
          const again = served({ 'job.door': after })
          const values = read({ 'job.door': after }, again).get('A')!
          const n = (path: string): number => values.si.get(path)!
          const is: Record<string, number> = {
          wire: n('spring[0].wire'), diameter: n('spring[0].diameter'), coils: n('spring[0].coils'), count: n('spring[0].count'), rate: n('balance.rate'),
          preload: n('adjuster.preload'), increments: n('adjuster.increments'), worst: n('balance.worst'), ideal_worst: n('balance.ideal_worst'), stress_closed: n('spring[0].stress_closed'),
          stress_ratio: n('spring[0].stress_ratio'), life: n('spring[0].life'), length: n('spring[0].length_wound') * n('spring[0].count'),
          wire_weight: n('spring[0].weight'), pipe_weight: n('drum.weight'), sag: n('drum.sag'),
        } // biome-ignore format: a table
          for (const [name, x] of Object.entries(p.numbers)) {
            const scale = /worst/.test(name) ? 1e-3 * scaleOf('balance.worst', values) : 0
            if (!(Math.abs(x - is[name]!) <= 1e-9 * Math.max(Math.abs(x), scale)))
              throw fault(`${p.title}: ${name} said ${x}, is ${is[name]}`)
          }
          if (Math.abs(n('adjuster.increments') - Math.round(n('adjuster.increments'))) > 1e-9)
            throw fault(`${p.title}: ${n('adjuster.increments')} increments`)
          const best = n('balance.preload') / n('adjuster.increment')
          if (n('adjuster.increments') < best - 1e-8 || n('adjuster.increments') >= best + 1 + 1e-8)
            throw fault(`${p.title}: not the best rounded up, ${best}`)
          const named = new Set(p.against)
          const rules = again
            .findings('job.door')
            .filter(
              f =>
                /^(spring|preload|balance|rate|shaft|drum_sag|service)/.test(f.rule) &&
                f.severity !== 'note' &&
                f.accepted === undefined,
            )
          const silent = rules.filter(f => !named.has(f.rule))
          if (silent.length > 0) throw fault(`${p.title}: ${silent.map(f => f.message).join('\n')}\n${after}`)
        }
      })
      console.log(`physics, size: seed ${SEED}, ${proposals} proposals`)
      expect(proposals).toBeGreaterThan(runs(12) / 4)
    },
    HOURS,
  )
})
