/** What the second computation found wrong in the program, kept right. */
import { describe, expect, it } from 'vitest'
import { Service } from '../../../server/service.ts'
import { check } from '../../support/host.ts'

/** The values of a door of which some lines change. */
function known(lines: { limits?: string; slat?: string; spring: string; adjuster: string }) {
  const service = new Service({ resolve: () => ({ ok: false, outside: false, message: '' }), read: () => undefined })
  service.open(
    'job.door',
    `job "HS-1" {}
${lines.limits ?? ''}
opening "Dock 1" {
  width = 10ft; height = 10ft
  curtain { engagement = 2in; slat { pitch = 3in; thickness = 1in; ${lines.slat ?? 'weight = 2 lb/ft^2'} } }
  rails { between = 10ft; depth = 3in }
  drum { pipe = nps6_std }
  spring { ${lines.spring} }
  adjuster { side = left; holes = 4; ${lines.adjuster} }
}
`,
  )
  const values = new Map(service.values('job.door')[0]!.values.map(v => [v.path, v]))
  return (path: string) => values.get(path)
}
const SPRING = 'wire = 0.4in; diameter = 4.5in; coils = 150'

describe('found by the second opinion', () => {
  it('a life by the published points does not hang on the cycles that are asked for', () => {
    const door = (limits: string) => known({ limits, spring: SPRING, adjuster: 'preload = 2 turns' })
    const usual = door('')('spring[0].life')!
    expect(usual.si).toBeGreaterThan(1e3)
    for (const cycles of [500, 2_000_000]) {
      const other = door(`limits { spring_cycles = ${cycles} because "agreed" }`)
      // beyond the published points there is no range strength, but the life is what it is
      expect(other('spring[0].range_strength')).toBeUndefined()
      expect(other('spring[0].fatigue_factor')).toBeUndefined()
      expect(other('spring[0].life')).toEqual(usual)
    }
  })

  it('over the yield a life is less than 1,000 cycles even where the spring is let back past its free position', () => {
    const door = known({ spring: 'wire = 0.4in; diameter = 4.5in; coils = 12', adjuster: 'preload = -0.1 turns' })
    expect(door('spring[0].stress_open')!.si).toBeLessThan(0)
    expect(door('spring[0].stress_ratio')!.si).toBeGreaterThan(0.87)
    expect([door('spring[0].life')!.bound, door('spring[0].life')!.si]).toEqual(['less', 1e3])
  })

  it('of one sprocket alone the other is what lacks, of a wind speed where it blows', () => {
    const missing = (operator: string, path: string, wind = '') => {
      const c = check(`opening "A" {\n  height = 10ft; ${wind}\n  drum { pipe = nps6_std; ring = 1in }\n  rails { between = 8ft; depth = 3in }\n  curtain { engagement = 2in; slat { pitch = 3in; thickness = 1in; weight = 2 lb/ft^2 } }\n  spring { ${SPRING} }\n  adjuster { holes = 8; preload = 1 turn }\n  operator { torque = 50 N*m; speed = 30 rpm; ${operator} }\n}\n`) // biome-ignore format: one text
      const r = c.door('A').result(path)
      return r.state === 'unknown' ? r.missing : 'known'
    }
    for (const path of ['torque_available', 'power_needed', 'door_speed', 'limit_turns_used'].map(
      n => `operator.${n}`,
    )) {
      expect(missing('sprocket_drive = 17', path), path).toEqual(['operator.sprocket_drum'])
      expect(missing('sprocket_drum = 48', path), path).toEqual(['operator.sprocket_drive'])
      expect([missing('', path), missing('sprocket_drive = 17; sprocket_drum = 48', path)]).toEqual(['known', 'known'])
    }
    const wind = (lines: string) => missing('', 'opening.wind_pressure', lines)
    expect(wind('wind = 90 mph')).toEqual(['opening.exposure', 'opening.height_above_ground'])
    expect(wind('wind = 90 mph; exposure = C')).toEqual(['opening.height_above_ground'])
    expect([wind('wind = 20 psf'), wind('wind = 90 mph; exposure = C; height_above_ground = 10ft')]).toEqual(['known', 'known']) // biome-ignore format: one expression
  })

  it('a gauge that the material has no sheet of leaves the weight unknown, and what hangs on it', () => {
    const door = known({
      slat: 'material = stainless; gauge = 26; developed = 4in',
      spring: SPRING,
      adjuster: 'preload = ceil(balance.preload, 1 turn / holes)',
    })
    for (const path of [
      'curtain.slat.weight',
      'curtain.weight',
      'balance.preload',
      'adjuster.preload',
      'balance.worst',
    ])
      expect(door(path), path).toBeUndefined()
    expect(door('balance.rate')).toBeDefined()
  })
})
