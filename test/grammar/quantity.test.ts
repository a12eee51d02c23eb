import { describe, expect, test } from 'vitest'
import { type Expression, parseSource, type Quantity } from '../../grammar/index.ts'
import { findingsOf } from './marks.ts'

function valueIn(written: string): Expression {
  const field = parseSource(`a = ${written}`).chunks[0]?.statements[0]
  if (field?.kind !== 'field') throw new Error(`not a field: ${written}`)
  return field.value
}

/** A quantity as `number [unit^power ...] | ...`, so that a line of the test shows all that was read. */
function read(written: string): string {
  const value = valueIn(written)
  if (value.kind !== 'quantity') return value.kind
  return value.parts
    .map(p => [p.number.value, ...(p.unit?.factors ?? []).map(f => `${f.name}^${f.power}`)].join(' '))
    .join(' | ')
}

describe('what the language knows is read without a finding', () => {
  test.each([
    ['12', '12'],
    ['0.5', '0.5'],
    ['.5', '0.5'],
    ['1/2', '0.5'],
    ['4 1/2', '4.5'],
    ['4-1/2', '4.5'],
    ['10-1/2', '10.5'],
    ['10 - 1/2', 'binary'],
    ['1/0', 'NaN'],
    ['4 1/0in', 'NaN in^1'],
    ['12ft', '12 ft^1'],
    ['0.5625 in', '0.5625 in^1'],
    ['20 psf', '20 psf^1'],
    ['3 lb/ft', '3 lb^1 ft^-1'],
    ['320 lbf*in/turn', '320 lbf^1 in^1 turn^-1'],
    ['5 N·m', '5 N^1 m^1'],
    ['20/day', '20 day^-1'],
    ['20 /day', '20 day^-1'],
    ['20 / day', 'binary'],
    ['3%', '3 %^1'],
    ['3 %', '3 %^1'],
    ['2 in^4', '2 in^4'],
    ['2/3 in^2', `${2 / 3} in^2`],
    ['1 lb/ft^2', '1 lb^1 ft^-2'],
    ["12'", '12 ft^1'],
    ['4 1/2"', '4.5 in^1'],
    ['4-1/2"', '4.5 in^1'],
    ['12\'-4 1/2"', '12 ft^1 | 4.5 in^1'],
    ['12\' 4-1/2"', '12 ft^1 | 4.5 in^1'],
    ['12\'-1/2"', '12 ft^1 | 0.5 in^1'],
    ['12\'4"', '12 ft^1 | 4 in^1'],
    ['12ft 4 1/2in', '12 ft^1 | 4.5 in^1'],
    ['12ft4in', '12 ft^1 | 4 in^1'],
    ['1h 30min', '1 h^1 | 30 min^1'],
    ['11 ft 6 in', '11 ft^1 | 6 in^1'],
    ['1 turn / holes', 'binary'],
    ['-12ft 4in', 'unary'],
    ['2 3/4in', '2.75 in^1'],
    ['3 because "x"', '3'],
    ['3 and true', 'binary'],
    ['12 width', '12 width^1'],
    ['12 a_b2', '12 a_b2^1'],
  ])('%s', (written, expected) => {
    expect(read(written)).toBe(expected)
    expect(findingsOf(`a = ${written}`)).toEqual([])
  })

  test('a fraction keeps its figures', () => {
    const { parts } = valueIn('4 1/2in') as Quantity
    expect(parts[0]?.number).toEqual({
      start: 4,
      end: 9,
      text: '4 1/2',
      value: 4.5,
      fraction: { whole: 4, over: 1, under: 2 },
    })
  })

  test('a sign covers the whole quantity', () =>
    expect(valueIn('-12ft 4in')).toMatchObject({ operator: '-', operand: { kind: 'quantity', parts: [{}, {}] } }))

  test('more than one space does not join', () => expect(read('12ft  4in')).toBe('12 ft^1'))
})

describe('an inch mark stands directly after a digit; elsewhere a text starts', () => {
  test.each([
    ['4"', 'quantity'],
    ['"4"', 'text'],
    ['"a 4"', 'text'],
    ['4 "x"', 'quantity'],
  ])('%s', (written, kind) => expect(valueIn(written).kind).toBe(kind))

  test('inside a text it always ends it', () => {
    const value = valueIn('"needs 4" gap')
    expect(value).toMatchObject({ kind: 'text', value: 'needs 4' })
  })
})
