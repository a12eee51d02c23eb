/** Which values of an opening stand against a limit, and how far they are from it. Each line says which rule decides. */
import { type Door, nearly } from '../model/index.ts'
import { showCycles } from '../units/index.ts'

type Number = number | undefined

interface Against {
  /** The value; `spring.` stands for every spring. */
  readonly path: string
  readonly rule: string
  /** `at` is the path of the block that the value is in. */
  readonly most?: (door: Door, at: string) => Number
  readonly least?: (door: Door, at: string) => Number
}

/** Arithmetic on what may be unknown. */
const all = (values: readonly Number[], of: (...v: number[]) => number): Number =>
  values.some(v => v === undefined) ? undefined : of(...(values as number[]))
const limit = (path: string) => (door: Door) => door.number(path)
const where = (path: string, word: string, then: (door: Door) => Number) => (door: Door) =>
  door.word(path) === word ? then(door) : undefined

const AGAINST: readonly Against[] = [
  {
    path: 'opening.headroom',
    rule: 'headroom',
    least: d =>
      all(
        [d.number('drum.rise'), d.number('drum.coil_diameter'), d.number('limits.headroom_clearance')],
        (rise, coil, clearance) => rise + coil / 2 + clearance,
      ),
  },
  { path: 'rails.clearance', rule: 'engagement_clearance', least: limit('limits.slat_clearance') },
  { path: 'rails.depth', rule: 'rail_depth', least: limit('limits.rail_depth') },
  { path: 'rails.fastener_load', rule: 'fastener_load', most: limit('rails.fastener_capacity') },
  { path: 'rails.fastener_spacing', rule: 'fastener_spacing', most: limit('limits.fastener_spacing') },
  {
    path: 'curtain.bow',
    rule: 'slat_bow',
    most: d => all([d.number('limits.slat_bow'), d.number('rails.between')], (bow, between) => bow * between),
  },
  {
    path: 'curtain.slat_stress',
    rule: 'slat_stress',
    most: d => all([d.number('curtain.slat.yield'), d.number('limits.bending_safety')], (y, n) => (n > 0 ? y / n : y)),
  },
  { path: 'curtain.engagement_left', rule: 'slat_pull_out', least: limit('limits.engagement_left') },
  { path: 'drum.sag', rule: 'drum_sag', most: limit('drum.sag_limit') },
  { path: 'drum.dead_wraps', rule: 'dead_wraps', least: limit('limits.dead_wraps') },
  { path: 'spring.fatigue_factor', rule: 'spring_fatigue', least: () => 1 },
  {
    path: 'spring.life',
    rule: 'service_life',
    least: d => all([d.number('opening.cycles'), d.number('limits.service_years')], (c, y) => c * y),
  },
  {
    path: 'spring.index',
    rule: 'spring_index',
    least: d => d.range('limits.spring_index')?.[0],
    most: d => d.range('limits.spring_index')?.[1],
  },
  {
    path: 'spring.outside_free',
    rule: 'spring_in_drum',
    most: d => all([d.number('drum.inside'), d.number('limits.spring_clearance')], (inside, c) => inside - c),
  },
  {
    path: 'spring.inside_wound',
    rule: 'spring_on_shaft',
    least: d => all([d.number('drum.shaft'), d.number('limits.shaft_ratio')], (shaft, r) => shaft / r),
  },
  {
    path: 'operator.hand_pull',
    rule: 'hand_chain_pull',
    most: where('operator.drive', 'hand_chain', limit('limits.hand_chain_pull')),
  },
  {
    path: 'operator.torque_available',
    rule: 'operator_torque',
    least: d => all([d.number('operator.torque_needed'), d.number('limits.operator_margin')], (t, n) => t * n),
  },
  {
    path: 'operator.door_speed',
    rule: 'door_speed',
    least: where('operator.drive', 'motor', d => d.range('limits.door_speed')?.[0]),
    most: where('operator.drive', 'motor', d => d.range('limits.door_speed')?.[1]),
  },
  { path: 'rigging.slings', rule: 'sling_spacing', least: limit('rigging.slings_needed') },
]

/** A value and how far it is inside its limit. */
export interface Margin {
  readonly path: string
  readonly rule: string
  readonly least: string | undefined
  readonly most: string | undefined
  /** The room left to the nearer limit, negative beyond it; in the value's own SI unit. */
  readonly room: number
  /** `room` in words, and in parts of that limit. */
  readonly text: string
  readonly share: number | undefined
  readonly over: boolean
}

/** The margins of an opening, those that are known. */
export function margins(door: Door): Margin[] {
  return AGAINST.flatMap(a => {
    const [block, name] = [a.path.slice(0, a.path.indexOf('.')), a.path.slice(a.path.indexOf('.') + 1)]
    const paths = block === 'spring' ? door.springs.map(s => `${s.path}.${name}`) : [a.path]
    return paths.map(path => margin(door, path, a)).filter(m => m !== undefined)
  })
}

function margin(door: Door, path: string, a: Against): Margin | undefined {
  const value = door.number(path)
  const at = path.slice(0, path.lastIndexOf('.'))
  const [least, most] = [a.least?.(door, at), a.most?.(door, at)]
  if (value === undefined || (least === undefined && most === undefined)) return undefined
  const rooms = [
    ...(least === undefined ? [] : [{ room: value - least, limit: least }]),
    ...(most === undefined ? [] : [{ room: most - value, limit: most }]),
  ]
  const tight = rooms.reduce((x, y) => (y.room < x.room ? y : x))
  // a value exactly at its limit passes; a bound (`more than 1000000`) only decides on its own side
  const over = tight.room < 0 && !nearly(value, tight.limit)
  const bound = boundOf(door, path)
  if ((bound === 'more' && over) || (bound === 'less' && !over)) return undefined
  const than = bound ? 'more than ' : ''
  const cycles = a.rule === 'service_life'
  const say = (si: number): string => (cycles ? showCycles(si, true) : door.say(si, path))
  // what is left of a life is known no better than the life
  const sayRoom = (si: number): string => (cycles ? showCycles(si, bound !== undefined) : say(si))
  return {
    path,
    rule: a.rule,
    least: least === undefined ? undefined : say(least),
    most: most === undefined ? undefined : say(most),
    room: tight.room,
    text: over
      ? `${than}${sayRoom(-tight.room)} ${tight.limit === least ? 'short' : 'too much'}`
      : `${than}${sayRoom(Math.max(0, tight.room))} left`,
    share: tight.limit > 0 ? tight.room / tight.limit : undefined,
    over,
  }
}

function boundOf(door: Door, path: string): 'more' | 'less' | undefined {
  const r = door.result(path)
  return r.state === 'known' && r.value.kind === 'number' ? r.value.bound : undefined
}
