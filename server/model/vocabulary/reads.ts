/** Groups of values that several derived values read. */
import { each } from '../spec.ts'

/** What the coil is wound from: the length of the dead wraps follows from these. */
export const DEAD_LENGTH = {
  od: 'drum.pipe.od',
  ring: 'drum.ring',
  thickness: 'curtain.slat.thickness',
  dead: 'drum.dead_wraps',
} as const

/** What the door's torque at every position follows from. */
export const DOOR = {
  ...DEAD_LENGTH,
  per: 'curtain.weight_per_height',
  bar: 'curtain.bottom_bar_weight',
  height: 'opening.height',
  rise: 'drum.rise',
  turns: 'drum.turns',
} as const

/** The door, its springs together, and the preload in use. */
export const BALANCED = { ...DOOR, rate: 'balance.rate', preload: 'adjuster.preload' } as const

export const ALL_RATES = each('spring.rate')
