/** What names mean, in the order that the language gives. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { OPENING, openingWith } from '../../support/opening.ts'

const at = (snippet: string, drop: string[] = []) => check(openingWith(snippet, drop))
/** The message of a requirement that does not hold shows both sides. */
const left = (expression: string, more = ''): string =>
  at(`${more}\nrequire ${expression} == 1234${expression.includes('.rate') ? ' lbf*in/turn' : 'in'}`)
    .one('requirement')
    .message.match(/Left: (.*?);/)![1]!

describe('the order of names', () => {
  test('a `let` wins over a field, the nearest `let` over one further out', () => {
    expect(left('headroom', 'let headroom = 5in')).toBe('5 in')
    const c = at('let k = 3in\nrails {\n  let k = 4in\n  require k == 3in\n}')
    expect(c.one('requirement').message).toContain('Left: 4 in; right: 3 in')
  })

  test('a field of its own block comes before one of an enclosing block', () => {
    expect(at('rails { require length == 1in }').one('requirement').message).toContain('Left: 11 ft 6 in')
    // `weight` of the curtain and of the drum
    expect(at('drum { require weight == curtain.weight }').of('requirement')).toHaveLength(1)
    expect(at('curtain { require weight == curtain.weight }').of('requirement')).toEqual([])
  })

  test('enclosing blocks, by name and by kind, and blocks of the opening', () => {
    expect(at('rails { require width == opening.width and height == 11ft 6in }').of('requirement')).toEqual([])
    expect(at('rails { require drum.turns > 3 turns and curtain.slat.pitch == 2 5/8in }').of('requirement')).toEqual([])
    expect(at('require job.units == imperial and units != metric').of('requirement')).toEqual([])
  })

  test('springs by their name; `spring` is the first one', () => {
    expect(at('require long.rate == spring.rate and short.rate < long.rate').of('requirement')).toEqual([])
    expect(left('short.wire')).toBe('0.4063 in')
  })

  test('a file `let` is seen in every block of the file', () => {
    expect(check(`let bay = 12ft\n${openingWith('width = bay\nrails { require bay == width }')}`).findings).toEqual([])
  })
})

describe('words', () => {
  test('where a field takes a word, a bare name is only ever that', () => {
    expect(check(openingWith('let face = 3in\nmount = face')).findings).toEqual([])
    const c = at('mount = fase')
    expect(c.one('unknown_name').message).toContain('one of `face`, `between`')
    expect(c.fixed('unknown_name').findings).toEqual([])
  })

  test('where it takes a stock item, too', () => {
    expect(check(openingWith('let flat_20 = 3in')).findings).toEqual([])
    expect(at('curtain { slat = flat_02 }').fixed('unknown_name').findings).toEqual([])
    expect(at('drum { pipe = nps6_sdt }').fixed('unknown_name').findings).toEqual([])
  })

  test('beside == and != a bare name is a word of the other side', () => {
    expect(
      at('require adjuster.side == right and left != adjuster.side and (operator.drive) == hand_chain').findings,
    ).toEqual([])
    // `between` is a field of the rails as well, `inside` a value of the drum
    expect(at('rails { require mount != between }\ndrum { require coil_side == inside }').findings).toEqual([])
    expect(at('require spring.hand == spring.hand_needed').findings).toEqual([])
    expect(at('require curtain.slat == flat_20').findings).toEqual([])
    expect(at('require curtain.slat == flat_21').one('requirement').message).toContain('Left: flat_20; right: flat_21')
    expect(at('require mount == fase').one('unknown_name').text).toBe('fase')
    expect(at('require operator.drive == motor').findings.map(f => f.rule)).toEqual(['requirement'])
  })
})

describe('names that lead nowhere', () => {
  test.each([
    ['width = hieght', 'hieght', 'height'],
    ['require drumm.turns > 3 turns', 'drumm', 'drum'],
    ['require drum.pipee.od > 3in', 'pipee', 'pipe'],
    ['require drum.pipe.odd > 3in', 'odd', 'od'],
    ['require turns > 3 turns', 'turns', 'drum.turns'],
    ['width = flor(12ft, 1in)', 'flor', 'floor'],
  ])('%s', (text, wrong, right) => {
    const c = at(text)
    const found = c.one('unknown_name')
    expect(found.message).toContain(`\`${right}\``)
    const edit = found.fixes[0]!.edits[0]!
    expect(edit.text).toBe(right)
    expect(c.spot(edit.place).text).toBe(wrong)
    expect(c.apply(found.fixes[0]).of('unknown_name')).toEqual([])
  })

  test.each([['hieght = 11ft 6in', 'unknown_field'], ['crutain { windlocks = false }', 'unknown_block']])('%s', (text, rule) => {
    expect(at(text).fixed(rule).of(rule)).toEqual([])
  }) // biome-ignore format: a table

  test('a field of another block says where it belongs', () => {
    expect(at('pipe = nps6_std').one('unknown_field').message).toContain('It belongs in `drum`')
    expect(at('slat { pitch = 2in }').one('unknown_block').message).toContain('stands inside `curtain`')
  })

  test('a block that is not written yet is no mistake: its values are unknown', () => {
    const c = at('require operator.torque_available > 3 lbf*in', ['operator'])
    expect(c.one('requirement').severity).toBe('note')
    expect(c.one('requirement').message).toContain('Missing: operator')
    expect(at('require operator.drive == motor', ['operator']).one('requirement').severity).toBe('note')
  })
})

describe('trade words', () => {
  test.each([
    ['guides { depth = 3 1/4in }', 'rails'],
    ['barrel { drop_guard = true }', 'drum'],
    ['adjuster { turns = 1 7/8 turns }', 'preload'],
    ['require guides.between > 3in', 'rails'],
    ['require barrel.turns > 3 turns', 'drum'],
  ])('%s counts, and the word of the language is offered', (text, word) => {
    const c = at(text)
    expect(c.findings.map(f => f.rule)).toEqual(['trade_word'])
    expect(c.one('trade_word').severity).toBe('note')
    expect(c.one('trade_word').fixes[0]!.safe).toBe(true)
    const after = c.fixed('trade_word')
    expect(after.text).toContain(word)
    expect(after.findings).toEqual([])
  })

  test('`turns` of the drum is no trade word', () => {
    expect(at('drum { require turns > 3 turns }').findings).toEqual([])
  })

  test('both words are one block', () => {
    expect(check(OPENING.replace('  drum {', '  guides { depth = 3 1/4in }\n  drum {')).of('duplicate')).toHaveLength(1)
  })
})
