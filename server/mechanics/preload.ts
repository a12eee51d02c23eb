/**
 * Setting the preload on the adjuster wheel. Directions: seen from the coil side x is to the right, y to the wall, z up.
 * "Facing the adjuster" is looking at it from outside the door, along the drum.
 */
import { wholeUp } from './constants.ts'

export type Side = 'left' | 'right'
export type Leaves = 'wall_side' | 'room_side'
export type Winding = 'clockwise' | 'counterclockwise'
export type Hand = 'left' | 'right'
export type ShaftEnd = 'adjuster' | 'drive'

/** The smallest step of the wheel, turns: `1 / holes`; undefined without holes. */
export function incrementTurns(holes: number): number | undefined {
  return holes > 0 ? 1 / holes : undefined
}

/**
 * A preload in steps of the wheel: `preload / increment`, both in the same unit. It can only be set where this is whole
 * (`isWhole`).
 */
export function increments(preload: number, increment: number): number {
  return preload / increment
}

/** The preload rounded up to a whole increment, turns; undefined without holes. Common practice, no source. */
export function roundedUp(turnsPreload: number, holes: number): number | undefined {
  const step = incrementTurns(holes)
  return step === undefined ? undefined : wholeUp(increments(turnsPreload, step)) / holes
}

/**
 * The direction the adjuster is wound in, seen facing it from outside the door. A curtain that hangs from the drum's wall
 * side (+y) rises when the drum turns about +x, for there `omega x r` points up; the springs push the drum that way, and
 * the shaft is wound that same way. From the right end one looks along -x and sees a turn about +x counterclockwise;
 * from the left end clockwise. On the room side everything is the other way round.
 */
export function windingFor(side: Side, leaves: Leaves): Winding {
  return (side === 'right') === (leaves === 'wall_side') ? 'counterclockwise' : 'clockwise'
}

/**
 * The hand of the spring that closes up when it is wound: a right-hand helix closes when the end nearest to you is turned
 * counterclockwise, a left-hand one when it is turned clockwise. The adjuster winds the shaft; with the shaft end of the
 * spring toward the drive the turned end is the far one, and the hand is the other.
 */
export function handNeeded(winding: Winding, shaftEnd: ShaftEnd): Hand {
  return (winding === 'counterclockwise') === (shaftEnd === 'adjuster') ? 'right' : 'left'
}
