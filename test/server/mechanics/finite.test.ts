import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'

/** Sizes as people may write them by mistake: nothing, tiny, huge, the wrong unit. */
const size = fc.oneof(
  fc.double({ min: 1e-9, max: 1e4, noNaN: true }),
  fc.constantFrom(0, 1e-12, 1e-6, 0.001, 1, 1000, 1e6),
)
const above = size.map(x => x || 1e-6)
const signed = fc.tuple(size, fc.boolean()).map(([x, minus]) => (minus ? -x : x))

/** Nothing that comes out may be NaN or infinite; unknown is `undefined`. */
function finite(x: unknown): void {
  if (typeof x === 'number') expect(Number.isFinite(x)).toBe(true)
  else if (typeof x === 'object' && x !== null) for (const v of Object.values(x)) finite(v)
}

describe('no NaN and no infinity', () => {
  it('in coil and balance', () =>
    fc.assert(
      fc.property(fc.tuple(above, size, size, size, size, size), fc.tuple(above, size, size, signed), (a, b) => {
        const [od, ring, thickness, dead, per, bar] = a
        const [height, rise, rate, preload] = b
        const turns = m.coilTurns(m.coilStart(od, ring, thickness, dead), thickness, height)
        const door = m.doorOf({ od, ring, thickness, dead, per, bar, height, rise, turns })
        finite([turns, m.coilDiameter(od, ring, thickness, dead, turns), m.deadWrapLength(od, ring, thickness, dead)])
        finite([m.doorTorque(door, 0), m.doorTorque(door, turns), m.bestPreload(door, rate), m.idealLine(door)])
        finite([
          m.worstTorque(door, rate, preload),
          m.raiseForce(door, rate, preload),
          m.lowerForce(door, rate, preload),
        ])
        finite(m.lostForce(door, rate, rate / 2, preload))
      }),
      { numRuns: 2000 },
    ))
  it('in springs', () =>
    fc.assert(
      fc.property(
        above,
        above,
        above,
        signed,
        signed,
        fc.constantFrom(...(Object.keys(m.WIRES) as m.WireMaterial[])),
        (d, D, N, x, y, material) => {
          finite([
            m.springIndex(d, D),
            m.springRate(d, D, N, material, true),
            m.springStress(d, D, x),
            m.springWeight(d, D, N),
          ])
          finite([
            m.lengthFree(d, N, 0),
            m.lengthWound(d, N, 2, x),
            m.insideWound(d, D, N, x),
            m.tensileStrength(material, d),
          ])
          finite([
            m.fatigueFactor(x, y, D, N, material),
            m.springLife(x, y, D, material),
            m.rangeStrength(material, D, N),
          ])
        },
      ),
      { numRuns: 2000 },
    ))
  it('in the rest', () =>
    fc.assert(
      fc.property(size, size, size, size, size, (a, b, c, d, e) => {
        finite([m.drumSag(a, b, c, d, e), m.pipeWeight(a, b, c), m.shaftStress(a, b), m.weightPerHeight(a, b, c, d, e)])
        finite([m.chainPull(a, b, c), m.chainPitches(a, b, c, d), m.centerDistance(a, b, c, d), m.pitchDiameter(a, b)])
        finite([m.handPull(a, b, c, d), m.powerNeeded(a, b, c), m.drumSpeed(a, b), m.doorSpeed(a, b, c)])
        finite([m.slatBow(a, b, c, 'steel', d), m.slatStress(a, b, c, d), m.drawIn(a, b)])
        finite([
          m.fastenerCount(a, b, c),
          m.fastenerLoad(a, b, c, d),
          m.slingsNeeded(a, b),
          m.slingLoad(a, b, c),
          m.hoodSupports(a, b),
        ])
        finite([
          m.velocityPressure(a, 'B', b),
          m.slatCount(a, b, c),
          m.roundedUp(a, b),
          m.areaWeight(20, 'steel', a, b, 2, c),
        ])
      }),
      { numRuns: 2000 },
    ))
})
