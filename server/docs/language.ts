/** The page of the language: every block, field, derived value, unit and limit, as the vocabulary has them. */
import { KEYWORDS } from '../features/words.ts'
import { CHAINS } from '../mechanics/index.ts'
import {
  type BlockSpec,
  CAUTIONS,
  type DerivedSpec,
  type FieldSpec,
  FUNCTIONS,
  LIMITS,
  standardPipe,
  topBlocks,
} from '../model/index.ts'
import { dimensionName, UNITS } from '../units/index.ts'
import { code, heading, list, type Node, table, text } from './nodes.ts'

const EXAMPLE = `use "stock/house.door"

job "HS-2207" {
  site = "Harbour Street cold store"
}

## Ground-floor dock, daily traffic
opening "Dock 3" {
  width    = 12ft
  height   = 11ft 6in
  headroom = 22in because "measured under the sprinkler main"

  curtain {
    slat       = flat_20
    engagement = 2 3/4in
  }
  rails {
    between = width + 1in
    depth   = 3 1/4in
  }
  drum { pipe = nps6_std }
  require headroom >= drum.coil_diameter + 3in because "sprinkler main"
}

opening "Dock 4" like "Dock 3" { height = 10ft }`

export function languagePage(): Node[] {
  return [
    heading(1, 'The language', 'language'),
    text(
      'A `.door` file reads like a job sheet: blocks with names, one field a line, every quantity with its unit. People write facts and decisions; whatever follows from them is derived, and never has to be typed.',
    ),
    code(EXAMPLE),
    heading(2, 'How a file reads'),
    list([
      'One statement a line, or several with `;` between them. Layout means nothing else.',
      '`#` begins a comment; `##` one that belongs to what follows and is shown with it.',
      'A quantity is a number with a unit: `12ft`, `11ft 6in`, `2 3/4in`, `3 lb/ft`, `1.7 turns`. A fraction stands as in the trade. A number without a unit is a count.',
      'A field takes an expression: names of other fields, derived values and `let`s, with `+ - * / ^`, comparisons and functions. Dimensions are checked.',
      '`like` copies a door: its fields, blocks and `let`s, as expressions that are evaluated again where they are copied to. What is written beside it wins. It leaves the `survey`, `installed`, `delivery` and `handover` records behind, since they belong to one opening; so do `##` texts and every `allow`.',
      '`use` brings in the stock, limits and openings of another file by a path relative to this one. It may not leave the folder of the nearest `doorwright.json` or `.git` above.',
      'What is not known stays unknown: it is never guessed, and the tool says which field is missing.',
      'Limits hold from the nearest: in the opening, in the file, in a file it uses, in the project file `doorwright.json` of the house, and last the usual ones.',
    ]),
    heading(3, 'Words'),
    table(
      ['word', 'what it does'],
      Object.entries(KEYWORDS).map(([k, d]) => [`\`${k}\``, d]),
    ),
    heading(3, 'Functions'),
    table(
      ['function', 'what it gives'],
      [...FUNCTIONS.values()].map(f => [`\`${f.form}\``, f.doc]),
    ),
    heading(2, 'Blocks'),
    text(
      `At the top of a file stand ${[...topBlocks.keys()].map(k => `\`${k}\``).join(', ')}; all others stand in an \`opening\` or in one of its blocks.`,
    ),
    ...blocksByPath().flatMap(([path, b]) => block(path, b)),
    heading(2, 'Limits'),
    text(
      'Every limit of the rules, by the name it is set with in `limits { }` or in the project file. To set one to the looser side takes `because`.',
    ),
    table(
      ['limit', 'takes', 'usual', 'looser is', 'what it bounds', 'source'],
      [...LIMITS].map(([name, l]) => [
        `\`${name}\``,
        takes(l.field),
        usual(l.field),
        { most: 'larger', least: 'smaller', within: 'wider' }[l.sense],
        l.field.doc,
        l.source,
      ]),
    ),
    heading(2, 'Units'),
    text(
      'Units are multiplied with `*`, divided with `/` and raised with `^`: `lbf*in/turn`, `in^4`. A pound (`lb`) is a mass, a pound-force (`lbf`) a force.',
    ),
    table(
      ['unit', 'of', 'in SI base units', 'what it is'],
      [...UNITS.values()].map(u => [`\`${u.name}\``, dimensionName(u.dimension) ?? 'other', String(u.factor), u.doc]),
    ),
    heading(2, 'Standard parts'),
    text('Pipes (ASME B36.10M) and roller chains (ASME B29.1) are there by name, without a `use`.'),
    table(
      ['pipe', 'outside diameter', 'wall'],
      standardPipe
        .names()
        .map(n => [
          `\`${n}\``,
          ...[...(standardPipe(n) ?? [])].map(([, v]) => (v.kind === 'number' ? `${round(v.si / 0.0254)} in` : '')),
        ]),
    ),
    table(
      ['chain', 'pitch', 'tensile strength'],
      Object.entries(CHAINS).map(([n, c]) => [
        `\`${n}\``,
        `${round(c.pitch / 0.0254)} in`,
        `${round(c.tensile / 4.4482216152605)} lbf`,
      ]),
    ),
  ]
}

const round = (n: number): string => String(Number(n.toPrecision(6)))

/** Every block once, the outer before the inner; one that stands in another block than the opening by its path. */
function blocksByPath(): [path: string, block: BlockSpec][] {
  const out = new Map<BlockSpec, string>()
  const visit = (b: BlockSpec, path: string): void => {
    if (out.has(b) || b.name === 'limits') return
    out.set(b, path)
    for (const inner of b.blocks.values())
      visit(inner, b.name === 'opening' || topBlocks.has(inner.name) ? inner.name : `${path}.${inner.name}`)
  }
  for (const b of topBlocks.values()) visit(b, b.name)
  return [...out].map(([b, path]) => [path, b])
}

function block(path: string, b: BlockSpec): Node[] {
  const label = { none: '', text: ' "text"', name: ' name', 'optional name': ' [name]' }[b.label]
  const facts = [
    b.required && 'An opening is incomplete without it.',
    b.repeatable && 'It may be repeated.',
    b.like && '`like` may follow its name.',
    b.blocks.size > 0 && `In it may stand ${[...b.blocks.keys()].map(k => `\`${k}\``).join(', ')}.`,
  ].filter(f => typeof f === 'string')
  const fields = [...b.fields.values()]
  const derived = [...b.derived.values()]
  return [
    heading(3, `\`${path}${label}\``, `block-${path}`),
    text([b.doc, ...facts].join(' ')),
    ...(fields.length > 0
      ? [
          heading(4, 'Fields', `fields-${path}`),
          table(
            ['field', 'takes', 'default', 'what it is', 'example', 'caution'],
            fields.map(f => [
              `\`${f.name}\`${f.required ? ' (needed)' : ''}`,
              takes(f),
              usual(f),
              docOf(f),
              `\`${f.example}\``,
              caution(f),
            ]),
          ),
        ]
      : []),
    ...(derived.length > 0
      ? [
          heading(4, 'Derived', `derived-${path}`),
          table(
            ['value', 'dimension', 'what it is', 'formula', 'source', 'caution'],
            derived.map(d => [`\`${d.name}\``, d.dimension, d.doc, formula(d.formula), d.source, caution(d)]),
          ),
        ]
      : []),
  ]
}

/** One in which names are marked as such already stays as it is. */
const formula = (f: string): string => (f.includes('`') ? f : `\`${f}\``)
const docOf = (f: FieldSpec): string =>
  f.derived ? `${f.doc} Given or derived: ${formula(f.derived.formula)} (${f.derived.source}).` : f.doc
const caution = (s: FieldSpec | DerivedSpec): string => (s.caution ? CAUTIONS[s.caution].short : '')

function takes(f: FieldSpec): string {
  const t = f.takes
  switch (t.kind) {
    case 'quantity':
      return t.dimensions.join(' or ')
    case 'range':
      return `\`[low, high]\` of ${t.dimension}`
    case 'word':
      return Object.entries(t.words)
        .map(([w, doc]) => `\`${w}\` ${doc}`.trim())
        .join('; ')
    case 'stock':
      return `a \`${t.block}\` of the stock, or a block`
    case 'truth':
      return '`true` or `false`'
    case 'tick':
      return 'a count, or `true` or `false`'
    default:
      return t.kind === 'date' ? 'a date, `"2026-03-09"`' : 'text in `"`'
  }
}

function usual(f: FieldSpec): string {
  const d = f.byDefault
  return d === undefined ? '' : 'text' in d ? `\`${d.text}\`` : d.formula
}
