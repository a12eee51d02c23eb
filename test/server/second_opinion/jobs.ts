/** Whole job files as text, drawn at random, with the numbers that are written in them. */
import type { GeneratorValue } from 'fast-check'
import { compute } from './compute.ts'
import { body, type Hand, type Job, type Lines, lines, merge, type Named, resolve, type Spec } from './file.ts'
import { PIPES, SHEETS } from './tables.ts'
import { inSystem, Pen, type Written } from './write.ts'

type Shelf = Record<string, { kind: string; lines: Lines }>

export function job(g: GeneratorValue): Job {
  const pen = new Pen(g)
  const shelf: Shelf = {}
  const base = opening(pen, shelf)
  const lets: Lines = { gap: pen.quantity('in', 0.5, 4), margin: pen.quantity('in', 0.25, 0.75) }
  const limits = { used: someLimits(pen, 20), file: someLimits(pen, 25) }
  const apart = pen.often(50)
  const over = pen.often(60) ? overrides(pen, base) : undefined
  const away = apart && over !== undefined && pen.often(25)
  const head = `job "HS-${pen.int(1, 9999)}" { units = ${pen.pick(['imperial', 'metric'])}; site = "Harbour Street" }\n`
  const write = (hand: Hand): Record<string, string> => {
    const stock = Object.entries(shelf).map(([name, s]) => `${s.kind} ${name} {\n${lines(hand, s.lines, '  ')}}\n`)
    const names = Object.entries(lets).map(([n, w]) => `let ${n} = ${hand.say(w)}\n`)
    const limitText = (l: Lines): string =>
      Object.keys(l).length > 0 ? `limits {\n${lines(hand, l, '  ', true)}}\n` : ''
    const first = `${names.join('')}## The first\nopening "One" {\n${body(hand, base)}}\n`
    const second = over ? `opening "Two" like "One" {\n${body(hand, over)}}\n` : ''
    const own = `${head}${limitText(limits.file)}`
    if (!apart) return { 'job.door': `${own}${stock.join('')}${first}${second}` }
    return {
      'stock.door': `${limitText(limits.used)}${stock.join('')}${away ? first : ''}`,
      'job.door': `use "stock.door"\n${own}${away ? '' : first}${second}`,
    }
  }
  const around = { ...(apart ? limits.used : {}), ...limits.file }
  const openings = away ? [] : [resolve('One', base, lets, around)]
  if (over) openings.push(resolve('Two', merge(base, over), lets, around))
  return {
    files: write({ often: n => pen.often(n), say: w => w.text }),
    openings,
    again: system => write({ often: () => false, say: w => inSystem(w, system) }),
  }
}

function someLimits(pen: Pen, percent: number): Lines {
  const out: Lines = {}
  if (pen.often(percent))
    out.spring_cycles = pen.often(10)
      ? pen.pick([pen.count(100, 900), pen.count(1_100_000, 3e6)])
      : pen.pick([pen.count(1000, 1e6), pen.count(1000, 50_000)])
  if (pen.often(percent)) {
    const n = pen.decimal(0.01, 0.05, 3)
    out.drum_sag = pen.pick([
      { text: `${n} in/ft`, value: n / 12, unit: '1' },
      { text: `${n}/12`.replace(/.*/, `${n} / 12`), value: n / 12, unit: '1' },
    ])
  }
  if (pen.often(percent)) out.sling_spacing = pen.quantity('in', 48, 160)
  if (pen.often(percent)) out.hood_span = pen.quantity('in', 60, 200)
  return out
}

const empty = (): Spec => ({
  opening: {},
  curtain: {},
  rails: {},
  drum: {},
  springs: [],
  adjuster: {},
  hood: {},
  rigging: {},
  limits: {},
  lets: {},
})

function slat(pen: Pen): Lines {
  const out: Lines = { pitch: pen.quantity('in', 1.5, 4), thickness: pen.quantity('in', 0.3, 1.4) }
  const material = pen.pick(['steel', 'galvanized', 'stainless', 'aluminum'])
  if (material !== 'steel' || pen.often(50)) out.material = pen.word(material)
  if (pen.often(55)) {
    const gauge = Number(pen.pick(Object.keys(SHEETS[material]!).filter(n => Number(n) > 13)))
    out.gauge = { text: String(gauge), value: gauge, unit: '1' }
    out.developed = pen.quantity('in', 2.5, 6)
    if (pen.often(40)) out.skins = pen.count(1, 2)
    if (pen.often(40)) out.core = pen.quantity('lb/in2', 0.2 / 144, 1 / 144)
  } else out.weight = pen.quantity('lb/in2', 0.8 / 144, 5 / 144)
  if (pen.often(80)) out.inertia = pen.quantity('in4', 0.01, 0.2)
  if (pen.often(80)) out.section = pen.quantity('in3', 0.02, 0.3)
  return out
}

function spring(pen: Pen, ideal: number | undefined, bore: number): Lines {
  const wire = pen.pick([pen.quantity('in', 0.2, 0.5), pen.quantity('in', 0.18, 0.55)])
  const d = wire.value as number
  const most = Math.max(2.6, Math.min(bore - d - 0.1, 9))
  const diameter = pen.quantity('in', Math.max(2.5, most * 0.7), most)
  const count = pen.pick([1, 1, 1, 2, 3, 4])
  const fit = Math.round(
    (28.5e6 * d ** 4 * count) / (10.2 * (diameter.value as number) * (ideal ?? 1) * pen.pick([0.5, 1, 1, 1, 0.4])),
  )
  const coils = ideal !== undefined && ideal > 0 && pen.often(70) ? Math.min(400, Math.max(10, fit)) : pen.int(20, 250)
  const out: Lines = { wire, diameter, coils: { text: String(coils), value: coils, unit: '1' } }
  if (count > 1 || pen.often(10)) out.count = { text: String(count), value: count, unit: '1' }
  if (pen.often(60))
    out.material = pen.word(pen.pick(['music_wire', 'oil_tempered', 'hard_drawn', 'chrome_vanadium', 'chrome_silicon']))
  if (pen.often(30)) out.dead_coils = pen.count(0, 6)
  if (pen.often(40)) out.hand = pen.word(pen.pick(['left', 'right']))
  if (pen.often(40)) out.shaft_end = pen.word(pen.pick(['adjuster', 'drive']))
  if (pen.often(40)) out.coil_friction = pen.truth()
  if (pen.often(15)) out.rate = pen.quantity('lbf*in/turn', 60, 900)
  if (pen.often(20)) out.strength = pen.quantity('psi', 150e3, 280e3)
  if (pen.often(12)) out.range_strength = pen.quantity('psi', 60e3, 140e3)
  return out
}

function operator(pen: Pen): Lines {
  const drive = pen.pick(['push_up', 'hand_chain', 'crank', 'motor'])
  const out: Lines = { drive: pen.word(drive) }
  const some = (percent: number, name: string, w: () => Written): void => {
    if (pen.often(percent)) out[name] = w()
  }
  some(40, 'side', () => pen.word(pen.pick(['left', 'right'])))
  some(70, 'torque', () => pen.quantity('lbf*in', 100, 3000))
  some(70, 'speed', () => pen.quantity('turn/s', 0.1, 1))
  some(20, 'power', () => pen.quantity('lbf*in/s', 1000, 10_000))
  some(70, 'ratio', () => pen.count(2, 30))
  some(50, 'efficiency', () => pen.percent(40, 100))
  some(70, 'hand_wheel', () => pen.quantity('in', 6, 24))
  if (pen.often(70)) {
    out.sprocket_drive = pen.count(10, 30)
    out.sprocket_drum = pen.count(10, 70)
  }
  some(75, 'chain', () =>
    pen.word(pen.pick(['ansi_25', 'ansi_35', 'ansi_40', 'ansi_41', 'ansi_50', 'ansi_60', 'ansi_80'])),
  )
  some(70, 'centers', () => pen.quantity('in', 24, 50))
  some(40, 'limit_turns', () => pen.quantity('turn', 5, 30))
  some(50, 'friction', () => pen.percent(0, 15))
  some(50, 'holds', () => pen.truth())
  return out
}

function adjuster(pen: Pen): Lines {
  const holes = pen.pick([4, 6, 8, 10, 12])
  const out: Lines = {
    side: pen.word(pen.pick(['left', 'right'])),
    holes: { text: String(holes), value: holes, unit: '1' },
  }
  const n = pen.int(1, 5 * holes)
  const form = pen.int(0, 6)
  const divided = (g: (p: string) => number | undefined): number | undefined =>
    g('adjuster.holes') && n / g('adjuster.holes')!
  if (form === 0) out.preload = { text: `${n} * (1 turn / holes)`, value: divided, unit: 'turn' }
  if (form === 1) out.preload = { text: `${n} * increment`, value: divided, unit: 'turn' }
  if (form === 2) out.preload = { text: 'ceil(balance.preload, 1 turn / holes)', value: 'round up', unit: 'turn' }
  if (form === 3) out.preload = pen.quantity('turn', 0.25, 6)
  if (form === 4 && n % holes)
    out.preload = {
      text: n > holes ? `${Math.floor(n / holes)} ${n % holes}/${holes} turns` : `${n}/${holes} turn`,
      value: n / holes,
      unit: 'turn',
    }
  if (pen.often(25)) out.winding = pen.word(pen.pick(['clockwise', 'counterclockwise']))
  return out
}

function wind(pen: Pen, out: Lines): void {
  if (pen.often(45)) out.wind = pen.quantity('psi', 2 / 144, 40 / 144)
  else {
    const w = pen.quantity('in/s', 70 * 17.6, 180 * 17.6)
    out.wind = { ...w, value: { speed: w.value as number } }
    out.exposure = pen.word(pen.pick(['B', 'C', 'D']))
    out.height_above_ground = pen.quantity('in', 36, 1500)
  }
}

function opening(pen: Pen, shelf: Shelf): Spec {
  const spec = empty()
  const some = (l: Lines, percent: number, name: string, w: () => Written): void => {
    if (pen.often(percent)) l[name] = w()
  }
  const clear = pen.quantity('in', 48, 280)
  if (pen.often(30)) spec.lets.clear = clear
  spec.opening.width = spec.lets.clear ? { text: 'clear', value: g => g('let.clear'), unit: 'in' } : clear
  spec.opening.height = pen.quantity('in', 48, 260)
  some(spec.opening, 50, 'mount', () => pen.word(pen.pick(['face', 'face', 'between'])))
  some(spec.opening, 40, 'coil_side', () => pen.word(pen.pick(['inside', 'outside'])))
  some(spec.opening, 40, 'headroom', () => pen.quantity('in', 14, 40))
  some(spec.opening, 40, 'cycles', () => pen.quantity('1/s', 1 / 86_400, 100 / 86_400))
  some(spec.opening, 40, 'wall', () => pen.word(pen.pick(['masonry', 'concrete', 'steel', 'wood'])))
  if (pen.often(70)) wind(pen, spec.opening)

  const depth = pen.quantity('in', 2.5, 5)
  spec.rails.depth = depth
  const more = pen.quantity('in', 0.5, 5)
  // whole multiples of what is counted up to the next whole one: hood supports, and below the fasteners
  const even = pen.pick([
    ['12ft', 144],
    ['24ft', 288],
    ['3657.6mm', 144],
    ['7.3152m', 288],
  ] as const)
  spec.rails.between = pen.pick<() => Written>([
    () => ({ text: even[0], value: even[1], unit: 'in' }),
    () => pen.quantity('in', 50, 285),
    () => ({ text: `width + ${more.text}`, value: g => plus(g('opening.width'), more.value as number), unit: 'in' }),
    () => ({ text: `opening.width + gap`, value: g => plus(g('opening.width'), g('let.gap')), unit: 'in' }),
  ])()
  some(spec.rails, 30, 'length', () => pen.quantity('in', 48, 280))
  some(spec.rails, 70, 'fastener_spacing', () => pen.quantity('in', 8, 36))
  some(spec.rails, 30, 'fastener_edge', () => pen.quantity('in', 2, 10))
  const n = pen.int(1, 8)
  if (spec.rails.fastener_spacing && pen.often(40))
    spec.rails.length = {
      text: `2 * fastener_edge + ${n} * fastener_spacing`,
      value: g => plus(2 * (g('rails.fastener_edge') ?? 6), times(n, g('rails.fastener_spacing'))),
      unit: 'in',
    }
  some(spec.rails, 30, 'fastener_capacity', () => pen.quantity('lbf', 200, 3000))

  const name = pen.pick(['flat_a', 'curved_b'])
  const form = pen.int(0, 2)
  const lines = slat(pen)
  if (form < 2) shelf[name] = { kind: 'slat', lines }
  spec.slat =
    form === 0
      ? { stock: name, lines }
      : form === 1
        ? { like: { name, lines }, lines: pen.often(70) ? { thickness: pen.quantity('in', 0.3, 1.4) } : {} }
        : { lines }
  spec.curtain.engagement = pen.often(50)
    ? pen.quantity('in', 1, 2.4)
    : { text: 'rails.depth - margin', value: g => plus(g('rails.depth'), -g('let.margin')!), unit: 'in' }
  some(spec.curtain, 80, 'bottom_bar', () => pen.quantity('lb/in', 0, 6 / 12))
  some(spec.curtain, 60, 'endlock', () => pen.quantity('lb', 0, 0.5))
  some(spec.curtain, 50, 'endlock_every', () => pen.count(1, 4))
  some(spec.curtain, 30, 'windlocks', () => pen.truth())

  const standard = pen.pick(Object.keys(PIPES).filter(p => PIPES[p]![0] > 4))
  const [od, wall] = PIPES[standard]!
  const tube: Lines = { od: pen.quantity('in', 4, 16), wall: pen.quantity('in', 0.1, 0.5) }
  const asLines = { od: { text: '', value: od, unit: 'in' }, wall: { text: '', value: wall, unit: 'in' } } as Lines
  const kind = pen.int(0, 3)
  if (kind === 3) shelf.tube_c = { kind: 'pipe', lines: tube }
  spec.pipe =
    kind < 2 ? { stock: standard, lines: asLines } : kind === 2 ? { lines: tube } : { stock: 'tube_c', lines: tube }
  some(spec.drum, 60, 'span', () =>
    pen.often(50)
      ? pen.quantity('in', 60, 300)
      : { text: 'rails.between + 8in', value: g => plus(g('rails.between'), 8), unit: 'in' },
  )
  if (pen.often(40)) {
    spec.drum.attach = pen.word(pen.pick(['direct', 'rings']))
    some(spec.drum, 80, 'ring', () => pen.quantity('in', 0.2, 3))
  }
  some(spec.drum, 50, 'dead_wraps', () => pen.quantity('turn', 0, 1.5))
  some(spec.drum, 40, 'rise', () => pen.quantity('in', 4, 16))
  some(spec.drum, 40, 'leaves', () => pen.word(pen.pick(['wall_side', 'room_side'])))
  some(spec.drum, 30, 'drop_guard', () => pen.truth())
  some(spec.drum, 30, 'shaft', () => pen.quantity('in', 0.75, 2))
  some(spec.drum, 20, 'modulus', () => pen.quantity('psi', 10e6, 30e6))

  spec.adjuster = adjuster(pen)
  some(spec.rigging, 30, 'slings', () => pen.count(1, 6))
  some(spec.rigging, 40, 'sling_angle', () => pen.quantity('turn', 0.09, 0.25))
  some(spec.rigging, 40, 'sling_capacity', () => pen.quantity('lbf', 500, 6000))
  some(spec.hood, 40, 'supports', () => pen.count(0, 4))
  if (pen.often(25)) spec.limits = someLimits(pen, 40)
  if (pen.often(70)) {
    const lines = operator(pen)
    if (pen.often(30)) shelf.unit_d = { kind: 'operator', lines }
    spec.operator = shelf.unit_d
      ? { like: { name: 'unit_d', lines }, lines: pen.often(50) ? { friction: pen.percent(0, 12) } : {} }
      : { lines }
  }

  const bare = resolve(
    '',
    spec,
    { gap: { text: '', value: 2, unit: 'in' }, margin: { text: '', value: 0.5, unit: 'in' } },
    {},
  ).given
  const ideal = compute(bare).get('balance.ideal_rate')?.value as number | undefined
  const inside = ((bare.pipe.od ?? 6) as number) - 2 * ((bare.pipe.wall ?? 0.25) as number)
  const names = pen.pick([
    [undefined],
    ['long'],
    ['long', 'short'],
    [undefined, 'short'],
    ['a1', 'b2', 'c3'],
    [undefined, undefined],
    ['long', 'short'],
  ])
  spec.springs = names.map((name): Named => {
    const lines = spring(pen, ideal && ideal / names.length, inside)
    if (pen.often(75)) return name === undefined ? { lines } : { name, lines }
    const stock = `coil_${Object.keys(shelf).length}`
    shelf[stock] = { kind: 'spring', lines }
    const own: Lines = pen.often(60) ? { coils: pen.count(20, 300) } : {}
    return { like: { name: stock, lines }, lines: own, ...(name === undefined ? {} : { name }) }
  })
  if (pen.often(25)) for (let i = pen.int(1, 3); i > 0; i--) drop(pen, spec)
  return spec
}
const times = (n: number, a: number | undefined): number | undefined => (a === undefined ? undefined : n * a)
const plus = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? undefined : a + b

/** Takes a line, or a whole block, out. */
function drop(pen: Pen, spec: Spec): void {
  if (pen.often(20)) {
    const block = pen.pick(['rails', 'springs', 'adjuster', 'curtain', 'pipe', 'slat', 'operator'] as const)
    if (block === 'springs') spec.springs = []
    else if (block === 'pipe' || block === 'slat' || block === 'operator') delete spec[block]
    else spec[block] = {}
    if (block === 'curtain') delete spec.slat
    return
  }
  const blocks = [
    spec.opening,
    spec.curtain,
    spec.rails,
    spec.drum,
    spec.adjuster,
    spec.adjuster,
    ...spec.springs.map(s => s.lines),
  ]
  if (spec.operator) blocks.push(spec.operator.lines)
  if (spec.slat && !('stock' in spec.slat)) blocks.push(spec.slat.lines)
  const block = pen.pick(blocks)
  const names = Object.keys(block)
  if (names.length > 0) delete block[pen.pick(names)]
}

/** What a second opening like the first writes over it. */
function overrides(pen: Pen, base: Spec): Spec {
  const over = empty()
  if (pen.often(50)) over.opening.width = pen.quantity('in', 48, 280)
  if (pen.often(50)) over.opening.height = pen.quantity('in', 48, 260)
  if (base.lets.clear && pen.often(50)) over.lets.clear = pen.quantity('in', 48, 280)
  if (pen.often(20)) wind(pen, over.opening)
  if (pen.often(30)) over.curtain.bottom_bar = pen.quantity('lb/in', 0, 6 / 12)
  if (pen.often(30)) over.rails.depth = pen.quantity('in', 2.5, 5)
  if (pen.often(20)) over.drum.rise = pen.quantity('in', 4, 16)
  if (pen.often(20)) over.pipe = { lines: { od: pen.quantity('in', 4, 16), wall: pen.quantity('in', 0.1, 0.5) } }
  if (pen.often(20)) over.slat = { lines: slat(pen) }
  if (pen.often(20)) over.adjuster.side = pen.word(pen.pick(['left', 'right']))
  if (pen.often(20)) over.adjuster.holes = pen.count(4, 12)
  if (base.operator && pen.often(30)) over.operator = { lines: { friction: pen.percent(0, 15) } }
  if (pen.often(20)) over.limits = someLimits(pen, 50)
  const named = base.springs.filter(s => s.name)
  const way = pen.int(0, 5)
  if (way === 0) over.springs = [{ lines: spring(pen, undefined, 8) }]
  if (way === 1 && named.length > 0)
    over.springs = [{ name: pen.pick(named).name!, lines: { coils: pen.count(20, 300) } }]
  if (way === 2) over.springs = [{ name: 'extra', lines: spring(pen, undefined, 8) }]
  return over
}
