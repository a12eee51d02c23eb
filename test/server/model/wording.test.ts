/** What is said, and offered, where words stand that the language does not have, or not there. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { OPENING, openingWith } from '../../support/opening.ts'

const at = (snippet: string, drop: string[] = []) => check(openingWith(snippet, drop))
/** The finding of a rule in a text, and the titles of its fixes; each of them takes it away. */
function told(c: ReturnType<typeof check>, rule: string): [message: string, fixes: string[], text: string] {
  const found = c.one(rule)
  for (const fix of found.fixes) expect(c.apply(fix).of(rule), fix.title).toEqual([])
  return [found.message, found.fixes.map(f => f.title), found.text]
}
const top = (text: string, rule: string) => told(check(`job "1" {}\n${text}\n`), rule)

describe('fields', () => {
  test.each([
    ['widht = 12ft', '`opening` has no field `widht`. Did you mean `width`?', ['Write `width`']],
    ['pitch = 2in', '`opening` has no field `pitch`. It belongs in `slat`.', []],
    ['drum = 2in', '`drum` is a block: write `drum { ... }`.', []],
    ['barrel = 2in', '`drum` is a block: write `drum { ... }`.', []],
    ['survey { plumb { xyz = 1in } }', '`plumb` has no field `xyz`. Its fields are left, right.', []],
  ])('%s', (text, message, fixes) => {
    expect(told(at(text), 'unknown_field').slice(0, 2)).toEqual([message, fixes])
  })

  test('at the top of a file a value is named by `let`', () => {
    expect(top('bay = 12ft', 'unknown_field')).toEqual([
      'A field stands inside a block; `bay` stands at the top of the file. Use `let bay = ...` to name a value for the whole file.',
      [],
      'bay',
    ])
  })

  test('what is worked out is no field', () => {
    const [message, fixes, text] = told(at('drum { turns_made = 3; sag = 1in }'), 'derived_assigned')
    expect(message).toContain('`drum.sag` is worked out from the other fields and cannot be written.')
    expect([fixes, text]).toEqual([['Remove the line'], 'sag'])
  })

  test('a trade word is put right unasked', () => {
    const c = at('adjuster { turns = 1 7/8 turns }', ['adjuster.preload'])
    const found = c.one('trade_word')
    expect([found.message, found.fixes.map(f => [f.title, f.safe])]).toEqual([
      'The word of the language for `turns` is `preload`.',
      [['Write `preload`', true]],
    ])
    expect(c.door().show('adjuster.preload')).toBe('1.875 turns')
  })
})

describe('blocks', () => {
  test.each([
    ['crutain { }', 'There is no block `crutain` in `opening`. Did you mean `curtain`?', ['Write `curtain`']],
    ['barell { }', 'There is no block `barell` in `opening`. Did you mean `drum`?', ['Write `drum`']],
    ['slat { }', 'There is no block `slat` in `opening`. `slat` stands inside `curtain`.', []],
    ['job { }', 'There is no block `job` in `opening`. `job` stands at the top of the file, outside of every block.', []],
    ['rails { zzzz { } }', 'There is no block `zzzz` in `rails`. Here may stand no blocks.', []],
    ['drum { zzzz { } }', 'There is no block `zzzz` in `drum`. Here may stand pipe.', []],
  ])('%s', (text, message, fixes) => {
    const found = at(text).one('unknown_block')
    expect([found.message, found.fixes.map(f => f.title)]).toEqual([message, fixes])
  }) // biome-ignore format: a table

  test.each([
    ['opeming "D" { }', 'There is no block `opeming` at the top of a file. Did you mean `opening`?'],
    ['rails { }', 'There is no block `rails` at the top of a file. `rails` stands inside `opening`.'],
    ['guides { }', 'There is no block `guides` at the top of a file. `rails` stands inside `opening`.'],
  ])('%s', (text, message) => void expect(check(`job "1" {}\n${text}\n`).one('unknown_block').message).toBe(message))

  test('only some can be copied', () => {
    const found = at('rails like "Dock 2" { }').of('like_failed')[0]!
    expect([found.message, found.text]).toEqual([
      '`rails` cannot be copied with `like`; openings, springs, slats, pipes and operators can.',
      'like "Dock 2"',
    ])
  })
})

describe('names of blocks', () => {
  test.each([
    ['opening { }', '`opening` needs a name in quotes: `opening "Dock 3" { ... }`.', ['Give it a name']],
    ['slat { pitch = 1in; thickness = 1in; weight = 1 lb/ft^2 }', 'A slat in the stock needs a name to be called by: `slat my_slat { ... }`.', ['Give it a name']],
    ['operator { }', 'An operator in the stock needs a name to be called by: `operator my_operator { ... }`.', ['Give it a name']],
    ['opening dock_3 { }', 'The name of an opening stands in quotes: `opening "dock_3"`.', ['Put it in quotes']],
    ['spring "Long One" { }', 'The name of a spring is written without quotes, in small letters: `spring long_one`.', ['Write it as a name']],
    ['spring "2 Long!" { }', 'The name of a spring is written without quotes, in small letters: `spring long`.', ['Write it as a name']],
    ['spring "22" { }', 'The name of a spring is written without quotes, in small letters: `spring a`.', ['Write it as a name']],
    ['limits tight { }', '`limits` has no name: write `limits { ... }`.', ['Remove the name']],
  ])('%s', (text, message, fixes) => void expect(top(text, 'syntax').slice(0, 2)).toEqual([message, fixes])) // biome-ignore format: a table

  test('of the job, and empty ones', () => {
    const job = told(check('job { }\n'), 'syntax')
    expect(job.slice(0, 2)).toEqual(['`job` needs a name in quotes: `job "HS-2207" { ... }`.', ['Give it a name']])
    expect(check('job x { }\n').one('syntax').message).toBe('The name of a job stands in quotes: `job "x"`.')
    for (const name of ['', ' '])
      expect(check(`job "1" {}\nopening "${name}" { }\n`).of('value_range')[0]!.message).toBe(
        'The name of this opening is empty.',
      )
  })
})

describe('what stands twice', () => {
  test('is told where it stands, with the first one', () => {
    const found = at('let a = 1in\nlet a = 2in').one('duplicate')
    expect([found.message, found.text, found.related.map(r => [r.text, r.message])]).toEqual([
      '`let a` stands twice in this block; the first one counts. Remove one of them.',
      'a',
      [['a', 'the first one']],
    ])
    const springs = at('spring a { hand = left }\nspring a { hand = left }').one('duplicate')
    expect([springs.message.slice(0, 25), springs.text]).toEqual(['`spring a` stands twice i', 'a'])
    const blocks = check(OPENING.replace('  drum {', '  rails { depth = 4in }\n  drum {')).one('duplicate')
    expect([blocks.message.slice(0, 21), blocks.text]).toEqual(['`rails` stands twice ', 'rails'])
  })

  test('springs without a name may be many; one field may stand in many blocks', () => {
    expect(at('spring { hand = left }\nspring { hand = left }').of('duplicate')).toEqual([])
    expect(at('rails { let a = 1in }\ndrum { let a = 1in }\nlet a = 2in').of('duplicate')).toEqual([])
  })

  test('a name or a block, not both', () => {
    const both = (body: string) => check(OPENING.replace('slat       = flat_20', body)).one('duplicate')
    for (const body of ['slat = flat_20\n slat { pitch = 3in }', 'slat { pitch = 3in }\n slat = flat_20']) {
      expect(both(body).message).toBe(
        'Write `slat = ...` or `slat { ... }`, not both; the first one counts. Remove one of them.',
      )
      expect(both(body).related.map(r => r.text)).toEqual(['slat'])
    }
  })

  test('in a file: a job, an opening, a stock item, a `let`', () => {
    const twice = (text: string) => {
      const found = check(text).one('duplicate')
      return [found.message, found.text]
    }
    expect(twice('job "1" {}\njob "2" {}\n')).toEqual([
      'A file has one `job`; the first one counts. Rename or remove one of them.',
      '"2"',
    ])
    expect(twice('job "1" {}\nlet a = 1\nlet a = 2\n')).toEqual([
      '`let a` stands twice in this file; the first one counts. Rename or remove one of them.',
      'a',
    ])
    expect(twice('pipe a { od = 4in; wall = 1in }\npipe a { od = 4in; wall = 1in }\n')[0]).toContain('`pipe a` stands')
    expect(check('limits { drum_sag = 0.02 in/ft }\nlimits { drum_sag = 0.01 in/ft }\n').of('duplicate')).toEqual([])
  })
})

describe('names that lead nowhere', () => {
  test.each([
    ['width = xyzzy', 'No field, derived value or `let` is called `xyzzy` here.', []],
    ['let bay = 12ft\nwidth = bya', 'No field, derived value or `let` is called `bya` here. Did you mean `bay`?', ['Write `bay`']],
    ['width = pitch', 'No field, derived value or `let` is called `pitch` here.', []],
    ['width = inside', 'No field, derived value or `let` is called `inside` here. It stands in another block: `drum.inside`.', ['Write `drum.inside`']],
    ['rails { depth = outside_free }', 'No field, derived value or `let` is called `outside_free` here. It stands in another block: `long.outside_free` or `short.outside_free`.', ['Write `long.outside_free`', 'Write `short.outside_free`']],
    ['width = drumm.span', '`drumm.span` leads to nothing: there is no `drumm` here. Did you mean `drum`?', ['Write `drum`']],
    ['width = drum.spam', '`drum.spam` leads to nothing: there is no `spam` in `drum`. Did you mean `span`?', ['Write `span`']],
    ['width = drum.pippe.od', '`drum.pippe.od` leads to nothing: there is no `pippe` in `drum`. Did you mean `pipe`?', ['Write `pipe`']],
    ['width = drum.pipe.ood', '`drum.pipe.ood` leads to nothing: there is no `ood` in `pipe`. Did you mean `od`?', ['Write `od`']],
    ['width = xyzzy.span', '`xyzzy.span` leads to nothing: there is no `xyzzy` here.', []],
    ['rails { depth = shotr.outside_free }', '`shotr.outside_free` leads to nothing: there is no `shotr` here. Did you mean `short`?', ['Write `short`']],
    ['width = ft', '`ft` is a unit, but no number stands before it. Write the number and its unit together: `20/day`, `12ft`.', []],
    ['cycles = 5 / day', '`day` is a unit, but no number stands before it. Write the number and its unit together: `20/day`, `12ft`.', ['Write the unit `/day`']],
    ['cycles = width / day', '`day` is a unit, but no number stands before it. Write the number and its unit together: `20/day`, `12ft`.', []],
  ])('%s', (text, message, fixes) => void expect(told(at(text), 'unknown_name').slice(0, 2)).toEqual([message, fixes])) // biome-ignore format: a table

  test('names of the file are in reach, those of other openings are not', () => {
    const c = check(`let bay = 12ft\n${openingWith('width = bya')}\nopening "Dock 4" { let bayy = 1ft }\n`)
    expect(c.one('unknown_name').fixes.map(f => f.title)).toEqual(['Write `bay`'])
  })

  test('what an opening does not have yet is unknown, and has its kind', () => {
    const c = at('require operator.torque > 1 lbf*in and operator.drive == motor and operator.drum_turns > 1 turn', ['operator']) // biome-ignore format: one call
    expect(c.findings.map(f => f.rule).filter(r => r === 'unknown_name')).toEqual(
      at('require operator.drum_turns > 1 turn', ['operator']).of('unknown_name').map(f => f.rule),
    ) // biome-ignore format: one call
    expect(at('require operator.ratio > 1', ['operator']).one('requirement').message).toContain('Missing: operator')
    expect(at('require operator.torque > 1 lb', ['operator']).of('wrong_dimension')).toHaveLength(1)
    expect(at('require operator.torqe > 1 lb', ['operator']).of('unknown_name')).toHaveLength(1)
  })
})

describe('words where others are taken', () => {
  test.each([
    ['mount = fase', 'unknown_name', '`mount` is one of `face`, `between`; found `fase`.', ['Write `face`']],
    ['mount = "face"', 'wrong_type', '`mount` is one of `face`, `between`; found `"face"`.', ['Write `face`']],
    ['mount = 3', 'wrong_type', '`mount` is one of `face`, `between`; found `3`.', []],
    ['curtain { slat = 3 }', 'wrong_type', '`slat` takes the name of a slat from the stock, or a block `slat { ... }`; found `3`.', []],
    ['operator { holds = yes }', 'wrong_type', 'Write `true` or `false` here; found `yes`.', ['Write `true`']],
    ['operator { holds = no }', 'wrong_type', 'Write `true` or `false` here; found `no`.', ['Write `false`']],
    ['operator { holds = 3 }', 'wrong_type', '`holds` takes `true` or `false`; found `3`.', []],
    ['delivery { rails = ok }', 'wrong_type', 'Write `true` or `false` here; found `ok`.', ['Write `true`']],
    ['delivery { rails = "2" }', 'wrong_type', '`rails` takes a count, or `true` / `false`; found `"2"`.', []],
    ['survey { by = dana }', 'wrong_type', '`by` takes a text in quotes; found `dana`.', ['Write "dana"']],
    ['survey { by = 3 }', 'wrong_type', '`by` takes a text in quotes; found `3`.', ['Write "3"']],
    ['survey { date = 2026 }', 'wrong_type', '`date` takes a date in quotes, as in "2026-03-09"; found `2026`.', ['Write "2026"']],
    ['survey { date = "soon" }', 'wrong_type', '`date` takes a date written year, month, day, as in "2026-03-09"; found `"soon"`.', []],
    ['width = "12ft"', 'wrong_type', '`width` takes a length; found `"12ft"`.', []],
    ['wind = true', 'wrong_type', '`wind` takes a pressure or a speed; found `true`.', []],
    ['limits { spring_index = 4 }', 'wrong_type', '`spring_index` takes two values, the lower and the upper, as in `[4, 16]`; found `4`.', []],
    ['limits { spring_index = [4, 5, 6] }', 'wrong_type', '`spring_index` takes two values, the lower and the upper, as in `[4, 16]`; found `[4, 5, 6]`.', []],
    ['limits { spring_index = [4, true] }', 'wrong_type', '`spring_index` takes two values, the lower and the upper, as in `[4, 16]`; found `[4, true]`.', []],
    ['limits { spring_index = [4in, 16in] }', 'wrong_dimension', '`spring_index` is a plain number; `[4in, 16in]` is a length.', []],
    ['delivery { rails = 2in }', 'wrong_dimension', '`rails` is a plain number; `2in` is a length.', []],
    ['wind = 3 lb', 'wrong_dimension', '`wind` is a pressure or a speed; `3 lb` is a mass.', []],
    ['curtain { bottom_bar = 3 lbf/ft }', 'wrong_dimension', '`bottom_bar` is a mass per length; `3 lbf/ft` is a force per length.', ['Write the unit `lb/ft`']],
    ['curtain { endlock = 0.25 lbf }', 'wrong_dimension', '`endlock` is a mass; `0.25 lbf` is a force. A weight here is a mass, as a scale reads it.', ['Write the unit `lb`']],
    ['operator { ratio = 2in }', 'wrong_dimension', '`ratio` is a plain number; `2in` is a length.', []],
    ['adjuster { holes = 8.5 }', 'value_range', '`holes` must be a whole number; found `8.5`.', []],
    ['width = 0ft', 'value_range', '`width` must be above zero; found `0ft`.', []],
    ['operator { efficiency = 110% }', 'value_range', '`efficiency` must be 1 or less; found `110%`.', []],
    ['operator { sprocket_drive = 5 }', 'value_range', '`sprocket_drive` must be 6 or more; found `5`.', []],
    ['operator { sprocket_drive = 201 }', 'value_range', '`sprocket_drive` must be 200 or less; found `201`.', []],
    ['limits { spring_index = [16, 4] }', 'value_range', '`spring_index` must be right: the lower end comes first; found `[16, 4]`.', []],
  ])('%s', (text, rule, message, fixes) => {
    const found = at(text).one(rule)
    expect([found.message, found.fixes.map(f => f.title)]).toEqual([message, fixes])
  }) // biome-ignore format: a table

  test('a bare number where several kinds are taken offers units of all of them', () => {
    const [message, fixes] = told(at('wind = 20'), 'wrong_dimension')
    expect(message).toContain('`wind` is a pressure or a speed and needs a unit; found `20`. Write `20 psf`')
    expect(fixes).toHaveLength(3)
    expect(told(at('width = (12)'), 'wrong_dimension')[1]).toEqual(['Write 12ft', 'Write 12in', 'Write 12mm', 'Write 12m']) // biome-ignore format: one call
  })
})
