import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { applyEdits, format, formatRange, parseSource, tokenize } from '../../grammar/index.ts'
import { anyText, JOB, soundFile } from './generate.ts'
import { findingsOf, shape } from './marks.ts'

const layout = (text: string) => format(text).text
const comments = (text: string) =>
  tokenize(text)
    .filter(t => t.kind === 'comment' || t.kind === 'doc')
    .map(t => text.slice(t.start, t.end).trimEnd())

describe('layout', () => {
  test('one statement a line, two spaces deep, `=` lined up in each row of fields', () => {
    expect(
      layout(
        'opening  "Dock 3"   {\nwidth=12ft;height  =  11ft 6in\n\n\n\nmount = face # on the wall\n\t# own\ncycles=20/day\nrails{between=width+1in}\n}',
      ),
    ).toBe(`opening "Dock 3" {
  width  = 12ft
  height = 11ft 6in

  mount = face # on the wall
  # own
  cycles = 20/day
  rails { between = width + 1in }
}
`)
  })

  test('a block on one line stays there while it fits', () => {
    const short = 'width { bottom = 12ft; middle = 12ft 1/16in }\n'
    expect(layout(short)).toBe(short)
    expect(layout('width{bottom=12ft;middle=12ft 1/16in;}')).toBe(short)
    expect(format(short, { width: 40 }).text).toBe('width {\n  bottom = 12ft\n  middle = 12ft 1/16in\n}\n')
    expect(layout('a {\n}\nb { # c\n}\n')).toBe('a {}\nb { # c\n}\n')
  })

  test('blanks inside values', () => {
    expect(layout('a {\n b = - ( 1+2 ) *  min ( x . y ,3 )\n}')).toBe('a {\n  b = -(1 + 2) * min(x.y, 3)\n}\n')
    expect(layout('let a = [ 1ft,2ft ]')).toBe('let a = [1ft, 2ft]\n')
    expect(layout('require not  a==-b   because "x"')).toBe('require not a == -b because "x"\n')
  })

  test('quantities stay as written', () => {
    const text = 'a {\n  b = 12\'-4 1/2"\n  c = 3 lb/ft\n  d = 10 - 1/2\n}\n'
    expect(layout(text)).toBe(text)
  })

  test('line ends inside brackets stay', () =>
    expect(layout('a {\n b = max(\n3in, # least\n# own\n 4in\n)\n}')).toBe(
      'a {\n  b = max(\n    3in, # least\n    # own\n    4in\n  )\n}\n',
    ))

  test('a chunk that cannot be read stays byte for byte', () =>
    expect(layout('a{b=1}\nc  {  d = \n}\ne{f=1}')).toBe('a { b = 1 }\nc  {  d = \n}\ne { f = 1 }\n'))

  test.each(['\n', '\r\n', '\r'])('keeps line ends %j', newline =>
    expect(layout('a{\nb=1\n}'.replaceAll('\n', newline))).toBe('a {\n  b = 1\n}\n'.replaceAll('\n', newline)),
  )

  test('a byte order mark and a file of comments stay', () => {
    expect(layout('\ufeffa=1')).toBe('\ufeffa = 1\n')
    expect(layout('# a\n\n\n\n# b\n\n')).toBe('# a\n\n# b\n')
    expect(layout('')).toBe('')
  })

  test('a job that is laid out does not change', () => expect(format(JOB)).toEqual({ text: JOB, changed: false }))

  test('a range lays out the chunks it touches alone', () => {
    const text = 'a{b=1}\nc{d=1}\ne{f=1}\n'
    expect(applyEdits(text, formatRange(parseSource(text), 8, 9))).toBe('a{b=1}\nc { d = 1 }\ne{f=1}\n')
  })

  test('edits touch nothing but gaps', () => {
    const text = 'a{b="x  y"}'
    expect(formatRange(parseSource(text)).map(e => text.slice(e.start, e.end))).toEqual(['', '', '', '', '', ''])
  })

  test('keeps meaning and comments, and laying out twice is laying out once', () =>
    fc.assert(
      fc.property(soundFile, text => {
        expect(findingsOf(text)).toEqual([])
        const once = layout(text)
        expect(shape(once)).toBe(shape(text))
        expect(comments(once)).toEqual(comments(text))
        expect(layout(once)).toBe(once)
        expect(findingsOf(once)).toEqual([])
        expect(applyEdits(text, formatRange(parseSource(text)))).toBe(once)
      }),
      { numRuns: 1000 },
    ))

  test('in any text, laying out twice is laying out once', () =>
    fc.assert(
      fc.property(anyText, text => {
        const once = layout(text)
        expect(layout(once)).toBe(once)
        expect(shape(once)).toBe(shape(text))
        expect(applyEdits(text, formatRange(parseSource(text)))).toBe(once)
      }),
      { numRuns: 1000 },
    ))
})
