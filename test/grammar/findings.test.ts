import { describe, expect, test } from 'vitest'
import { findingsOf, fixed, marked, shape, unmarked } from './marks.ts'

describe('a mistake is shown where it is, with what was expected', () => {
  test.each([
    `  width 12ft
# ^^^^^ Expected \`=\` between \`width\` and its value.`,
    `  width: 12ft
#      ^ Expected \`=\` before the value, not \`:\`.`,
    `  width == 12ft
#       ^^ \`==\` compares. Expected \`=\` to give the value.`,
    `  width =
#       ^ A value is missing after \`=\`.
  height = 1ft`,
    `  width
# ^^^^^ Expected \`=\` and a value, or \`{\` and a block, after \`width\`.`,
    `  let gap 1in
#     ^^^ Expected \`=\` after \`let gap\`.`,
    `  let = 1in
# ^^^ Expected a name after \`let\`, such as \`let gap = 1in\`.`,
    `  let Gap = 1in
#     ^^^ Names are written in small letters: \`gap\`.`,
    `  and = 3
# ^^^ \`and\` is a word of the language. Expected a name here.`,
    `  a = use
#     ^^^ \`use\` is a word of the language. Expected a value.`,
    `  a = b +
#       ^ A value is missing after \`+\`.`,
    `  a = b < c < d
#           ^^^ Comparisons are not chained. Join two comparisons with \`and\`.`,
    `  a = 2 ^ 2 ^ 2
#           ^^^ Powers are not chained. Put one of them in parentheses.`,
    `  require a = b
#           ^ \`=\` gives a value. Expected \`==\` to compare.`,
    `  use
# ^^^ Expected the path of a file in quotes after \`use\`, such as \`use "stock/house.door"\`.`,
    `  allow headroom
#       ^^^^^^^^ Expected \`because "..."\`: what is allowed needs a reason.`,
    `  a = 1 because
#       ^^^^^^^ Expected the reason in quotes after \`because\`.`,
    `  opening "Dock 3"
# ^^^^^^^^^^^^^^^^ Expected \`{\` on the same line as \`opening\`, and \`}\` after its fields.
  a = 1`,
    `  a { b = 1 } c = 2
#             ^ Expected a line end or \`;\` after \`}\`.`,
    `  a = (1 + 2
#     ^ \`(\` is opened here and never closed. Expected \`)\`.
  b = 3`,
    `  a = min(1, [2, 3)
#            ^ \`[\` is opened here and never closed. Expected \`]\`.`,
    `  a = 1)
#      ^ This \`)\` closes nothing. Remove it.`,
    `  a = "text
#     ^^^^^ This text is not closed. Expected \`"\` before the end of the line.
  b = 1`,
    `  a = "needs 4" gap"
#               ^^^ The text before this has ended. Expected a line end. Inside a text, \`"\` is written \`\\"\`.
#                  ^ This text is not closed. Expected \`"\` before the end of the line.`,
    `  { a = 1 }
# ^ Expected the name of a block before \`{\`. What is inside is not read.`,
    `  a = 5 @ 3
#     ^^^^^^ Two numbers stand side by side.`.replace(
      /\n.*/s,
      `
#       ^ \`@\` has no meaning here. Remove it, or put the words it belongs to in quotes.
#         ^ At most one space stands between the parts of a quantity.`,
    ),
    `  a.b = 3
# ^^^ A field is written inside its block: \`a { b = ... }\`.`,
    `  a { use "b" }
#     ^^^ \`use\` stands at the top level of the file. Move it out of the block around it.`,
    `  a = 4 5in
#     ^^^^^ Two numbers stand side by side. Expected a unit or an operator between them.`,
  ])('%s', source => expect(marked(unmarked(source))).toBe(source))

  test('an unclosed block is named at its header, and the rest of the file is still read', () => {
    const source = `  opening "A" {
    curtain {
#   ^^^^^^^ \`curtain\` is opened here and never closed. Add a \`}\` where it ends.
      a = 1
    rails {
      b =
#       ^ A value is missing after \`=\`.
    }
  }
  opening "B" {
    c
#   ^ Expected \`=\` and a value, or \`{\` and a block, after \`c\`.
  }`
    const text = unmarked(source)
    expect(marked(text)).toBe(source)
    expect(findingsOf(text)[0]?.related).toEqual([
      {
        start: text.indexOf('    rails'),
        end: text.indexOf('    rails') + '    rails'.length,
        message: 'Expected the `}` of `curtain` before here.',
      },
    ])
  })

  test.each([
    ['{', 'Expected the name of a block before'],
    ['a{', 'Blocks stand more than 40 deep'],
    ['a = (', 'Brackets stand more than'],
    ['(', 'Expected a field'],
    ['a = [', 'Brackets stand more than'],
    ['a = min(', 'Brackets stand more than'],
    ['not ', 'a word of the language'],
  ])('ten thousand times %j', (piece, message) => {
    const deep = piece.startsWith('a = ') ? `a = ${piece.slice(4).repeat(10_000)}` : piece.repeat(10_000)
    expect(findingsOf(deep).some(f => f.message.includes(message))).toBe(true)
  })

  test.each(['1 + ', '-', 'not ', '2 ^ '])('an expression of ten thousand %j', piece =>
    expect(findingsOf(`a = ${piece.repeat(10_000)}1`).some(f => f.message.includes('too long'))).toBe(true),
  )
})

describe('a fix writes what was meant, and leaves nothing to find', () => {
  test.each([
    ['width 12ft', 'width = 12ft'],
    ['mount face', 'mount = face'],
    ['windlocks true', 'windlocks = true'],
    ['site "Harbour Street"', 'site = "Harbour Street"'],
    ['a -3', 'a = -3'],
    ['width: 12ft', 'width = 12ft'],
    ['width : 12ft', 'width = 12ft'],
    ['width:12ft', 'width = 12ft'],
    ['width == 12ft', 'width = 12ft'],
    ['let a 3', 'let a = 3'],
    ['let a: 3', 'let a = 3'],
    ['let Gap = 3', 'let gap = 3'],
    ['require a = b', 'require a == b'],
    ['a = b < c < d', 'a = b < c and c < d'],
    ['a = 2*3', 'a = 2 * 3'],
    ['a = b*c', 'a = b * c'],
    ['a = b /c', 'a = b / c'],
    ['a = 4in/2', 'a = 4in / 2'],
    ['a = 3°', 'a = 3deg'],
    ['a = 12’', "a = 12'"],
    ['a = 12′', "a = 12'"],
    ['a = 4”', 'a = 4"'],
    ['a = 4″', 'a = 4"'],
    ["a = 4''", 'a = 4"'],
    ['a = 4½"', 'a = 4 1/2"'],
    ['a = 4 ½"', 'a = 4 1/2"'],
    ['a = 320 ft-lb', 'a = 320 lbf*ft'],
    ['a = 320 in-lb/turn', 'a = 320 lbf*in/turn'],
    ['a = 320 lb-in', 'a = 320 lbf*in'],
    ['a = 3 N-m', 'a = 3 N*m'],
    ['a = 3 in²', 'a = 3 in^2'],
    ['a = 3 in4', 'a = 3 in^4'],
    ['a = 3 in.', 'a = 3 in'],
    ['a = 1e3', 'a = 1000'],
    ['a = 1,000mm', 'a = 1000mm'],
    ['a = 3  ft', 'a = 3 ft'],
    ['a = 12ft  4in', 'a = 12ft 4in'],
    ['a = 3,', 'a = 3'],
    ['a = [1, 2,]', 'a = [1, 2]'],
    ['a = min(1, 2,)', 'a = min(1, 2)'],
    ['a = +3', 'a = 3'],
    ['a = 1)', 'a = 1'],
    ['a = (1 + 2', 'a = (1 + 2)'],
    ['a = min(1, 2', 'a = min(1, 2)'],
    ['a = "x', 'a = "x"'],
    ['a = "x\\', 'a = "x\\\\"'],
    ['a = "x\\y"', 'a = "x\\\\y"'],
    ['a = “x y”', 'a = "x y"'],
    ['bottom-bar = 3', 'bottom_bar = 3'],
    ['bottom-bar { }', 'bottom_bar { }'],
    ['curtain\n{\n}', 'curtain {\n}'],
    ['opening "A"', 'opening "A" { }'],
    ['a { } b = 1', 'a { }; b = 1'],
    ['a = 1 let b = 2', 'a = 1; let b = 2'],
    ['a { b = 1 }\n  }\nc = 1', 'a { b = 1 }\nc = 1'],
    ['a = 1 }', 'a = 1 '],
    ['opening "A" {\n  a = 1\n', 'opening "A" {\n  a = 1\n}\n'],
    ['opening "A" {\r\n  a = 1 # c\r\n', 'opening "A" {\r\n  a = 1 # c\r\n}\r\n'],
    ['a {\n  b {\n    c = 1\n  d = 1\n}\n', 'a {\n  b {\n    c = 1\n  }\n  d = 1\n}\n'],
    ['a = b && c', 'a = b and c'],
    ['a = b || c', 'a = b or c'],
    ['a = !b', 'a = not b'],
    ['a = b ≤ c', 'a = b <= c'],
    ['a = b => c', 'a = b >= c'],
    ['a = b <> c', 'a = b != c'],
    ['a = 2 × b', 'a = 2 * b'],
    ['a = 5 − b', 'a = 5 - b'],
    ['a = b\u200b', 'a = b'],
    ['a\u2009= b', 'a = b'],
  ])('%j', (before, after) => {
    expect(fixed(before)).toBe(after)
    expect(findingsOf(after)).toEqual([])
  })

  test.each([
    ['a = 12ft-4in', 'a = 12ft - 4in', 'a = 12ft 4in'],
    ['a = 10-3', 'a = 10 - 3', 'a = 10ft 3in'],
    ['a = 12ft-4', 'a = 12ft - 4', 'a = 12ft 4in'],
    ['a = 3h-4min', 'a = 3h - 4min', 'a = 3h 4min'],
    ['a = 10-3/2', 'a = 10 - 3/2', 'a = 11 1/2'],
    ['a = 4in-1/2in', 'a = 4in - 1/2in', 'a = 4 1/2in'],
  ])('%j has two readings', (before, difference, one) => {
    expect(fixed(before, 'difference')).toBe(difference)
    expect(fixed(before, 'one quantity')).toBe(one)
    expect(findingsOf(difference)).toEqual([])
    expect(findingsOf(one)).toEqual([])
    expect(shape(before)).toContain('"operator": "-"')
  })

  test('a difference of other units has one reading', () => {
    expect(findingsOf('a = 3lb-2')[0]?.fixes.map(f => f.title)).toEqual(['Write `3lb - 2` (a difference)'])
  })
})
