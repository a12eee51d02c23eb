/**
 * Every derived value of an opening, worked out a second time and apart from the program: inches, pounds (a pound of
 * mass weighs a pound of force), turns, seconds; extremes by walking the travel and closing in, lives and centre
 * distances by halving intervals. Nothing here is imported from the program.
 */
import { operator } from './operator.ts'
import {
  type Fields,
  from,
  type Given,
  halve,
  known,
  type Maybe,
  type Opinion,
  type Put,
  peaks,
  type Second,
  top,
  type Unit,
  up,
} from './parts.ts'
import { DENSITY, PIPES, SHEETS, SLAT_MODULUS, WIRES } from './tables.ts'

export function compute(given: Given): Opinion {
  const out: Opinion = new Map()
  const put: Put = (path, unit, value, rest = {}) => {
    out.set(path, value === undefined ? undefined : { value, unit, origin: 'derived', ...rest })
  }
  /** A field that is worked out where it is not written; what is written and not known stays unknown. */
  const or = (path: string, unit: Unit, fields: Fields, otherwise: Maybe, origin: 'derived' | 'default'): Maybe => {
    const name = path.slice(path.lastIndexOf('.') + 1)
    const value = name in fields ? from(fields, name) : otherwise
    put(path, unit, value, { origin: name in fields ? 'given' : origin })
    return value
  }
  const { opening, curtain, slat, rails, drum, adjuster, rigging, limits } = given
  const width = from(opening, 'width')
  const height = from(opening, 'height')
  const between = from(rails, 'between')
  const depth = from(rails, 'depth')
  const engagement = from(curtain, 'engagement')
  const pitch = from(slat, 'pitch')
  const thick = from(slat, 'thickness')
  const material = (slat.material ?? 'steel') as keyof typeof DENSITY

  // the curtain
  put(
    'opening.area',
    'in2',
    known((w, h) => w * h, width, height),
  )
  const length = known((b, e) => b + 2 * e, between, engagement)
  put('curtain.slat_length', 'in', length)
  const sheet = known(g => SHEETS[material]![g], from(slat, 'gauge'))
  const skins = from(slat, 'skins') ?? 1
  const fromGauge = known(
    (s, d, p) => (s * DENSITY[material] * d * skins) / p + (from(slat, 'core') ?? 0),
    sheet,
    from(slat, 'developed'),
    pitch,
  )
  // where both are written, the weight is nearer to the slat than what its gauge comes to
  const area = or('curtain.slat.weight', 'lb/in2', slat, fromGauge, 'derived')
  const endlocks = known(
    p => (2 * (from(curtain, 'endlock') ?? 0)) / ((from(curtain, 'endlock_every') ?? 2) * p),
    pitch,
  )
  const per = known((a, l, e) => a * l + e, area, length, endlocks)
  put('curtain.weight_per_height', 'lb/in', per)
  const bar = known(l => (from(curtain, 'bottom_bar') ?? 0) * l, length)
  put('curtain.bottom_bar_weight', 'lb', bar)

  // the coil
  const pipe =
    typeof drum.pipe === 'string' && PIPES[drum.pipe]
      ? { od: PIPES[drum.pipe]![0], wall: PIPES[drum.pipe]![1] }
      : given.pipe
  const od = from(pipe, 'od')
  const wall = from(pipe, 'wall')
  const dead = from(drum, 'dead_wraps') ?? 0.5
  const bare = known(d => d / 2 + (from(drum, 'ring') ?? 0), od)
  const start = known((b, t) => b + t * (0.5 + dead), bare, thick)
  const spiral = (a: number, t: number, n: number): number => 2 * Math.PI * (a * n + (t * n * n) / 2)
  const turns = known((a, t, h) => halve(n => spiral(a, t, n), h, 0, h / (2 * Math.PI * a)), start, thick, height)
  put('drum.turns', 'turn', turns)
  const coil = known((b, t, n) => 2 * (b + t * (dead + n + 1)), bare, thick, turns)
  put('drum.coil_diameter', 'in', coil)
  const rise = or(
    'drum.rise',
    'in',
    drum,
    known(c => c / 2, coil),
    'default',
  )
  const deadLength = known((b, t) => spiral(b + t / 2, t, dead), bare, thick)
  const hanging = known((h, r) => h + r, height, rise)
  put(
    'curtain.slat_count',
    '1',
    known((h, d, p) => up((h + d) / p), hanging, deadLength, pitch),
  )
  const weight = known((w, h, b) => w * h + b, per, hanging, bar)
  put('curtain.weight', 'lb', weight)
  const total = known((w, p, d) => w + p * d, weight, per, deadLength)
  put('curtain.weight_total', 'lb', total)

  // what the door asks for, by turns from closed
  const whole = [start, thick, turns, per, hanging, bar]
  const ready = !whole.includes(undefined)
  const [a, t, N, w, H, b] = whole as number[] as [number, number, number, number, number, number]
  const radius = (n: number): number => a + t * n
  const asks = (n: number): number => (w * (H - spiral(a, t, n)) + b) * radius(n)
  const closed = ready ? asks(0) : undefined
  const open = ready ? asks(N) : undefined
  put('balance.torque_closed', 'lbf*in', closed)
  put('balance.torque_open', 'lbf*in', open, { scale: closed })
  const chord = ready ? (closed! - open!) / N : undefined
  const falls = chord !== undefined && chord > 0
  const above = falls ? top(n => asks(n) - (closed! - chord * n), N) : undefined
  put('balance.ideal_rate', 'lbf*in/turn', falls ? chord : undefined, { scale: known(c => c / turns!, closed) })
  put(
    'balance.ideal_worst',
    'lbf*in',
    known(x => x / 2, above),
    { scale: closed },
  )
  put(
    'balance.ideal_preload',
    'turn',
    known((x, c) => (open! + x / 2) / c, above, chord),
    { scale: known((c, s) => c / s, closed, chord) },
  )

  // the springs' rates
  const springs = given.springs.map(s => {
    const wire = WIRES[(s.material ?? 'oil_tempered') as keyof typeof WIRES]
    const [d, D, n] = [from(s, 'wire'), from(s, 'diameter'), from(s, 'coils')]
    const count = from(s, 'count') ?? 1
    const stiff = known(
      (d, D, n) => (wire.E * d ** 4) / ((s.coil_friction === true ? 10.8 : 64 / (2 * Math.PI)) * D * n),
      d,
      D,
      n,
    )
    const rate = from(s, 'rate') ?? known(k => k * count, stiff)
    return { s, wire, d, D, n, count, rate, one: known(k => k / count, rate) }
  })
  const sum = springs.length > 0 ? springs.reduce<Maybe>((x, s) => known((p, q) => p + q, x, s.rate), 0) : undefined
  put('balance.rate', 'lbf*in/turn', sum)
  const g = known(k => k, ready ? sum : undefined)
  const lead = (k: number) => (n: number) => asks(n) / k + n - N
  const best = known(k => (top(lead(k), N) - top(n => -lead(k)(n), N)) / 2, g)
  put('balance.preload', 'turn', best, { scale: turns })

  // the adjuster
  const holes = from(adjuster, 'holes')
  const round = adjuster.preload === 'round up' ? known((p, h) => up(p * h) / h, best, holes) : undefined
  const preload = adjuster.preload === 'round up' ? round : 'preload' in adjuster ? from(adjuster, 'preload') : best
  put('adjuster.preload', 'turn', preload, {
    origin: 'preload' in adjuster ? 'given' : 'derived',
    scale: turns,
  })
  put(
    'adjuster.increment',
    'turn',
    known(h => 1 / h, holes),
  )
  put(
    'adjuster.increments',
    '1',
    known((p, h) => p * h, preload, holes),
    { scale: known((h, n) => h * n, holes, turns) },
  )
  const raisesAs = (drum.leaves ?? 'wall_side') === 'wall_side'
  const seen =
    adjuster.side === undefined
      ? undefined
      : (adjuster.side === 'right') === raisesAs
        ? 'counterclockwise'
        : 'clockwise'
  const winding = (adjuster.winding as string | undefined) ?? seen
  put('adjuster.winding', '1', winding, { origin: adjuster.winding === undefined ? 'derived' : 'given' })

  // what is left over with the preload in use
  const left = (k: number) => (n: number) => asks(n) - k * (preload! + N - n)
  const use = preload === undefined ? undefined : g
  const highest = use === undefined ? undefined : peaks(n => Math.abs(left(use)(n)), 0, N)
  const worst = highest && Math.max(...highest.map(p => p.y))
  const lowest = highest && Math.min(...highest.filter(p => p.y > worst! * (1 - 1e-9)).map(p => p.x))
  put('balance.worst', 'lbf*in', worst, { scale: closed })
  put(
    'balance.worst_at',
    'in',
    known(n => spiral(a, t, n), lowest),
    { scale: height },
  )
  const scale = known((c, s) => c / s, closed, start)
  put(
    'balance.raise_force',
    'lbf',
    known(
      k =>
        Math.max(
          0,
          top(n => left(k)(n) / radius(n), N),
        ),
      use,
    ),
    { scale },
  )
  put(
    'balance.lower_force',
    'lbf',
    known(
      k =>
        Math.max(
          0,
          top(n => -left(k)(n) / radius(n), N),
        ),
      use,
    ),
    { scale },
  )

  // each spring by itself
  for (const [i, { s, wire, d, D, n, count, rate, one }] of springs.entries()) {
    const at = (unit: Unit, name: string, value: Maybe | string, rest: Partial<Second> = {}): void =>
      put(`spring[${i}].${name}`, unit, value, rest)
    at('lbf*in/turn', 'rate', rate, { origin: s.rate === undefined ? 'derived' : 'given' })
    const C = known((D, d) => D / d, D, d)
    at('1', 'index', C)
    const Ki = known(C => (4 * C * C - C - 1) / (4 * C * (C - 1)), C)
    const stress = (twist: Maybe): Maybe =>
      known((K, k, d, x) => (K * 32 * k * x) / (Math.PI * d ** 3), Ki, one, d, twist)
    const twist = known((p, n) => p + n, preload, turns)
    const [open, shut] = [stress(preload), stress(twist)]
    at('psi', 'stress_open', open, { scale: shut })
    at('psi', 'stress_closed', shut)
    const inside = known(d => (d >= wire.from && d <= wire.to ? (wire.A * 1000) / d ** wire.m : undefined), d)
    const Sut = or(`spring[${i}].strength`, 'psi', s, inside, 'derived')
    at(
      '1',
      'stress_ratio',
      known((x, S) => x / S, shut, Sut),
    )
    const f = (log: number): number =>
      log <= 5 ? wire.f[0] + ((wire.f[1] - wire.f[0]) * (log - 3)) / 2 : wire.f[1] + (wire.f[2] - wire.f[1]) * (log - 5)
    const cycles = from(limits, 'spring_cycles') ?? 10_000
    const log = Math.log10(cycles)
    const table = known(S => (log < 3 || log > 6 ? undefined : f(log) * S), Sut)
    const Sr = or(`spring[${i}].range_strength`, 'psi', s, table, 'derived')
    const factor = (Sr: number): number => {
      const [sa, sm] = [(shut! - open!) / 2, (shut! + open!) / 2]
      const Se = Sr / 2 / (1 - (Sr / (2 * Sut!)) ** 2)
      const r = sa / sm
      return (((r * Sut!) ** 2 / (2 * Se)) * (-1 + Math.sqrt(1 + ((2 * Se) / (r * Sut!)) ** 2))) / sa
    }
    const over = known((x, S) => Number(x > wire.yield * S), shut, Sut)
    at('1', 'fatigue_factor', over === 0 && open! >= 0 ? known(factor, Sr) : undefined)
    if (over === 1) at('1', 'life', 1e3, { bound: 'less' })
    else if (over === undefined || open! < 0) at('1', 'life', undefined)
    // a written range strength says on which side of its cycles the life lies, and no more
    else if (s.range_strength !== undefined) at('1', 'life', cycles, { bound: factor(Sr!) >= 1 ? 'more' : 'less' })
    else if (factor(f(3) * Sut!) < 1) at('1', 'life', 1e3, { bound: 'less' })
    else if (factor(f(6) * Sut!) > 1) at('1', 'life', 1e6, { bound: 'more' })
    else at('1', 'life', 10 ** halve(x => -factor(f(x) * Sut!), -1, 3, 6))
    const coils = known(n => n + (from(s, 'dead_coils') ?? 0) + 1, n)
    at(
      'in',
      'length_free',
      known((d, c) => d * c, d, coils),
    )
    at(
      'in',
      'length_wound',
      known((d, c, x) => d * (c + x), d, coils, twist),
    )
    at(
      'in',
      'inside_wound',
      known((D, n, x, d) => (D * n) / (n + x) - d, D, n, twist, d),
      { scale: D },
    )
    at(
      'in',
      'outside_free',
      known((D, d) => D + d, D, d),
    )
    at(
      'lb',
      'weight',
      known((d, D, n) => DENSITY.steel * (Math.PI / 4) * d * d * Math.PI * D * n * count, d, D, n),
    )
    const closes =
      winding === undefined
        ? undefined
        : (winding === 'counterclockwise') === ((s.shaft_end ?? 'adjuster') === 'adjuster')
          ? 'right'
          : 'left'
    at('1', 'hand_needed', closes)
    const rest = known((k, o) => k - o, use, one)
    at(
      'lbf',
      'lost_force',
      known(
        k =>
          Math.max(
            0,
            top(x => left(k)(x) / radius(x), N),
          ),
        rest,
      ),
      { scale },
    )
  }

  // the drum as a beam
  const bore = known((d, w) => d - 2 * w, od, wall)
  put('drum.inside', 'in', bore)
  const span = or(
    'drum.span',
    'in',
    drum,
    known((b, d) => b + 2 * d, between, depth),
    'default',
  )
  const tube = known((d, i, L) => (Math.PI / 4) * (d * d - i * i) * DENSITY.steel * L, od, bore, span)
  put('drum.weight', 'lb', tube)
  const wires = springs.reduce<Maybe>(
    (x, _, i) => known((p, q) => p + (q.value as number), x, out.get(`spring[${i}].weight`)),
    springs.length > 0 ? 0 : undefined,
  )
  const E = from(drum, 'modulus') ?? 29e6
  put(
    'drum.sag',
    'in',
    known(
      (c, p, s, L, d, i) => (5 * (c + p + s) * L ** 3) / (384 * E * (Math.PI / 64) * (d ** 4 - i ** 4)),
      total,
      tube,
      wires,
      span,
      od,
      bore,
    ),
  )
  put(
    'drum.sag_limit',
    'in',
    known(L => (from(limits, 'drum_sag') ?? 0.03 / 12) * L, span),
  )

  // wind
  const blows = pressure(opening)
  put('opening.wind_pressure', 'psi', blows)
  const q = curtain.windlocks === true ? undefined : blows
  const strip = known((q, p) => q * p, q, pitch)
  const bow = known(
    (w, L, I) => (5 * w * L ** 4) / (384 * SLAT_MODULUS[material] * I),
    strip,
    between,
    from(slat, 'inertia'),
  )
  put('curtain.bow', 'in', bow)
  put(
    'curtain.slat_stress',
    'psi',
    known((w, L, S) => (w * L * L) / 8 / S, strip, between, from(slat, 'section')),
  )
  const draw = known((x, L) => (4 * x * x) / (3 * L), bow, between)
  put('curtain.draw_in', 'in', draw)
  put(
    'curtain.engagement_left',
    'in',
    known((e, x) => e - x, engagement, draw),
    { scale: known((e, x) => e + x, engagement, draw) },
  )

  // rails, rigging, hood
  put(
    'rails.mark',
    'in',
    known((b, w) => (b - w) / 2, between, width),
    { scale: width },
  )
  put(
    'rails.clearance',
    'in',
    known((d, e) => d - e, depth, engagement),
    { scale: depth },
  )
  const long = or('rails.length', 'in', rails, height, 'default')
  const edge = from(rails, 'fastener_edge') ?? 6
  const fasteners = known((l, s) => Math.max(2, up((l - 2 * edge) / s) + 1), long, from(rails, 'fastener_spacing'))
  put('rails.fasteners', '1', fasteners)
  const face = (opening.mount ?? 'face') === 'face' ? q : undefined
  put(
    'rails.fastener_load',
    'lbf',
    known((q, b, h, n) => (q * b * h) / 2 / n, face, between, height, fasteners),
  )
  const slingsNeeded = known(l => Math.max(2, up(l / (from(limits, 'sling_spacing') ?? 120))), length)
  put('rigging.slings_needed', '1', slingsNeeded)
  const slings = or('rigging.slings', '1', rigging, slingsNeeded, 'default')
  put(
    'rigging.spacing',
    'in',
    known((l, n) => l / n, length, slings),
  )
  const angle = (from(rigging, 'sling_angle') ?? 0.25) * 2 * Math.PI
  put(
    'rigging.load_each',
    'lbf',
    known((w, n) => w / (n * Math.sin(angle)), total, slings),
  )
  put(
    'hood.supports_needed',
    '1',
    known(b => Math.max(0, up(b / (from(limits, 'hood_span') ?? 144)) - 1), between),
  )

  if (given.operator) operator(given.operator, given.adjuster, { worst, closed, height, turns }, put)
  return out
}

/**
 * psi. From a speed by ASCE 7-16 eq. 26.10-1.SI, q = 0.613 Kz Kzt Kd V^2 (Pa, m/s) with Kzt = 1, Kd = 0.85, and Kz of
 * table 26.10-1, notes (seen): the inch-pound 0.00256 is rounded, 0.06 % higher.
 */
function pressure(opening: Fields): Maybe {
  if (opening.wind !== undefined) return opening.wind as number
  if ([opening.wind_speed, opening.exposure, opening.height_above_ground].includes(undefined)) return undefined
  const [alpha, zg] = { B: [7, 1200], C: [9.5, 900], D: [11.5, 700] }[opening.exposure as 'B' | 'C' | 'D'] as [
    number,
    number,
  ]
  const feet = Math.max(15, (opening.height_above_ground as number) / 12)
  const Kz = 2.01 * (feet / zg) ** (2 / alpha)
  const pascal = 0.613 * Kz * 0.85 * ((opening.wind_speed as number) * 0.0254) ** 2
  return (pascal * 0.0254 ** 2) / 4.4482216152605
}
