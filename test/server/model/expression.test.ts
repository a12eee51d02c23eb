/** What expressions come to, seen by what a `require` of them says: comparisons at the border, and where there is no answer. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const required = (condition: string) => check(openingWith(`require ${condition} because "asked for"`))

// the width is 12 ft
test.each([
  ['width > 12ft', false],
  ['width >= 12ft', true],
  ['width < 12ft', false],
  ['width <= 12ft', true],
  ['width == 12ft', true],
  ['width != 12ft', false],
  ['width > 11ft', true],
  ['width >= 11ft', true],
  ['width < 11ft', false],
  ['width <= 11ft', false],
  ['width == 11ft', false],
  ['width != 11ft', true],
  ['width < 13ft', true],
  ['width >= 13ft', false],
  // what went through metres is the same size still
  ['width == 3657.6mm', true],
  ['width > 3657.6mm', false],
  ['operator.drive == hand_chain', true],
  ['operator.drive != hand_chain', false],
  ['operator.drive == crank', false],
  ['operator.drive != crank', true],
  ['width / 2 + 6ft == width', true],
  ['width - 2ft == 10ft', true],
  ['sqrt(width * width) == width', true],
  ['sqrt(0) == 0', true],
  ['min(width, 11ft) == 11ft', true],
  ['max(width, 11ft) == width', true],
])('%s: %s', (condition, holds) => {
  const c = required(condition)
  expect(c.of('requirement').length, c.summary()).toBe(holds ? 0 : 1)
  expect(c.findings.filter(f => f.rule !== 'requirement')).toEqual([])
})

test.each([
  ['sqrt(0 - 1) > 0'],
  ['width / 0 > 0 in'],
  ['min() > 0'],
  ['sqrt(4, 9) > 0'],
  ['width > operator.drive'],
  ['width + 1 > 0ft'],
])('%s has no answer: one finding says so, at it, and the requirement is not called broken', condition => {
  const c = required(condition)
  expect(c.of('requirement')).toEqual([])
  expect(
    c.findings.map(f => f.severity),
    c.summary(),
  ).toEqual(['error'])
  expect(condition).toContain(c.findings[0]!.text)
})

/** What a condition comes to: told by which of it and its contrary is broken. The headroom is not written. */
function verdict(condition: string): 'true' | 'false' | 'open' {
  const broken = (text: string): boolean => {
    const c = check(openingWith(`require ${text}`, ['headroom', 'side_room_left']))
    expect(
      c.findings.filter(f => f.rule !== 'requirement'),
      c.summary(),
    ).toEqual([])
    return c.of('requirement').some(f => f.severity === 'error')
  }
  const [no, yes] = [broken(condition), broken(`not (${condition})`)]
  expect(no && yes).toBe(false)
  return no ? 'false' : yes ? 'true' : 'open'
}

describe('what a condition comes to', () => {
  test.each([
    ['true', 'true'],
    ['false', 'false'],
    ['true and true', 'true'],
    ['true and false', 'false'],
    ['false and true', 'false'],
    ['false or true', 'true'],
    ['true or false', 'true'],
    ['false or false', 'false'],
    // the headroom is not known: what the other side decides is decided
    ['headroom > 1ft and width > 13ft', 'false'],
    ['width > 13ft and headroom > 1ft', 'false'],
    ['headroom > 1ft or width > 11ft', 'true'],
    ['width > 11ft or headroom > 1ft', 'true'],
    ['headroom > 1ft and width > 11ft', 'open'],
    ['width > 11ft and headroom > 1ft', 'open'],
    ['headroom > 1ft or width > 13ft', 'open'],
    ['width > 13ft or headroom > 1ft', 'open'],
    ['headroom == 1ft', 'open'],
    ['1ft != headroom', 'open'],
    ['-headroom < 1ft', 'open'],
    ['headroom ^ 2 > 1 ft^2', 'open'],
    ['max(headroom, 1ft) > 0ft', 'open'],
    ['max(1ft, headroom) > 0ft', 'open'],
    ['floor(headroom, 1in) > 0ft', 'open'],
    ['-width < 0ft', 'true'],
    ['-width > 0ft', 'false'],
    // texts and truths
    ['job.site == "Harbour Street cold store"', 'true'],
    ['job.site != "Harbour Street cold store"', 'false'],
    ['job.site == "elsewhere"', 'false'],
    ['job.site != "elsewhere"', 'true'],
    ['operator.holds == true', 'true'],
    ['operator.holds != true', 'false'],
    ['true == job.date', 'open'],
    ['"nobody" == job.customer', 'open'],
    // both ends of a range count
    ['[1, 2] == [1, 2]', 'true'],
    ['[1, 2] == [1, 3]', 'false'],
    ['[1, 2] != [1, 3]', 'true'],
    ['[1ft, 1ft] == [headroom, 1ft]', 'open'],
    ['[1ft, 1ft] == [1ft, headroom]', 'open'],
    // words, from either side
    ['hand_chain == operator.drive', 'true'],
    ['hand_chain != operator.drive', 'false'],
    ['left == operator.side', 'true'],
    ['curtain.slat == flat_20', 'true'],
    ['curtain.slat != flat_20', 'false'],
    ['spring.hand == spring.hand_needed', 'true'],
    ['spring.hand_needed == spring.hand', 'true'],
    ['spring.hand_needed != left', 'true'],
    ['exposure == C', 'open'],
    // functions at their borders
    ['sqrt(0 ft^2) == 0ft', 'true'],
    ['floor(12.7) == 12', 'true'],
    ['ceil(12.2) == 13', 'true'],
    ['round(12.5) == 13', 'true'],
    ['clamp(5in, 1in, 5in) == 5in', 'true'],
    ['clamp(0in, 1in, 5in) == 1in', 'true'],
    ['2 ^ -1 == 0.5', 'true'],
    ['1 ^ 12 == 1', 'true'],
  ])('%s: %s', (condition, comes) => void expect(verdict(condition)).toBe(comes))
})

/** What the width between the rails comes to where it hangs on what is not written. */
const between = (expression: string) => {
  const c = check(openingWith(`rails { between = ${expression} }`, ['headroom', 'side_room_left']))
  return { c, result: c.door().result('rails.between') }
}

describe('a value that hangs on what is not written', () => {
  const OPEN = 'opening.headroom'
  const OTHER = 'opening.side_room_left'
  test.each([
    ['headroom', [OPEN]],
    ['-headroom', [OPEN]],
    ['(headroom)', [OPEN]],
    ['headroom + 1in', [OPEN]],
    ['1in + headroom', [OPEN]],
    ['headroom - side_room_left', [OPEN, OTHER]],
    ['headroom + headroom', [OPEN]],
    ['headroom * 2', [OPEN]],
    ['2 * headroom', [OPEN]],
    ['headroom * side_room_left / 1in', [OPEN, OTHER]],
    ['headroom ^ 2 / 1in', [OPEN]],
    ['max(headroom, 1ft)', [OPEN]],
    ['max(1ft, headroom)', [OPEN]],
    ['min(1ft, headroom, 2ft, side_room_left)', [OPEN, OTHER]],
    ['ceil(headroom, 1in)', [OPEN]],
  ])('%s: it is told what is missing, and its kind is checked all the same', (expression, missing) => {
    const { c, result } = between(expression)
    expect(result).toMatchObject({ state: 'unknown', missing })
    expect(result).not.toHaveProperty('faulty')
    expect(
      c.findings.filter(f => f.severity === 'error'),
      c.summary(),
    ).toEqual([])
    // a length, and so the weight of it is none
    const wrong = between(`(${expression}) * 1 lb`)
    expect(wrong.c.one('wrong_dimension').message).toMatch(/^`between` is a length; .* is a length x mass\.$/)
    expect(wrong.result).toMatchObject({ state: 'unknown' })
  })

  test.each([
    ['headroom + 1lb', 'wrong_dimension'],
    ['1lb - headroom', 'wrong_dimension'],
    ['max(headroom, 1lb)', 'wrong_dimension'],
    ['max(1lb, headroom)', 'wrong_dimension'],
    ['sqrt(headroom)', 'wrong_dimension'],
    ['1ft ^ headroom', 'wrong_type'],
    ['headroom ^ 1.5', 'wrong_type'],
    ['hieght + headroom', 'unknown_name'],
    ['headroom + hieght', 'unknown_name'],
    ['headroom * hieght', 'unknown_name'],
    ['2ft ^ hieght', 'unknown_name'],
    ['max(headroom, hieght)', 'unknown_name'],
    ['-hieght', 'unknown_name'],
  ])('%s: a fault is told once, and nothing that follows from it', (expression, rule) => {
    const { c, result } = between(expression)
    expect(
      c.findings.filter(f => f.severity === 'error').map(f => f.rule),
      c.summary(),
    ).toEqual([rule])
    expect(result).toMatchObject({ state: 'unknown', faulty: true })
  })
})

describe('what an expression may not be, in words', () => {
  test.each([
    ['width + job.site', 'wrong_type', '`job.site` is a text; `+` needs a number.'],
    ['width * operator.holds', 'wrong_type', '`operator.holds` is true or false; `*` needs a number.'],
    ['width - operator.drive', 'wrong_type', '`operator.drive` is a word; `-` needs a number.'],
    ['width / [1, 2]', 'wrong_type', '`[1, 2]` is a list; `/` needs a number.'],
    ['-job.site', 'wrong_type', '`job.site` is a text; a minus sign needs a number.'],
    ['max(width, job.site)', 'wrong_type', '`job.site` is a text; `max` needs a number.'],
    ['max(job.site, width)', 'wrong_type', '`job.site` is a text; `max` needs a number.'],
    ['abs(1ft, 2ft)', 'wrong_type', '`abs` is written `abs(value)`; found 2 values.'],
    ['clamp(1ft, 2ft)', 'wrong_type', '`clamp` is written `clamp(value, low, high)`; found 2 values.'],
    ['clamp(1ft)', 'wrong_type', '`clamp` is written `clamp(value, low, high)`; found 1 value.'],
    ['clamp(1ft, 2ft, 3ft, 4ft)', 'wrong_type', 'found 4 values.'],
    ['floor(width)', 'wrong_type', '`floor` needs a step beside a length: `floor(value, step)`.'],
    ['max(width, 2lb)', 'wrong_dimension', 'must be of one kind; this is a mass, the first is a length.'],
    ['max(1, width)', 'wrong_dimension', 'this is a length, the first is a plain number.'],
    ['sqrt(width)', 'wrong_dimension', '`sqrt` of a length is not a quantity that can be written.'],
    ['sqrt(0 ft^2 - 1 ft^2)', 'value_range', '`0 ft^2 - 1 ft^2` is negative and has no square root.'],
    ['ceil(width, 0in)', 'value_range', 'The step must be above zero.'],
    ['width ^ 13', 'wrong_type', 'After `^` a whole number is expected'],
    ['width ^ 2ft', 'wrong_type', 'After `^` a whole number is expected'],
    ['flor(width, 1ft)', 'unknown_name', 'there are min, max, abs, sqrt, floor, ceil, round, clamp. Did you mean `floor`'],
    ['zzz(width)', 'unknown_name', '`zzz` is not a function; there are min, max, abs, sqrt, floor, ceil, round, clamp.'],
    ['width + 3 lb', 'wrong_dimension', 'Cannot add: the two sides are of different kinds.\n  width  length\n  3 lb   mass'],
    ['width - 1 turn', 'wrong_dimension', 'Cannot subtract: the two sides are of different kinds.'],
    ['12ft 3lb', 'wrong_dimension', '`12ft 3lb` puts a length and a mass together;'],
    ['3in 12ft', 'syntax', 'go from the larger unit to the smaller'],
    ['10000000000000000000000000000000m', 'value_range', 'too large to work with: it may go up to 10^30'],
  ])('%s', (expression, rule, words) => {
    const c = check(openingWith(`rails { between = ${expression} }`))
    const found = c.findings.filter(f => f.severity === 'error')
    expect(
      found.map(f => f.rule),
      c.summary(),
    ).toEqual([rule])
    expect(found[0]!.message).toContain(words)
  }) // biome-ignore format: a table

  test.each([
    ['not width', '`width` is a number; `not` needs true or false (a comparison, say).'],
    ['width and true', '`width` is a number; `and` needs true or false'],
    ['true or job.site', '`job.site` is a text; `or` needs true or false'],
    ['job.site == true', 'Cannot compare a text with true or false.'],
    ['operator.holds != "yes"', 'Cannot compare true or false with a text.'],
    ['width == job.site', '`job.site` is a text; a comparison needs a number.'],
    ['job.site > 1', '`job.site` is a text; a comparison needs a number.'],
  ])('%s', (condition, words) => {
    const c = required(condition)
    expect(
      c.findings.map(f => f.rule),
      c.summary(),
    ).toEqual(['wrong_type'])
    expect(c.findings[0]!.message).toContain(words)
  })
})

describe('what may have been meant', () => {
  const titles = (condition: string, rule = 'wrong_dimension') =>
    required(condition)
      .one(rule)
      .fixes.map(f => f.title)

  test('of a bare number beside a quantity: its units, the usual ones, written as they usually are', () => {
    expect(titles('width > 12')).toEqual(['Write 12ft', 'Write 12in', 'Write 12mm'])
    expect(titles('12 < width')).toEqual(['Write 12ft', 'Write 12in', 'Write 12mm'])
    expect(titles('(12) < width')).toEqual(['Write 12ft', 'Write 12in', 'Write 12mm'])
    expect(titles('curtain.weight > 12')[0]).toBe('Write 12 lb')
    expect(titles('cycles > 12')[0]).toBe('Write 12/day')
  })

  test('beside a plain number, of a sum or of several parts nothing is offered', () => {
    expect(titles('adjuster.holes > 12ft')).toEqual([])
    expect(titles('width > 12 + 1')).toEqual([])
    expect(titles('curtain.weight > 12ft 1in')).toEqual([])
  })

  test('of a force beside a mass: the unit', () => {
    expect(titles('curtain.weight > 12 lbf')).toEqual(['Write the unit `lb`'])
    expect(titles('curtain.weight > 12 ft')).toEqual([])
  })

  test('of a word that a field does not take: the nearest, and which there are', () => {
    const found = required('operator.drive == hand_chian').one('unknown_name')
    expect(found.message).toBe(
      '`operator.drive` is one of push_up, hand_chain, crank, motor; `hand_chian` is none of them.',
    )
    expect([found.text, found.fixes.map(f => f.title)]).toEqual(['hand_chian', ['Write `hand_chain`']])
    expect(required('hand_chian != operator.drive').one('unknown_name').text).toBe('hand_chian')
  })
})

describe('what is not known yet is no fault', () => {
  const said = (statement: string) =>
    check(
      `job "HS-2207" { units = imperial }\nopening "Dock 3" {\n  width = 12ft\n  ${statement}\n}\n`,
    ).findings.filter(f => ['wrong_dimension', 'wrong_type'].includes(f.rule))

  test('the root of an area that is not known is a length', () => {
    expect(said('require sqrt(headroom * 1ft) > 0ft')).toEqual([])
    expect(said('require sqrt(width * 1ft) > 0ft')).toEqual([])
    expect(said('require sqrt(headroom * 1ft) > 0ft^2')).toHaveLength(1)
  })

  test.each(['job.customer == "nobody"', '"nobody" == job.customer', 'job.customer != "nobody"'])('%s', condition => {
    expect(said(`require ${condition}`)).toEqual([])
  })

  test('what is known to be of another kind is', () => {
    expect(said('require width == "nobody"')).toHaveLength(1)
    expect(said('require "nobody" == width')).toHaveLength(1)
  })
})
