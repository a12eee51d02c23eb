/** What rules say and offer in their rarer cases: the other end of a range, nothing left, one of several, no fix that helps. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const at = (snippet: string, drop: readonly string[] = []) => check(openingWith(snippet, drop))
const titles = (c: ReturnType<typeof at>, rule: string) => c.one(rule).fixes.map(f => f.title)

describe('slings', () => {
  test('several of them, each with its share', () => {
    const c = at('rigging { slings = 2 }\nlimits { sling_spacing = 5ft }')
    // 12 ft 6 1/2 in by 2, and by 5 ft
    expect(c.one('sling_spacing').message).toContain('Each of 2 slings carries 6 ft 3 1/4 in of the curtain')
    expect(titles(c, 'sling_spacing')).toEqual(['Write `slings = 3`'])
  })

  test('no number of slings is offered that nobody would hang', () => {
    const c = at('rigging { slings = 2; sling_angle = 45deg; sling_capacity = 0.2 lbf }')
    expect(titles(c, 'sling_load')).toEqual([])
  })

  test('without slings the angle says nothing of a load', () => {
    const message = at('rigging { sling_angle = 40deg }').one('sling_angle').message
    expect(message.includes('At this angle each carries')).toBe(
      at('rigging { sling_angle = 40deg }').door().number('rigging.load_each') !== undefined,
    )
  })

  test('an angle between whole degrees is written up, and a right angle is still one', () => {
    const fixed = (limit: string) =>
      titles(at(`rigging { sling_angle = 40deg }\nlimits { sling_angle = ${limit} }`), 'sling_angle')
    expect(fixed('59.2deg')[0]).toContain('Write `sling_angle = 60deg`')
    expect(fixed('90deg')[0]).toContain('Write `sling_angle = 90deg`')
  })
})

describe('slats in the wind', () => {
  const slat = (engagement: string, depth: string) =>
    at(
      `wind = 20 psf\nrails { depth = ${depth} }\ncurtain { engagement = ${engagement}; slat { pitch = 2 5/8in; thickness = 0.875in; gauge = 20; developed = 3 3/4in; inertia = 0.002 in^4; section = 0.06 in^3; yield = 33 ksi } }`,
    )

  test('drawn out altogether', () => {
    const c = slat('2in', '4in')
    const [bow, span] = [c.door().number('curtain.bow')! / 0.0254, 145]
    // 4 bow^2 / (3 span) of the 2 in
    const out = (4 * bow * bow) / (3 * span) - 2
    expect(out).toBeGreaterThan(1)
    expect(c.one('slat_pull_out').message).toContain(
      `of the 2 in in it they leave the rails by ${out.toPrecision(4)} in`,
    )
  })

  test('the fix deepens a rail that is not deep enough for it, and leaves one that is', () => {
    const shallow = slat('2in', '2 1/2in')
    expect(titles(shallow, 'slat_pull_out')[0]).toMatch(/^Write `engagement = .+in` and `depth = .+in`$/)
    expect(shallow.fixed('slat_pull_out').of('engagement_clearance')).toEqual([])
    expect(titles(slat('2in', '4ft'), 'slat_pull_out')[0]).toMatch(/^Write `engagement = [^`]+in`$/)
  })
})

describe('springs', () => {
  const line = (more = '', coils = 110) =>
    `spring {\n  wire = 1/2in\n  diameter = 4.9in\n  coils = ${coils}\n  hand = right\n${more}}\n`

  test('are called by their number where they have no name and there are several', () => {
    expect(
      at(line() + line())
        .of('spring_yield')
        .map(f => f.message.slice(0, 8)),
    ).toEqual(['Spring 1', 'Spring 2'])
    expect(at(line()).one('spring_yield').message.slice(0, 10)).toBe('The spring')
  })

  test('one of a line of several is lost, or the only one', () => {
    const lost = (more: string, coils = 110) =>
      at(`drum { drop_guard = false }\n${line(more, coils)}`).one('spring_lost').message
    expect(lost('  count = 2\n', 300)).toContain('With one of the 2 of the spring gone, up to ')
    expect(lost('')).toContain('With the spring gone, up to ')
  })

  test('the longest of them is the one to change, wherever it stands', () => {
    const long = (first: number, second: number) =>
      at(
        `spring one { wire = 1/2in; diameter = 4.9in; coils = ${first}; hand = right }\nspring two { wire = 1/2in; diameter = 4.9in; coils = ${second}; hand = right }`,
      ).one('spring_length').text
    expect([long(200, 190), long(190, 200)]).toEqual(['200', '200'])
  })

  test('wound up to nothing they take no shaft at all', () => {
    const c = at('spring { wire = 2in; diameter = 2.1in; coils = 10; hand = right }')
    expect(c.door().number('spring.inside_wound')!).toBeLessThan(0)
    expect(c.one('spring_on_shaft').message).toContain('which takes a shaft of 0 in at most')
  })

  test('without a hand, and with no side to say which', () => {
    const missing = (drop: readonly string[]) =>
      at('spring { wire = 1/2in; diameter = 4.9in; coils = 160 }', drop).one('spring_hand')
    const needed = missing([])
    expect([needed.severity, needed.fixes.map(f => f.title)]).toEqual(['note', ['Write `hand = right`']])
    expect(needed.message).toContain(
      'wound counterclockwise with its shaft end toward the adjuster, it needs a right-hand',
    )
    const open = missing(['adjuster.side'])
    expect([open.severity, open.fixes]).toEqual(['note', []])
    expect(open.message).toContain('which one it needs is not known before the adjuster')
  })
})

describe('sprockets', () => {
  test('the one on the drum where that is the small one', () => {
    const c = at('operator { sprocket_drive = 30; sprocket_drum = 15; chain = ansi_50; centers = 16 3/4in }')
    expect(c.one('sprocket_teeth').text).toBe('15')
    expect(c.one('sprocket_teeth').message).toContain('The sprocket on the drum has 15 teeth; 17 or more')
    expect(titles(c, 'sprocket_teeth')).toEqual(['Write `sprocket_drive = 34` and `sprocket_drum = 17`'])
  })

  test('two alike: the one on the operator', () => {
    const c = at('operator { sprocket_drive = 15; sprocket_drum = 15; chain = ansi_50; centers = 16 3/4in }')
    expect(c.one('sprocket_teeth').message).toContain('The sprocket on the operator has 15 teeth')
  })
})

describe('survey', () => {
  test('the narrowest place decides between the jambs, and the widest on the face, in whatever order they are measured', () => {
    const measured = (mount: string, between: string) =>
      at(
        `mount = ${mount}\nrails { between = ${between}; depth = 3in }\nsurvey { width { bottom = 12ft; middle = 12ft 1in; top = 11ft 11in } }`,
      ).one('survey_between')
    expect(measured('between', '11ft 7in').message).toContain('measures 11 ft 11 in at the head, 2 in less')
    expect(measured('face', '12ft').message).toContain('measures 12 ft 1 in at half height, 1 in more')
  })

  test('rails that leave no room between them are to be of less depth, and nothing is written', () => {
    const c = at(
      'mount = between\nrails { between = 1ft; depth = 6ft 1in }\nsurvey { width { bottom = 12ft; middle = 12ft; top = 12ft } }',
    )
    expect(c.one('survey_between').message).toContain('Take rails of less depth')
    expect(titles(c, 'survey_between')).toEqual([])
  })

  test('the other diagonal is pointed at, whichever is the longer', () => {
    const other = (rising: string, falling: string) =>
      at(`survey { diagonal { rising = ${rising}; falling = ${falling} } }`)
        .one('survey_square')
        .related.filter(r => r.message.startsWith('the other'))
        .map(r => r.text)
    expect([other('16ft 9in', '16ft 7in'), other('16ft 6in', '16ft 8in')]).toEqual([['16ft 7in'], ['16ft 6in']])
  })

  test.each([
    ['left', 'right'],
    ['right', 'left'],
  ])('without an operator the drive end is the one without the adjuster: adjuster %s, drive %s', (adjuster, drive) => {
    const c = at(
      `adjuster { side = ${adjuster} }\nlimits { side_room_drive = 3ft }\nsurvey { side_room_left = 10in; side_room_right = 11in }`,
      ['operator'],
    )
    for (const rule of ['side_room', 'survey_side_room'])
      expect(c.one(rule).message, rule).toMatch(new RegExp(`on the ${drive}, where the drive is`, 'i'))
  })
})

test('a spring that lasts less than is known is told so at that bound', () => {
  const c = at('cycles = 100/year\nspring { wire = 1/2in; diameter = 4.9in; coils = 110; hand = right }')
  expect(c.one('service_life').message).toMatch(
    /is reckoned to last less than 1,000 cycles; .* for 10 years are 1,000\./,
  )
})

test.each([
  ['alone on its line', '  width = 12ft\n  ALLOW\n  height = 11ft\n', '  width = 12ft\n  height = 11ft\n'],
  [
    'with blanks and tabs around',
    '  width = 12ft\n\t ALLOW \t\n  height = 11ft\n',
    '  width = 12ft\n  height = 11ft\n',
  ],
  [
    'with line ends of Windows',
    '  width = 12ft\r\n  ALLOW\r\n  height = 11ft\r\n',
    '  width = 12ft\r\n  height = 11ft\r\n',
  ],
  ['before another on its line', '  ALLOW ; width = 12ft\n  height = 11ft\n', '  width = 12ft\n  height = 11ft\n'],
  ['after another on its line', '  width = 12ft ; ALLOW\n  height = 11ft\n', '  width = 12ft\n  height = 11ft\n'],
  ['between two', '  width = 12ft; ALLOW; height = 11ft\n', '  width = 12ft; height = 11ft\n'],
  ['before the brace', '  width = 12ft\n  height = 11ft\n  ALLOW', '  width = 12ft\n  height = 11ft\n  '],
])('an `allow` that is taken out leaves no trace: %s', (_, body, after) => {
  const file = (inside: string) => `opening "Dock 3" {\n${inside}}\n`
  const allow = 'allow headroom because "seen on site"'
  expect(check(file(body.replace('ALLOW', allow))).fixed('allow_unused').text).toBe(file(after))
})

describe('fasteners', () => {
  const rails = (more: string, drop: readonly string[] = []) => at(`rails { ${more} }`, drop)

  test('between the jambs an engineer is asked for, where there is wind and something is written of fasteners', () => {
    const note = (snippet: string) =>
      at(`mount = between\n${snippet}`)
        .of('fastener_load')
        .map(f => [f.severity, f.text])
    expect(note('wind = 20 psf\nrails { fastener_spacing = 24in; between = 11ft }')).toEqual([['note', '24in']])
    expect(note('wind = 20 psf\nrails { fastener_capacity = 900 lbf; between = 11ft }')).toEqual([['note', '900 lbf']])
    expect(note('wind = 20 psf\nrails { between = 11ft }')).toEqual([])
    expect(note('rails { fastener_spacing = 24in; between = 11ft }')).toEqual([])
  })

  test('no spacing is offered that would put them on top of each other', () => {
    const weak = at('wind = 20 psf\nrails { fastener_spacing = 24in; fastener_capacity = 0.1 lbf }')
    expect(titles(weak, 'fastener_load')).toEqual([])
    expect(rails('fastener_spacing = 24in; fastener_capacity = 0.1 lbf').of('fastener_load')).toEqual([])
  })

  test('exactly as many as are needed: 7 that carry 1389 lbf take 10 of 150 lbf and 9 of a ninth of it', () => {
    const all = 7 * at('wind = 20 psf\nrails { fastener_spacing = 24in; fastener_capacity = 150 lbf }').door().number('rails.fastener_load')! // biome-ignore format: one row
    const fix = (n: number) => titles(at(`wind = 20 psf\nrails { fastener_spacing = 24in; fastener_capacity = ${(all / n / 4.4482216152605).toFixed(9)} lbf }`), 'fastener_load')[0] // biome-ignore format: one row
    expect(fix(9)).toContain(': 9 fasteners in a rail')
    expect(fix(8.999)).toContain(': 9 fasteners in a rail')
    expect(fix(9.001)).toContain(': 10 fasteners in a rail')
  })
})

describe('as installed', () => {
  const installed = (body: string, drop: readonly string[] = []) => at(`installed { ${body} }`, drop)

  test('fewer or more increments and links than the job asks for', () => {
    const wound = (n: string) => installed(`increments = ${n}`).one('installed_increments').message
    expect(wound('16')).toContain(
      '16 increments are written down as wound; the job asks for 15 (1.875 turns on 8 holes), 1 fewer',
    )
    expect(wound('1')).toContain(
      '1 increment is written down as wound; the job asks for 15 (1.875 turns on 8 holes), 14 more',
    )
  })

  test('a part of an increment where the job asks for none', () => {
    const f = installed('increments = 9.5', ['adjuster.preload', 'adjuster.holes']).one('installed_increments')
    expect(f.message).toContain('9.5 increments are written down as wound. An adjuster wheel can only hold whole')
    expect([f.limit!.text, f.related.filter(r => r.message !== 'written here')]).toEqual([
      'a whole number of increments',
      [],
    ])
  })

  test('the direction says why it is the other one', () => {
    const why = (snippet: string, wound: string) =>
      at(`${snippet}\ninstalled { wound = ${wound} }`).one('installed_direction').message
    expect(why('', 'clockwise')).toContain('(adjuster on the right, curtain leaving the drum on the wall side)')
    expect(why('drum { leaves = room_side }', 'counterclockwise')).toContain(
      'on the right, curtain leaving the drum on the room side)',
    )
    const written = at('adjuster { winding = clockwise }\ninstalled { wound = counterclockwise }', ['adjuster.side'])
    expect(written.one('installed_direction').message).toContain('this door has to be wound clockwise. Winding')
  })

  test('the widest and the narrowest of three, in whatever order', () => {
    const message = installed('between { bottom = 12ft 1in; middle = 12ft 1 1/4in; top = 12ft 7/8in }').one('installed_parallel').message // biome-ignore format: one row
    expect(message).toContain(
      '12 ft 7/8 in was measured at the head and 12 ft 1 1/4 in at half height: they are 3/8 in',
    )
  })
})

test('the next inspection stands before the handover, on its day, or beyond the years that can be written', () => {
  const at = (date: string, due: string, interval = '12 month') =>
    check(
      openingWith(
        `limits { inspection_interval = ${interval} because "agreed" }\nhandover { date = "${date}"${due && `; next_due = "${due}"`} }`,
      ),
    ).of('inspection_due')
  expect(at('2026-03-21', '2026-03-20')[0]!.message).toContain('2026-03-20, before the handover on 2026-03-21')
  expect(at('2026-03-21', '2026-03-21')).toEqual([])
  expect(at('9998-12-31', '')[0]!.message).toContain('9999-12-31')
  expect(at('9999-06-01', '')).toEqual([])
})

test('a sprocket has 6 teeth at least and 200 at most: nothing else is offered', () => {
  const larger = (drive: number, drum: number) =>
    at(`operator { sprocket_drive = ${drive}; sprocket_drum = ${drum}; chain = ansi_50; centers = 16 3/4in }`)
      .of('sprocket_teeth')
      .flatMap(f => f.fixes.map(x => x.title))
  // 17/6 x 70 = 198.3, 17/6 x 71 = 201.2
  expect(larger(6, 70)).toEqual(['Write `sprocket_drive = 17` and `sprocket_drum = 199`'])
  expect(larger(6, 71)).toEqual([])
  // 17/8 x 94 = 199.75
  expect(larger(8, 94)).toEqual(['Write `sprocket_drive = 17` and `sprocket_drum = 200`'])
})

test('a length is written as its author writes: feet and inches, or millimetres', () => {
  const fixed = (depth: string, job = '') =>
    check(openingWith(`rails { depth = ${depth} }`).replace('units = imperial', job || 'units = imperial')).fixed('rail_depth').text.match(/depth *= (.*)/)![1] // biome-ignore format: one row
  expect(['2in', '0.2ft', '0.06yd', '50mm', '5cm'].map(d => fixed(d))).toEqual(['3in', '3in', '3in', '75mm', '75mm'])
  expect([fixed('width / 80'), fixed('width / 80', 'units = metric')]).toEqual(['3in', '75mm'])
})

test('slats as long as the groove is deep: nothing stays free, and they are not too long', () => {
  const at0 = at('rails { depth = 2 3/4in }').one('engagement_clearance').message
  expect(at0).toContain('0 in of it stays free')
})

test('at the handover what is still to be tried on the springs brings their caution along, and nothing else does', () => {
  const end = (body: string) => at(`handover { ${body} }`).one('handover_open').message
  const rest =
    'limits_set = true; entrapment_tested = true; guards_fitted = true; date = "2026-03-02"; next_due = "2027-03-02"'
  expect(end(`${rest}; balanced = true`)).not.toContain('winding bars')
  expect(end(`${rest}; manual_given = true`)).toContain('the balance tried. Not begun yet')
  expect(end(`${rest}; manual_given = true`)).toContain('winding bars')
})

describe('delivery', () => {
  const said = (body: string, more = '') =>
    at(`delivery { ${body} }\n${more}`)
      .of('delivery_missing')
      .map(f => [f.message.replace(/\. Ask.*/, ''), f.limit!.text])

  test('a part of a pair, nothing of it, and nothing of what comes as one', () => {
    expect(said('rails = 1')).toEqual([['Of the rails 1 has come; the job needs 2', '2 or more']])
    expect(said('rails = 0')).toEqual([['Nothing has come of the rails; the job needs 2', '2 or more']])
    expect(said('drum = false')).toEqual([['Nothing has come of the drum with its springs', 'has come']])
  })

  test('a door that is pushed up misses no operator, but misses its hood', () => {
    const both = 'operator = false; hood = false'
    expect(said(both).map(([m]) => m)).toEqual(['Nothing has come of the operator', 'Nothing has come of the hood'])
    expect(said(both, 'operator { drive = push_up }').map(([m]) => m)).toEqual(['Nothing has come of the hood'])
  })
})

test('a drive that does not hold, and one of which it is not written', () => {
  const off = 'adjuster { preload = 1 turn }\n'
  expect(at(`${off}operator { holds = false }`).one('door_holds').message).toContain(
    'The hand chain does not hold it either',
  )
  const open = check(openingWith(off, ['operator.holds'])).one('door_holds')
  expect([open.severity, open.message.includes('Whether the hand chain holds it is not written')]).toEqual([
    'note',
    true,
  ])
})

describe('a motor', () => {
  const motor = (rpm: number, limits = '') =>
    at(`operator { drive = motor; speed = ${rpm} rpm; torque = 900 lbf*in; sprocket_drive = 12; sprocket_drum = 48; chain = ansi_50; centers = 16 3/4in }\n${limits}`).one('door_speed') // biome-ignore format: one row

  test('too slow or too fast, with the sprocket that would do', () => {
    expect(motor(20).message).toContain('slower than the least of the range')
    expect(motor(20).message).toContain('Take a smaller sprocket on the drum or a faster operator.')
    expect(motor(20).fixes.map(f => Number(f.title.match(/sprocket_drum = (\d+)/)?.[1]) < 48)).toEqual([true])
    expect(motor(200).message).toContain('Take a larger sprocket on the drum or a slower operator.')
    expect(
      motor(200)
        .related.filter(r => r.message.startsWith('the sprocket'))
        .map(r => r.text),
    ).toEqual(['48'])
  })
})

test('slats that are too long for their groove, by how much, and no fix that would leave them nothing to hold on to', () => {
  const f = at('rails { depth = 2 1/2in }').one('engagement_clearance')
  expect(f.message).toContain('the slats are 1/4 in too long for the groove')
  expect(titles(at('rails { depth = 3/16in }'), 'engagement_clearance')).toEqual(['Write `rails.depth = 3in`'])
  expect(titles(at('rails { depth = 1/4in }'), 'engagement_clearance')).toEqual(['Write `rails.depth = 3in`'])
})

test('an interval of months counts on into the next year, to the last day of a shorter month', () => {
  const c = at('limits { inspection_interval = 3 month }\nhandover { date = "2026-11-30" }')
  expect(titles(c, 'inspection_due')).toEqual(['Write `next_due = "2027-02-28"`'])
})

test.each([
  ['winding_direction', 'drum { leaves = room_side }\nadjuster { winding = counterclockwise }', ['right', 'room_side']],
  ['survey_plumb', 'wall = masonry\nsurvey { plumb { right = 5/8in } }', ['masonry']],
  ['ring_unused', 'drum { ring = 1in; attach = direct }', ['direct']],
  ['spring_hand', 'adjuster { winding = counterclockwise }\nspring { wire = 1/2in; diameter = 4.9in; coils = 160; hand = left; shaft_end = adjuster }', ['counterclockwise', 'right', 'adjuster']],
  ['rails_between', 'mount = between\nrails { between = 11ft 6in }', ['12ft', '3 1/4in']],
  ['spring_wire_range', 'spring { wire = 9/16in; diameter = 4.9in; coils = 160; hand = right; material = music_wire }', ['music_wire']],
])('%s points at what is written for it: %s', (rule, snippet, texts) => {
  const related = at(snippet).one(rule).related.filter(r => r.message !== 'written here')
  expect(related.map(r => r.text)).toEqual(texts)
}) // biome-ignore format: a table

test('the winding is told with the side that the curtain hangs from', () => {
  const leaves = (side: string, winding: string) =>
    at(`drum { leaves = ${side} }\nadjuster { winding = ${winding} }`).one('winding_direction').message
  expect(leaves('room_side', 'counterclockwise')).toContain('away from the wall, the springs are wound clockwise')
  expect(leaves('wall_side', 'clockwise')).toContain('toward the wall, the springs are wound counterclockwise')
})
