/** What moves the door. */
import { TURN } from './constants.ts'

/**
 * Ratio of the chain drive: teeth of the sprocket on the drum over teeth of the one on the operator. Without sprockets
 * it is one to one; of one alone it is not known.
 */
export function sprocketRatio(drive: number | undefined, drum: number | undefined): number | undefined {
  if (drive === undefined && drum === undefined) return 1
  return drive === undefined || drum === undefined || !(drive > 0) ? undefined : drum / drive
}

/**
 * Torque at the drum that moves the door from its worst position: `worst + friction * torque_closed`.
 * @param worst largest torque out of balance, N*m
 * @param friction share of the closed torque, no unit, >= 0
 * @param closed torque of the closed door, N*m
 * @returns N*m
 */
export function torqueNeeded(worst: number, friction: number, closed: number): number {
  return worst + friction * closed
}

/**
 * Torque of the operator at the drum: `torque * ratio * efficiency`.
 * @param torque rated output, N*m
 * @param ratio sprocket on the drum over sprocket on the operator, no unit
 * @param efficiency above 0 to 1
 * @returns N*m
 */
export function torqueAtDrum(torque: number, ratio: number, efficiency: number): number {
  return torque * ratio * efficiency
}

/** Speed of the drum, rad/s, from the operator's (rad/s) and the ratio drum over drive; undefined for no ratio. */
export function drumSpeed(speed: number, ratio: number): number | undefined {
  return ratio > 0 ? speed / ratio : undefined
}

/**
 * Mean speed of the bottom bar: travel over turns, times the speed of the drum.
 * @param travel height of the opening, m
 * @param turns from closed to open, turns
 * @param drum speed of the drum, rad/s
 * @returns m/s; undefined without turns
 */
export function doorSpeed(travel: number, turns: number, drum: number): number | undefined {
  return turns > 0 ? (travel / turns) * (drum / TURN) : undefined
}

/**
 * Power that turns the drum: `torque_needed * drum speed / efficiency`.
 * @param torque at the drum, N*m
 * @param drum speed of the drum, rad/s
 * @param efficiency above 0 to 1
 * @returns W; undefined without efficiency
 */
export function powerNeeded(torque: number, drum: number, efficiency: number): number | undefined {
  return efficiency > 0 ? (torque * drum) / efficiency : undefined
}

/**
 * Pull on the hand chain, or force on the handle of a crank: `torque_needed / (ratio * efficiency * hand_wheel / 2)`.
 * @param torque at the drum, N*m
 * @param ratio the whole ratio from hand wheel or crank to drum
 * @param efficiency above 0 to 1
 * @param wheel diameter of the hand wheel, m; for a crank twice its arm
 * @returns N; undefined where there is no ratio, efficiency or wheel
 */
export function handPull(torque: number, ratio: number, efficiency: number, wheel: number): number | undefined {
  const lever = (ratio * efficiency * wheel) / 2
  return lever > 0 ? torque / lever : undefined
}

/** How far the operator turns from closed to open, in the unit of `turns`: `turns * ratio`, ratio drum over drive. */
export function limitTurnsUsed(turns: number, ratio: number): number {
  return turns * ratio
}
