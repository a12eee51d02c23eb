/**
 * The same jobs in three notations: as .door files, as YAML and as JSON, with a schema for the latter two. Seeded, so
 * that every run measures the same text.
 */

/** Marks and quantities are drawn by this (mulberry32); any generator with a seed would do. */
function random(seed) {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

const HEADER = [
  ['site', '"Harbour Street cold store"'],
  ['customer', '"Harbour Street Cold Storage"'],
  ['revision', '"B"'],
  ['units', 'imperial'],
]

/** Values stand as a job file has them: `"text"`, `8`, `true`, `10ft 1in`, `right`. */
function opening(draw) {
  const one = list => list[Math.floor(draw() * list.length)]
  return [
    ['width', '10ft'],
    ['height', one(['9ft 11in', '10ft', '10ft 1in'])],
    ['mount', 'face'],
    ['headroom', `${20 + Math.floor(draw() * 8)}in`],
    ['side_room_left', `${12 + Math.floor(draw() * 6)}in`],
    ['side_room_right', `${14 + Math.floor(draw() * 6)}in`],
    ['cycles', `${1 + Math.floor(draw() * 6)}/day`],
    [
      'curtain',
      [
        [
          'slat',
          [
            ['pitch', '2 1/2in'],
            ['thickness', '3/4in'],
            ['weight', one(['2.39 lb/ft^2', '2.4 lb/ft^2', '2.41 lb/ft^2'])],
          ],
        ],
        ['engagement', '2 1/2in'],
        ['bottom_bar', '2.5 lb/ft'],
        ['endlock', '0.2 lb'],
      ],
    ],
    [
      'rails',
      [
        ['between', '10ft 1in'],
        ['depth', one(['3 1/4in', '3 3/8in'])],
        ['fastener_spacing', '24in'],
        ['fastener_capacity', `${900 + 50 * Math.floor(draw() * 6)} lbf`],
      ],
    ],
    [
      'drum',
      [
        ['pipe', 'nps5_std'],
        ['span', '10ft 9in'],
        ['shaft', '1 1/4in'],
        ['drop_guard', 'true'],
      ],
    ],
    [
      'adjuster',
      [
        ['side', 'right'],
        ['holes', '8'],
        ['preload', '2.0 turns'],
      ],
    ],
    [
      'spring',
      [
        ['wire', '3/8in'],
        ['diameter', '4 1/2in'],
        ['coils', '120'],
        ['count', '2'],
        ['material', 'oil_tempered'],
        ['hand', 'right'],
      ],
    ],
  ]
}

const HEADER_LINES = 8
const OPENING_LINES = 46

/** As many openings as come nearest to so many lines of a job file; 100 lines are exactly that. */
export function job(lines, seed = 1) {
  const draw = random(seed)
  const count = Math.max(1, Math.round((lines - HEADER_LINES) / OPENING_LINES))
  return Array.from({ length: count }, (_, i) => ({ mark: `Gate ${i + 1}`, fields: opening(draw) }))
}

const door = (fields, indent) => {
  const longest = Math.max(...fields.filter(([, v]) => !Array.isArray(v)).map(([k]) => k.length))
  return fields
    .map(([key, value]) =>
      Array.isArray(value)
        ? `${indent}${key} {\n${door(value, `${indent}  `)}${indent}}\n`
        : `${indent}${key.padEnd(longest)} = ${value}\n`,
    )
    .join('')
}
const yaml = (fields, indent) =>
  fields
    .map(([key, value]) =>
      Array.isArray(value) ? `${indent}${key}:\n${yaml(value, `${indent}  `)}` : `${indent}${key}: ${value}\n`,
    )
    .join('')
/** What JSON cannot say itself, a quantity or a word, is a string there. */
const plain = value => (/^("|\d+$|true$|false$)/.test(value) ? JSON.parse(value) : value)
const object = fields => Object.fromEntries(fields.map(([k, v]) => [k, Array.isArray(v) ? object(v) : plain(v)]))

const TITLE = '# Harbour Street cold store: a long row of gates\n'
const NUMBER = '"HS-2250"'
export const NOTATIONS = {
  door: openings =>
    `${TITLE}\njob ${NUMBER} {\n${door(HEADER, '  ')}}\n${openings
      .map(o => `\n## ${o.mark}, yard side\nopening "${o.mark}" {\n${door(o.fields, '  ')}}\n`)
      .join('')}`,
  yaml: openings =>
    `${TITLE}\njob: ${NUMBER}\n${yaml(HEADER, '')}openings:\n${openings
      .map(o => `\n  # ${o.mark}, yard side\n  - mark: "${o.mark}"\n${yaml(o.fields, '    ')}`)
      .join('')}`,
  json: openings =>
    JSON.stringify(
      { job: plain(NUMBER), ...object(HEADER), openings: openings.map(o => ({ mark: o.mark, ...object(o.fields) })) },
      null,
      2,
    ),
}

const NUMERAL = '(\\d+ \\d+/\\d+|\\d+/\\d+|\\d+(\\.\\d+)?)'
const quantity = (unit, description) => ({ type: 'string', pattern: `^${NUMERAL} ?${unit}$`, description })
const length = description => ({
  type: 'string',
  pattern: `^(\\d+ft ${NUMERAL}in|${NUMERAL} ?(ft|in))$`,
  description,
})
const words = (list, description) => ({ type: 'string', enum: list, description })
const count = description => ({ type: 'integer', minimum: 1, description })
const text = description => ({ type: 'string', minLength: 1, description })
const block = properties => ({
  type: 'object',
  properties,
  required: Object.keys(properties),
  additionalProperties: false,
})

/** What a schema can check of a job: kinds, units, words, what has to be there, and that preload stops at a hole of 8. */
export const SCHEMA = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  ...block({
    job: text('The number of the job.'),
    site: text('Where the doors are.'),
    customer: text('Whose doors they are.'),
    revision: text('Counts the versions of this job.'),
    units: words(['imperial', 'metric'], 'The units that values are shown in.'),
    openings: {
      type: 'array',
      items: block({
        mark: text('The name of the opening.'),
        width: length('Clear width.'),
        height: length('Clear height.'),
        mount: words(['face', 'between', 'ceiling'], 'Where the door is fixed.'),
        headroom: length('From the top of the opening to the first obstacle.'),
        side_room_left: length('Beside the opening, seen from the coil side.'),
        side_room_right: length('Beside the opening, seen from the coil side.'),
        cycles: quantity('/(day|week|year)', 'How often it opens.'),
        curtain: block({
          slat: block({
            pitch: length('From slat to slat.'),
            thickness: length('Over the curve.'),
            weight: quantity('lb/ft\\^2', 'Of the curtain.'),
          }),
          engagement: length('How far slats reach into the rails.'),
          bottom_bar: quantity('lb/ft', 'Its weight.'),
          endlock: quantity('lb', 'The weight of one.'),
        }),
        rails: block({
          between: length('From rail to rail.'),
          depth: length('Of the groove.'),
          fastener_spacing: length('From fastener to fastener.'),
          fastener_capacity: quantity('lbf', 'What one fastener takes.'),
        }),
        drum: block({
          pipe: words(['nps4_std', 'nps5_std', 'nps6_std', 'nps8_std', 'nps10_std'], 'The pipe of the drum.'),
          span: length('From bearing to bearing.'),
          shaft: length('Its diameter.'),
          drop_guard: { type: 'boolean', description: 'Stops the curtain when a spring breaks.' },
        }),
        adjuster: block({
          side: words(['left', 'right'], 'The side with the adjuster.'),
          holes: count('Holes in the wheel.'),
          preload: {
            type: 'string',
            pattern: '^\\d+(\\.(0|125|25|375|5|625|75|875))? turns$',
            description: 'Turns put on with the door open; the wheel stops at a hole.',
          },
        }),
        spring: block({
          wire: length('Diameter of the wire.'),
          diameter: length('Mean diameter.'),
          coils: count('Active coils.'),
          count: count('Springs of this kind.'),
          material: words(['oil_tempered', 'hard_drawn', 'music'], 'The wire.'),
          hand: words(['left', 'right'], 'The way it is wound.'),
        }),
      }),
    },
  }),
}

/** Where the measures take place: in the middle of the text, at the same opening in every notation. */
export function places(content) {
  const rows = content.split('\n')
  const from = Math.floor(rows.length / 2)
  const near = (pattern, find = 0) => {
    const line = rows.findIndex((r, i) => i >= find && pattern.test(r))
    return { line, character: rows[line].search(pattern) }
  }
  const preload = near(/preload\b/, from)
  const after = (pattern, find) => {
    const at = near(pattern, find)
    return { line: at.line, character: at.character + pattern.exec(rows[at.line])[0].length }
  }
  let mark = preload.line
  while (!/Gate \d+"/.test(rows[mark])) mark--
  return {
    /** One character here makes the preload stop between two holes. */
    preload: after(/2\.0/, preload.line),
    hover: { line: preload.line, character: preload.character + 2 },
    word: near(/right/, preload.line - 2),
    mark: after(/Gate \d+/, mark),
    visible: {
      start: { line: Math.max(0, preload.line - 25), character: 0 },
      end: { line: Math.min(rows.length - 1, preload.line + 25), character: 0 },
    },
  }
}
