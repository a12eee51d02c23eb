import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { children, type Expression, type Node, parseSource, type Statement } from '../../grammar/index.ts'
import { DoorParser } from '../../grammar/parser.ts'
import { anyText, JOB, soundFile } from './generate.ts'
import { findingsOf, shape } from './marks.ts'

const statements = (text: string): Statement[] => parseSource(text).chunks.flatMap(c => [...c.statements])

/** An expression with all its groupings written out. */
function grouped(written: string): string {
  const show = (e: Expression): string => {
    if (e.kind === 'binary') return `(${show(e.left)} ${e.operator} ${show(e.right)})`
    if (e.kind === 'unary') return `(${e.operator} ${show(e.operand)})`
    if (e.kind === 'group') return show(e.inner)
    if (e.kind === 'path') return e.names.map(n => n.text).join('.')
    if (e.kind === 'call') return `${e.name.text}(${e.args.map(show).join(', ')})`
    if (e.kind === 'list') return `[${e.items.map(show).join(', ')}]`
    if (e.kind === 'truth') return String(e.value)
    return e.kind === 'quantity' ? e.parts.map(p => p.number.text).join(' ') : e.kind
  }
  const statement = statements(`let x = ${written}`)[0]
  if (statement?.kind !== 'let') throw new Error(written)
  expect(findingsOf(`let x = ${written}`)).toEqual([])
  return show(statement.value)
}

test('the grammar is sound by the parser library’s own checks', () => {
  // The checks use Object.groupBy, which Node 20 does not have.
  const object = Object as unknown as { groupBy?: unknown }
  const had = object.groupBy
  object.groupBy ??= (all: Iterable<unknown>, keyOf: (one: unknown) => PropertyKey) => {
    const groups: Record<PropertyKey, unknown[]> = {}
    for (const one of all) (groups[keyOf(one)] ??= []).push(one)
    return groups
  }
  try {
    expect(new DoorParser(false).parse(JOB).findings).toEqual([])
  } finally {
    if (!had) delete object.groupBy
  }
})

describe('operators, loosest first', () => {
  test.each([
    ['a or b and c', '(a or (b and c))'],
    ['a and b or c', '((a and b) or c)'],
    ['not a == b and c', '((not (a == b)) and c)'],
    ['not not a', '(not (not a))'],
    ['a + b < c - d', '((a + b) < (c - d))'],
    ['a - b - c', '((a - b) - c)'],
    ['a + b * c', '(a + (b * c))'],
    ['a / b * c', '((a / b) * c)'],
    ['-a * b', '((- a) * b)'],
    ['a * -b', '(a * (- b))'],
    ['-a ^ 2', '(- (a ^ 2))'],
    ['a * b ^ 2', '(a * (b ^ 2))'],
    ['(a + b) * c', '((a + b) * c)'],
    ['min(a, b.c)', 'min(a, b.c)'],
    ['[1ft, -a, (b)]', '[1, (- a), b]'],
    ['max(\n  1, # c\n\n  2\n)', 'max(1, 2)'],
    ['long.rate', 'long.rate'],
  ])('%s', (written, expected) => expect(grouped(written)).toBe(expected))
})

describe('statements', () => {
  test('a whole job is read', () => {
    expect(findingsOf(JOB)).toEqual([])
    expect(statements(JOB).map(s => (s.kind === 'block' ? s.name.text : s.kind))).toEqual([
      'use',
      'job',
      'limits',
      'opening',
      'opening',
    ])
  })

  test('a block has its label, what it is like, and its description', () => {
    const [block] = statements('# no\n## one\n##  two\nspring long like "Dock 3" { a = 1; ; b = 2 because "why" }')
    expect(block).toMatchObject({
      name: { text: 'spring' },
      label: { kind: 'word', text: 'long' },
      like: { target: { kind: 'text', value: 'Dock 3' } },
      doc: 'one\n two',
      body: [
        { kind: 'field', name: { text: 'a' } },
        { kind: 'field', because: { text: { value: 'why' } } },
      ],
    })
  })

  test('a description stands directly above its block', () => {
    expect(statements('## one\n\na { }')[0]).toMatchObject({ doc: undefined })
    expect(statements('a { ## one\n  b { }\n}')[0]).toMatchObject({ doc: undefined, body: [{ doc: undefined }] })
  })

  test('escapes', () =>
    expect(statements('a = "\\"\\\\\\n\\t"')[0]).toMatchObject({ value: { value: '"\\\n\t', closed: true } }))

  test.each(['\r\n', '\r'])('line ends %j give the same tree', newline =>
    expect(shape(JOB.replaceAll('\n', newline)).replaceAll('\\r', '')).toBe(shape(JOB)),
  )

  test('a byte order mark, tabs and characters of any kind', () => {
    expect(findingsOf('\ufeffa\t=\t"äöü 😀 日本" # ½ ’')).toEqual([])
    expect(findingsOf('größe = 1').map(f => f.message)).toEqual([
      'A name has the letters a to z, digits and `_`, and starts with a letter.',
    ])
  })
})

describe('any text', () => {
  function checkSpans(text: string) {
    for (const chunk of parseSource(text).chunks) {
      const inside = (nodes: readonly Node[], start: number, end: number) => {
        let last = start
        for (const node of nodes) {
          expect(node.start).toBeGreaterThanOrEqual(last)
          expect(node.end).toBeGreaterThanOrEqual(node.start)
          expect(node.end).toBeLessThanOrEqual(end)
          last = node.end
          inside(children(node), node.start, node.end)
        }
      }
      inside(chunk.statements, 0, chunk.text.length)
      for (const f of chunk.findings) {
        // Said only where a rule of the grammar failed to accept something, which none may.
        expect(f.message).not.toContain('This part cannot be read')
        for (const span of [f, ...f.related, ...f.fixes.flatMap(fix => fix.edits)]) {
          expect(span.start).toBeGreaterThanOrEqual(0)
          expect(span.end).toBeGreaterThanOrEqual(span.start)
          expect(span.end).toBeLessThanOrEqual(chunk.text.length)
        }
      }
    }
  }

  test('gives a tree whose parts lie inside each other, in order', () =>
    fc.assert(fc.property(fc.oneof(anyText, soundFile), checkSpans), { numRuns: 1500 }))

  test('a part of a job is read as well', () =>
    fc.assert(
      fc.property(fc.nat(JOB.length), fc.nat(JOB.length), (a, b) =>
        checkSpans(JOB.slice(Math.min(a, b), Math.max(a, b))),
      ),
    ))

  test.each([
    '{',
    '}',
    '"',
    '(',
    '1 ',
    '1-',
    "1'-",
    'a ',
    'a-',
    '\\',
    '#',
    '\n',
    '"\\',
    '1/',
    'a{b=',
    '½',
    '1½',
    '\ud83d',
    ';',
    '(\n',
    'a b "c" ',
  ])('a hundred thousand characters of %j are read in a moment', piece => {
    const text = piece.repeat(100_000 / piece.length)
    const from = performance.now()
    expect(
      parseSource(text)
        .chunks.map(c => c.text.length)
        .reduce((a, b) => a + b, 0),
    ).toBe(text.length)
    expect(performance.now() - from).toBeLessThan(5000)
  })
})
