/**
 * A door of a realistic size, written from nothing, against a calculation by hand in inches and pounds.
 *
 * Own arithmetic, done apart from the program in inch-pound units with the forces found by walking the travel in
 * 200,000 steps (the program works in SI and solves for the extremes). A pound of mass weighs a pound of force.
 *
 *   slat       126 in = 121 + 2 x 2.5
 *   per foot   2.4 lb/ft2 x 10.5 ft + 2 x 0.2 lb / (2 x 2.5 in) x 12 in/ft = 25.2 + 0.96 = 26.16 lb/ft
 *   bar        2.5 lb/ft x 10.5 ft = 26.25 lb
 *   start      a = 5.563/2 + 0.75 x (1/2 + 1/2) = 3.5315 in
 *   turns      (-3.5315 + sqrt(3.5315^2 + 0.75 x 120 / pi)) / 0.75 = 3.84125
 *   coil       2 x (2.7815 + 0.75 x (0.5 + 3.84125 + 1)) = 13.5749 in; rise 6.7874 in
 *   weight     2.18 lb/in x 126.7874 in + 26.25 = 302.647 lb
 *   closed     302.647 lbf x 3.5315 in = 1068.80 lbf*in
 *   one spring 28.5e6 x 0.375^4 / (64 x 4.5 x 120) x 2 pi = 102.465 lbf*in/turn
 *   stress     Ki(12) = (576 - 12 - 1) / (48 x 11) = 1.066288; M = 102.465 x 5.84125; 32 M Ki / (pi 0.375^3) = 123,272 psi
 *   strength   147,000 / 0.375^0.187 = 176,593 psi
 */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { Service } from '../../../server/service.ts'

const INCH = 0.0254
const LB = 0.45359237
const LBF = 4.4482216152605
const PSI = 6894.757293168361
const TURN = 2 * Math.PI

const BY_HAND: readonly (readonly [path: string, byHand: number, unit: number])[] = [
  ['curtain.slat_length', 126, INCH],
  ['curtain.weight_per_height', 26.16, LB / 0.3048],
  ['curtain.bottom_bar_weight', 26.25, LB],
  ['curtain.weight', 302.646618, LB],
  ['curtain.weight_total', 325.548578, LB],
  ['drum.turns', 3.84125284, TURN],
  ['drum.coil_diameter', 13.5748793, INCH],
  ['drum.weight', 157.307614, LB],
  ['drum.sag', 0.0374507217, INCH],
  ['balance.torque_closed', 1068.79653, LBF * INCH],
  ['balance.torque_open', 263.208962, LBF * INCH],
  ['balance.rate', 204.930246, (LBF * INCH) / TURN],
  ['balance.preload', 1.9970848, TURN],
  ['balance.worst', 146.651529, LBF * INCH],
  ['balance.worst_at', 120, INCH],
  ['balance.raise_force', 29.3011576, LBF],
  ['balance.lower_force', 36.3168194, LBF],
  ['spring.index', 12, 1],
  ['spring.stress_closed', 123271.547, PSI],
  ['spring.stress_open', 42207.2285, PSI],
  ['spring.strength', 176593.001, PSI],
  ['spring.stress_ratio', 0.698054543, 1],
  ['spring.fatigue_factor', 1.15322198, 1],
  ['spring.life', 78014.3113, 1],
  ['spring.inside_wound', 3.91612066, INCH],
  ['spring.weight', 106.274999, LB],
]

const file = 'gate.door'
const service = new Service({ resolve: () => ({ ok: false, outside: false, message: 'none' }), read: () => undefined })
service.open(file, readFileSync(join(import.meta.dirname, '../../../samples/harbour/gate.door'), 'utf8'))
const door = service.doors(file)[0]!

describe('a door by hand (own arithmetic)', () => {
  it('breaks no rule', () => {
    expect(service.findings(file).map(f => `${f.rule}: ${f.message}`)).toEqual([])
    expect(door.complete).toBe(true)
  })

  for (const [path, byHand, unit] of BY_HAND)
    it(`${path} = ${byHand}`, () => {
      expect(door.number(path)! / unit / byHand).toBeCloseTo(1, 6)
    })

  it('counts 16 whole increments, counterclockwise, on right-hand springs', () => {
    expect(door.number('adjuster.increments')).toBeCloseTo(16, 9)
    expect(door.word('adjuster.winding')).toBe('counterclockwise')
    expect(door.word('spring.hand_needed')).toBe('right')
  })
})
