/** Which line shows what. Each entry gives labels from the fullest to the shortest; the first that fits is shown. */

import type { Door, Instance } from '../model/index.ts'
import { DIMENSION, showCycles, showQuantity, writeFraction } from '../units/index.ts'

export interface Label {
  readonly text: string
  readonly paths: readonly string[]
  readonly writes?: string
  /** How long it may be where more than usual is free. */
  readonly longest?: number
}

type Entry = (door: Door, at: Instance) => readonly Label[]

const known = (door: Door, path: string): boolean => door.result(path).state === 'known'

/** `{curtain.weight}` in a form is that value; a form with an unknown value gives no label. */
function labels(door: Door, at: Instance, ...forms: readonly string[]): Label[] {
  const out: Label[] = []
  for (const form of forms) {
    const paths: string[] = []
    const text = form.replace(/\{([^}]+)\}/g, (_, raw: string) => {
      const path = raw.startsWith('.') ? `${at.path}${raw}` : raw
      paths.push(path)
      return door.show(path)
    })
    if (paths.every(p => known(door, p))) out.push({ text, paths })
  }
  return out
}

const shows =
  (...forms: readonly string[]): Entry =>
  (door, at) =>
    labels(door, at, ...forms)

/** A quantity without its unit, for where two stand side by side. */
const bare = (si: number, unit: string): string => String(Number((si / (unit === 'turn' ? 2 * Math.PI : 1)).toFixed(2)))

function missing(door: Door): Label[] {
  const n = door.missing().length
  return n === 0 ? [] : [{ text: `${n} still missing`, paths: [] }]
}

/** The preload in steps of the wheel, and the one that balances best. */
const preload: Entry = door => {
  const steps = door.number('adjuster.increments')
  const best = door.number('balance.preload')
  const paths = ['adjuster.increments', 'balance.preload'].filter(p => known(door, p))
  const inSteps = steps === undefined ? '' : `${Number(steps.toFixed(2))} incr`
  const text = [inSteps, best === undefined ? '' : `best ${bare(best, 'turn')}`].filter(t => t).join(', ')
  return text ? [{ text, paths }] : []
}

const adjuster: Entry = (door, at) => {
  if (!door.written('adjuster.preload'))
    return labels(door, at, 'best {balance.preload}').map(l => ({ ...l, writes: 'adjuster.preload' }))
  return labels(door, at, '{.winding}').map(l => ({
    ...l,
    writes: door.written('adjuster.winding') ? undefined : 'adjuster.winding',
  }))
}

const operator: Entry = (door, at) => {
  const drive = door.word('operator.drive')
  if (drive === 'hand_chain' || drive === 'crank')
    return labels(door, at, 'pull {.hand_pull}', 'needs {.torque_needed}')
  if (drive === 'push_up') return labels(door, at, 'raise {balance.raise_force}')
  return labels(door, at, 'needs {.torque_needed}')
}

/** Three digits are what a glance takes in; the rest is in the tooltip. */
function rounded(door: Door, path: string, unit?: string): string {
  const r = door.result(path)
  const entry = door.entry(path)
  if (r.state === 'unknown' || r.value.kind !== 'number' || !entry) return 'not known'
  return showQuantity(r.value.si, r.value.dimension, {
    system: door.system,
    unit: unit ?? entry.spec.shown?.[door.system === 'imperial' ? 0 : 1],
    digits: 3,
  }).text
}

const drum: Entry = (door, at) => {
  const coil = rounded(door, 'drum.coil_diameter', door.system === 'imperial' ? 'in' : 'mm')
  const both = { text: `${rounded(door, 'drum.turns')}, coil ${coil}`, paths: ['drum.turns', 'drum.coil_diameter'] }
  return [...(both.paths.every(p => known(door, p)) ? [both] : []), ...labels(door, at, '{.turns}')]
}

const spring: Entry = (door, at) => {
  const [rate, ratio] = [`${at.path}.rate`, `${at.path}.stress_ratio`]
  const both =
    known(door, rate) && known(door, ratio)
      ? [{ text: `${rounded(door, rate)}, ${percent(door.number(ratio)!)}`, paths: [rate, ratio] }]
      : []
  return [...both, ...labels(door, at, '{.rate}')]
}

const percent = (share: number): string => `${Math.round(share * 100)}%`

const life: Entry = (door, at) => {
  const path = `${at.path}.life`
  const r = door.result(path)
  if (r.state === 'unknown' || r.value.kind !== 'number') return []
  const { si, bound } = r.value
  const than = bound === 'more' ? 'over ' : bound === 'less' ? 'under ' : ''
  return [{ text: `life ${than}${showCycles(si, bound !== undefined)}`, paths: [path] }]
}

const step: Entry = (door, at) => {
  const [increment, holes] = [door.number(`${at.path}.increment`), door.number(`${at.path}.holes`)]
  const text = increment === undefined || holes === undefined ? undefined : writeFraction(increment, 'turn', holes)
  return text === undefined ? [] : [{ text: `${text} a step`, paths: [`${at.path}.increment`] }]
}

/** Sag and its limit in one unit. */
const sag: Entry = (door, at) => {
  const [is, limit] = [door.number('drum.sag'), door.number('drum.sag_limit')]
  if (is === undefined || limit === undefined) return labels(door, at, 'sag {.sag}')
  const unit = door.system === 'imperial' ? 'in' : 'mm'
  const [a, b] = [is, limit].map(
    si => showQuantity(si, DIMENSION.length, { system: door.system, unit, digits: 2 }).text,
  )
  return [{ text: `sag ${a!.replace(/ .*/, '')} of ${b}`, paths: ['drum.sag', 'drum.sag_limit'] }]
}

/** Nothing else stands in the line but the mark. */
const opening: Entry = (door, at) => [
  ...(door.complete ? [] : missing(door)),
  ...labels(door, at, 'out of balance by {balance.worst}').map(l => ({ ...l, longest: 32 })),
]

/** At the end of a block's header. */
export const HEADERS: Readonly<Record<string, Entry>> = {
  opening,
  curtain: shows('{.weight} hanging', '{.weight}'),
  slat: shows('{.weight}'),
  rails: shows('mark {.mark}'),
  drum,
  spring,
  adjuster,
  operator,
  hood: shows('{.supports_needed} supports needed'),
  rigging: shows('{.slings} slings, {.load_each}', '{.load_each}'),
}

/** At the end of a field's line, by block and field. */
export const PARTNERS: Readonly<Record<string, Entry>> = {
  'opening.width': shows('{opening.area}'),
  'opening.wind': (door, at) =>
    door.result('opening.wind').state === 'known' && door.show('opening.wind') !== door.show('opening.wind_pressure')
      ? labels(door, at, '{opening.wind_pressure}')
      : [],
  'curtain.slat': shows('{curtain.slat.weight}'),
  'curtain.engagement': shows('{.engagement_left} left in wind'),
  'rails.depth': shows('clear {.clearance}'),
  'rails.fastener_spacing': shows('{.fasteners} a rail, {.fastener_load}', '{.fasteners} a rail'),
  'drum.pipe': shows('inside {.inside}'),
  'drum.span': sag,
  'spring.diameter': shows('index {.index}'),
  'spring.coils': shows('wound {.length_wound}'),
  'spring.material': life,
  'adjuster.holes': step,
  'adjuster.preload': preload,
  'operator.torque': shows('at drum {.torque_available}', '{.torque_available}'),
  'operator.speed': shows('door {.door_speed}'),
  'operator.centers': shows('{.chain_links} links'),
  'operator.limit_turns': shows('uses {.limit_turns_used}'),
}
