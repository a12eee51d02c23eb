/** What is wrong in itself: dimensions, types, ranges, duplicates, circles. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { OPENING, openingWith } from '../../support/opening.ts'

const at = (snippet: string) => check(openingWith(snippet))
const titles = (text: string, rule: string): string[] =>
  at(text)
    .one(rule)
    .fixes.map(f => f.title)

describe('dimensions', () => {
  test('a bare number offers its units', () => {
    const c = at('width = 12')
    expect(c.one('wrong_dimension').message).toContain('`width` is a length and needs a unit')
    expect(titles('width = 12', 'wrong_dimension')).toEqual(['Write 12ft', 'Write 12in', 'Write 12mm', 'Write 12m'])
    expect(c.fixed('wrong_dimension', '12ft').findings).toEqual([])
  })

  test('zero needs its unit too', () => {
    expect(at('drum { ring = 0 }').of('wrong_dimension')).toHaveLength(1)
  })

  test('a sum of unlike kinds names both, one above the other', () => {
    expect(at('width = 12ft + 3lb').one('wrong_dimension').message).toBe(
      'Cannot add: the two sides are of different kinds.\n  12ft  length\n  3lb   mass',
    )
    expect(at('require headroom > 20 lb').one('wrong_dimension').message).toMatch(
      /Cannot compare.*\n {2}headroom {2}length\n {2}20 lb {5}mass$/,
    )
  })

  test('a bare number in a sum offers the unit of the other side', () => {
    const c = at('rails { between = width + 1 }')
    expect(c.fixed('wrong_dimension', '1in').findings).toEqual([])
  })

  test('mass and force are two things; the unit that was meant is offered', () => {
    expect(at('curtain { endlock = 0.25 lbf }').fixed('wrong_dimension').text).toContain('endlock = 0.25 lb')
    expect(at('require balance.raise_force < 100 lb').fixed('wrong_dimension').findings).toEqual([])
  })

  test('angles are a kind of their own', () => {
    expect(
      at('require spring.rate * adjuster.preload > 3 lbf*in and 1 turn / adjuster.holes == adjuster.increment')
        .findings,
    ).toEqual([])
    expect(
      at(
        'operator { drive = motor; torque = 900 lbf*in; speed = 28 rpm }\nrequire operator.torque * operator.speed / 1 rad < 1 hp',
      ).of('wrong_dimension'),
    ).toEqual([])
    expect(
      at(
        'operator { drive = motor; torque = 900 lbf*in; speed = 28 rpm }\nrequire operator.torque * operator.speed < 1 hp',
      ).of('wrong_dimension'),
    ).toHaveLength(1)
  })

  test('an unknown value is checked by its kind', () => {
    expect(check(openingWith('require rails.fastener_load < 3ft')).of('wrong_dimension')).toHaveLength(1)
  })
})

describe('units, types and ranges', () => {
  test.each([
    ['width = 12feet', 'unknown_unit'],
    ['drum { drop_guard = yes }', 'wrong_type'],
    ['mount = "face"', 'wrong_type'],
    ['survey { by = dana }', 'wrong_type'],
    ['cycles = 5 / day', 'unknown_name'],
  ])('%s: the fix is right', (text, rule) => {
    const c = at(text)
    expect(c.one(rule).fixes.length).toBeGreaterThan(0)
    const after = c.fixed(rule)
    expect(after.findings.filter(f => f.rule === rule)).toEqual([])
  })

  test('a wire gauge of noughts is offered its diameter, another fraction over zero is not', () => {
    const text = 'spring { wire = 2/0; diameter = 4.9in; coils = 100; hand = right }'
    // 2/0 of the Steel Wire Gauge is 0.3310 in: Machinery's Handbook, from memory
    expect(at(text).fixed('value_range').text).toContain('wire = 0.3310in')
    expect(at('width = 9/0').one('value_range').fixes).toEqual([])
    expect(at('width = 1/0').of('value_range')).toHaveLength(1)
  })

  test.each([
    ['width = -12ft', 'above zero'],
    ['spring { wire = 1/2in; diameter = 4.9in; coils = 0; hand = right }', 'above zero'],
    ['operator { sprocket_drive = 17.5 }', 'whole number'],
    ['operator { efficiency = 110% }', 'or less'],
    ['width = 12ft / 0', 'divided'],
    ['width = floor(12ft, 0in)', 'above zero'],
    ['limits { spring_index = [16, 4] }', 'lower end comes first'],
  ])('%s must be %s', (text, words) => {
    expect(at(text).one('value_range').message).toContain(words)
  })

  test('no wall is thicker than half of its pipe', () => {
    const pipe = (text: string) => at(`drum { pipe { ${text} } }`)
    const thick = pipe('od = 4in; wall = 2 1/4in').one('value_range')
    expect([thick.severity, thick.text, thick.block]).toEqual(['error', '2 1/4in', 'drum.pipe'])
    expect(thick.message).toContain('found 2 1/4 in on a pipe of 4 in')
    // a solid bar has no inside, but it is a drum
    expect(pipe('od = 4in; wall = 2in').of('value_range')).toEqual([])
    expect(pipe('od = 4in; wall = -2in').of('value_range')).toHaveLength(1)
  })

  test('of a pipe from the stock that is said in the stock, once', () => {
    const stock = (body: string, use: string) => check(`pipe bar { od = 4in; wall = 3in }\n${openingWith(`drum { ${use} }\n${body}`)}`) // biome-ignore format: one call
    expect(stock('', 'pipe = bar').one('value_range').text).toBe('3in')
    // the wall written over a sound one from the stock
    const own = check(
      `pipe house { od = 4in; wall = 1/4in }\n${openingWith('drum { pipe like house { wall = 3in } }')}`,
    )
    expect(own.one('value_range').opening).toBe('Dock 3')
    const copied = check(`pipe house { od = 4in; wall = 1in }\npipe bar like house { od = 1 1/2in }\n`)
    expect(copied.one('value_range').text).toBe('1 1/2in')
  })

  test('dates are dates', () => {
    expect(at('survey { date = "2026-02-30" }').one('wrong_type').message).toContain('2026-03-09')
    expect(at('survey { date = "2026-02-28" }').of('wrong_type')).toEqual([])
  })

  test('what follows from the rest cannot be written, what is given or derived can', () => {
    const c = at('drum { sag = 0.1in }')
    expect(c.one('derived_assigned').text).toBe('sag')
    expect(c.fixed('derived_assigned').findings).toEqual([])
    expect(at('adjuster { winding = counterclockwise }').findings).toEqual([])
  })

  test('any field may have a reason', () => {
    expect(at('width = 12ft because "as built"').findings).toEqual([])
  })
})

describe('arithmetic', () => {
  test.each([
    ['min(3ft, 30in) == 30in'], ['max(1, 2, 3) == 3'], ['abs(-3in) == 3in'], ['sqrt(4 ft^2) == 2ft'],
    ['ceil(1.7 turns, 1 turn / adjuster.holes) == 1 3/4 turns'], ['floor(1.7 turns, 1 turn / 8) == 13/8 turns'], ['round(1.7 turns, 1 turn / 8) == 14/8 turns'],
    ['ceil(0.3 / 0.1) == 3'], ['clamp(5in, 1in, 3in) == 3in'], ['-2 ^ 2 == -4'], ['2 ^ 3 == 8'], ['1 - 2 - 3 == -4'], ['8 / 2 / 2 == 2'],
    ['10-1/2 == 10.5'], ['10 - 1/2 == 9.5'], ['4 1/2in == 4.5in'], ['12ft 4 1/2in == 148.5in'], ["12'-4 1/2\" == 148.5in"], ['1h 30min == 90min'], ['3% == 0.03'],
    ['0.1 + 0.2 == 0.3'], ['1 year == 365 day'], ['1 week == 7 day'], ['1 turn == 360deg'], ['not false and (true or false)'], ['1 < 2 and not 2 < 1'],
  ])('%s', text => {
    expect(at(`require ${text}`).findings).toEqual([])
  }) // biome-ignore format: a table

  test('a difference of more than one part in 10^9 is one', () => {
    expect(at('require 1ft == 1.000000002ft').of('requirement')).toHaveLength(1)
    expect(at('require 1ft == 1.0000000005ft').of('requirement')).toEqual([])
  })

  test.each([['width = 12ft 3lb', 'wrong_dimension'], ['width = 3in 12ft', 'syntax'], ['width = ceil(12ft)', 'wrong_type'], ['width = sqrt(4ft)', 'wrong_dimension'], ['height = 4ft ^ 2.5', 'wrong_type'], ['width = max(3ft, 2lb)', 'wrong_dimension']])(
    '%s', (text, rule) => void expect(at(text).one(rule).severity).toBe('error'),
  ) // biome-ignore format: a table
})

describe('requirements', () => {
  test('show both sides and the reason', () => {
    const found = at('require headroom >= 3ft because "sprinkler main"').one('requirement')
    expect(found.message).toBe(
      'Required here but not so: `headroom >= 3ft` (sprinkler main). Left: 1 ft 10 in; right: 3 ft.',
    )
    expect(found.severity).toBe('error')
  })

  test('what is unknown leaves them open, unless the other side decides', () => {
    const open = at('require rails.fastener_load < 3 lbf')
    expect(open.one('requirement').severity).toBe('note')
    expect(open.one('requirement').message).toMatch(/Missing: .*wind/)
    expect(at('require rails.fastener_load < 3 lbf or width > 3ft').findings).toEqual([])
    expect(at('require rails.fastener_load < 3 lbf and width > 30ft').one('requirement').severity).toBe('error')
    expect(at('require not (rails.fastener_load < 3 lbf)').one('requirement').severity).toBe('note')
  })

  test('a fault in them is reported once, and nothing besides', () => {
    expect(at('require headrom > 3ft').findings.map(f => f.rule)).toEqual(['unknown_name'])
    expect(at('require width + 1ft').findings.map(f => f.rule)).toEqual(['wrong_type'])
  })
})

describe('duplicates', () => {
  const value = (text: string, path: string): string => check(text).door().show(path)

  test('of two fields the first counts', () => {
    const text = OPENING.replace('width           = 12ft', 'width = 12ft\n  width = 13ft')
    expect(check(text).one('duplicate').related[0]!.text).toBe('width')
    expect(value(text, 'width')).toBe('12 ft')
  })

  test('of two springs of one name, two blocks, two lets, two openings, two jobs', () => {
    const spring = OPENING.replace('spring short', 'spring long')
    expect(check(spring).of('duplicate')).toHaveLength(1)
    expect(value(spring, 'spring.wire')).toBe('1/2 in')
    expect(check(OPENING.replace('  drum {', '  rails { depth = 4in }\n  drum {')).of('duplicate')).toHaveLength(1)
    expect(at('let a = 1\nlet a = 2').of('duplicate')).toHaveLength(1)
    expect(check(`${OPENING}\nopening "Dock 3" like "Dock 3" {}`).of('duplicate')).toHaveLength(1)
    expect(check(`${OPENING}\njob "2" {}`).of('duplicate')).toHaveLength(1)
  })

  test.each([
    ['slat = flat_20\n slat { pitch = 3in; thickness = 1in; weight = 2 lb/ft^2 }', '2 5/8 in'],
    ['slat { pitch = 3in; thickness = 1in; weight = 2 lb/ft^2 }\n slat = flat_20', '3 in'],
  ])('a slat by name and by block: the first counts (%#)', (body, pitch) => {
    const text = OPENING.replace('slat       = flat_20', body)
    expect(check(text).of('duplicate')).toHaveLength(1)
    expect(value(text, 'curtain.slat.pitch')).toBe(pitch)
  })
})

describe('circles', () => {
  test.each([
    ['width = height\nheight = width', '`opening.width` needs `opening.height` needs `opening.width`'],
    ['let a = b\nlet b = c\nlet c = a', '`a` needs `b` needs `c` needs `a`'],
    ['width = width', '`opening.width` needs `opening.width`'],
    // through values that follow, by more than one way
    [
      'height = curtain.weight_total * 1in / 1lb',
      '`opening.height` needs `curtain.weight_total` needs `curtain.weight` needs `opening.height`',
    ],
  ])('%s is named whole, once', (text, loop) => {
    const c = at(text)
    expect(c.one('circle').message).toContain(`A circle: ${loop}.`)
    expect(c.findings.map(f => f.rule)).toEqual(['circle'])
  })

  test('of file `let`s, once', () => {
    const c = check(`let b = c\nlet c = a\nlet a = b\n${openingWith('width = b')}`)
    expect(c.one('circle').message).toContain('`a` needs `b` needs `c` needs `a`')
  })

  test('two circles are two findings', () => {
    expect(at('let a = b + c\nlet b = a\nlet c = a').of('circle')).toHaveLength(2)
  })
})

describe('structure', () => {
  test('a block that is not closed is told where it began, and the next opening is still read', () => {
    const c = check(`${OPENING.slice(0, OPENING.trimEnd().length - 1)}\nopening "Dock 4" {\n  width = 12\n}\n`)
    expect(c.of('syntax').length).toBeGreaterThan(0)
    expect(c.doors.map(d => d.mark)).toEqual(['Dock 3', 'Dock 4'])
    expect(c.of('wrong_dimension')).toHaveLength(1)
  })

  test.each([
    ['opening { width = 12ft }', 'needs a name in quotes'],
    ['opening dock_3 { width = 12ft }', 'stands in quotes'],
    ['slat { pitch = 2in }', 'needs a name to be called by'],
    ['rails { }', 'stands inside `opening`'],
    ['width = 12ft', 'inside a block'],
  ])('%s %s', (text, words) => {
    expect(check(`job "1" {}\n${text}\n`).summary()).toContain(words)
  })
})
