/** The rules of the Language group that look at a whole opening or file; what the model finds is tested with the model. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { HOUSE, OPENING, openingWith } from '../../support/opening.ts'

const at = (snippet: string, files: Record<string, string> = {}) => check(openingWith(snippet), files)

describe('limit_loosened', () => {
  test.each([
    // limits that are the most of something: larger is looser
    ['drum_sag = 0.031 in/ft', 'drum_sag = 0.03 in/ft'],
    ['push_force = 25.1 lbf', 'push_force = 24 lbf'],
    ['slat_bow = 1/119', 'slat_bow = 1/120'],
    ['rate_difference = 11%', 'rate_difference = 10%'],
    // limits that are the least of something: smaller is looser
    ['spring_cycles = 9999', 'spring_cycles = 20000'],
    ['service_years = 9 year', 'service_years = 10 year'],
    ['bending_safety = 1.66', 'bending_safety = 1.67'],
    ['chain_safety = 4.9', 'chain_safety = 5'],
    ['operator_margin = 0.99', 'operator_margin = 1.2'],
    ['headroom_clearance = 15/16in', 'headroom_clearance = 1in'],
    ['sling_angle = 44deg', 'sling_angle = 45deg'],
    // ranges: wider is looser
    ['spring_index = [3.9, 16]', 'spring_index = [4, 16]'],
    ['spring_index = [4, 16.1]', 'spring_index = [5, 12]'],
    ['door_speed = [0.1 m/s, 0.3 m/s]', 'door_speed = [0.2 m/s, 0.25 m/s]'],
    // defaults in steps are judged by the opening: 12 ft by 11 ft 6 in
    ['opening_size = 17mm', 'opening_size = 16mm'],
    ['opening_square = 13mm', 'opening_square = 12mm'],
    ['rail_depth = 74mm', 'rail_depth = 75mm'],
    ['preload_difference = 1/7 turn', 'preload_difference = 1/8 turn'],
  ])('%s is looser, %s is not', (looser, notLooser) => {
    const c = at(`limits { ${looser} }`)
    const found = c.one('limit_loosened')
    expect(found.severity).toBe('error')
    expect(found.text).toBe(looser.slice(looser.indexOf('=') + 2))
    expect(found.message).toMatch(/looser than the usual .*no reason is given/)
    for (const fix of found.fixes) expect(c.apply(fix).of('limit_loosened')).toEqual([])
    expect(at(`limits { ${looser} because "agreed with the engineer" }`).of('limit_loosened')).toEqual([])
    expect(at(`limits { ${notLooser} }`).of('limit_loosened')).toEqual([])
  })

  test('an empty reason is none', () => {
    expect(at('limits { drum_sag = 0.04 in/ft because "  " }').of('limit_loosened')).toHaveLength(1)
  })

  test('where nothing is the default nothing can be loosened', () => {
    expect(at('limits { side_room_drive = 1in }').of('limit_loosened')).toEqual([])
  })

  test('a limit of the file is judged where it stands, once', () => {
    const c = check(`limits { drum_sag = 0.04 in/ft }\n${OPENING}`)
    expect(c.one('limit_loosened').text).toBe('0.04 in/ft')
    expect(c.fixed('limit_loosened').text).toContain('limits { drum_sag = 0.03 in/ft }')
  })

  test('for a whole file a default in steps counts by its loosest', () => {
    expect(check(`limits { opening_size = 16mm; jamb_plumb = 1in }\n${OPENING}`).of('limit_loosened')).toEqual([])
    expect(check(`limits { opening_size = 16.1mm }\n${OPENING}`).of('limit_loosened')).toHaveLength(1)
  })

  test('one increment is known in the opening only', () => {
    const found = check(`limits { preload_difference = 1/4 turn }\n${OPENING}`).one('limit_loosened')
    expect(found.text).toBe('opening "Dock 3"')
    expect(found.related[0]!.text).toBe('preload_difference = 1/4 turn')
    expect(
      check(`limits { preload_difference = 1/4 turn because "coarse wheel" }\n${OPENING}`).of('limit_loosened'),
    ).toEqual([])
  })

  test('each level is judged against the one it overrides', () => {
    const house = { 'stock/house.door': `${HOUSE}\nlimits { drum_sag = 0.01 in/ft }\n` }
    const use = 'use "stock/house.door"\n'
    // stricter than the default, looser than the house
    const inFile = check(`${use}limits { drum_sag = 0.02 in/ft }\n${OPENING}`, house)
    expect(inFile.one('limit_loosened').message).toContain('looser than the 0.01 in/ft of house.door')
    expect(inFile.one('limit_loosened').related[0]).toMatchObject({
      file: 'stock/house.door',
      text: 'drum_sag = 0.01 in/ft',
    })
    expect(inFile.fixed('limit_loosened').of('limit_loosened')).toEqual([])
    const inOpening = check(use + openingWith('limits { drum_sag = 0.015 in/ft }'), house)
    expect(inOpening.of('limit_loosened')).toHaveLength(1)
    // the file has a reason for 0.02; the opening is stricter than that
    const both = check(
      `${use}limits { drum_sag = 0.02 in/ft because "agreed" }\n${openingWith('limits { drum_sag = 0.015 in/ft }')}`,
      house,
    )
    expect(both.of('limit_loosened')).toEqual([])
  })

  test('a limit copied by `like` is judged in the opening that copies it', () => {
    const c = check(`${openingWith('limits { drum_sag = 0.04 in/ft }')}\nopening "Dock 4" like "Dock 3" {}\n`)
    expect(c.of('limit_loosened').map(f => f.text)).toEqual(['0.04 in/ft', 'like "Dock 3"'])
  })

  test('it cannot be allowed away', () => {
    const c = at('limits { drum_sag = 0.04 in/ft }\nallow limit_loosened because "we know"')
    expect(c.one('limit_loosened').accepted).toBeUndefined()
    expect(c.of('allow_refused')).toHaveLength(1)
  })
})

describe('missing_field', () => {
  const names = (snippet: string, drop: string[] = []): string[] =>
    check(openingWith(snippet, drop)).of('missing_field').map(f => f.message.match(/^`(\w+)` is missing/)?.[1] ?? f.message) // biome-ignore format: one expression

  test('the drives ask for what decides about them', () => {
    expect(names('operator { drive = motor }', ['operator'])).toEqual(['torque', 'speed'])
    expect(names('operator { drive = crank }', ['operator'])).toEqual(['ratio', 'hand_wheel'])
    expect(names('operator { drive = hand_chain }', ['operator'])).toEqual(['ratio', 'hand_wheel'])
    expect(names('operator { drive = push_up }', ['operator'])).toEqual([])
    expect(names('', ['operator'])).toEqual([])
  })

  test('a chain that is begun asks for the rest of it', () => {
    expect(names('operator { chain = ansi_50 }')).toEqual(['sprocket_drive', 'sprocket_drum', 'centers'])
    expect(names('operator { sprocket_drum = 48 }')).toEqual(['chain', 'sprocket_drive', 'centers'])
    expect(names('operator { chain = ansi_50; sprocket_drive = 17; sprocket_drum = 48; centers = 16in }')).toEqual([])
  })

  test('wind asks for the slat, and a speed for its place', () => {
    expect(names('wind = 20 psf')).toEqual(['inertia', 'section', 'yield'])
    expect(names('wind = 110 mph').toSorted()).toEqual([
      'exposure',
      'height_above_ground',
      'inertia',
      'section',
      'yield',
    ])
    expect(names('wind = 20 psf\ncurtain { windlocks = true }')).toEqual([])
  })

  test('fasteners ask for each other, unless an engineer decides anyway', () => {
    expect(names('rails { fastener_spacing = 24in }')).toEqual(['fastener_capacity'])
    expect(names('rails { fastener_capacity = 900 lbf }')).toEqual(['fastener_spacing'])
    expect(names('mount = between\nrails { between = 11ft; fastener_spacing = 24in }')).toEqual([])
  })

  test('every field that must be there is asked for once, and says what it would unlock', () => {
    const c = check('job "HS-2207" {}\nopening "Dock 3" {}\n')
    for (const name of ['width', 'height'])
      expect(c.of('missing_field').filter(f => f.message.startsWith(`\`${name}\` is missing`))).toHaveLength(1)
    expect(c.of('missing_field')).toHaveLength(7)
    for (const path of ['curtain', 'rails', 'drum', 'spring', 'adjuster'])
      expect(c.of('missing_field').some(f => f.message.includes(`has no \`${path}\``))).toBe(true)
    expect(c.of('missing_field')[1]!.message).toContain('opening.area')
    expect(c.of('missing_field').every(f => f.severity === 'warning')).toBe(true)
  })

  test('the hand of a spring asks for the side it is wound at: without it nobody knows whether it is right', () => {
    expect(names('', ['adjuster.side'])).toEqual(['side'])
    expect(names('adjuster { winding = clockwise }', ['adjuster.side'])).toEqual([])
    expect(names('adjuster { side = 3in }')).toEqual([])
    // without a hand it is `spring_hand` that asks for both, and an adjuster is missing as a whole
    const noHand = check(openingWith('', ['adjuster.side']).replaceAll('hand     = right', ''))
    expect(noHand.of('missing_field')).toEqual([])
    expect(noHand.of('spring_hand').map(f => f.message.includes('`side`'))).toEqual([true, true])
    expect(names('', ['adjuster'])).toHaveLength(1)
  })

  test('other optional fields are never asked for', () => {
    expect(names('', ['headroom', 'cycles', 'side_room_left', 'drum.shaft'])).toEqual([])
  })

  test('openings need a job', () => {
    const c = check(OPENING.replace(/job [^}]*}\n/, ''))
    expect(c.one('missing_field').message).toContain('no `job`')
    expect(c.fixed('missing_field').findings).toEqual([])
  })
})

describe('allow', () => {
  test('accepts a finding of its block, with its reason, and drops nothing', () => {
    const c = at('rails {\n  depth = 2 7/8in\n  allow engagement_clearance because "measured, runs free"\n}')
    expect(c.one('engagement_clearance').accepted).toBe('measured, runs free')
    expect(c.of('allow_unused')).toEqual([])
  })

  test('in another block accepts nothing and is a finding, which goes when it is removed', () => {
    const c = at('rails { depth = 2 7/8in }\ndrum {\n  allow engagement_clearance because "measured, runs free"\n}')
    expect(c.one('engagement_clearance').accepted).toBeUndefined()
    expect(c.one('allow_unused').fixes[0]!.safe).toBe(true)
    const after = c.fixed('allow_unused')
    expect(after.text).not.toContain('allow')
    expect(after.of('allow_unused')).toEqual([])
  })

  test('a rule of the language or one marked never is refused, a rule that is not known is named', () => {
    expect(at('allow wrong_dimension because "x"').of('allow_refused')).toHaveLength(1)
    expect(at('allow spring_yield because "x"').of('allow_refused')).toHaveLength(1)
    const c = at('allow headrom because "x"')
    expect(c.one('unknown_name').message).toContain('Did you mean `headroom`?')
    expect(c.fixed('unknown_name').of('unknown_name')).toEqual([])
  })

  test('is not copied by `like`', () => {
    const c = check(
      `${openingWith('rails {\n  depth = 2 7/8in\n  allow engagement_clearance because "measured"\n}')}\nopening "Dock 4" like "Dock 3" {}\n`,
    )
    expect(c.of('engagement_clearance').map(f => f.accepted)).toEqual(['measured', undefined])
  })
})
