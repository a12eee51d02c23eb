/**
 * Whatever is written, nothing that comes out is NaN or infinite: no value, no text, no finding, no fix, no line of the
 * sheet. Every field of the language gets numbers at both ends of what it takes, and beyond.
 */
import { describe, expect, it } from 'vitest'
import type { BlockSpec, FieldSpec } from '../../server/model/spec.ts'
import { opening } from '../../server/model/vocabulary/index.ts'
import type { Service } from '../../server/service.ts'
import { job } from '../server/second_opinion/jobs.ts'
import { derivedOf } from './derived.ts'
import { type Door, Draw, draws, full, HOURS, isQuantity, jobText, q, readDoors, runs, SEED, served } from './door.ts'

const UNITS: Readonly<Record<string, readonly string[]>> = {
  length: ['in', 'ft', 'mm', 'km'], mass: ['lb', 'kg', 'g'], force: ['lbf', 'kip', 'kN', 'N'], time: ['s', 'day', 'year'],
  angle: ['turns', 'deg', 'rad'], pressure: ['psi', 'ksi', 'Pa', 'MPa'], power: ['hp', 'W', 'kW'], count: ['', '%'], speed: ['mph', 'm/s'],
  'mass per length': ['lb/ft', 'kg/m', 'g/km'], 'mass per area': ['lb/ft^2', 'kg/m^2', 'kg/mm^2'], 'length^3': ['in^3', 'mm^3', 'km^3'],
  'length^4': ['in^4', 'mm^4', 'km^4'], torque: ['lbf*in', 'N*m'], 'torque per angle': ['lbf*in/turn', 'N*m/rad'],
  'count per time': ['/day', '/s', '/year'], 'speed of rotation': ['rpm', 'rad/s'],
} // biome-ignore format: a table

/** From nothing to more than a number can hold. */
function digits(d: Draw, hard: boolean): string {
  if (!hard) return String(d.over(1e-3, 1e3))
  return d.pick([
    () => '0',
    () => '1',
    () => `0.${'0'.repeat(d.pick([8, 30, 150, 300, 322, 400]))}1`,
    () => `${d.int(1, 9)}${'0'.repeat(d.pick([6, 12, 30, 75, 100, 150, 300, 307, 308, 400]))}`,
    () => `-${d.over(1e-6, 1e6).toFixed(9)}`,
    () => '0.999999999999999999',
    () => '1/3',
    () => d.over(1e-8, 1e8).toFixed(12),
  ])()
}
function written(spec: FieldSpec, d: Draw, hard: boolean): string | undefined {
  const takes = spec.takes
  if (takes.kind === 'word') return d.pick(Object.keys(takes.words))
  if (takes.kind === 'truth') return d.pick(['true', 'false'])
  if (takes.kind === 'tick') return d.pick(['true', '0', '3'])
  if (takes.kind === 'range')
    return d.pick([
      undefined,
      takes.dimension === 'count' ? `[0, ${digits(d, hard)}]` : `[0 m/s, ${digits(d, hard)} m/s]`,
    ])
  if (takes.kind !== 'quantity') return undefined
  const unit = d.pick(UNITS[d.pick(takes.dimensions)]!)
  const one = `${digits(d, hard)}${unit.startsWith('/') || unit === '' || unit === '%' ? '' : ' '}${unit}`
  return hard
    ? d.pick([one, one, one, `${one} * 1${'0'.repeat(200)}`, `${one} / 1${'0'.repeat(200)}`, `${one} - ${one}`])
    : one
}

function lines(block: BlockSpec, d: Draw, indent: string, hard: () => boolean): string {
  let out = ''
  for (const f of block.fields.values()) {
    if (f.takes.kind === 'stock') continue
    if (!f.required && d.often(30)) continue
    const text = written(f, d, hard())
    if (text) out += `${indent}${f.name} = ${text}${block.name === 'limits' ? ' because "agreed"' : ''}\n`
  }
  for (const inner of block.blocks.values()) {
    if (inner.derived.size === inner.fields.size + inner.derived.size && inner.blocks.size === 0) continue
    if (!inner.required && d.often(30)) continue
    const times = inner.repeatable ? d.int(1, 2) : 1
    for (let i = 0; i < times; i++)
      out += `${indent}${inner.name} {\n${lines(inner, d, `${indent}  `, hard)}${indent}}\n`
  }
  return out
}

const BAD = /\bNaN\b|\bInfinity\b|∞|undefined|\[object/
/** Everything that a person can get to see of a file, looked through. */
function look(service: Service, all: boolean): number {
  let known = 0
  const say = (what: string, text: string | undefined): void => {
    if (text !== undefined && BAD.test(text)) throw new Error(`${what}: ${text}`)
  }
  for (const o of service.values('job.door'))
    for (const v of o.values) {
      known++
      for (const x of [v.si, v.value].flat())
        if (typeof x === 'number' && !Number.isFinite(x)) throw new Error(`${v.path}: ${v.si} is shown as ${v.value}`)
      if (v.text === 'no value') throw new Error(`${v.path}: ${v.si} has no text`)
      say(v.path, v.text)
    }
  for (const f of service.findings('job.door')) {
    say(f.rule, f.message)
    say(f.rule, f.limit?.text)
    if (all) for (const x of f.fixes()) for (const e of x.edits) say(`${f.rule}, ${x.title}`, `${x.title} ${e.text}`)
  }
  return known
}

describe('no NaN and no infinity', () => {
  it(
    `in ${runs(50)} doors of any numbers that can be written`,
    () => {
      let known = 0
      draws(50, g => {
        const d = new Draw(g)
        // one wild number among tame ones goes further than many
        const percent = d.pick([3, 10, 40])
        const text = `job "HS-1" { units = ${d.pick(['imperial', 'metric'])} }\nopening "A" {\n${lines(opening, d, '  ', () => d.often(percent))}}\n`
        const service = served({ 'job.door': text })
        try {
          known += look(service, d.often(25))
        } catch (e) {
          throw new Error(`${(e as Error).message}\n${text}`, { cause: e })
        }
      })
      console.log(`physics, finite: seed ${SEED}, ${known} values`)
      expect(known).toBeGreaterThan(runs(50) * 60)
    },
    HOURS,
  )

  it('a number at the bound can be worked with and shown in any unit, what follows too; beyond it the bound is said', () => {
    const most = `1${'0'.repeat(30)}`
    const job = (between: string): string =>
      `opening "A" { width = 1 m; height = 1 m; wind = ${most} Pa; rails { between = ${between} m; depth = 3in }; curtain { engagement = 2in; slat { pitch = ${most} m; thickness = ${most} m; weight = ${most} kg/m^2; inertia = 1 mm^4 } }; drum { pipe { od = ${most} m; wall = 1mm } } }\n`
    const service = served({ 'job.door': job(most) })
    expect(service.findings('job.door').filter(f => f.rule === 'value_range')).toEqual([])
    look(service, true)
    const values = new Map(service.values('job.door')[0]!.values.map(v => [v.path, v.si]))
    // 5 w L^4 / (384 E I), with w = 1e30 * 1e30 N/m, E of steel and 1e-12 m4
    expect(Math.log10(values.get('curtain.bow') as number)).toBeCloseTo(Math.log10(5 / 384 / 199.948e9) + 192, 3)
    for (const path of ['curtain.weight', 'curtain.weight_total', 'balance.torque_closed'])
      expect(values.get(path), path).toBeDefined()
    const beyond = served({ 'job.door': job(`1${most}`) }).findings('job.door')
    expect(beyond.filter(f => f.rule === 'value_range').map(f => f.message)).toEqual([
      'This number is too large to work with: it may go up to 10^30 in SI units (m, kg, s, rad and what is made of them).',
    ])
  })

  it(
    `in ${runs(8)} jobs of the second opinion`,
    () =>
      draws(8, g => {
        const files = job(g).files
        look(served(files), true)
      }),
    HOURS,
  )

  it(
    `in ${runs(20)} whole doors with one field at an end of what it takes`,
    () => {
      draws(20, g => {
        const d = new Draw(g)
        const door: Record<string, Door[string]> = { ...full(d) }
        const paths = Object.keys(door).filter(
          p => isQuantity(door[p]) && !/count|holes|every|sprocket|supports|slings$/.test(p),
        )
        const path = d.pick(paths)
        const old = door[path] as { kind: 'length'; x: number }
        const factor = d.pick([1e-9, 1e-6, 1e6, 1e9])
        // a share and an angle have an end, a wall has its pipe, and a spring its wire
        const ends = /efficiency|sling_angle|pipe\.wall|\.wire$/.test(path)
          ? Math.min(factor, 1)
          : /pipe\.od|\.diameter$/.test(path)
            ? Math.max(factor, 1)
            : factor
        door[path] = q(old.kind, old.x * ends)
        const values = readDoors({ A: door }).get('A')!
        // a whole door has its values: none is lost to a number too large, and none too far out to be told
        const lost = [
          'drum.turns',
          'curtain.weight',
          'balance.torque_closed',
          'balance.preload',
          'balance.worst',
          'balance.raise_force',
          'drum.sag',
          'operator.hand_pull',
          'spring[0].stress_closed',
          'spring[0].lost_force',
          'curtain.bow',
          'rigging.load_each',
        ].filter(p => !derivedOf(values).has(p))
        if (lost.length > 0)
          throw new Error(`${path} times ${factor}: ${lost.join()} not known\n${jobText({ A: door })}`)
      })
    },
    HOURS,
  )
})
