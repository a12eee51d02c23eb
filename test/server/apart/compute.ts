/**
 * Every derived value of an opening, worked out a second time and apart from the program: SI, extremes by walking the
 * travel in small steps, lives and centre distances by halving intervals. Nothing here is imported from the program.
 */
export interface SpringJob {
  wire: number
  diameter: number
  coils: number
  dead: number
  count: number
  material: 'music_wire' | 'oil_tempered' | 'hard_drawn' | 'chrome_vanadium' | 'chrome_silicon'
  friction: boolean
  end: 'adjuster' | 'drive'
}
export interface JobNumbers {
  width: number
  height: number
  between: number
  depth: number
  engagement: number
  pitch: number
  thickness: number
  areaWeight: number
  barPerLength: number
  endlock: number
  every: number
  od: number
  wall: number
  span: number | undefined
  ring: number
  deadTurns: number
  rise: number | undefined
  leaves: 'wall_side' | 'room_side'
  springs: SpringJob[]
  side: 'left' | 'right'
  holes: number
  preloadTurns: number | undefined
  mount: 'face' | 'between'
  windlocks: boolean
  wind: { pressure: number } | { speed: number; exposure: 'B' | 'C' | 'D'; height: number } | undefined
  inertia: number
  section: number
  fastenerSpacing: number | undefined
  operator:
    | {
        drive: string
        torque: number
        speed: number
        efficiency: number
        friction: number
        n1: number
        n2: number
        pitch: number
        centers: number
        ratio: number
        wheel: number
      }
    | undefined
  slings: number | undefined
  slingAngle: number
}

const G = 9.80665
const TURN = 2 * Math.PI
const PSI = 6894.757293168361
const STEPS = 8000
const up = (x: number): number => Math.ceil(x - 1e-9)

const WIRE = {
  music_wire: { a: 201, m: 0.145, from: 0.004, to: 0.256, y: 0.78, e: 28.5e6, f: [0.78, 0.53, 0.5] },
  oil_tempered: { a: 147, m: 0.187, from: 0.02, to: 0.5, y: 0.87, e: 28.5e6, f: [0.8, 0.53, 0.5] },
  hard_drawn: { a: 140, m: 0.19, from: 0.028, to: 0.5, y: 0.78, e: 28.5e6, f: [0.78, 0.53, 0.5] },
  chrome_vanadium: { a: 169, m: 0.168, from: 0.032, to: 0.437, y: 0.87, e: 29.5e6, f: [0.78, 0.55, 0.53] },
  chrome_silicon: { a: 202, m: 0.108, from: 0.063, to: 0.375, y: 0.87, e: 29.5e6, f: [0.78, 0.55, 0.53] },
} as const

export type Expected = Record<string, number | string | undefined | { bound: 'more' | 'less'; si: number }>

export function compute(j: JobNumbers): Expected {
  const out: Expected = {}
  out['opening.area'] = j.width * j.height
  const length = (out['curtain.slat_length'] = j.between + 2 * j.engagement)
  const per = (out['curtain.weight_per_height'] = j.areaWeight * length + (2 * j.endlock) / (j.every * j.pitch))
  const bar = (out['curtain.bottom_bar_weight'] = j.barPerLength * length)
  out['rails.mark'] = (j.between - j.width) / 2
  out['rails.clearance'] = j.depth - j.engagement
  const t = j.thickness
  const a = j.od / 2 + j.ring + t * (0.5 + j.deadTurns)
  const taken = (n: number): number => TURN * (a * n + (t * n * n) / 2)
  let low = 0
  let high = 1000
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2
    if (taken(middle) < j.height) low = middle
    else high = middle
  }
  const turns = low
  out['drum.turns'] = turns * TURN
  const coil = (out['drum.coil_diameter'] = 2 * (j.od / 2 + j.ring + t * (j.deadTurns + turns + 1)))
  const hanging = j.height + (j.rise ?? coil / 2)
  const deadLength = TURN * ((j.od / 2 + j.ring + t / 2) * j.deadTurns + (t * j.deadTurns ** 2) / 2)
  out['curtain.slat_count'] = up((hanging + deadLength) / j.pitch)
  const weight = (out['curtain.weight'] = per * hanging + bar)
  const total = (out['curtain.weight_total'] = weight + per * deadLength)

  // the travel, step by step
  const radius = (n: number): number => a + t * n
  const asks = (n: number): number => G * (per * (hanging - taken(n)) + bar) * radius(n)
  const at = Array.from({ length: STEPS + 1 }, (_, i) => (turns * i) / STEPS)
  const door = at.map(asks)
  const closed = (out['balance.torque_closed'] = door[0]!)
  const open = (out['balance.torque_open'] = door[STEPS]!)
  const chord = (closed - open) / turns
  const above = Math.max(...door.map((T, i) => T - (closed - chord * at[i]!)))
  out['balance.ideal_rate'] = chord > 0 ? chord / TURN : undefined
  out['balance.ideal_worst'] = chord > 0 ? above / 2 : undefined
  out['balance.ideal_preload'] = chord > 0 ? ((open + above / 2) / chord) * TURN : undefined

  const rates = j.springs.map(s => {
    const stiff = (WIRE[s.material].e * PSI * s.wire ** 4) / (s.diameter * s.coils)
    return s.count * (s.friction ? stiff / 10.8 : (stiff / 64) * TURN)
  })
  const k = rates.reduce((x, y) => x + y, 0)
  out['balance.rate'] = k / TURN
  const g = door.map((T, i) => T / k + at[i]! - turns)
  const best = (Math.max(...g) + Math.min(...g)) / 2
  out['balance.preload'] = best * TURN
  const p = j.preloadTurns ?? best
  out['adjuster.preload'] = p * TURN
  out['adjuster.increment'] = TURN / j.holes
  out['adjuster.increments'] = p * j.holes
  const winding = (j.side === 'right') === (j.leaves === 'wall_side') ? 'counterclockwise' : 'clockwise'
  out['adjuster.winding'] = winding
  const left = (rate: number): number[] => door.map((T, i) => T - rate * (p + turns - at[i]!))
  const force = (rate: number, sign: number): number =>
    Math.max(0, ...left(rate).map((d, i) => (sign * d) / radius(at[i]!)))
  const worst = (out['balance.worst'] = Math.max(...left(k).map(Math.abs)))
  out['balance.raise_force'] = force(k, 1)
  out['balance.lower_force'] = force(k, -1)

  for (const [i, s] of j.springs.entries()) {
    const path = `spring[${i}].`
    const w = WIRE[s.material]
    const one = rates[i]! / s.count
    out[`${path}rate`] = rates[i]! / TURN
    const c = s.diameter / s.wire
    out[`${path}index`] = c
    const ki = (4 * c * c - c - 1) / (4 * c * (c - 1))
    const stress = (twist: number): number => (ki * 32 * one * twist) / (Math.PI * s.wire ** 3)
    const sc = (out[`${path}stress_closed`] = stress(p + turns))
    const so = (out[`${path}stress_open`] = stress(p))
    const inches = s.wire / 0.0254
    const known = inches >= w.from && inches <= w.to
    const sut = known ? (w.a * 1000 * PSI) / inches ** w.m : undefined
    out[`${path}strength`] = sut
    out[`${path}stress_ratio`] = sut && sc / sut
    const f = (log: number): number =>
      log <= 5 ? w.f[0] + ((w.f[1] - w.f[0]) * (log - 3)) / 2 : w.f[1] + (w.f[2] - w.f[1]) * (log - 5)
    const factor = (log: number): number => {
      const sr = f(log) * sut!
      const se = sr / 2 / (1 - (sr / (2 * sut!)) ** 2)
      const amplitude = (sc - so) / 2
      const r = amplitude / ((sc + so) / 2)
      return ((r * r * sut! * sut!) / (2 * se) / amplitude) * (-1 + Math.sqrt(1 + ((2 * se) / (r * sut!)) ** 2))
    }
    if (sut === undefined) {
      out[`${path}fatigue_factor`] = undefined
      out[`${path}life`] = undefined
    } else if (sc > w.y * sut) {
      out[`${path}fatigue_factor`] = undefined
      out[`${path}life`] = { bound: 'less', si: 1e3 }
    } else if (so < 0) {
      out[`${path}fatigue_factor`] = undefined
      out[`${path}life`] = undefined
    } else {
      out[`${path}fatigue_factor`] = factor(4)
      if (factor(3) < 1) out[`${path}life`] = { bound: 'less', si: 1e3 }
      else if (factor(6) > 1) out[`${path}life`] = { bound: 'more', si: 1e6 }
      else {
        let x = 3
        let y = 6
        for (let n = 0; n < 80; n++) {
          const middle = (x + y) / 2
          if (factor(middle) >= 1) x = middle
          else y = middle
        }
        out[`${path}life`] = 10 ** x
      }
    }
    out[`${path}length_free`] = s.wire * (s.coils + s.dead + 1)
    out[`${path}length_wound`] = s.wire * (s.coils + s.dead + 1 + p + turns)
    out[`${path}inside_wound`] = (s.diameter * s.coils) / (s.coils + p + turns) - s.wire
    out[`${path}outside_free`] = s.diameter + s.wire
    out[`${path}weight`] = s.count * 7850 * (Math.PI / 4) * s.wire ** 2 * Math.PI * s.diameter * s.coils
    out[`${path}hand_needed`] = (winding === 'counterclockwise') === (s.end === 'adjuster') ? 'right' : 'left'
    out[`${path}lost_force`] = force(k - one, 1)
  }

  const inside = (out['drum.inside'] = j.od - 2 * j.wall)
  const span = (out['drum.span'] = j.span ?? j.between + 2 * j.depth)
  const pipe = (out['drum.weight'] = (Math.PI / 4) * (j.od ** 2 - inside ** 2) * 7850 * span)
  const springs = j.springs.reduce((sum, _, i) => sum + (out[`spring[${i}].weight`] as number), 0)
  const load = ((total + pipe + springs) * G) / span
  out['drum.sag'] = (5 * load * span ** 4) / (384 * 29000e3 * PSI * (Math.PI / 64) * (j.od ** 4 - inside ** 4))
  out['drum.sag_limit'] = (0.03 / 12) * span

  const q = j.wind === undefined ? undefined : 'pressure' in j.wind ? j.wind.pressure : velocity(j.wind)
  const wind = j.windlocks ? undefined : q
  const strip = wind === undefined ? undefined : wind * j.pitch
  const bow = (out['curtain.bow'] =
    strip === undefined ? undefined : (5 * strip * j.between ** 4) / (384 * 29000e3 * PSI * j.inertia))
  out['curtain.slat_stress'] = strip === undefined ? undefined : (strip * j.between ** 2) / 8 / j.section
  const draw = (out['curtain.draw_in'] = bow === undefined ? undefined : (4 * bow * bow) / (3 * j.between))
  out['curtain.engagement_left'] = draw === undefined ? undefined : j.engagement - draw
  const fasteners = (out['rails.fasteners'] =
    j.fastenerSpacing === undefined ? undefined : Math.max(2, up((j.height - 2 * 0.1524) / j.fastenerSpacing) + 1))
  out['rails.fastener_load'] =
    wind === undefined || fasteners === undefined || j.mount !== 'face'
      ? undefined
      : (wind * j.between * j.height) / 2 / fasteners

  const needed = Math.max(2, up(length / 3.048))
  out['rigging.slings_needed'] = needed
  const n = j.slings ?? needed
  out['rigging.spacing'] = length / n
  out['rigging.load_each'] = (total * G) / (n * Math.sin(j.slingAngle))
  out['hood.supports_needed'] = Math.max(0, up(j.between / 3.6576) - 1)

  const o = j.operator
  if (o) {
    const torque = (out['operator.torque_needed'] = worst + o.friction * closed)
    const gear = o.n2 / o.n1
    out['operator.torque_available'] = o.torque * gear * o.efficiency
    out['operator.power_needed'] = (torque * o.speed) / gear / o.efficiency
    out['operator.door_speed'] = (j.height / turns) * (o.speed / gear / TURN)
    out['operator.hand_pull'] = torque / ((o.ratio * o.efficiency * o.wheel) / 2)
    out['operator.chain_pull'] = torque / (o.pitch / Math.sin(Math.PI / o.n2) / 2)
    const pitches = (c: number): number =>
      (2 * c) / o.pitch + (o.n1 + o.n2) / 2 + (o.n2 - o.n1) ** 2 / ((4 * Math.PI ** 2 * c) / o.pitch)
    const exact = (out['operator.chain_pitches'] = pitches(o.centers))
    const links = (out['operator.chain_links'] = 2 * up(exact / 2))
    let x = o.centers * 0.9
    let y = o.centers * 2
    for (let i = 0; i < 100; i++) {
      const middle = (x + y) / 2
      if (pitches(middle) < links) x = middle
      else y = middle
    }
    out['operator.centers_set'] = x
    out['operator.limit_turns_used'] = turns * TURN * gear
  }
  return out
}

/** ASCE 7-16 eq. 26.10-1.SI, Kzt = 1, Kd = 0.85 (the form in pounds and miles, 0.00256, is 0.06 % higher). */
function velocity(w: { speed: number; exposure: 'B' | 'C' | 'D'; height: number }): number {
  const [alpha, zg] = { B: [7, 1200], C: [9.5, 900], D: [11.5, 700] }[w.exposure] as [number, number]
  const kz = 2.01 * (Math.min(Math.max(w.height / 0.3048, 15), zg) / zg) ** (2 / alpha)
  return 0.613 * kz * 0.85 * w.speed ** 2
}
