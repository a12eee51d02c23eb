import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'

describe('steps of the wheel', () => {
  it('1.7 turns on 8 holes are 13.6 steps: not to be set; rounded up 14, 1 3/4 turns [own arithmetic]', () => {
    expect(m.incrementTurns(8)).toBe(0.125)
    expect(m.increments(1.7, 0.125)).toBeCloseTo(13.6, 12)
    expect(m.roundedUp(1.7, 8)).toBe(1.75)
    expect(m.roundedUp(1.75, 8)).toBe(1.75)
  })
  it('forgives a preload that went through radians', () =>
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 1, max: 64 }), (steps, holes) => {
        const turns = ((steps / holes) * m.TURN) / (2 * Math.PI)
        const whole = (preload: number) => m.isWhole(m.increments(preload, m.incrementTurns(holes)!))
        expect(whole(turns)).toBe(true)
        expect(m.roundedUp(turns, holes)).toBeCloseTo(steps / holes, 12)
        expect(whole(turns + 0.01 / holes)).toBe(false)
        expect(m.roundedUp(turns + 0.01 / holes, holes)).toBeCloseTo((steps + 1) / holes, 12)
      }),
    ))
  it('has no answer without holes', () => {
    expect(m.incrementTurns(0)).toBeUndefined()
    expect(m.roundedUp(1, 0)).toBeUndefined()
  })
})

describe('whole numbers', () => {
  it('allow 1e-9 of a step and no more', () => {
    expect([m.wholeUp(3 + 1e-10), m.wholeUp(3 + 1e-8), m.wholeUp(3)]).toEqual([3, 4, 3])
    expect([m.wholeDown(3 - 1e-10), m.wholeDown(3 - 1e-8), m.wholeDown(3)]).toEqual([3, 2, 3])
    expect([m.isWhole(3 - 1e-10), m.isWhole(3 - 1e-8), m.isWhole(-2)]).toEqual([true, false, true])
    expect(Object.is(m.wholeUp(-0.5), 0)).toBe(true)
  })
  it('next even: the smallest even number not below', () => {
    expect([100, 100.2, 101, 102 + 1e-10, 102.1, 0].map(m.nextEven)).toEqual([100, 102, 102, 102, 104, 0])
  })
})
