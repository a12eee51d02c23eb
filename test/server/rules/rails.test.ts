import { describe, expect, test } from 'vitest'
import { ruleById } from '../../../server/rules/index.ts'
import { type Checked, check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const at = (snippet: string): Checked => check(openingWith(snippet))
const only = (c: Checked, rule: string): string => c.one(rule).message

/** A slat of given stiffness, 2 5/8 in high, as a block in the curtain. */
const slat = (inertia: string, section = '0.06 in^3', more = ''): string =>
  `curtain { ${more}slat { pitch = 2 5/8in; thickness = 0.875in; gauge = 20; developed = 3 3/4in; inertia = ${inertia}; section = ${section}; yield = 33 ksi } }\n`

/** Each fix removes the finding, and a second run has nothing left to fix. */
function fixesWork(c: Checked, rule: string, count = 1): void {
  const found = c.one(rule)
  expect(found.fixes).toHaveLength(count)
  for (const fix of found.fixes) {
    expect(fix.safe).toBe(false)
    const after = c.apply(fix)
    expect(after.of(rule), `${fix.title}\n${after.summary()}`).toEqual([])
    expect(after.findings.filter(f => ['syntax', 'unknown_name', 'wrong_dimension'].includes(f.rule))).toEqual([])
  }
}

describe('rails_between', () => {
  test('on the face of the wall the width itself passes, a sixteenth less does not', () => {
    expect(at('rails { between = 12ft }').of('rails_between')).toEqual([])
    const c = at('rails { between = 11ft 11 15/16in }')
    expect(only(c, 'rails_between')).toContain('11 ft 11 15/16 in apart, 1/16 in less than the opening is wide (12 ft)')
    expect(c.one('rails_between').text).toBe('11ft 11 15/16in')
    fixesWork(c, 'rails_between')
  })

  test('between the jambs the two depths count', () => {
    // 12ft - 2 * 3.25in = 11ft 5.5in (derived: own number)
    expect(at('mount = between\nrails { between = 11ft 5 1/2in }').of('rails_between')).toEqual([])
    const c = at('mount = between\nrails { between = 11ft 6in }')
    expect(only(c, 'rails_between')).toContain('need 12 ft 1/2 in')
    expect(only(c, 'rails_between')).toContain('1/2 in more than the opening has (12 ft)')
    fixesWork(c, 'rails_between')
  })
})

describe('headroom', () => {
  // a rise of 10 in, half a coil of 15.8378 in and 1 in (coil diameter worked out by hand from the spiral: derived, own number)
  const needed = 10 + 15.837763783030557 / 2 + 1

  test('exactly enough passes', () => {
    expect(at(`headroom = ${needed.toFixed(9)}in\ndrum { rise = 10in }`).of('headroom')).toEqual([])
  })

  test('a little less does not, and the message adds it up', () => {
    const c = at('headroom = 18in\ndrum { rise = 10in }')
    const message = only(c, 'headroom')
    expect(message).toContain('1 ft 6 in')
    expect(message).toContain('10 in above the head')
    expect(message).toContain('1 ft 3 13/16 in')
    expect(message).toContain(`${(needed - 18).toPrecision(4)} in short`)
    expect(c.one('headroom').severity).toBe('error')
  })

  test('the limit can be set, and an unknown headroom is no finding', () => {
    expect(at('headroom = 22in\nlimits { headroom_clearance = 8in }').of('headroom')).toHaveLength(1)
    expect(check(openingWith('', ['headroom'])).of('headroom')).toEqual([])
  })
})

describe('side_room', () => {
  test('nothing is asked for until a limit is set', () => {
    expect(at('side_room_right = 1in\nside_room_left = 1in').of('side_room')).toEqual([])
  })

  test('each end has its own side and limit', () => {
    const c = at('limits { side_room_adjuster = 12 1/16in; side_room_drive = 18 1/8in }')
    expect(c.of('side_room').map(f => f.text)).toEqual(['18in', '12in'])
    expect(c.of('side_room')[0]!.message).toContain(
      'On the left, where the drive is, there is side room of 18 in; 18 1/8 in is asked for',
    )
    expect(c.of('side_room')[1]!.message).toContain('1/16 in more')
    expect(at('limits { side_room_adjuster = 12in; side_room_drive = 18in }').of('side_room')).toEqual([])
  })

  test('each finding names the source of the limit that it was judged by', () => {
    const c = at(
      'limits { side_room_adjuster = 13in because "long bars"; side_room_drive = 19in because "geared motor" }',
    )
    expect(c.of('side_room').map(f => f.limit)).toEqual([
      { text: '19 in or more at the drive end', source: 'set in this file, because geared motor' },
      { text: '13 in or more at the adjuster end', source: 'set in this file, because long bars' },
    ])
  })

  test('without an operator the drive end is the one without the adjuster', () => {
    const c = check(openingWith('limits { side_room_drive = 3ft }\nadjuster { side = left }', ['operator']))
    expect(c.of('side_room').map(f => f.text)).toEqual(['12in'])
  })
})

describe('engagement_clearance', () => {
  test('a quarter of an inch passes, less does not', () => {
    expect(at('rails { depth = 3in }').of('engagement_clearance')).toEqual([])
    const c = at('rails { depth = 2 15/16in }')
    expect(only(c, 'engagement_clearance')).toContain('3/16 in of it stays free; 1/4 in is asked for')
    fixesWork(c, 'engagement_clearance', 2)
  })

  test('slats longer than the groove are told so', () => {
    expect(only(at('rails { depth = 2 1/2in }'), 'engagement_clearance')).toContain('1/4 in too long')
  })

  test('the fix keeps the unit of the author', () => {
    const c = at('rails { depth = 71mm }')
    // 2 3/4in + 1/4in = 76.2 mm, up to whole millimetres (derived: own number)
    expect(c.fixed('engagement_clearance', 'depth').text).toContain('depth = 77mm')
  })
})

describe('rail_depth', () => {
  test('75 mm above 3.5 m clear width, 60 mm up to it', () => {
    expect(at('rails { depth = 75mm }\ncurtain { engagement = 60mm }').of('rail_depth')).toEqual([])
    const c = at('rails { depth = 74.9mm }\ncurtain { engagement = 60mm }')
    expect(c.one('rail_depth').severity).toBe('note')
    expect(only(c, 'rail_depth')).toContain('12 ft')
    fixesWork(c, 'rail_depth')
    expect(at('width = 3500mm\nrails { depth = 60mm }\ncurtain { engagement = 45mm }').of('rail_depth')).toEqual([])
    expect(at('width = 3501mm\nrails { depth = 60mm }\ncurtain { engagement = 45mm }').of('rail_depth')).toHaveLength(1)
  })
})

describe('fastener_spacing', () => {
  test('750 mm passes, more does not', () => {
    expect(at('rails { fastener_spacing = 750mm; fastener_capacity = 900 lbf }').of('fastener_spacing')).toEqual([])
    const c = at('rails { fastener_spacing = 751mm; fastener_capacity = 900 lbf }')
    expect(only(c, 'fastener_spacing')).toContain('29.57 in apart; 29.53 in at most')
    expect(only(c, 'fastener_spacing')).toContain('engineer')
    fixesWork(c, 'fastener_spacing')
  })
})

describe('fastener_load', () => {
  // 20 psf on 12ft 1in by 11ft 6in, half of it on one rail: 20 * 12.0833 * 11.5 / 2 = 1389.58 lbf. A rail of 138 in with
  // 6 in at each end and 24 in apart has ceil(126 / 24) + 1 = 7 fasteners: 198.512 lbf each (derived: own numbers)
  const wind = (capacity: string): string =>
    `wind = 20 psf\nrails { fastener_spacing = 24in; fastener_capacity = ${capacity} }`

  test('at the capacity it passes, above it does not', () => {
    expect(at(wind('198.5121 lbf')).of('fastener_load')).toEqual([])
    const c = at(wind('198 lbf'))
    expect(only(c, 'fastener_load')).toContain(
      'each of the 7 fasteners of a rail carries 198.5 lbf; 198 lbf is allowed',
    )
    expect(only(c, 'fastener_load')).toContain('engineer')
    fixesWork(c, 'fastener_load')
  })

  test('the fix gives as many as are needed', () => {
    // 1389.58 / 100 = 13.9: 14 fasteners, 126 in / 13 = 9.692 in, down to 9 11/16 in (derived: own numbers)
    expect(at(wind('100 lbf')).fixed('fastener_load').text).toContain('fastener_spacing = 9 11/16in')
  })

  test('between the jambs an engineer decides', () => {
    const c = at(`mount = between\n${wind('10 lbf').replace('rails {', 'rails { between = 11ft 5in;')}`)
    expect(c.one('fastener_load').severity).toBe('note')
    expect(only(c, 'fastener_load')).toContain('engineer must decide')
  })

  test('low in exposure B a pressure from a wind speed is said to be small', () => {
    const said = (exposure: string, height: string): boolean =>
      at(`wind = 115 mph\nexposure = ${exposure}\nheight_above_ground = ${height}\n${slat('0.001 in^4', '0.001 in^3')}`)
        .one('slat_stress')
        .message.includes('may be too small in exposure B this low')
    expect([said('B', '6ft'), said('B', '29ft'), said('B', '30ft'), said('C', '6ft')]).toEqual([
      true,
      true,
      false,
      false,
    ])
  })

  test('a wind speed is said to be no design pressure', () => {
    const c = at(
      'wind = 110 mph\nexposure = C\nheight_above_ground = 15ft\nrails { fastener_spacing = 24in; fastener_capacity = 100 lbf }',
    )
    expect(only(c, 'fastener_load')).toContain("a design pressure is an engineer's to give")
  })
})

// 20 psf on a slat 2.625 in high: 0.364583 lbf/in over 145 in (derived: own numbers, from the formulas of a simply
// supported beam, Machinery's Handbook table of beams, case 1, from memory)
const w = (20 / 144) * 2.625
const L = 145

describe('slat_stress', () => {
  const section = ((w * L * L) / 8 / (33_000 / 1.67)).toFixed(12)

  test('exactly yield over 1.67 passes, a little more does not', () => {
    expect(at(`wind = 20 psf\n${slat('0.08 in^4', `${section} in^3`)}`).of('slat_stress')).toEqual([])
    const c = at(`wind = 20 psf\n${slat('0.08 in^4', `${Number(section) * 0.999} in^3`)}`)
    expect(only(c, 'slat_stress')).toContain('19.78 ksi')
    expect(only(c, 'slat_stress')).toContain('allows 19.76 ksi')
    expect(c.one('slat_stress').severity).toBe('error')
  })

  test('no wind, no finding', () => {
    expect(at(`wind = 0 psf\n${slat('0.08 in^4', '0.001 in^3')}`).of('slat_stress')).toEqual([])
  })
})

describe('slat_bow', () => {
  const inertia = (5 * w * L ** 4) / (384 * 29e6 * (L / 120))

  test('exactly a 120th passes, a little more does not', () => {
    expect(at(`wind = 20 psf\n${slat(`${(inertia * (1 + 1e-10)).toFixed(13)} in^4`)}`).of('slat_bow')).toEqual([])
    const c = at(`wind = 20 psf\n${slat(`${(inertia / 2).toFixed(12)} in^4`)}`)
    // twice the bow that is allowed, 145 in / 120 = 1.2083 in (derived: own numbers)
    expect(only(c, 'slat_bow')).toContain('bow 2.417 in over 12 ft 1 in, 1.208 in more than the 1.208 in')
  })

  test('under windlocks it is left to an engineer', () => {
    const c = at(`wind = 20 psf\n${slat('0.001 in^4', '0.001 in^3', 'windlocks = true; ')}`)
    for (const rule of ['slat_bow', 'slat_stress', 'slat_pull_out', 'fastener_load']) expect(c.of(rule)).toEqual([])
    expect(c.one('windlock_pull').severity).toBe('note')
    expect(only(c, 'windlock_pull')).toContain('an engineer must decide')
  })
})

describe('slat_pull_out', () => {
  test('half an inch left passes, less does not, and the fix gives enough', () => {
    const bow = (5 * w * L ** 4) / (384 * 29e6 * 0.02)
    const draw = (4 * bow * bow) / (3 * L)
    expect(
      at(`wind = 20 psf\n${slat('0.02 in^4', '0.06 in^3', `engagement = ${(draw + 0.5 + 1e-9).toFixed(9)}in; `)}`).of(
        'slat_pull_out',
      ),
    ).toEqual([])
    const c = at(`wind = 20 psf\n${slat('0.02 in^4', '0.06 in^3', 'engagement = 9/16in; ')}`)
    expect(only(c, 'slat_pull_out')).toContain(`${draw.toPrecision(4)} in out of its rail`)
    fixesWork(c, 'slat_pull_out')
  })

  test('where the rail is not deep enough for it, the fix makes it deeper too', () => {
    const c = at(`wind = 20 psf\n${slat('0.004 in^4', '0.06 in^3')}\nrails { depth = 3in }`)
    const after = c.fixed('slat_pull_out', 'depth')
    expect(after.of('slat_pull_out')).toEqual([])
    expect(after.of('engagement_clearance')).toEqual([])
  })
})

test('findings name the source of their limit, and who set it', () => {
  expect(at('rails { depth = 2 7/8in }').one('engagement_clearance').limit).toEqual({
    text: '1/4 in or more',
    source: 'common practice, no source',
  })
  expect(at('limits { slat_clearance = 1in }').one('engagement_clearance').limit!.source).toBe('set in this file')
  expect(ruleById('engagement_clearance')!.never).toBeUndefined()
})

describe('slat_weight', () => {
  const SLAT = 'pitch = 3in; thickness = 0.875in; developed = 4in'
  const inside = (lines: string, more = '') => at(`curtain { slat { ${SLAT}; ${lines} } }\n${more}`)
  const copy = (base: string, body: string) => check(`${openingWith(`curtain { slat { ${SLAT}; ${base} } }`)}\nopening "Dock 4" like "Dock 3" {\n  curtain {\n    slat {\n      ${body}\n    }\n  }\n}\n`) // biome-ignore format: one text
  // 20 gauge sheet is 0.0359 in (Machinery's Handbook, table 20), steel 7850 kg/m^3: 0.0359 in x 4/3 x 40.833 lb/ft^2/in
  const TWENTY = 1.955

  test('either alone is right', () => {
    expect(inside('gauge = 20').of('slat_weight')).toEqual([])
    expect(inside('weight = 2.1 lb/ft^2').of('slat_weight')).toEqual([])
  })

  test('of both the weight counts, which is said, and either line can go', () => {
    const c = inside('gauge = 20; weight = 2.4 lb/ft^2')
    const f = c.one('slat_weight')
    expect([f.severity, f.text, f.related.map(r => r.text)]).toEqual(['warning', '20', ['2.4 lb/ft^2']])
    expect(f.message).toContain('weighs 2.4 lb/ft^2, since its `weight` is written')
    expect(f.message).toContain('`gauge = 20`, which would make it 1.955 lb/ft^2')
    const byGauge = c.fixed('slat_weight', 'Remove `weight`')
    expect(byGauge.of('slat_weight')).toEqual([])
    expect(byGauge.door().number('curtain.slat.weight')! / (0.45359237 / 0.3048 ** 2)).toBeCloseTo(TWENTY, 3)
    const byWeight = c.fixed('slat_weight', 'Remove `gauge`')
    expect(byWeight.of('slat_weight')).toEqual([])
    expect(byWeight.door().show('curtain.slat.weight')).toBe('2.4 lb/ft^2')
    expect(inside('gauge = 20; weight = 2.4 lb/ft^2', 'allow slat_weight because "weighed"').one('slat_weight').accepted).toBe('weighed') // biome-ignore format: one expression
  })

  test('a gauge that gives no weight is told so', () => {
    const c = at('curtain { slat { pitch = 3in; thickness = 1in; gauge = 20; weight = 2 lb/ft^2 } }')
    expect(c.one('slat_weight').message).toContain('`gauge = 20`, which gives no weight here, changes nothing')
    expect(c.one('slat_weight').fixes.map(f => f.title)).toEqual(['Remove `gauge`: the weight stays 2 lb/ft^2'])
  })

  test('of a copied line and one written over it the nearer counts, and nothing is said', () => {
    const weights = (base: string, body: string) => {
      const c = copy(base, body)
      expect(c.of('slat_weight')).toEqual([])
      return ['Dock 3', 'Dock 4'].map(mark => c.door(mark).show('curtain.slat.weight'))
    }
    const [gauge, weight] = [`${TWENTY} lb/ft^2`, '2.4 lb/ft^2']
    expect(weights('weight = 2.4 lb/ft^2', 'gauge = 20')).toEqual([weight, gauge])
    expect(weights('gauge = 20', 'weight = 2.4 lb/ft^2')).toEqual([gauge, weight])
  })

  test('a gauge that takes the place of a copied weight and gives none is told so', () => {
    const over = (lines: string, base = 'weight = 2.4 lb/ft^2') => check(`${openingWith(`curtain { slat { pitch = 3in; thickness = 1in; ${base} } }`)}\nopening "Dock 4" like "Dock 3" {\n  curtain {\n    slat {\n      ${lines}\n    }\n  }\n}\n`) // biome-ignore format: one text
    const c = over('gauge = 20')
    const f = c.one('slat_weight')
    expect([f.opening, f.text, f.related.map(r => r.text)]).toEqual(['Dock 4', '20', ['2.4 lb/ft^2']])
    expect(f.message).toContain('the weight that is copied, 2.4 lb/ft^2, but without `developed` it gives none')
    expect(c.fixed('slat_weight', 'Remove `gauge`').door('Dock 4').show('curtain.slat.weight')).toBe('2.4 lb/ft^2')
    expect(over('gauge = 40; developed = 4in').one('slat_weight').message).toContain('has no such gauge')
    expect(over('gauge = 20; developed = 4in').of('slat_weight')).toEqual([])
    // where no weight was copied nothing has been lost
    expect(over('gauge = 20', 'core = 0 lb/ft^2').of('slat_weight')).toEqual([])
  })

  test('both written over what is copied are as if nothing was', () => {
    for (const both of ['gauge = 20; weight = 2.4 lb/ft^2', 'weight = 2.4 lb/ft^2; gauge = 20']) {
      const c = copy('weight = 3 lb/ft^2', both)
      expect([c.one('slat_weight').opening, c.door('Dock 4').show('curtain.slat.weight')]).toEqual(['Dock 4', '2.4 lb/ft^2']) // biome-ignore format: one expression
    }
  })

  test('where both are copied, it is said once, where they stand', () => {
    expect(copy('gauge = 20; weight = 2.4 lb/ft^2', 'thickness = 1in').one('slat_weight').opening).toBe('Dock 3')
    const stock = check(
      `slat both { ${SLAT}; gauge = 20; weight = 2.4 lb/ft^2 }\n${openingWith('curtain { slat = both }')}`,
    )
    expect(stock.one('slat_weight').opening).toBeUndefined()
    expect(stock.fixed('slat_weight', 'Remove `weight`').of('slat_weight')).toEqual([])
  })
})
