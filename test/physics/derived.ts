/** Every derived value, with the units it is counted in: F force, L length, T time. */
import type { Read } from './door.ts'

/** Powers of force, length and time. A weight is a mass, which goes with force: gravity is the same everywhere. */
type Powers = readonly [F: number, L: number, T: number]
const LENGTH: Powers = [0, 1, 0]
const NONE: Powers = [0, 0, 0]
const FORCE: Powers = [1, 0, 0]
const PRESSURE: Powers = [1, -2, 0]
const TORQUE: Powers = [1, 1, 0]

export const DERIVED: Readonly<Record<string, Powers>> = {
  'opening.area': [0, 2, 0], 'opening.wind_pressure': PRESSURE,
  'curtain.slat_length': LENGTH, 'curtain.slat_count': NONE, 'curtain.weight_per_height': [1, -1, 0],
  'curtain.bottom_bar_weight': FORCE, 'curtain.weight': FORCE, 'curtain.weight_total': FORCE, 'curtain.bow': LENGTH,
  'curtain.slat_stress': PRESSURE, 'curtain.draw_in': LENGTH, 'curtain.engagement_left': LENGTH,
  'curtain.slat.weight': PRESSURE,
  'rails.mark': LENGTH, 'rails.clearance': LENGTH, 'rails.fasteners': NONE, 'rails.fastener_load': FORCE,
  'drum.turns': NONE, 'drum.coil_diameter': LENGTH, 'drum.weight': FORCE, 'drum.sag': LENGTH, 'drum.sag_limit': LENGTH,
  'drum.inside': LENGTH,
  'spring.rate': TORQUE, 'spring.strength': PRESSURE, 'spring.range_strength': PRESSURE, 'spring.index': NONE,
  'spring.stress_open': PRESSURE, 'spring.stress_closed': PRESSURE, 'spring.stress_ratio': NONE,
  'spring.fatigue_factor': NONE, 'spring.life': NONE, 'spring.length_free': LENGTH, 'spring.length_wound': LENGTH,
  'spring.inside_wound': LENGTH, 'spring.outside_free': LENGTH, 'spring.weight': FORCE, 'spring.lost_force': FORCE,
  'adjuster.preload': NONE, 'adjuster.increment': NONE, 'adjuster.increments': NONE,
  'balance.torque_closed': TORQUE, 'balance.torque_open': TORQUE, 'balance.rate': TORQUE, 'balance.preload': NONE,
  'balance.worst': TORQUE, 'balance.worst_at': LENGTH, 'balance.raise_force': FORCE, 'balance.lower_force': FORCE,
  'balance.ideal_rate': TORQUE, 'balance.ideal_preload': NONE, 'balance.ideal_worst': TORQUE,
  'operator.torque_needed': TORQUE, 'operator.torque_available': TORQUE, 'operator.power_needed': [1, 1, -1],
  'operator.door_speed': [0, 1, -1], 'operator.hand_pull': FORCE, 'operator.chain_pull': FORCE,
  'operator.chain_pitches': NONE, 'operator.chain_links': NONE, 'operator.centers_set': LENGTH,
  'operator.limit_turns_used': NONE,
  'hood.supports_needed': NONE, 'rigging.slings_needed': NONE, 'rigging.spacing': LENGTH, 'rigging.load_each': FORCE,
} // biome-ignore format: a table

/** `spring[1].rate` as it is called above. */
export const nameOf = (path: string): string => path.replace(/\[\d+\]/, '')

export type Values = Read

/** The derived values of a door as numbers, words as they are. */
export function derivedOf(values: Values): Map<string, number> {
  return new Map([...values.si].filter(([path]) => nameOf(path) in DERIVED))
}

/**
 * How large the numbers are that a value is the difference of: what is left of them may be all rounding. Torques out of
 * balance lie between those of the door and of the springs.
 */
export function scaleOf(path: string, values: Values): number {
  const n = (p: string): number => Math.abs(values.si.get(p) ?? 0)
  const name = nameOf(path)
  if (!(name in DERIVED)) return 0
  const twist = n('adjuster.preload') + n('drum.turns')
  const torque = Math.max(n('balance.torque_closed'), n('balance.torque_open'), n('balance.rate') * twist)
  const height = n('opening.height') + n('drum.rise')
  if (/^balance\.(torque|worst$|ideal_worst)|^operator\.torque_needed/.test(name)) return torque
  if (name === 'balance.ideal_rate') return torque / n('drum.turns')
  if (name === 'balance.preload') return torque / n('balance.rate') + n('drum.turns')
  if (name === 'balance.ideal_preload')
    // the rate is itself a difference
    return values.si.has('balance.ideal_rate')
      ? (torque / n('drum.turns') / n('balance.ideal_rate')) * n(path) + torque / n('balance.ideal_rate')
      : 0
  // the start of the coil is no value of its own: the torque of the closed door is its weight there
  const start = n('balance.torque_closed') / (n('curtain.weight') * 9.80665)
  if (/_force$/.test(name)) return torque / start || 0
  const needed = torque / (n('operator.torque_needed') || 1)
  if (/^operator\.(power_needed|hand_pull|chain_pull)/.test(name)) return needed * n(path)
  if (name === 'curtain.engagement_left') return Math.max(n('curtain.engagement'), n('curtain.draw_in'))
  if (name === 'rails.clearance') return Math.max(n('rails.depth'), n('curtain.engagement'))
  if (name === 'rails.mark') return Math.max(n('rails.between'), n('opening.width'))
  if (name === 'balance.worst_at') return height
  if (name === 'drum.inside') return n('drum.pipe.od')
  // amplitude is half the difference of the stresses
  const at = path.match(/^spring\[\d+\]\./)?.[0]
  if (/^spring\.(fatigue_factor|life)/.test(name)) return (n(path) * twist) / n('drum.turns')
  if (name === 'spring.inside_wound') return n(`${at}diameter`)
  return 0
}
