/**
 * Rules over the survey. The steps of the limits are DIN 18202 tables 1 and 2 (2 from memory), TMS 602, ACI 117 and
 * AISC 303 as the rules name them; the measurements are invented.
 */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const survey = (body: string, more = '') => check(openingWith(`survey {\n${body}\n}\n${more}`))
const metric = (width: number, body: string) =>
  check(`job "HS-2207" { units = metric }
opening "Dock 5" {
  width  = ${width}mm
  height = 2500mm
  survey { ${body} }
}
`)

describe('survey_width and survey_height', () => {
  // DIN 18202 table 1, raw reveals: 10 mm up to 1 m, 12 mm up to 3 m, 16 mm up to 6 m
  test.each([
    [1000, 10],
    [1001, 12],
    [3000, 12],
    [3001, 16],
    [6000, 16],
  ])('a width of %i mm may be %i mm off, either way', (width, limit) => {
    const at = (by: number) => metric(width, `width { middle = ${width + by}mm }`).of('survey_width').length
    expect([at(limit), at(-limit), at(limit + 0.1), at(-limit - 0.1)]).toEqual([0, 0, 1, 1])
  })

  test('beyond 6 m nothing is said until a limit is set', () => {
    expect(metric(6001, 'width { middle = 7000mm }').of('survey_width')).toEqual([])
    expect(
      metric(6001, 'width { middle = 7000mm } }\nlimits { opening_size = 20mm').one('survey_width').message,
    ).toContain('20 mm is allowed')
  })

  test('names the measurement and by how much it differs', () => {
    const f = survey('width { bottom = 12ft; middle = 12ft 1/16in; top = 11ft 11in }').one('survey_width')
    expect(f.text).toBe('11ft 11in')
    expect(f.severity).toBe('warning')
    expect(f.message).toContain('at the head (top) is 11 ft 11 in, 1 in less than the 12 ft written')
    expect(f.limit?.source).toContain('DIN 18202 table 1')
  })

  test('each of them is reported by itself', () => {
    const c = survey('width { bottom = 13ft; top = 11ft }\nheight { left = 11ft; right = 12ft }')
    expect(c.of('survey_width').map(f => f.text)).toEqual(['13ft', '11ft'])
    expect(c.of('survey_height').map(f => f.text)).toEqual(['11ft', '12ft'])
    expect(c.of('survey_height')[0]!.message).toContain('at the left jamb is 11 ft, 6 in less')
  })

  test('a limit of the job replaces the steps', () => {
    const limit = 'limits { opening_size = 1/8in }'
    expect(survey('height { left = 11ft 6 1/8in }', limit).of('survey_height')).toEqual([])
    const f = survey('height { left = 11ft 6 3/16in }', limit).one('survey_height')
    expect(f.message).toContain('1/8 in is allowed')
    expect(f.limit?.source).toContain('set in this file')
  })
})

describe('survey_square', () => {
  // DIN 18202 table 2, from memory: 12 mm for a longer side over 3 m and up to 6 m
  test('compares the difference of the diagonals, whichever is the longer', () => {
    const at = (rising: string, falling: string) =>
      survey(`diagonal { rising = ${rising}; falling = ${falling} }`).of('survey_square')
    expect(at('5072mm', '5060mm')).toEqual([])
    expect(at('5072.1mm', '5060mm')[0]!.text).toBe('5072.1mm')
    expect(at('5060mm', '5072.1mm')[0]!.text).toBe('5072.1mm')
    expect(at('16ft 7in', '16ft 8in')[0]!.message).toContain('differ by 1 in')
  })

  test('one diagonal alone says nothing', () => {
    expect(survey('diagonal { rising = 20ft }').of('survey_square')).toEqual([])
  })
})

describe('survey_plumb', () => {
  // 11 ft 6 in: TMS 602 3/8 in (up to 20 ft); ACI 117 1 in; AISC 303 138 in / 500 = 0.276 in
  test.each([
    ['masonry', '3/8in', '0.376in'],
    ['concrete', '1in', '1.001in'],
    ['steel', '0.276in', '0.277in'],
  ])('%s: %s passes, %s does not', (wall, passes, not) => {
    const at = (value: string) => survey(`plumb { right = ${value} }`, `wall = ${wall}`).of('survey_plumb').length
    expect([at(passes), at(not)]).toEqual([0, 1])
  })

  test('a wooden jamb has no limit until one is set', () => {
    expect(survey('plumb { left = 3in }', 'wall = wood').of('survey_plumb')).toEqual([])
    expect(
      survey('plumb { left = 3in }', 'wall = wood\nlimits { jamb_plumb = 1/2in }').one('survey_plumb').message,
    ).toContain('The left jamb is 3 in out of plumb over the height, 2 1/2 in more than the 1/2 in allowed')
  })
})

test('survey_level: half an inch passes (ACI 117), more does not', () => {
  expect(survey('level = 1/2in').of('survey_level')).toEqual([])
  expect(survey('level = 5/8in').one('survey_level').message).toContain(
    '5/8 in out of level over the width, 1/8 in more',
  )
})

describe('survey_between', () => {
  test('face: as far apart as the widest passes; the fix writes that', () => {
    const at = (between: string) =>
      survey('width { bottom = 12ft; top = 12ft 5/16in }', `rails { between = ${between} }`)
    expect(at('12ft 5/16in').of('survey_between')).toEqual([])
    const f = at('12ft 1/4in').one('survey_between')
    expect(f.severity).toBe('error')
    expect(f.message).toContain('measures 12 ft 5/16 in at the head, 1/16 in more')
    const fixed = at('12ft 1/4in').fixed('survey_between')
    expect(fixed.text).toContain('between = 12ft 5/16in')
    expect(fixed.of('survey_between')).toEqual([])
  })

  test('between the jambs: the rails go into the narrowest; the fix writes what is left of it', () => {
    const at = (between: string) =>
      survey(
        'width { bottom = 11ft 11 3/4in; top = 12ft }',
        `mount = between\nrails { between = ${between}; depth = 3in }`,
      )
    // 143.75 in - 2 x 3 in = 137.75 in = 11 ft 5 3/4 in
    expect(at('11ft 5 3/4in').of('survey_between')).toEqual([])
    expect(at('11ft 6in').one('survey_between').message).toContain(
      'measures 11 ft 11 3/4 in at the floor, 1/4 in less than the 12 ft',
    )
    const fixed = at('11ft 6in').fixed('survey_between')
    expect(fixed.text).toContain('between = 11ft 5 3/4in')
    expect(fixed.of('survey_between')).toEqual([])
  })
})

test('survey_headroom: exactly what the coil needs passes', () => {
  const door = survey('').door()
  const needed = door.number('drum.rise')! + door.number('drum.coil_diameter')! / 2 + 0.0254
  const at = (si: number) => survey(`headroom = ${(si * 1000).toFixed(9)}mm`).of('survey_headroom')
  expect(at(needed)).toEqual([])
  expect(at(needed - 0.0254)[0]!.message).toContain('It is 1 in short')
  expect(at(needed - 0.0254)[0]!.severity).toBe('error')
})

describe('survey_side_room', () => {
  test('each end by its side; without a house limit nothing is said', () => {
    const body = 'side_room_left = 10in\nside_room_right = 8in'
    expect(survey(body).of('survey_side_room')).toEqual([])
    const limits = (adjuster: string, drive: string) =>
      `limits { side_room_adjuster = ${adjuster}; side_room_drive = ${drive} }`
    expect(survey(body, limits('8in', '10in')).of('survey_side_room')).toEqual([])
    // the adjuster is on the right, so the drive is on the left
    const found = survey(body, limits('9in', '12in')).of('survey_side_room')
    expect(found.map(f => f.text)).toEqual(['10in', '8in'])
    expect(found[0]!.message).toContain('on the left, where the drive is, is 10 in; 12 in is asked for, 2 in more')
    expect(found[1]!.message).toContain('on the right, where the adjuster is, is 8 in; 9 in is asked for, 1 in more')
    // each with the source of its own limit
    const reasons = survey(body, limits('9in because "long bars"', '12in because "geared motor"')).of(
      'survey_side_room',
    )
    expect(reasons.map(f => f.limit!.source)).toEqual([
      'set in this file, because geared motor',
      'set in this file, because long bars',
    ])
  })
})

test('a survey with nothing measured breaks none of these', () => {
  expect(survey('').findings.map(f => f.rule)).toEqual(['handover_open'])
})
