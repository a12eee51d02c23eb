/** Springs (and a pipe) for an opening: what is asked, the proposals, and the edits that write one. */
import * as m from '../../mechanics/index.ts'
import {
  addTo,
  type Door,
  type Edit,
  type Evaluator,
  type Instance,
  type Known,
  type Place,
  setField,
} from '../../model/index.ts'
import { DIMENSION, showCycles, showQuantity, writeExact, writeFraction } from '../../units/index.ts'
import { type Candidate, candidates, type Task, type WireChoice } from './search.ts'

/** A stock spring as the search needs it. */
export interface StockSpring {
  readonly name: string
  readonly root: Instance
  readonly evaluator: Evaluator
}

export interface Proposal extends Candidate {
  /** One line a person can choose by. */
  readonly title: string
  /** Name and value in words, in the job's units. */
  readonly rows: readonly (readonly [name: string, text: string])[]
  /** What to write into the opening. */
  readonly edits: readonly Edit[]
}

export type Sizing =
  | { readonly ok: true; readonly proposals: readonly Proposal[] }
  | { readonly ok: false; readonly reason: string }

const NEEDS = [
  'opening.width',
  'opening.height',
  'curtain.weight_per_height',
  'curtain.bottom_bar_weight',
  'curtain.slat.thickness',
  'drum.ring',
  'drum.dead_wraps',
  'drum.span',
  'drum.modulus',
  'adjuster.holes',
] as const

/** Proposals for an opening, best first. */
export function size(door: Door, stock: readonly StockSpring[]): Sizing {
  const missing = new Set(
    NEEDS.flatMap(path => {
      const r = door.result(path)
      return r.state === 'known' ? [] : r.missing.length > 0 ? r.missing : [path]
    }),
  )
  if (missing.size > 0) return { ok: false, reason: `These have to be known first: ${[...missing].join(', ')}.` }
  const task = taskOf(door, stock)
  const found = candidates(task)
  if (found.length === 0)
    return {
      ok: false,
      reason:
        'No spring of the wires in reach holds this door in this pipe within all limits. A larger pipe, more room between the brackets, or a shorter wanted life may help.',
    }
  return { ok: true, proposals: found.map(c => proposal(door, c)) }
}

function taskOf(door: Door, stock: readonly StockSpring[]): Task {
  const n = (path: string): number => door.number(path)!
  const cyclesPerSecond = door.number('opening.cycles')
  const od = door.number('drum.pipe.od')
  const wall = door.number('drum.pipe.wall')
  const metric = door.system === 'metric'
  const fromStock = stock.map(s => choiceOf(s)).filter(c => c !== undefined)
  const sizes = metric ? m.WIRE_SIZES_METRIC : m.WIRE_SIZES_INCH
  return {
    per: n('curtain.weight_per_height'),
    bar: n('curtain.bottom_bar_weight'),
    height: n('opening.height'),
    thickness: n('curtain.slat.thickness'),
    ring: n('drum.ring'),
    turnsDead: n('drum.dead_wraps') / m.TURN,
    rise: door.written('drum.rise') ? door.number('drum.rise') : undefined,
    span: n('drum.span'),
    modulus: n('drum.modulus'),
    pipes: od !== undefined && wall !== undefined ? [[undefined, { od, wall }]] : m.PIPES_BY_WEIGHT,
    wires:
      fromStock.length > 0
        ? fromStock
        : sizes.map(wire => ({
            wire,
            material: 'oil_tempered',
            stock: undefined,
            diameter: undefined,
            coils: undefined,
            strength: undefined,
          })),
    holes: n('adjuster.holes'),
    shaft: door.number('drum.shaft'),
    cycles: Math.max(n('limits.spring_cycles'), (cyclesPerSecond ?? 0) * n('limits.service_years')),
    headroom: door.number('opening.headroom'),
    mustHoldOneLost: door.truth('drum.drop_guard') === false,
    limits: {
      headroomClearance: n('limits.headroom_clearance'),
      springClearance: n('limits.spring_clearance'),
      index: door.range('limits.spring_index')!,
      sag: n('limits.drum_sag'),
      shaftRatio: n('limits.shaft_ratio'),
      shaftStress: n('limits.shaft_stress'),
      lostForce: n('limits.lost_spring_force'),
      rateDifference: n('limits.rate_difference_ideal'),
    },
    step: metric ? 0.001 : 0.0254 / 16,
  }
}

function choiceOf(s: StockSpring): WireChoice | undefined {
  const value = (name: string): Known['value'] | undefined => {
    const r = s.evaluator.field(s.root, name)
    return r.state === 'known' ? r.value : undefined
  }
  const num = (name: string): number | undefined => {
    const v = value(name)
    return v?.kind === 'number' ? v.si : undefined
  }
  const wire = num('wire')
  const material = value('material')
  if (wire === undefined || material?.kind !== 'word') return undefined
  const whole = s.root.fields.has('coils') && s.root.fields.has('diameter')
  return {
    wire,
    material: material.word as m.WireMaterial,
    stock: s.name,
    diameter: whole ? num('diameter') : undefined,
    coils: whole ? num('coils') : undefined,
    strength: s.root.fields.has('strength') ? num('strength') : undefined,
  }
}

function proposal(door: Door, c: Candidate): Proposal {
  const system = door.system
  const length = (si: number): string => showQuantity(si, DIMENSION.length, { system }).text
  const decimal = (si: number): string =>
    showQuantity(si, DIMENSION.length, { system, unit: system === 'metric' ? 'mm' : 'in' }).text
  const life =
    c.life.bound === 'more' ? `more than ${showCycles(c.life.cycles, true)}` : showCycles(c.life.cycles, false)
  const preload =
    preloadText(door, c) ??
    showQuantity(c.turnsPreload * m.TURN, DIMENSION.angle, { system, unit: 'turn', digits: 5 }).text
  const rows: [string, string][] = [
    ...(c.pipeName ? [['pipe', c.pipeName] as [string, string]] : []),
    [
      'springs',
      `${c.count} of ${decimal(c.choice.wire)} wire, ${decimal(c.diameter)} mean, ${c.coils} coils${c.choice.stock ? ` (${c.choice.stock})` : ''}`,
    ],
    ['preload', `${preload}, ${c.increments} increments`],
    [
      'worst out of balance',
      `${door.say(c.worst, 'balance.worst')} (ideal springs ${door.say(c.idealWorst, 'balance.worst')})`,
    ],
    ['stress ratio', `${(c.stressRatio * 100).toFixed(1)}%`],
    ['life', `${life} cycles`],
    ['length', `${length(c.length)} of ${door.show('drum.span')}`],
    ['weight of wire', door.say(c.wireWeight, DIMENSION.mass)],
  ]
  return { ...c, rows, title: `${rows.find(r => r[0] === 'springs')![1]}, preload ${preload}`, edits: edits(door, c) }
}

/** The figures of a proposal in SI base units; angles in radians. */
export const numbersOf = (c: Candidate): Record<string, number> => ({
  wire: c.choice.wire,
  diameter: c.diameter,
  coils: c.coils,
  count: c.count,
  rate: c.rate,
  preload: c.turnsPreload * m.TURN,
  increments: c.increments,
  worst: c.worst,
  ideal_worst: c.idealWorst,
  stress_closed: c.stressClosed,
  stress_ratio: c.stressRatio,
  life: c.life.cycles,
  length: c.length,
  wire_weight: c.wireWeight,
  pipe_weight: c.pipeWeight,
  sag: c.sag,
})

/** The spring block, the preload and the pipe, in place of what the opening has. */
function edits(door: Door, c: Candidate): Edit[] {
  const metric = door.system === 'metric'
  const unit = metric ? 'mm' : 'in'
  const length = (si: number): string => writeExact(si, DIMENSION.length, unit)!
  const winding = door.word('adjuster.winding')
  const hand = winding === undefined ? undefined : m.handNeeded(winding as m.Winding, 'adjuster')
  const finished = c.choice.coils !== undefined
  const fields = [
    ...(c.choice.stock ? [] : [`  wire     = ${length(c.choice.wire)}`]),
    ...(finished ? [] : [`  diameter = ${length(c.diameter)}`, `  coils    = ${c.coils}`]),
    ...(c.count > 1 ? [`  count    = ${c.count}`] : []),
    ...(c.choice.stock ? [] : [`  material = ${c.choice.material}`]),
    ...(hand ? [`  hand     = ${hand}`] : []),
  ]
  const spring = `spring${c.choice.stock ? ` like ${c.choice.stock}` : ''} {\n${fields.join('\n')}\n}`
  const old = removeSprings(door)
  // in place of the first spring that is written here, else at the end of the opening
  const out: Edit[] =
    old.length > 0
      ? old.map((e, i) => (i > 0 ? e : { ...e, text: indented(spring, e) }))
      : [...(addTo(door, 'opening', ...spring.split('\n')) ?? [])]
  if (c.pipeName) out.push(...(setField(door, 'drum.pipe', c.pipeName) ?? []))
  const text = preloadText(door, c)
  if (text) out.push(...(setField(door, 'adjuster.preload', text) ?? []))
  return merge(out)
}

const preloadText = (door: Door, c: Candidate): string | undefined =>
  writeFraction(
    c.turnsPreload * m.TURN,
    c.turnsPreload === 1 ? 'turn' : 'turns',
    Math.round(door.number('adjuster.holes')!),
  )

/** The new block on the lines of an old one: its indentation and line ends. */
function indented(block: string, { place }: Edit): string {
  const old = place.chunk.text.slice(place.start, place.end)
  const indent = /^[ \t]*/.exec(old)![0]
  const eol = /\r\n|\n|\r/.exec(place.chunk.text)?.[0] ?? '\n'
  const end = /(;|\r\n|\n|\r)$/.exec(old)?.[0] ?? ''
  return (
    block
      .split('\n')
      .map(l => indent + l)
      .join(eol) + end
  )
}

/** Takes out the springs that are written in the opening itself; an unnamed one replaces the copied ones. */
function removeSprings(door: Door): Edit[] {
  const { chunk, file } = door.item
  const out: Edit[] = []
  for (const node of door.item.node.body) {
    if (node.kind !== 'block' || node.name.text !== 'spring') continue
    let { start, end } = node
    while (start > 0 && /[ \t]/.test(chunk.text[start - 1]!)) start--
    const after = /^[ \t]*(;|\r\n|\n|\r)?/.exec(chunk.text.slice(end))![0]
    end += after.length
    const place: Place = { file, chunk, start, end }
    out.push({ place, text: '' })
  }
  return out
}

/** Edits at one and the same spot become one, in the order they were made. */
function merge(all: readonly Edit[]): Edit[] {
  const out: Edit[] = []
  for (const e of all) {
    const i = out.findIndex(
      o => o.place.start === e.place.start && o.place.end === e.place.end && o.place.start === o.place.end,
    )
    if (i < 0) out.push(e)
    else out[i] = { place: e.place, text: out[i]!.text + e.text }
  }
  return out
}
