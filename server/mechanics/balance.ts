/**
 * How the springs hold the door over its travel. `n` counts turns from closed (0) to open (`turns`); rates are per turn.
 * The door's torque T is a concave cubic in n, the springs' S a straight line, so every extreme is at an end or at one
 * inner point that has a formula: nothing is sampled.
 */
import { coilLength, coilRadius, coilStart } from './coil.ts'
import { GRAVITY } from './constants.ts'

/** What the torque of a door follows from. */
export interface Door {
  /** Radius of the curtain's centre line at the closed door, m, > 0. */
  readonly start: number
  /** What one wrap adds to the radius, m, >= 0. */
  readonly thickness: number
  /** Weight of the curtain per height, kg/m, >= 0. */
  readonly perHeight: number
  /** Weight of the bottom bar, kg, >= 0. */
  readonly bar: number
  /** What hangs from the drum's axis to the floor, H0, m. */
  readonly hanging: number
  /** Turns from closed to open, >= 0. */
  readonly turns: number
}

/**
 * A door from its sizes: `od`, `ring`, `thickness` in m, `dead` in turns, `per` weight per height in kg/m, `bar` weight of
 * the bottom bar in kg, `height` of the opening and `rise` of the drum's axis above its head in m, `turns` from closed
 * to open (see `coilTurns`).
 */
export function doorOf(v: {
  readonly od: number
  readonly ring: number
  readonly thickness: number
  readonly dead: number
  readonly per: number
  readonly bar: number
  readonly height: number
  readonly rise: number
  readonly turns: number
}): Door {
  return {
    start: coilStart(v.od, v.ring, v.thickness, v.dead),
    thickness: v.thickness,
    perHeight: v.per,
    bar: v.bar,
    hanging: v.height + v.rise,
    turns: v.turns,
  }
}

/**
 * Torque the door asks for: `T(n) = g [weight_per_height (H0 - l(n)) + bottom_bar_weight] R(n)`. Statics.
 * @param n turns from closed, 0 to `door.turns`
 * @returns N*m
 */
export function doorTorque(door: Door, n: number): number {
  return GRAVITY * hangs(door, n) * coilRadius(door.start, door.thickness, n)
}

/** What still hangs after n turns, kg. */
function hangs(door: Door, n: number): number {
  return door.perHeight * (door.hanging - coilLength(door.start, door.thickness, n)) + door.bar
}

/**
 * Torque of the springs: `S(n) = rate (p + turns - n)`.
 * @param ratePerTurn N*m/turn
 * @param turnsPreload p, turns
 * @param turns from closed to open
 * @param n turns from closed
 * @returns N*m
 */
export function springTorque(ratePerTurn: number, turnsPreload: number, turns: number, n: number): number {
  return ratePerTurn * (turnsPreload + turns - n)
}

/**
 * The ends, and the inner point where `T - S` is largest: `T'(n) = -rate`. With `t l = pi (R^2 - a^2)` that is
 * `3 pi w R^2 = rate/g + t (w H0 + B) + pi w a^2`. In order of n.
 */
function extremes(door: Door, ratePerTurn: number): number[] {
  const { start: a, thickness: t, perHeight: w, bar, hanging, turns } = door
  // difference of the squares, not of the radii: it keeps its digits when t is small
  const squares = (ratePerTurn / GRAVITY + t * (w * hanging + bar) - 2 * Math.PI * w * a * a) / (3 * Math.PI * w)
  return withEnds(turns, squares / (t * (a + Math.sqrt(a * a + squares))))
}

/** The ends and, where `(T - S) / R` has one, its inner extreme: `R^3 = rate (a + t (p + turns)) / (2 pi g w)`. */
function forceExtremes(door: Door, ratePerTurn: number, turnsPreload: number): number[] {
  const { start: a, thickness: t, perHeight: w, turns } = door
  const radius = Math.cbrt((ratePerTurn * (a + t * (turnsPreload + turns))) / (2 * Math.PI * GRAVITY * w))
  return withEnds(turns, (radius - a) / t)
}

function withEnds(turns: number, inner: number): number[] {
  return inner > 0 && inner < turns ? [0, inner, turns] : [0, turns]
}

/**
 * The preload that makes the largest `|T - S|` over the travel smallest: `(max g + min g) / 2`,
 * `g(n) = T(n)/rate + n - turns`. It may be negative: then no preload balances this door with these springs.
 * @param ratePerTurn of all springs, N*m/turn
 * @returns turns; undefined where the rate is not positive
 */
export function bestPreload(door: Door, ratePerTurn: number): number | undefined {
  if (!(ratePerTurn > 0)) return undefined
  const g = extremes(door, ratePerTurn).map(n => doorTorque(door, n) / ratePerTurn + n - door.turns)
  const best = (Math.max(...g) + Math.min(...g)) / 2
  return Number.isFinite(best) ? best : undefined
}

export interface Worst {
  /** Largest `|T - S|`, N*m. */
  readonly torque: number
  /** Height of the bottom bar there, m; of equal ones the lowest. */
  readonly height: number
}

/**
 * The largest torque out of balance over the travel, `|T - S|`, and the height of the bottom bar `l(n)` there. With the
 * best preload two places are equally bad: those within one part in 10^9 count as equal, and the lowest is given.
 * @param ratePerTurn of all springs, N*m/turn, >= 0
 * @param turnsPreload turns
 */
export function worstTorque(door: Door, ratePerTurn: number, turnsPreload: number): Worst {
  const all = extremes(door, ratePerTurn).map(n => ({
    n,
    torque: Math.abs(doorTorque(door, n) - springTorque(ratePerTurn, turnsPreload, door.turns, n)),
  }))
  const torque = Math.max(...all.map(e => e.torque))
  // the slack is of the torques themselves, since their difference may be all rounding
  const slack = 1e-9 * Math.max(torque, doorTorque(door, 0) * 1e-3)
  const first = all.find(e => e.torque >= torque - slack)!
  return { torque, height: coilLength(door.start, door.thickness, first.n) }
}

function largestForce(door: Door, ratePerTurn: number, turnsPreload: number, sign: 1 | -1): number {
  const forces = forceExtremes(door, ratePerTurn, turnsPreload).map(n => {
    const springs = springTorque(ratePerTurn, turnsPreload, door.turns, n)
    return (sign * (doorTorque(door, n) - springs)) / coilRadius(door.start, door.thickness, n)
  })
  return Math.max(0, ...forces)
}

/**
 * The largest force at the bottom bar that raising takes, without friction: largest `(T - S) / R`, at least 0.
 * @param ratePerTurn of all springs, N*m/turn, >= 0
 * @param turnsPreload turns
 * @returns N
 */
export function raiseForce(door: Door, ratePerTurn: number, turnsPreload: number): number {
  return largestForce(door, ratePerTurn, turnsPreload, 1)
}

/** The largest force at the bottom bar that lowering takes, N: largest `(S - T) / R`, at least 0; as `raiseForce`. */
export function lowerForce(door: Door, ratePerTurn: number, turnsPreload: number): number {
  return largestForce(door, ratePerTurn, turnsPreload, -1)
}

/**
 * One spring lost: the largest `(T - S') / R`, where S' is without the rate of that spring; at least 0.
 * @param ratePerTurn of all springs, N*m/turn
 * @param lostPerTurn of the one that is gone, N*m/turn
 * @returns N
 */
export function lostForce(door: Door, ratePerTurn: number, lostPerTurn: number, turnsPreload: number): number {
  return raiseForce(door, Math.max(0, ratePerTurn - lostPerTurn), turnsPreload)
}

export interface IdealLine {
  /** N*m/turn */
  readonly rate: number
  /** turns */
  readonly preload: number
  /** N*m */
  readonly worst: number
}

/**
 * The best that any springs could do: the straight line nearest to T over the travel (Chebyshev). T is concave, so the
 * line has the slope of the chord, `rate = (T(0) - T(turns)) / turns`, and lies above it by half of T's largest distance
 * from the chord, which is what stays out of balance.
 * @returns undefined where that rate is not positive, or where there is no travel
 */
export function idealLine(door: Door): IdealLine | undefined {
  const closed = doorTorque(door, 0)
  const open = doorTorque(door, door.turns)
  const rate = (closed - open) / door.turns
  if (!(door.turns > 0) || !(rate > 0)) return undefined
  const distances = extremes(door, rate).map(n => doorTorque(door, n) - (closed - rate * n))
  const worst = Math.max(...distances) / 2
  const preload = (open + worst) / rate
  return Number.isFinite(preload) ? { rate, preload, worst } : undefined
}
