/**
 * The direction of winding and the hand of the spring, from a small model of the door in space: x to the right, y to the
 * wall, z up, seen from the coil side. Nothing here repeats the rule; it follows from cross products and a drawn helix.
 */
import { describe, expect, it } from 'vitest'
import {
  handNeeded,
  type Leaves,
  type ShaftEnd,
  type Side,
  type Winding,
  windingFor,
} from '../../../server/mechanics/index.ts'

type Vector = readonly [number, number, number]
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** The turn about x, +1 or -1, at which the point where the curtain leaves the drum moves up. */
function raising(leaves: Leaves): 1 | -1 {
  const point: Vector = [0, leaves === 'wall_side' ? 0.1 : -0.1, 0]
  const up = ([1, -1] as const).filter(w => cross([w, 0, 0], point)[2] > 0)
  expect(up).toHaveLength(1)
  return up[0]!
}

/** How someone who stands outside the door at that end, and looks along the drum, sees this turn about x. */
function seenFrom(side: Side, turn: 1 | -1): Winding {
  const looking: Vector = [side === 'right' ? -1 : 1, 0, 0]
  const right = cross(looking, [0, 0, 1])
  // the uppermost point of a wheel that turns clockwise moves to the right
  const top = cross([turn, 0, 0], [0, 0, 1])
  return dot(top, right) > 0 ? 'clockwise' : 'counterclockwise'
}

/** A helix along +x from its held end: where its wire is after a share s of its length. */
function helix(hand: 'right' | 'left', coils: number, radius: number, length: number) {
  const sense = hand === 'right' ? 1 : -1
  return (s: number): Vector => {
    const angle = sense * 2 * Math.PI * coils * s
    return [length * s, radius * Math.cos(angle), radius * Math.sin(angle)]
  }
}

/** Radius of the coil after its end at x = `turnedAt` is turned by `twist` about +x: the wire keeps its length. */
function radiusAfter(hand: 'right' | 'left', turnedAt: 'far' | 'near', twist: number): number {
  const [coils, radius, length, steps] = [10, 0.05, 0.2, 2000] as const
  const at = helix(hand, coils, radius, length)
  // follow the wire and add up the angle it goes round and the way it makes
  let angle = 0
  let wire = 0
  for (let i = 1; i <= steps; i++) {
    const [p, q] = [at((i - 1) / steps), at(i / steps)]
    angle += Math.atan2(p[1] * q[2] - p[2] * q[1], p[1] * q[1] + p[2] * q[2])
    wire += Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2])
  }
  // turning the far end moves the end of the angle, turning the near end moves its start
  const after = angle + (turnedAt === 'far' ? twist : -twist)
  return Math.sqrt(wire ** 2 - length ** 2) / Math.abs(after)
}

const cases = (['left', 'right'] as const).flatMap(side =>
  (['wall_side', 'room_side'] as const).flatMap(leaves =>
    (['adjuster', 'drive'] as const).map(end => [side, leaves, end] as [Side, Leaves, ShaftEnd]),
  ),
)

describe('winding and hand in space', () => {
  it.each(cases)('adjuster %s, curtain leaves the %s, shaft end toward the %s', (side, leaves, end) => {
    const turn = raising(leaves)
    // the spring pushes the drum the way the shaft is ahead of it, so the shaft is wound the way that raises
    const winding = seenFrom(side, turn)
    expect(windingFor(side, leaves)).toBe(winding)
    // the end at larger x is turned where the shaft end lies toward the right
    const shaftAtRight = (end === 'adjuster') === (side === 'right')
    const twist = 0.05 * turn
    const closing = (['right', 'left'] as const).filter(
      hand => radiusAfter(hand, shaftAtRight ? 'far' : 'near', twist) < 0.05 - 1e-5,
    )
    expect(closing).toHaveLength(1)
    expect(handNeeded(winding, end)).toBe(closing[0])
  })
  it('the drawn right-hand helix is right-handed: going away from you it goes round clockwise', () => {
    const at = helix('right', 1, 1, 1)
    // looking along +x, z up: y is to the left, so from (y, z) = (1, 0) at the left to (0, 1) at the top is clockwise
    expect(at(0.25)[1]).toBeCloseTo(0, 12)
    expect(at(0.25)[2]).toBeCloseTo(1, 12)
    expect(cross([1, 0, 0], [0, 0, 1])[1]).toBe(-1)
  })
})
