/** Values that follow where nothing is written for them [own arithmetic]. */
import { expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const IN = 0.0254
const door = (snippet: string, drop: readonly string[] = []) => check(openingWith(snippet, drop)).door()

test('the drum spans from rail to rail and over both of them: 12 ft 1 in and twice 3 1/4 in', () => {
  expect(door('', ['drum.span']).number('drum.span')! / IN).toBeCloseTo(145 + 2 * 3.25, 9)
})

// DIN 18202 table 2, from memory: 8 mm over 1 m and up to 3 m, 12 mm up to 6 m
test.each([
  ['width = 2m\nheight = 4m', 0.012],
  ['width = 4m\nheight = 2m', 0.012],
  ['width = 2m\nheight = 3m', 0.008],
])('the longer side decides about the diagonals: %s', (size, limit) => {
  expect(door(size).number('limits.opening_square')).toBeCloseTo(limit, 12)
})

test.each(['stress_open', 'stress_closed'])(
  'of a line of two springs each has half of the moment that their rate gives: %s',
  name => {
    const stress = (count: number, rate: number) =>
      door(
        `spring { wire = 1/2in; diameter = 4.9in; coils = 160; count = ${count}; rate = ${rate} lbf*in/turn; hand = right }`,
      ).number(`spring.${name}`)!
    expect(stress(2, 300) / stress(1, 150)).toBeCloseTo(1, 9)
    expect(stress(1, 300) / stress(1, 150)).toBeCloseTo(2, 9)
  },
)

test('a basic wind speed is no pressure before exposure and height are known, and each is named that is not', () => {
  const missing = (more: string) => {
    const r = door(`wind = 110 mph\n${more}`).result('wind_pressure')
    return r.state === 'unknown' ? r.missing : []
  }
  expect(missing('')).toEqual(['opening.exposure', 'opening.height_above_ground'])
  expect(missing('exposure = C')).toEqual(['opening.height_above_ground'])
  expect(missing('height_above_ground = 20ft')).toEqual(['opening.exposure'])
  expect(missing('exposure = C; height_above_ground = 20ft')).toEqual([])
  expect(door('wind = 20 psf').show('wind_pressure')).toBe('20 psf')
})

test('of one sprocket alone the other is missing; of none the ratio is 1', () => {
  const motor = (more: string) => door(`operator { drive = motor; torque = 900 lbf*in; speed = 28 rpm; ${more} }`)
  const missing = (more: string, name: string) => {
    const r = motor(more).result(`operator.${name}`)
    return r.state === 'unknown' ? r.missing : []
  }
  for (const name of ['torque_available', 'door_speed', 'power_needed']) {
    expect(missing('sprocket_drive = 17', name), name).toEqual(['operator.sprocket_drum'])
    expect(missing('sprocket_drum = 48', name), name).toEqual(['operator.sprocket_drive'])
    expect(missing('', name), name).toEqual([])
  }
  // 900 lbf*in, 90 % of it, on 48 teeth from 16
  expect(motor('').show('operator.torque_available')).toBe('810 lbf*in')
  expect(motor('sprocket_drive = 16; sprocket_drum = 48').show('operator.torque_available')).toBe('2430 lbf*in')
})

test('the operator is where the adjuster is not', () => {
  const side = (adjuster: string) => door(`adjuster { side = ${adjuster} }`).word('operator.side')
  expect([side('left'), side('right')]).toEqual(['right', 'left'])
  expect(door('', ['adjuster.side']).word('operator.side')).toBeUndefined()
})

test('what a certified range strength says of the life: on which side of the cycles asked for it lies', () => {
  const life = (range: string) => {
    const r = door(`limits { spring_cycles = 20000 }\nspring { wire = 1/2in; diameter = 4.9in; coils = 200; hand = right; range_strength = ${range} }`).result('spring.life') // biome-ignore format: one call
    return r.state === 'known' && r.value.kind === 'number' ? [r.value.bound, Math.round(r.value.si)] : []
  }
  expect(life('300 ksi')).toEqual(['more', 20000])
  expect(life('1 ksi')).toEqual(['less', 20000])
})
