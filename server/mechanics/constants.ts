/** Standard acceleration of gravity, m/s2, exact (NIST SP 811). */
export const GRAVITY = 9.80665
/** One turn in radians. */
export const TURN = 2 * Math.PI
/** What `ceil`, `floor` and "whole" forgive, as a share of one step: arithmetic in binary, not a tolerance of the work. */
const STEP_SLACK = 1e-9

/**
 * Smallest whole number not below `x`; 1e-9 above a whole number still counts as that number.
 * @param x any number of steps, no unit
 */
export function wholeUp(x: number): number {
  return Math.ceil(x - STEP_SLACK) || 0
}

/**
 * Largest whole number not above `x`; 1e-9 below a whole number still counts as that number.
 * @param x any number of steps, no unit
 */
export function wholeDown(x: number): number {
  return Math.floor(x + STEP_SLACK) || 0
}

/** Whether `x` steps are a whole number of steps, to 1e-9 of a step. */
export function isWhole(x: number): boolean {
  return Math.abs(x - Math.round(x)) <= STEP_SLACK
}

/**
 * Smallest even whole number not below `x` (a chain of an odd number of pitches needs an offset link).
 * @param x any number, no unit; 1e-9 above an even number still counts as that number
 */
export function nextEven(x: number): number {
  return 2 * wholeUp(x / 2)
}
