/** Every name of the language, typed out here, against the vocabulary: nothing missing, nothing besides, no other default. */
import { describe, expect, it } from 'vitest'
import { openingOf } from '../../../server/cli/formats/json.ts'
import { allBlocks, type BlockSpec, type FieldSpec, LIMITS, topBlocks } from '../../../server/model/index.ts'
import { Service } from '../../../server/service.ts'
import { UNITS } from '../../../server/units/index.ts'
import { BLOCKS, LIMIT_TABLE, UNIT_TABLE } from './names.ts'

/** The block at a path, `survey.width`; the top ones stand by themselves, the others in the opening. */
function at(path: string): BlockSpec | undefined {
  const [first, ...rest] = path.split('.')
  let block = topBlocks.get(first!) ?? topBlocks.get('opening')!.blocks.get(first!)
  for (const name of rest) block = block?.blocks.get(name)
  return block
}

function taken({ takes }: FieldSpec): string {
  switch (takes.kind) {
    case 'quantity':
      return takes.dimensions.join(' or ')
    case 'range':
      return `two of ${takes.dimension}`
    case 'word':
      return `one of ${Object.keys(takes.words).join(' ')}`
    case 'stock':
      return `stock ${takes.block}`
    default:
      return takes.kind
  }
}
const defaultOf = (f: FieldSpec): unknown =>
  f.byDefault === undefined ? undefined : 'compute' in f.byDefault ? 'worked out' : f.byDefault.value

const close = (a: unknown, b: unknown): void => {
  if (typeof a === 'number' && typeof b === 'number') expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-12 * Math.abs(b))
  else if (Array.isArray(a) && Array.isArray(b)) for (const i of [0, 1]) close(a[i], b[i])
  else expect(a).toEqual(b)
}

describe('the names of the language', () => {
  it('has these blocks and no others', () => {
    const all = new Set<BlockSpec>()
    for (const path of Object.keys(BLOCKS)) {
      expect(at(path), path).toBeDefined()
      all.add(at(path)!)
    }
    all.add(topBlocks.get('limits')!)
    expect(allBlocks.filter(b => !all.has(b)).map(b => b.name)).toEqual([])
  })

  it.each(Object.keys(BLOCKS))('%s has these fields and derived values, with these defaults', path => {
    const [wanted, derived] = BLOCKS[path]!
    const block = at(path)!
    expect([...block.fields.keys()].sort()).toEqual(
      Object.keys(wanted)
        .map(n => n.replace('*', ''))
        .sort(),
    )
    for (const [star, [takes, value]] of Object.entries(wanted)) {
      const name = star.replace('*', '')
      const f = block.fields.get(name)!
      expect(f.required, `${name} required`).toBe(star !== name)
      expect(taken(f), `${name} takes`).toBe(takes)
      const given = value === 'given or derived'
      expect(f.derived !== undefined, `${name} given or derived`).toBe(given)
      if (!given) close(defaultOf(f), value)
      expect(f.doc.length, name).toBeGreaterThan(3)
    }
    const has = [...block.derived.values()].map(
      d => `${d.name}: ${d.words ? Object.keys(d.words).join(' ') : d.dimension}`,
    )
    expect(has.sort()).toEqual(derived.slice().sort())
  })

  it('has these limits with these defaults', () => {
    expect([...LIMITS.keys()].sort()).toEqual(Object.keys(LIMIT_TABLE).sort())
    expect([...topBlocks.get('limits')!.fields.keys()].sort()).toEqual(Object.keys(LIMIT_TABLE).sort())
    for (const [name, [takes, sense, value]] of Object.entries(LIMIT_TABLE)) {
      const l = LIMITS.get(name)!
      expect(taken(l.field), name).toBe(takes)
      expect(l.sense, name).toBe(sense)
      expect(value === undefined || Array.isArray(defaultOf(l.field)) === Array.isArray(value), name).toBe(true)
      close(defaultOf(l.field), value)
      expect(l.source.length, name).toBeGreaterThan(3)
    }
  })

  it('has these units', () => {
    const has = new Map([...UNITS.values()].map(u => [u.name, u]))
    expect([...has.keys()].sort()).toEqual(Object.keys(UNIT_TABLE).sort())
    for (const [name, [factor, dimension]] of Object.entries(UNIT_TABLE)) {
      expect(has.get(name)!.dimension, name).toEqual(dimension)
      expect(Math.abs(has.get(name)!.factor / factor - 1), name).toBeLessThan(1e-15)
    }
  })
})

/** Everything derived, written so that all of it is known; rails, hood, rigging and balance follow or are not written. */
const WHOLE = `job "HS-1" {}
limits { spring_cycles = 12000 }
slat flat_20 { pitch = 2 5/8in; thickness = 0.875in; gauge = 20; developed = 3 3/4in; inertia = 0.05 in^4; section = 0.1 in^3 }
opening "Dock 1" {
  width = 12ft; height = 11ft; wind = 10 psf
  curtain { slat = flat_20; engagement = 2in }
  rails { between = width + 1in; depth = 3in; fastener_spacing = 24in }
  drum { pipe = nps6_std }
  spring long { wire = 1/2in; diameter = 4.9in; coils = 160 }
  spring short { wire = 0.4063in; diameter = 4.9in; coils = 140 }
  adjuster { side = right; holes = 8 }
  operator {
    drive = motor; torque = 900 lbf*in; speed = 28 rpm; ratio = 4; hand_wheel = 12in
    sprocket_drive = 17; sprocket_drum = 48; chain = ansi_50; centers = 30in
  }
}
`

describe('the paths of the output', () => {
  const service = new Service({ resolve: () => ({ ok: false, outside: false, message: '' }), read: () => undefined })
  service.open('job.door', WHOLE)
  const json = openingOf(service.values('job.door')[0]!)

  it('names every derived value, written block or not, with its origin', () => {
    const missing: string[] = []
    for (const [path, [fields, derived]] of Object.entries(BLOCKS)) {
      if (/^(job|slat|pipe|survey|installed|delivery|handover)/.test(path)) continue
      const names = [
        ...derived.map(d => d.split(':')[0]!),
        ...Object.entries(fields).flatMap(([n, [, d]]) => (d === 'given or derived' ? [n.replace('*', '')] : [])),
      ]
      for (const name of names)
        for (const p of path === 'spring' ? ['spring', 'spring[0]', 'spring[1]'] : [path])
          if (json.values[`${p}.${name}`]?.origin !== 'derived') missing.push(`${p}.${name}`)
    }
    expect(missing).toEqual([])
  })

  it('counts springs in the order in which they are written, repeats the first as `spring`, and has no path by name', () => {
    const paths = Object.keys(json.values)
    const first = paths.filter(p => p.startsWith('spring[0].'))
    expect(first.length).toBeGreaterThan(20)
    for (const p of first) expect(json.values[p.replace('[0]', '')], p).toEqual(json.values[p])
    expect(paths.filter(p => p.startsWith('spring.')).length).toBe(first.length)
    expect(json.values['spring[0].coils']!.si).toBe(160)
    expect(json.values['spring[1].coils']!.si).toBe(140)
    expect(paths.filter(p => /^(long|short)\b/.test(p))).toEqual([])
  })

  it('lists what is written, what stands by default and what comes from the stock, nested blocks by the full path', () => {
    const origin = (p: string): string | undefined => json.values[p]?.origin
    expect(origin('opening.width')).toBe('written')
    expect(origin('operator.chain')).toBe('written')
    expect(origin('curtain.slat.pitch')).toBe('stock')
    expect(origin('curtain.slat.skins')).toBe('default')
    expect(origin('drum.pipe.od')).toBe('stock')
    expect(json.values['drum.pipe.od']!.si).toBeCloseTo(6.625 * 0.0254, 12)
    for (const p of [
      'drum.rise',
      'drum.span',
      'drum.dead_wraps',
      'drum.modulus',
      'rails.length',
      'rails.fastener_edge',
      'rigging.slings',
      'rigging.sling_angle',
      'operator.side',
      'operator.friction',
      'operator.efficiency',
      'spring[1].material',
      'curtain.endlock_every',
    ])
      expect(origin(p), p).toBe('default')
  })

  it('leaves out what is not known and says what is missing', () => {
    service.open('less.door', WHOLE.replace('height = 11ft; ', ''))
    const less = openingOf(service.values('less.door')[0]!)
    expect(less.complete).toBe(false)
    expect(less.missing).toContain('opening.height')
    for (const p of ['drum.turns', 'balance.worst', 'curtain.weight', 'spring.life', 'operator.torque_needed'])
      expect(less.values[p], p).toBeUndefined()
    for (const p of ['curtain.slat_length', 'rails.mark', 'spring.index', 'hood.supports_needed'])
      expect(less.values[p], p).toBeDefined()
  })
})
