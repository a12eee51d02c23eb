/**
 * One door worked out by hand, in inches and pounds, and compared with what the functions give. Own arithmetic: every
 * number on the right of a comment was reckoned outside this project; the best preload and the largest forces were found
 * there by trying 200,000 places along the travel.
 *
 * Opening 12 ft x 11 ft 6 in (144 x 138 in), rails 145 in apart, slats 2 3/4 in into each; 20 gauge steel slats of
 * 2.625 in pitch rolled from 3.75 in strip, 0.875 in thick in the coil; 0.25 lb endlocks on every second slat; bottom bar
 * 3 lb/ft. Drum 6.625 x 0.280 in pipe, 152 in between brackets, axis 8 in above the head, half a dead wrap. Springs of
 * oil-tempered wire: 0.5 in and 0.4063 in on 4.9 in, 160 and 140 coils. Wound 1 5/8 turns.
 */
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'

const INCH = 0.0254
const LB = 0.45359237
const LBF = LB * 9.80665
const LBF_IN = LBF * INCH
const KSI = (1000 * LBF) / INCH ** 2

/** To the figures that the hand reckoning carries. */
const near = (got: number | undefined, unit: number, want: number, relative = 2e-6) =>
  expect(Math.abs(got! / unit / want - 1), `${got! / unit} instead of ${want}`).toBeLessThan(relative)

const slat = m.areaWeight(20, 'steel', 3.75 * INCH, 2.625 * INCH, 1, 0)!
const length = m.slatLength(145 * INCH, 2.75 * INCH)
const per = m.weightPerHeight(slat, length, 0.25 * LB, 2, 2.625 * INCH)!
const bar = ((3 * LB) / (12 * INCH)) * length
const coil = [6.625 * INCH, 0, 0.875 * INCH, 0.5] as const
const start = m.coilStart(...coil)
const turns = m.coilTurns(start, 0.875 * INCH, 138 * INCH)
const dead = m.deadWrapLength(...coil)
const hangs = m.hangingWeight(per, 146 * INCH, bar)
const total = m.totalWeight(hangs, per, dead)
const door = m.doorOf({
  od: coil[0],
  ring: 0,
  thickness: coil[2],
  dead: 0.5,
  per,
  bar,
  height: 138 * INCH,
  rise: 8 * INCH,
  turns,
})
const perTurn = (wire: number, coils: number) =>
  m.springRate(wire * INCH, 4.9 * INCH, coils, 'oil_tempered', false) * 2 * Math.PI
const long = perTurn(0.5, 160)
const rate = long + perTurn(0.4063, 140)

describe('a door of 12 ft by 11 ft 6 in [own arithmetic]', () => {
  it('curtain', () => {
    near(slat, LB / INCH ** 2, 0.014544577) // 0.0359 in x 0.28359924 lb/in3 (7850 kg/m3) x 3.75/2.625
    near(length, INCH, 150.5) // 145 + 5.5
    near(per, LB / INCH, 2.284197) // 0.014544577 x 150.5 = 2.188959; + 2 x 0.25/(2 x 2.625) = 0.095238
    near(bar, LB, 37.625) // 3/12 x 150.5
    near(hangs, LB, 371.11776) // 2.284197 x 146 = 333.49276; + 37.625
    near(total, LB, 399.59757) // + 2.284197 x 12.468196 = 28.47982
  })
  it('coil', () => {
    near(start, INCH, 4.1875) // 3.3125 + 0.875 (1/2 + 1/2)
    near(dead, INCH, 12.468196) // 2 pi (3.75 x 0.5 + 0.875 x 0.25/2) = 2 pi x 1.984375
    near(turns, 1, 3.7644364) // a^2 17.535156 + 0.875 x 138/pi 38.435919 = 55.971075, root 7.4813819; less 4.1875 over 0.875
    near(m.coilDiameter(...coil, turns), INCH, 15.837764) // 2 (3.3125 + 0.875 x 5.2644364)
    expect(m.slatCount(146 * INCH, dead, 2.625 * INCH)).toBe(61) // 158.468196/2.625 = 60.37
  })
  it('torque', () => {
    near(m.doorTorque(door, 0), LBF_IN, 1554.0556) // 371.11776 x 4.1875
    near(m.doorTorque(door, turns), LBF_IN, 418.19859) // (2.284197 x 8 + 37.625 = 55.898576) x 7.4813819
    const ideal = m.idealLine(door)!
    near(ideal.rate, LBF_IN, 301.73361, 1e-5) // (1554.0556 - 418.19859)/3.7644364 = 1135.85702/3.7644364
  })
  it('springs', () => {
    near(long, LBF_IN, 223.05333) // 28.5e6 x 0.0625/(64 x 4.9 x 160 = 50176) = 35.500040 a radian, x 2 pi
    near(rate, LBF_IN, 334.20293) // + 28.5e6 x 0.027252 /(64 x 4.9 x 140 = 43904) x 2 pi = 111.14961
    // C 9.8, Ki (384.16 - 9.8 - 1)/(39.2 x 8.8 = 344.96) = 1.0823284; M 223.05333 x 5.3894364 = 1202.1317
    // 1.0823284 x 32 x 1202.1317/(0.125 pi = 0.39269908) = 106023
    const moment = long * (1.625 + turns)
    near(m.springStress(0.5 * INCH, 4.9 * INCH, moment), KSI, 106.0233, 1e-5)
    near(m.tensileStrength('oil_tempered', 0.5 * INCH), KSI, 167.34392) // 147/0.5^0.187
    near(m.lengthWound(0.5 * INCH, 160, 0, 2 * Math.PI * (1.625 + turns)), INCH, 83.194718) // 0.5 (161 + 5.3894364)
    near(m.insideWound(0.5 * INCH, 4.9 * INCH, 160, 2 * Math.PI * (1.625 + turns)), INCH, 4.2403268) // 784/165.3894364 - 0.5
  })
  it('balance', () => {
    near(m.bestPreload(door, rate), 1, 1.5686266)
    near(m.worstTorque(door, rate, 1.5686266).torque, LBF_IN, 228.26972, 1e-5)
    expect(m.roundedUp(m.bestPreload(door, rate)!, 8)).toBe(1.625) // 12.549 steps, 13
    const worst = m.worstTorque(door, rate, 1.625)
    near(worst.torque, LBF_IN, 247.10986, 1e-5) // 334.20293 x 5.3894364 = 1801.16547, less 1554.05561, at the floor
    expect(worst.height).toBe(0)
    near(m.lowerForce(door, rate, 1.625), LBF, 59.01131, 1e-5) // 247.10986/4.1875
  })
  it('drum and slings', () => {
    const pipe = m.pipeWeight(6.625 * INCH, 0.28 * INCH, 152 * INCH)!
    near(pipe, LB, 240.59567) // pi x 0.28 x 6.345 x 0.28359924 x 152
    const springs = m.springWeight(0.5 * INCH, 4.9 * INCH, 160) + m.springWeight(0.4063 * INCH, 4.9 * INCH, 140)
    near(springs, LB, 216.39471) // 137.15149 + 79.24324
    const sag = m.drumSag(total + pipe + springs, 152 * INCH, 6.625 * INCH, 0.28 * INCH, m.MODULUS.steel)
    // 856.58797 lb; I 28.142179 in4; 5 x 856.58797 x 152^3/(384 x 29e6 x 28.142179)
    near(sag, INCH, 0.04799387, 1e-5)
    near(m.slingLoad(total, 2, Math.PI / 2), LBF, 199.79879)
    near(m.slingLoad(total, 2, Math.PI / 6), LBF, 399.59757) // twice that at 30 deg
  })
})
