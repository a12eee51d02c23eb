import fc from 'fast-check'

/** A job of the demonstration scenario, with every kind of statement. */
export const JOB = `# Harbour Street cold store: dock doors
use "stock/house.door"

job "HS-2207" {
  site     = "Harbour Street cold store"
  revision = "B"
  units    = imperial
}

limits { drum_sag = 0.02 in/ft because "as \\"built\\"" }

## Ground-floor dock, daily traffic
## second line
opening "Dock 3" {
  width    = 12ft
  height   = 12'-4 1/2"
  mount    = face
  headroom = 22in # measured
  cycles   = 20/day

  curtain {
    slat       = flat_20
    engagement = 2 3/4in
    bottom_bar = 3 lb/ft
  }
  let gap = 1in
  rails {
    between = width + 1in
    depth   = max(
      3 1/4in, # the smallest
      gap * 2
    )
  }
  spring long {
    wire     = 1/2in
    material = oil_tempered
  }
  # a comment of its own
  allow headroom because "sprinkler main"
  require not (headroom < drum.coil_diameter + 3in) and -gap < 0in because "sprinkler main"
}

opening "Dock 4" like "Dock 3" {
  survey { width { bottom = 12ft; middle = 12ft 1/16in; top = 11ft 11 3/4in } }
  spring long like stock_long {}
}
# the end
`

const PIECES = [
  '{',
  '}',
  '{',
  '}',
  '"',
  '"',
  "'",
  '\n',
  '\n',
  '\r\n',
  '\r',
  ';',
  '#',
  '##',
  ' ',
  '  ',
  '\t',
  '(',
  ')',
  '[',
  ']',
  ',',
  '.',
  '=',
  '==',
  ':',
  '-',
  '+',
  '*',
  '/',
  '^',
  '<',
  '%',
  '\\',
  '12',
  '12ft',
  '4 1/2',
  '1/2"',
  '.5',
  '0',
  '/day',
  'lbf*in/turn',
  'opening "D"',
  'opening "',
  'job "',
  'use "',
  'opening',
  'use',
  'let',
  'require',
  'allow',
  'because',
  'like',
  'and',
  'not',
  'true',
  'width',
  'a',
  'spring long',
  ' = ',
  'name {',
  '\n}',
  '\nopening "E" {\n',
  '\n## doc\n',
  '\n# c\n',
  '½',
  '”',
  '“',
  '’',
  '°',
  'ö',
  '😀',
  '\ud83d',
  '\u2028',
  '\u2009',
  '\u200b',
  '\ufeff',
  '\u00a0',
  'in^4',
  'ft-lb',
  '12ft-4in',
  '10-3',
  '1e5',
  '&&',
  '≤',
  'A-b = 1',
]

export const piece = fc.constantFrom(...PIECES)
/** Texts made of whatever the language, or a person, may write. */
export const anyText = fc.oneof(
  fc.array(piece, { maxLength: 40 }).map(parts => parts.join('')),
  fc.array(piece, { maxLength: 40 }).map(parts => parts.join(' ')),
  fc.string({ unit: 'binary', maxLength: 60 }),
)

/** A place in a text and what is put there: `[where from 0 to 1, how much is taken out, what is put in]`. */
export const change = fc.tuple(
  fc.double({ min: 0, max: 1, noNaN: true }),
  fc.oneof(fc.constant(0), fc.nat(3), fc.nat(200)),
  fc.array(piece, { maxLength: 3 }).map(parts => parts.join('')),
)

/** Several changes as edits that do not overlap. */
export function editsOf(text: string, changes: readonly (readonly [number, number, string])[]) {
  let free = 0
  return [...changes]
    .sort((a, b) => a[0] - b[0])
    .flatMap(([where, length, put]) => {
      const start = Math.round(where * text.length)
      if (start < free) return []
      const end = Math.min(text.length, start + length)
      free = end + 1
      return [{ start, end, text: put }]
    })
}

const name = fc.constantFrom('a', 'width', 'bottom_bar', 'drum', 'x1')
const blank = fc.constantFrom(' ', ' ', '  ', '\t')
const gap = fc.constantFrom('', ' ', '   ')
const label = fc.constantFrom('', ' "Dock 3"', ' long', '   "a # b; c { d"')
const leaf = fc.constantFrom(
  '12ft',
  '4 1/2"',
  '12\'-4 1/2"',
  '3 lb/ft',
  '20/day',
  '1/0',
  '.5',
  '3%',
  '"text; # {"',
  'true',
  'false',
  'drum.turns',
  'face',
  '[]',
)

const { value } = fc.letrec<{ value: string }>(tie => ({
  value: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    leaf,
    fc
      .tuple(tie('value'), blank, fc.constantFrom('+', '-', '*', '/', 'and', 'or'), blank, tie('value'))
      .map(([a, s, op, t, b]) => `(${a})${s}${op}${t}${b}`),
    fc.tuple(gap, tie('value'), gap).map(([s, v, t]) => `(${s}${v}${t})`),
    fc.tuple(gap, tie('value')).map(([s, v]) => `-${s}(${v})`),
    fc.tuple(tie('value'), gap).map(([v, s]) => `(not${s}(${v}))`),
    fc
      .tuple(
        fc.array(tie('value'), { minLength: 1, maxLength: 3 }),
        gap,
        fc.constantFrom('', '\n', ' # c\n', '\n\n # own\n'),
      )
      .map(([all, s, line]) => `min${s}(${line}${all.join(`${s},${line}${s}`)}${line})`),
    fc
      .tuple(fc.array(tie('value'), { minLength: 1, maxLength: 3 }), gap)
      .map(([all, s]) => `[${s}${all.join(` ,${s}`)}${s}]`),
  ),
}))
const because = fc.constantFrom('', '', ' because "why"', '  because   "why"')
const simple = fc.oneof(
  fc.tuple(name, gap, value, because).map(([n, s, v, b]) => `${n}${s}=${s}${v}${b}`),
  fc.tuple(name, value).map(([n, v]) => `let ${n}  = ${v}`),
  fc.tuple(value, because).map(([v, b]) => `require  ${v}${b}`),
  fc.constant('allow  headroom   because "x"'),
)
const top = fc.oneof({ weight: 5, arbitrary: simple }, { weight: 1, arbitrary: fc.constant('use   "stock.door"') })
const separator = fc.constantFrom(
  '\n',
  '\n',
  '\n\n',
  '\n\n\n',
  ';',
  ' ; ',
  ' # c\n',
  '\n# own\n',
  '\n\n## doc\n',
  ';;\n',
  '\n\t \n',
)
const { block } = fc.letrec<{ block: string; body: string }>(tie => ({
  block: fc
    .tuple(name, label, fc.constantFrom('', ' like other', '  like "Dock 1"'), gap, tie('body'))
    .map(([n, l, k, s, b]) => `${n}${l}${k}${s}{${b}}`),
  body: fc
    .tuple(
      fc.array(fc.tuple(fc.oneof({ depthSize: 'small' }, simple, tie('block')), separator), { maxLength: 4 }),
      fc.constantFrom('', '\n', ' ', '\n# first\n', ' # behind\n'),
    )
    .map(([all, start]) => start + all.map(([s, sep]) => s + sep).join('')),
}))
/** Files without a mistake, laid out as badly as can be. */
export const soundFile = fc
  .tuple(
    fc.array(fc.tuple(fc.oneof(top, block, block), separator), { maxLength: 5 }),
    fc.constantFrom('\n', '\r\n', '\r'),
    fc.constantFrom('', '', '\ufeff', '\n\n', '# top\n'),
  )
  .map(([all, newline, start]) => (start + all.map(([s, sep]) => s + sep).join('')).replaceAll('\n', newline))
