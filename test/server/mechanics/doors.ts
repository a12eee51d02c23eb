import * as fc from 'fast-check'
import { coilStart, coilTurns, type Door, doorOf, doorTorque } from '../../../server/mechanics/index.ts'

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })

/** The sizes of doors of all kinds, thin and thick, light and heavy, and some that nobody would build. */
export const sizes = fc.record({
  od: real(0.05, 0.42),
  ring: real(0, 0.1),
  thickness: fc.oneof(real(0, 0.06), fc.constant(0), real(0, 1e-9)),
  dead: real(0, 2),
  per: fc.oneof(real(0.5, 80), fc.constant(0)),
  bar: real(0, 100),
  height: real(0.5, 9),
  rise: real(0, 0.8),
})

export type Sizes = typeof sizes extends fc.Arbitrary<infer T> ? T : never

export function doorFrom(s: Sizes): Door {
  return doorOf({ ...s, turns: coilTurns(coilStart(s.od, s.ring, s.thickness, s.dead), s.thickness, s.height) })
}

/** A door that weighs something, a spring rate of its order of size (N*m/turn), and a preload (turns). */
export const balanced = fc
  .record({ sizes: sizes.filter(s => s.per + s.bar > 0.1), share: real(0.05, 4), preload: real(-2, 8) })
  .map(({ sizes: s, share, preload }) => {
    const door = doorFrom(s)
    const weight = 9.80665 * (s.per * (s.height + s.rise) + s.bar)
    return { door, rate: (share * weight * door.start) / door.turns, preload, sizes: s }
  })

/** Heights in turns, evenly from closed to open. */
export const everywhere = (door: Door, samples = 2000): number[] =>
  Array.from({ length: samples + 1 }, (_, i) => (door.turns * i) / samples)

/** Doors as they are built, with springs near to their best: the places that matter lie inside the travel. */
export const nearlyBest = fc
  .record({
    sizes: sizes.filter(s => s.per > 5 && s.thickness > 0.01 && s.bar < s.per && s.height > 2),
    share: real(0.7, 1.4),
    off: real(-0.4, 0.4),
  })
  .map(({ sizes: s, share, off }) => {
    const door = doorFrom(s)
    const rate = (share * (doorTorque(door, 0) - doorTorque(door, door.turns))) / door.turns
    return { door, rate, preload: doorTorque(door, 0) / rate - door.turns + off }
  })
  .filter(c => c.rate > 0)
