/** The opening with its door, seen from the coil side, to scale. */
import type { Door } from '../../model/index.ts'
import { type Html, html } from '../html.ts'
import { tape } from '../parts.ts'
import { across, hatch, line, rect, scaleFor, svg, text, upright } from './svg.ts'

export interface Drawing {
  readonly drawing: Html
  /** 1 to so many, printed at full size; undefined where it is not to scale. */
  readonly scale?: number
}

/** Undefined where the sizes that it is drawn from are not known. */
export function elevation(door: Door, id: string): Drawing | undefined {
  const width = door.number('width')
  const height = door.number('height')
  const between = door.number('rails.between')
  const depth = door.number('rails.depth')
  const rail = door.number('rails.length') ?? height
  const span = door.number('drum.span')
  const coil = door.number('drum.coil_diameter')
  const rise = door.number('drum.rise')
  const od = door.number('drum.pipe.od')
  if (!width || !height || !between || depth === undefined || !rail || !span || !coil || rise === undefined || !od)
    return undefined
  const axis = height + rise
  const top = Math.max(axis + coil / 2, height + Math.min(door.number('headroom') ?? 0, 3 * coil), rail)
  const wide = Math.max(span + 0.6, between + 2 * depth, width) + 0.3
  const N = scaleFor(wide, top, { width: 146, height: 84 })
  const s = 1000 / N
  const W = 182
  const floor = 14 + top * s
  const H = floor + 16
  const x = (m: number): number => W / 2 + m * s
  const y = (m: number): number => floor - m * s
  const half = { width: width / 2, between: between / 2, span: span / 2 }
  const left = x(-wide / 2)
  const right = x(wide / 2)
  const headroom = door.number('headroom')
  const ceiling = headroom === undefined ? undefined : height + headroom
  const adjuster = door.word('adjuster.side')
  const operator = door.block('operator') ? door.word('operator.side') : undefined
  const end = (side: 'left' | 'right', what: string, square: boolean): Html => {
    const cx = side === 'left' ? x(-half.span) - 5 : x(half.span) + 5
    return html`${line(side === 'left' ? x(-half.span) : x(half.span), y(axis), cx, y(axis), 0.6)}${square ? rect(cx - 3, y(axis) - 3, 6, 6, { fill: '#fff', stroke: 0.5 }) : html`<circle cx="${cx.toFixed(2)}" cy="${y(axis).toFixed(2)}" r="3" fill="#fff" stroke="#000" stroke-width="0.5"/>`}${text(side === 'left' ? x(-half.span) - 1.5 : x(half.span) + 1.5, y(axis) + 7, what, { size: 3.4, bold: true, halo: true, anchor: side === 'left' ? 'end' : 'start' })}`
  }
  const drawing = svg(
    W,
    H,
    `Elevation of ${door.mark} seen from the coil side, scale 1 to ${N}`,
    hatch(`${id}-wall`),
    rect(left, y(top), right - left, floor - y(top), { fill: `url(#${id}-wall)`, stroke: 0 }),
    rect(x(-half.width), y(height), width * s, height * s, { id: 'opening-drawn', fill: '#fff', stroke: 0.5 }),
    [-1, 1].map(side =>
      rect(side < 0 ? x(-half.between - depth) : x(half.between), y(rail), depth * s, rail * s, {
        id: 'rail-drawn',
        fill: '#fff',
        stroke: 0.4,
      }),
    ),
    rect(x(-half.span), y(axis + coil / 2), span * s, coil * s, {
      id: 'coil-drawn',
      fill: '#fff',
      stroke: 0.3,
      dash: '2 1',
    }),
    rect(x(-half.span), y(axis + od / 2), span * s, od * s, { id: 'drum-drawn', fill: '#fff', stroke: 0.4 }),
    line(x(-half.span) - 8, y(axis), x(half.span) + 8, y(axis), 0.15, '4 1 1 1'),
    ceiling !== undefined &&
      ceiling <= top + 1e-9 && [
        line(left, y(ceiling), right, y(ceiling), 0.7),
        // beside the wall, where nothing is drawn
        ['headroom', 'ends here'].map((row, i) =>
          text(right + 1.5, y(ceiling) - 0.6 + i * 3.4, row, { anchor: 'start', size: 3 }),
        ),
      ],
    line(0, floor, W, floor, 0.7),
    adjuster !== undefined && end(adjuster as 'left', 'adjuster', false),
    operator !== undefined && operator !== adjuster && end(operator as 'left', 'operator', true),
    across(x(-half.width), x(half.width), y(height * 0.82), `opening ${tape(door, width)}`, { size: 4 }),
    across(x(-half.between), x(half.between), floor + 8, `between the rails ${tape(door, between)}`, {
      from: floor + 1,
      size: 4,
    }),
    across(x(-half.span), x(half.span), 8, `drum span ${tape(door, span)}`, { from: y(axis - od / 2), size: 4 }),
    upright(y(height), floor, x(-half.width) + 9, `height ${tape(door, height)}`, { size: 4 }),
    upright(y(axis), floor, 8, `drum axis ${tape(door, axis)}`, { from: x(-half.span), size: 4 }),
    text(
      W / 2,
      floor + 14.5,
      `floor marks ${tape(door, Math.abs(between - width) / 2)} from each jamb: see the plan in stage 3`,
      { size: 3.6 },
    ),
  )
  return { drawing, scale: N }
}
