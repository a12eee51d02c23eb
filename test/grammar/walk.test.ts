import { describe, expect, test } from 'vitest'
import {
  chunkAt,
  lineStarts,
  type Node,
  offsetAt,
  parseSource,
  pathTo,
  positionAt,
  statementAt,
  tokenize,
  walk,
} from '../../grammar/index.ts'
import { JOB } from './generate.ts'

/** Splits a source at its cursor mark `|`. */
function cursor(marked: string) {
  const offset = marked.indexOf('|')
  const source = parseSource(marked.replace('|', ''))
  const place = chunkAt(source, offset)
  if (!place) throw new Error('no chunk')
  return place
}

const name = (node: Node) => ('name' in node && node.name ? node.name.text : node.kind)

describe('what stands at a cursor', () => {
  test.each([
    ['a = 1\nopening "D" {\n  width = 12|ft\n}', 'opening width quantity'],
    ['a = 1\nopening "D" {\n  width = 12ft|\n}', 'opening width quantity'],
    ['opening "D" {\n  |\n}', 'opening'],
    ['opening "D" {\n  a = min(b + 1|, c)\n}', 'opening a min binary quantity'],
    ['a {\n  b { c { d = |x.y } }\n}', 'a b c d path'],
    ['a = 1\n|\nb = 2', ''],
    ['a = 1;b =|', 'b missing'],
  ])('%j', (marked, path) => {
    const { chunk, offset } = cursor(marked)
    expect(pathTo(chunk, offset).map(name).join(' ')).toBe(path)
  })

  test('the innermost statement', () => {
    const { chunk, offset } = cursor('a { b { c = 1 + |2 } }')
    expect(statementAt(chunk, offset)).toMatchObject({ kind: 'field', name: { text: 'c' } })
    expect(statementAt(chunk, 3)).toMatchObject({ name: { text: 'a' } })
  })

  test('an empty file has no chunk', () => expect(chunkAt(parseSource(''), 0)).toBeUndefined())
})

test('walk goes from outer to inner, and not into what the visitor refuses', () => {
  const seen: string[] = []
  walk(parseSource('a { b = 1 + c; d { e = 2 } }').chunks[0]!.statements, (node, parents) => {
    seen.push(`${'  '.repeat(parents.length)}${name(node)}`)
    return name(node) !== 'd'
  })
  expect(seen).toEqual(['a', '  b', '    binary', '      quantity', '      path', '  d'])
})

test('lines and columns', () => {
  const text = 'ab\r\nc\rd\n\ne'
  const starts = lineStarts(text)
  expect(starts).toEqual([0, 4, 6, 8, 9])
  expect(positionAt(starts, 5)).toEqual({ line: 1, column: 1 })
  expect(offsetAt(starts, { line: 1, column: 1 }, text.length)).toBe(5)
  expect(offsetAt(starts, { line: 4, column: 9 }, text.length)).toBe(10)
  expect(offsetAt(starts, { line: 9, column: 0 }, text.length)).toBe(10)
  for (let at = 0; at <= text.length; at++)
    expect(offsetAt(starts, positionAt(starts, at), text.length)).toBe(at === 3 ? 3 : at)
})

test('tokens for colouring', () => {
  const text = '## doc\na = -12ft 1/2in and "x" # c\n'
  expect(tokenize(text).map(t => `${t.kind} ${text.slice(t.start, t.end)}`)).toEqual([
    'doc ## doc',
    'name a',
    'operator =',
    'operator -',
    'number 12',
    'unit ft',
    'number 1/2',
    'unit in',
    'keyword and',
    'text "x"',
    'comment # c',
  ])
  const kinds = new Set(tokenize(JOB).map(t => t.kind))
  expect([...kinds].sort()).toEqual([
    'comment',
    'doc',
    'keyword',
    'name',
    'number',
    'operator',
    'punctuation',
    'text',
    'unit',
  ])
})
