/** Random doors, written as job files in all sorts of units, against the computation made apart from the program. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Service } from '../../../server/service.ts'
import { compute, type JobNumbers, type SpringJob } from './compute.ts'

const RUNS = Number(process.env.DOORWRIGHT_RUNS ?? 250)
const IN = 0.0254
const LB = 0.45359237

/** A quantity in one of several ways of writing it, with the value it has. */
interface Written {
  text: string
  si: number
}
const inFraction = (sixteenths: number): Written => {
  const whole = Math.floor(sixteenths / 16)
  const rest = sixteenths % 16
  const feet = Math.floor(whole / 12)
  const inches = `${whole % 12}${rest ? ` ${rest}/16` : ''}in`
  return { text: feet > 0 ? `${feet}ft ${inches}` : inches, si: (sixteenths / 16) * IN }
}
/** A length between two limits in inches, in one of the written forms. */
const length = (from: number, to: number): fc.Arbitrary<Written> =>
  fc.oneof(
    fc.integer({ min: Math.ceil(from * 16), max: Math.floor(to * 16) }).map(inFraction),
    fc
      .integer({ min: Math.ceil(from * 25.4), max: Math.floor(to * 25.4) })
      .map(mm => ({ text: `${mm}mm`, si: mm / 1000 })),
    fc
      .integer({ min: Math.ceil(from * 1000), max: Math.floor(to * 1000) })
      .map(mil => ({ text: `${mil / 1000}in`, si: (mil / 1000) * IN })),
    fc
      .integer({ min: Math.ceil(from * 100), max: Math.floor(to * 100) })
      .map(c => ({ text: `(${c / 200}in + ${c / 200}in)`, si: (c / 100) * IN })),
  )
const decimal = (from: number, to: number, places = 3): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(from * 10 ** places), max: Math.round(to * 10 ** places) }).map(n => n / 10 ** places)
const either = (a: fc.Arbitrary<Written>, b: fc.Arbitrary<Written>): fc.Arbitrary<Written> => fc.oneof(a, b)
const unit = (from: number, to: number, text: string, factor: number): fc.Arbitrary<Written> =>
  decimal(from, to).map(n => ({ text: `${n} ${text}`, si: n * factor }))
const maybe = <T>(a: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(a, { nil: undefined })

const PIPES: Record<string, [od: number, wall: number]> = {
  nps4_std: [4.5, 0.237],
  nps6_std: [6.625, 0.28],
  nps6_sch10: [6.625, 0.134],
  nps8_xs: [8.625, 0.5],
  nps10_sch40: [10.75, 0.365],
  nps12_std: [12.75, 0.375],
  nps16_xs: [16, 0.5],
}
const CHAINS: Record<string, number> = {
  ansi_35: 0.375,
  ansi_40: 0.5,
  ansi_41: 0.5,
  ansi_50: 0.625,
  ansi_60: 0.75,
  ansi_80: 1,
}
/** Manufacturers' Standard Gauge, in (seen). */
const GAUGES: Record<number, number> = { 16: 0.0598, 18: 0.0478, 20: 0.0359, 22: 0.0299 }

const spring = fc.record({
  wire: length(0.2, 0.55),
  diameter: length(2.5, 9),
  coils: fc.integer({ min: 20, max: 250 }),
  dead: fc.constantFrom(0, 2, 4),
  count: fc.integer({ min: 1, max: 4 }),
  material: fc.constantFrom<SpringJob['material']>(
    'music_wire',
    'oil_tempered',
    'hard_drawn',
    'chrome_vanadium',
    'chrome_silicon',
  ),
  friction: fc.boolean(),
  end: fc.constantFrom<'adjuster' | 'drive'>('adjuster', 'drive'),
})
const door = fc.record({
  metric: fc.boolean(),
  width: length(48, 280),
  height: length(48, 260),
  extra: length(1, 6),
  depth: length(2.5, 5),
  engagement: length(1, 2.4),
  pitch: length(1.5, 4),
  thickness: length(0.3, 1.4),
  weight: fc.oneof(
    unit(0.8, 5, 'lb/ft^2', LB / 0.3048 ** 2).map(w => ({ lines: `weight = ${w.text}`, of: () => w.si })),
    unit(4, 25, 'kg/m^2', 1).map(w => ({ lines: `weight = ${w.text}`, of: () => w.si })),
    fc
      .record({
        gauge: fc.constantFrom(16, 18, 20, 22),
        developed: length(2, 6),
        skins: fc.constantFrom(1, 2),
        core: decimal(0, 0.5),
      })
      .map(s => ({
        lines: `gauge = ${s.gauge}; developed = ${s.developed.text}; skins = ${s.skins}; core = ${s.core} lb/ft^2`,
        of: (pitch: number) =>
          ((GAUGES[s.gauge]! * IN * 7850 * s.developed.si) / pitch) * s.skins + (s.core * LB) / 0.3048 ** 2,
      })),
  ),
  bar: either(unit(0, 6, 'lb/ft', LB / 0.3048), unit(0, 9, 'kg/m', 1)),
  endlock: unit(0, 0.5, 'lb', LB),
  every: fc.integer({ min: 1, max: 4 }),
  pipe: fc.constantFrom(...Object.keys(PIPES)),
  span: maybe(length(60, 300)),
  ring: maybe(length(0.2, 3)),
  deadTurns: fc.constantFrom(0, 0.5, 1, 1.25),
  rise: maybe(length(4, 16)),
  leaves: fc.constantFrom<'wall_side' | 'room_side'>('wall_side', 'room_side'),
  springs: fc.array(spring, { minLength: 1, maxLength: 3 }),
  side: fc.constantFrom<'left' | 'right'>('left', 'right'),
  holes: fc.constantFrom(4, 6, 8, 12),
  preload: maybe(fc.integer({ min: 1, max: 60 })),
  mount: fc.constantFrom<'face' | 'between'>('face', 'between'),
  windlocks: fc.boolean(),
  wind: maybe(
    fc.oneof(
      unit(1, 30, 'psf', 47.88025898033584).map(w => ({ lines: `wind = ${w.text}`, wind: { pressure: w.si } })),
      fc
        .record({
          mph: fc.integer({ min: 60, max: 180 }),
          exposure: fc.constantFrom<'B' | 'C' | 'D'>('B', 'C', 'D'),
          feet: fc.integer({ min: 0, max: 200 }),
        })
        .map(w => ({
          lines: `wind = ${w.mph} mph; exposure = ${w.exposure}; height_above_ground = ${w.feet}ft`,
          wind: { speed: w.mph * 0.44704, exposure: w.exposure, height: w.feet * 0.3048 },
        })),
    ),
  ),
  inertia: unit(0.01, 0.2, 'in^4', IN ** 4),
  section: unit(0.02, 0.3, 'in^3', IN ** 3),
  fastenerSpacing: maybe(length(8, 36)),
  operator: maybe(
    fc.record({
      drive: fc.constantFrom('hand_chain', 'crank', 'motor', 'push_up'),
      torque: either(unit(100, 3000, 'lbf*in', 0.1129848290276167), unit(10, 400, 'N*m', 1)),
      rpm: decimal(5, 60, 1),
      efficiency: fc.integer({ min: 40, max: 100 }),
      friction: fc.integer({ min: 0, max: 15 }),
      n1: fc.integer({ min: 10, max: 30 }),
      n2: fc.integer({ min: 10, max: 70 }),
      chain: fc.constantFrom(...Object.keys(CHAINS)),
      centers: length(24, 50),
      ratio: decimal(2, 30, 1),
      wheel: length(6, 24),
    }),
  ),
  slings: maybe(fc.integer({ min: 1, max: 5 })),
  angle: fc.constantFrom(30, 45, 60, 90),
  like: fc.boolean(),
  useLet: fc.boolean(),
})
type Drawn = typeof door extends fc.Arbitrary<infer T> ? T : never

function text(d: Drawn): string {
  const o = d.operator
  const springs = d.springs.map(
    (s, i) => `  spring${i > 0 ? ` s${i}` : ''} {
    wire = ${s.wire.text}; diameter = ${s.diameter.text}
    coils = ${s.coils}; dead_coils = ${s.dead}; count = ${s.count}
    material = ${s.material}; coil_friction = ${s.friction}; shaft_end = ${s.end}
  }`,
  )
  const body = `  width = ${d.useLet ? 'clear' : d.width.text}
  height = ${d.height.text}
  mount = ${d.mount}
  ${d.wind ? d.wind.lines : ''}
  curtain {
    slat = one
    engagement = ${d.engagement.text}
    bottom_bar = ${d.bar.text}
    endlock = ${d.endlock.text}; endlock_every = ${d.every}
    windlocks = ${d.windlocks}
  }
  rails {
    between = width + ${d.extra.text}
    depth = ${d.depth.text}
    ${d.fastenerSpacing ? `fastener_spacing = ${d.fastenerSpacing.text}` : ''}
  }
  drum {
    pipe = ${d.pipe}
    ${d.span ? `span = ${d.span.text}` : ''}
    ${d.ring ? `attach = rings; ring = ${d.ring.text}` : ''}
    dead_wraps = ${d.deadTurns} turns
    ${d.rise ? `rise = ${d.rise.text}` : ''}
    leaves = ${d.leaves}
  }
${springs.join('\n')}
  adjuster {
    side = ${d.side}; holes = ${d.holes}
    ${d.preload ? `preload = ${d.preload} * (1 turn / holes)` : ''}
  }
  ${o ? `operator { drive = ${o.drive}; torque = ${o.torque.text}; speed = ${o.rpm} rpm; efficiency = ${o.efficiency}%; friction = ${o.friction}%; sprocket_drive = ${o.n1}; sprocket_drum = ${o.n2}; chain = ${o.chain}; centers = ${o.centers.text}; ratio = ${o.ratio}; hand_wheel = ${o.wheel.text} }` : ''}
  rigging { ${d.slings ? `slings = ${d.slings}; ` : ''}sling_angle = ${d.angle}deg }
`
  const head = `job "1" { units = ${d.metric ? 'metric' : 'imperial'} }
slat one {
  pitch = ${d.pitch.text}; thickness = ${d.thickness.text}; ${d.weight.lines}
  inertia = ${d.inertia.text}; section = ${d.section.text}
}
${d.useLet ? `let clear = ${d.width.text}\n` : ''}`
  return d.like
    ? `${head}opening "base" {\n${body}}\nopening "it" like "base" { survey { level = 1/8in } }\n`
    : `${head}opening "it" {\n${body}}\n`
}

function numbers(d: Drawn): JobNumbers {
  const [od, wall] = PIPES[d.pipe]!
  const o = d.operator
  return {
    width: d.width.si, height: d.height.si, between: d.width.si + d.extra.si, depth: d.depth.si, engagement: d.engagement.si,
    pitch: d.pitch.si, thickness: d.thickness.si, areaWeight: d.weight.of(d.pitch.si), barPerLength: d.bar.si, endlock: d.endlock.si, every: d.every,
    od: od * IN, wall: wall * IN, span: d.span?.si, ring: d.ring?.si ?? 0, deadTurns: d.deadTurns, rise: d.rise?.si, leaves: d.leaves,
    springs: d.springs.map(s => ({ ...s, wire: s.wire.si, diameter: s.diameter.si })),
    side: d.side, holes: d.holes, preloadTurns: d.preload === undefined ? undefined : d.preload / d.holes,
    mount: d.mount, windlocks: d.windlocks, wind: d.wind?.wind, inertia: d.inertia.si, section: d.section.si, fastenerSpacing: d.fastenerSpacing?.si,
    operator: o && { drive: o.drive, torque: o.torque.si, speed: (o.rpm * 2 * Math.PI) / 60, efficiency: o.efficiency / 100, friction: o.friction / 100, n1: o.n1, n2: o.n2, pitch: CHAINS[o.chain]! * IN, centers: o.centers.si, ratio: o.ratio, wheel: o.wheel.si },
    slings: d.slings, slingAngle: (d.angle * Math.PI) / 180,
  } // biome-ignore format: a table
}

const LANGUAGE = new Set([
  'syntax',
  'unknown_name',
  'unknown_block',
  'unknown_field',
  'unknown_unit',
  'wrong_dimension',
  'wrong_type',
  'value_range',
  'duplicate',
  'circle',
  'derived_assigned',
  'use_failed',
  'like_failed',
])

describe('worked out apart', () => {
  it(`on ${RUNS} random doors agrees to one part in a thousand`, () => {
    let compared = 0
    fc.assert(
      fc.property(door, d => {
        const service = new Service({
          resolve: () => ({ ok: false, outside: false, message: 'none' }),
          read: () => undefined,
        })
        service.open('job.door', text(d))
        const language = service.findings('job.door').filter(f => LANGUAGE.has(f.rule))
        expect(language.map(f => `${f.rule} ${f.message}`)).toEqual([])
        const values = new Map(
          service
            .values('job.door')
            .find(o => o.mark === 'it')!
            .values.map(v => [v.path, v]),
        )
        for (const [path, expected] of Object.entries(compute(numbers(d)))) {
          const got = values.get(path)
          compared++
          if (expected === undefined) expect(got?.text, `${path} should be unknown`).toBeUndefined()
          else if (typeof expected === 'string') expect(got?.value, path).toBe(expected)
          else if (typeof expected === 'object')
            expect([got?.bound, got?.si], path).toEqual([expected.bound, expected.si])
          else {
            expect(got?.si, `${path} should be ${expected}`).toBeDefined()
            expect(got!.bound, path).toBeUndefined()
            const scale = Math.max(Math.abs(expected), /force|worst/.test(path) ? 1e-3 : 1e-9)
            expect(Math.abs(got!.si! - expected) / scale, `${path}: ${got!.si} against ${expected}`).toBeLessThan(1e-3)
          }
        }
      }),
      { numRuns: RUNS },
    )
    expect(compared).toBeGreaterThan(RUNS * 40)
  }, 600_000)
})
