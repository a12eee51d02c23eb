/** Groups of values that several derived values read, and their way to the mechanics, which count turns: angles here are radians. */
import * as m from '../../mechanics/index.ts'
import { each } from '../spec.ts'

export const turns = (radians: number): number => radians / m.TURN
export const radians = (turns: number | undefined): number | undefined =>
  turns === undefined ? undefined : turns * m.TURN

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

export const door = (v: { [K in keyof typeof DOOR]: number }): m.Door =>
  m.doorOf({ ...v, dead: turns(v.dead), turns: turns(v.turns) })

/** The door, its springs together, and the preload in use. */
export const BALANCED = { ...DOOR, rate: 'balance.rate', preload: 'adjuster.preload' } as const

export const ALL_RATES = each('spring.rate')
