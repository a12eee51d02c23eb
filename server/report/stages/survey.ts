/** 2. The opening as written and as measured, each with its limit and a verdict. */
import { sizeLimit } from '../../mechanics/index.ts'
import { type Door, nearly } from '../../model/index.ts'
import { type Html, html, type Part } from '../html.ts'
import { asMeasured, signed, stage, table, tape, tapeLimit } from '../parts.ts'

const BLANK = html`<span class="line"></span>`

/** `within` or `OUT`; nothing to say without a measurement, or where there is no limit. */
function verdict(measured: boolean, ok: boolean | undefined): Html {
  if (!measured) return BLANK
  if (ok === undefined) return html`no limit set`
  return ok ? html`within` : html`<span class="out">OUT</span>`
}

const most = (value: number, limit: number): boolean => value <= limit || nearly(value, limit)
const least = (value: number, limit: number): boolean => value >= limit || nearly(value, limit)

export function survey(door: Door): Html {
  const rows: Part[][] = []
  const add = (what: Part, written: Part, measured: number | undefined, limit: Part, ok?: boolean): void => {
    rows.push([
      what,
      written,
      measured === undefined ? BLANK : html`<strong>${asMeasured(door, measured)}</strong>`,
      limit,
      limit === '' ? '' : verdict(measured !== undefined, ok),
    ])
  }
  const plusMinus = (limit: number | undefined): Part =>
    limit === undefined ? 'none until set' : `± ${tapeLimit(door, limit, 'most')}`
  for (const [name, what, places] of [
    [
      'width',
      'Width',
      [
        ['bottom', 'at the floor'],
        ['middle', 'at half height'],
        ['top', 'at the head'],
      ],
    ],
    [
      'height',
      'Height',
      [
        ['left', 'left jamb'],
        ['right', 'right jamb'],
      ],
    ],
  ] as const) {
    const written = door.number(name)
    const limit = door.number('limits.opening_size') ?? (written === undefined ? undefined : sizeLimit(written))
    for (const [place, words] of places) {
      const m = door.number(`survey.${name}.${place}`)
      const ok =
        m === undefined || written === undefined || limit === undefined ? undefined : most(Math.abs(m - written), limit)
      add(`${what}, ${words}`, written === undefined ? '' : tape(door, written), m, plusMinus(limit), ok)
    }
  }
  diagonals(door, add)
  const plumb = door.number('limits.jamb_plumb')
  for (const side of ['left', 'right'] as const) {
    const m = door.number(`survey.plumb.${side}`)
    add(
      `Out of plumb, ${side} jamb`,
      '',
      m,
      plumb === undefined ? 'none until set' : `at most ${tapeLimit(door, plumb, 'most')}`,
      m === undefined || plumb === undefined ? undefined : most(m, plumb),
    )
  }
  const level = door.number('survey.level')
  const levelLimit = door.number('limits.floor_level')
  add(
    'Floor out of level',
    '',
    level,
    levelLimit === undefined ? 'none until set' : `at most ${tapeLimit(door, levelLimit, 'most')}`,
    level === undefined || levelLimit === undefined ? undefined : most(level, levelLimit),
  )
  fits(door, add)
  rooms(door, add)
  return stage(
    2,
    'Survey: written and measured',
    html`<p>Left and right are always as seen from the coil side.</p>`,
    table(['', 'Written', 'Measured', 'Limit', 'Verdict'], rows, 'survey'),
    signed(door, 'survey', 'Measured'),
  )
}

type Add = (what: Part, written: Part, measured: number | undefined, limit: Part, ok?: boolean) => void

function diagonals(door: Door, add: Add): void {
  const width = door.number('width')
  const height = door.number('height')
  const written = width === undefined || height === undefined ? '' : tape(door, Math.hypot(width, height))
  const rising = door.number('survey.diagonal.rising')
  const falling = door.number('survey.diagonal.falling')
  add('Diagonal, lower left to upper right', written, rising, '')
  add('Diagonal, upper left to lower right', written, falling, '')
  const limit = door.number('limits.opening_square')
  const difference = rising === undefined || falling === undefined ? undefined : Math.abs(rising - falling)
  add(
    'Difference of the diagonals',
    '',
    difference,
    limit === undefined ? 'none until set' : `at most ${tapeLimit(door, limit, 'most')}`,
    difference === undefined || limit === undefined ? undefined : most(difference, limit),
  )
}

/** Whether the rails of the job fit the opening as measured. */
function fits(door: Door, add: Add): void {
  const widths = ['bottom', 'middle', 'top'].map(p => door.number(`survey.width.${p}`)).filter(w => w !== undefined)
  const between = door.number('rails.between')
  const depth = door.number('rails.depth')
  if (between === undefined || depth === undefined) return
  if (door.word('mount') === 'between') {
    const needs = between + 2 * depth
    const narrowest = widths.length ? Math.min(...widths) : undefined
    add(
      'Narrowest width, rails between the jambs',
      '',
      narrowest,
      `at least ${tapeLimit(door, needs, 'least')}`,
      narrowest === undefined ? undefined : least(narrowest, needs),
    )
  } else {
    const widest = widths.length ? Math.max(...widths) : undefined
    add(
      'Widest width, rails beyond the jambs',
      '',
      widest,
      `at most ${tapeLimit(door, between, 'most')}`,
      widest === undefined ? undefined : most(widest, between),
    )
  }
}

function rooms(door: Door, add: Add): void {
  const parts = ['drum.rise', 'drum.coil_diameter', 'limits.headroom_clearance'].map(p => door.number(p))
  const [rise, coil, clearance] = parts
  const needed =
    rise === undefined || coil === undefined || clearance === undefined ? undefined : rise + coil / 2 + clearance
  const written = (path: string): Part => {
    const si = door.number(path)
    return si === undefined ? '' : tape(door, si)
  }
  const headroom = door.number('survey.headroom')
  add(
    'Headroom',
    written('headroom'),
    headroom,
    needed === undefined ? '' : `at least ${tapeLimit(door, needed, 'least')}`,
    headroom === undefined || needed === undefined ? undefined : least(headroom, needed),
  )
  for (const side of ['left', 'right'] as const) {
    const path = `side_room_${side}`
    const end =
      door.word('adjuster.side') === side ? 'adjuster' : door.word('operator.side') === side ? 'drive' : undefined
    const need = end === undefined ? undefined : door.number(`limits.side_room_${end}`)
    const m = door.number(`survey.${path}`)
    const limit = need ?? door.number(path)
    add(
      `Side room ${side}${end === undefined ? '' : ` (${end} end)`}`,
      written(path),
      m,
      limit === undefined
        ? 'none until set'
        : need !== undefined
          ? `at least ${tapeLimit(door, need, 'least')}`
          : 'as written',
      m === undefined || limit === undefined ? undefined : least(m, limit),
    )
  }
}
