/** The same door in inches and pounds and in millimetres and kilograms, number for number exactly the same: one door. */
import { describe, expect, it } from 'vitest'
import { LIMITS } from '../../server/service.ts'
import { scaleOf } from './derived.ts'
import { type Door, Draw, decimal, draws, type Entry, full, HOURS, jobText, type Kind, LANGUAGE, near, of, product, q, type Read, read, runs, SEED, served, springPaths, without } from './door.ts' // biome-ignore format: one import

/** What was measured and set, near to what is written and further away. */
function records(d: Draw, door: Door): Record<string, Entry> {
  const out: Record<string, Entry> = {}
  const measured = (path: string, like: number): void => {
    if (d.often(80))
      out[path] = q('length', Number((like * (1 + d.pick([0, 1, -1]) * d.over(1e-5, 0.1))).toPrecision(9)))
  }
  const width = of(door, 'opening.width')
  const height = of(door, 'opening.height')
  for (const at of ['bottom', 'middle', 'top']) {
    measured(`survey.width.${at}`, width)
    measured(`installed.between.${at}`, of(door, 'rails.between'))
  }
  for (const at of ['left', 'right']) {
    measured(`survey.height.${at}`, height)
    for (const block of ['survey', 'installed'])
      if (d.often(60)) out[`${block}.plumb.${at}`] = q('length', d.over(0.01, 2))
    if (d.often(50)) out[`survey.side_room_${at}`] = q('length', d.over(2, 30))
  }
  for (const at of ['rising', 'falling']) measured(`survey.diagonal.${at}`, Math.hypot(width, height))
  measured('survey.headroom', of(door, 'opening.headroom'))
  if (d.often(50)) out['survey.level'] = q('length', d.over(0.01, 2))
  if (d.often(50)) out['installed.drum_level'] = q('length', d.over(0.01, 2))
  if (d.often(50))
    out['installed.increments'] = q(
      'count',
      Math.min(1e5, Math.round(of(door, 'adjuster.preload') * of(door, 'adjuster.holes'))),
    )
  if (d.often(50)) out['installed.wound'] = d.pick(['clockwise', 'counterclockwise'])
  if (d.often(50)) out['installed.chain_links'] = q('count', d.int(50, 800))
  return out
}

/** Any limits of the language, stricter and looser. */
function someLimits(d: Draw): Record<string, Entry> {
  const out: Record<string, Entry> = {}
  for (const [name, { field, sense }] of LIMITS) {
    const takes = field.takes
    const fixed = field.byDefault && 'value' in field.byDefault && typeof field.byDefault.value === 'number'
    if (takes.kind !== 'quantity' || !fixed || sense === 'within' || d.often(75)) continue
    const kind = takes.dimensions[0] as Kind
    const usual = { length: 1, force: 30, pressure: 18e3, count: 1, angle: 0.5, time: 5 }[kind as 'length']
    out[`limits.${name}`] = q(kind, d.over(usual * 0.05, usual * 20))
  }
  return out
}

const OPTIONAL = ['drum.rise', 'drum.span', 'rails.length', 'adjuster.preload', 'rigging.slings', 'rails.fastener_edge', 'drum.ring', 'drum.modulus', 'curtain.engagement', 'operator.sprocket_drum', 'hood.supports', 'opening.wind', 'drum.shaft', 'operator.power', 'rigging.sling_angle', 'drum.dead_wraps'] // biome-ignore format: a list

function door(d: Draw): Door {
  const all: Record<string, Entry> = { ...full(d), ...someLimits(d) }
  if (d.often(50)) Object.assign(all, records(d, all))
  if (d.often(20))
    Object.assign(all, {
      'opening.wind': q('speed', d.over(100, 5000)),
      'opening.exposure': d.pick(['B', 'C', 'D']),
      'opening.height_above_ground': q('length', d.over(10, 1e5)),
    })
  const first = springPaths(all)[0]!
  if (d.often(20)) all[`${first}.rate`] = q('rate', d.over(10, 5000))
  if (d.often(20)) all[`${first}.strength`] = q('pressure', d.over(1e5, 4e5))
  if (d.often(20)) all[`${first}.range_strength`] = q('pressure', d.over(5e4, 2e5))
  if (d.often(20))
    Object.assign(all, {
      'curtain.slat.gauge': q('count', d.int(8, 30)),
      'curtain.slat.developed': q('length', d.over(1, 10)),
      'curtain.slat.skins': q('count', d.int(1, 2)),
      'curtain.slat.core': q('mass/area', d.over(1e-3, 0.01)),
    })
  return without(
    all,
    ...OPTIONAL.filter(() => d.often(15)),
    ...('curtain.slat.gauge' in all ? ['curtain.slat.weight'] : []),
  )
}

describe('units', () => {
  it('the test multiplies decimals exactly', () => {
    expect([
      product('0.1', '25.4'),
      product('12', '0.45359237'),
      product('-3', '5'),
      product('1000', '10'),
      product('0', '2.5'),
    ]).toEqual(['2.54', '5.44310844', '-15', '10000', '0'])
    expect([decimal(1e-9), decimal(1.25e21), decimal(-0.5), decimal(123456)]).toEqual([
      '0.000000001',
      '1250000000000000000000',
      '-0.5',
      '123456',
    ])
  })

  it(
    `${runs(40)} doors have the same values and findings in either`,
    () => {
      let values = 0
      let findings = 0
      const rules = new Set<string>()
      draws(40, g => {
        const one = door(new Draw(g))
        const [a, b] = (['imperial', 'metric'] as const).map(system => {
          const files = { 'job.door': jobText({ A: one }, system) }
          const service = served(files)
          return {
            of: read(files, service).get('A')!,
            found: service.findings('job.door').map(f => `${f.severity} ${f.rule} ${f.opening} ${f.block}`),
            wrong: service
              .findings('job.door')
              .filter(f => LANGUAGE.has(f.rule))
              .map(f => f.message),
          }
        }) as [Side, Side]
        const fault = (what: string): Error =>
          new Error(`${what}\n${jobText({ A: one })}\n${jobText({ A: one }, 'metric')}`)
        if (a.wrong.length > 0) throw fault(a.wrong.join('\n'))
        if (a.found.join('\n') !== b.found.join('\n')) throw fault(`${a.found.join('\n')}\nand\n${b.found.join('\n')}`)
        expect([...b.of.si.keys()]).toEqual([...a.of.si.keys()])
        expect([...b.of.words]).toEqual([...a.of.words])
        expect([...b.of.bounds]).toEqual([...a.of.bounds])
        for (const [path, x] of a.of.si) {
          const y = b.of.si.get(path)!
          // where two heights are equally bad the last digit decides
          const most = path === 'balance.worst_at' ? 1e-6 : 1e-9
          if (!near(x, y, most, 1e-3 * scaleOf(path, a.of))) throw fault(`${path}: ${x} and ${y}`)
        }
        values += a.of.si.size
        findings += a.found.length
        for (const f of a.found) rules.add(f.split(' ')[1]!)
      })
      console.log(`physics, units: seed ${SEED}, ${values} values, ${findings} findings of ${rules.size} rules`)
      expect(rules.size).toBeGreaterThan(30)
    },
    HOURS,
  )
})
interface Side {
  readonly of: Read
  readonly found: string[]
  readonly wrong: string[]
}
