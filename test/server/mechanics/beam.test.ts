import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'
import { meets } from './meets.ts'
import { PUBLISHED as P } from './published.ts'

const section = (od: number, wall: number) => m.pipeInertia(od, wall)! / (od / 2)
const standard = (nps: unknown, schedule: string) => m.PIPES[`nps${String(nps).replace('.', '_')}_${schedule}`]!

describe('published beams and pipes', () => {
  meets(P, /^D1$/, x => ({ delta: m.beamSag(x.w!, x.L!, x.E!, x.I!) }))
  meets(P, /^D2$/, x => ({
    delta: m.beamSag(x.w!, x.L!, x.E!, x.I!),
    M: m.slatStress(x.w!, 1, x.L!, 1),
    sigma: m.slatStress(x.w!, 1, x.L!, x.I! / ((8.625 * 0.0254) / 2)),
  }))
  meets(P, /^D3\./, (x, r) => {
    const pipe = standard(r.given.NPS![0], 'sch40')
    expect(pipe.od).toBeCloseTo(x.OD!, 9)
    expect(pipe.wall).toBeCloseTo(x.t!, 9)
    return { I: m.pipeInertia(pipe.od, pipe.wall), S: section(pipe.od, pipe.wall) }
  })
  meets(P, /^D4\./, x => ({
    A: m.pipeArea(x.OD!, x.t!),
    W: m.pipeWeight(x.OD!, x.t!, 1),
    I: m.pipeInertia(x.OD!, x.t!),
    S: section(x.OD!, x.t!),
  }))
  meets(P, /^D5$/, x => ({
    A: m.pipeArea(x.OD!, x.t_des!),
    I: m.pipeInertia(x.OD!, x.t_des!),
    W: m.pipeWeight(x.OD!, x.t_nom!, 1),
  }))
  meets(P, /^D6\./, (x, r) => {
    expect(standard(r.given.NPS![0], 'std').wall).toBeCloseTo(x.t_nom!, 9)
    return { I: m.pipeInertia(x.OD!, x.t_des!) }
  })
})

describe('drum', () => {
  it('sags by the beam formula under all of its weight [own arithmetic, in N and mm]', () => {
    // 200 kg on 3 m: w = 200 * 9.80665 / 3000 = 0.65377667 N/mm; 100 x 5 mm pipe: I = pi/64 (1e8 - 65610000) = 1688115 mm4
    // 5 * 0.65377667 * 8.1e13 / (384 * 200000 * 1688115) = 2.0423 mm
    expect(m.drumSag(200, 3, 0.1, 0.005, 200e9)! * 1000).toBeCloseTo(2.0423, 3)
  })
  it('is unknown for walls that do not fit, no span and no stiffness', () => {
    expect(m.drumSag(200, 3, 0.1, 0.06, 200e9)).toBeUndefined()
    expect(m.drumSag(200, 0, 0.1, 0.005, 200e9)).toBeUndefined()
    expect(m.drumSag(200, 3, 0.1, 0.005, 0)).toBeUndefined()
    expect(m.pipeArea(0.1, 0)).toBeUndefined()
    expect(m.pipeWeight(0.1, 0.06, 3)).toBeUndefined()
    expect(m.pipeInside(0.1, 0.05)).toBeUndefined()
    expect(m.pipeInside(0.1, 0.01)).toBeCloseTo(0.08, 12)
  })
  it('of a solid bar has the area and inertia of a disc', () => {
    expect(m.pipeArea(0.1, 0.05)).toBeCloseTo((Math.PI / 4) * 0.01, 12)
    expect(m.pipeInertia(0.1, 0.05)! / ((Math.PI / 64) * 1e-4)).toBeCloseTo(1, 12)
  })
})
