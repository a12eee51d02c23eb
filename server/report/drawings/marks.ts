/** Both jambs in plan at the floor, with the marks that the rails are set to. Each end is to scale; the middle is broken out. */
import type { Door } from '../../model/index.ts'
import { type Html, html } from '../html.ts'
import { tape } from '../parts.ts'
import type { Drawing } from './elevation.ts'
import { across, c, hatch, line, rect, scaleFor, svg, text } from './svg.ts'

export function floorMarks(door: Door, id: string): Drawing | undefined {
  const mark = door.number('rails.mark')
  const between = door.number('rails.between')
  const width = door.number('width')
  const depth = door.number('rails.depth')
  if (mark === undefined || !between || !width || depth === undefined) return undefined
  const face = door.word('mount') !== 'between'
  const N = scaleFor(Math.abs(mark) + depth, 0.0001, { width: 38, height: 1 })
  const s = 1000 / N
  const W = 182
  const wall = 22
  const railHeight = 9
  // Between the jambs the rail stands against the jamb, inside the wall's thickness; on the face in front of it.
  const railTop = face ? wall + 15 : wall
  const inner = W / 2 - 31
  const jambOf = (side: -1 | 1): number => W / 2 + side * (face ? inner : inner + Math.max(0, 44 - inner))
  const end = (side: -1 | 1): Html => {
    const jamb = jambOf(side)
    const edge = jamb + side * mark * s
    const outer = edge + side * depth * s
    const wallEnd = side < 0 ? 0 : W
    const from = Math.min(jamb, edge)
    const to = Math.max(jamb, edge)
    return html`${rect(Math.min(jamb, wallEnd), wall, Math.abs(wallEnd - jamb), 15, { fill: `url(#${id}-jamb)`, stroke: 0.5 })}${rect(Math.min(edge, outer), railTop + 1, depth * s, railHeight, { id: 'rail-plan', fill: '#fff', stroke: 0.6 })}${line(Math.min(edge, outer) + (side < 0 ? depth * s : 0), railTop + 1, Math.min(edge, outer) + (side < 0 ? depth * s : 0), railTop + 1 + railHeight, 1)}${line(edge, wall - 6, edge, railTop + railHeight + 7, 0.6, '2 0.8')}${line(jamb, wall - 6, jamb, railTop + railHeight + 2, 0.2)}${to - from > 0.01 && across(from, to, wall - 4, tape(door, Math.abs(mark)), { size: 4.6, side: side < 0 ? 'left' : 'right' })}${text(jamb + side * (Math.max(0, mark * s) + 2), wall + 9, side < 0 ? 'LEFT jamb' : 'RIGHT jamb', { size: 3.6, bold: true, halo: true, anchor: side < 0 ? 'end' : 'start' })}${text((edge + outer) / 2, railTop + 7, 'rail', { size: 3.2 })}`
  }
  const edges = [-1, 1].map(side => jambOf(side as -1) + side * mark * s)
  const spreadY = railTop + railHeight + 5
  const zigzag = html`<path d="M${c(W / 2 - 2)} ${c(spreadY - 4)}l2 3l-2 2l2 3M${c(W / 2 + 1)} ${c(spreadY - 4)}l2 3l-2 2l2 3" fill="none" stroke="#000" stroke-width="0.4"/>`
  const drawing = svg(
    W,
    spreadY + 11,
    `Floor marks of ${door.mark}: ${tape(door, Math.abs(mark))} from each jamb; ${tape(door, between)} between the rails`,
    hatch(`${id}-jamb`),
    text(W / 2, wall + 4, 'opening', { size: 3.6 }),
    text(W / 2, wall + 9, face ? 'floor plan, rails on the face of the wall' : 'floor plan, rails between the jambs', {
      size: 3.2,
    }),
    text(
      W / 2,
      6,
      Math.abs(mark) < 5e-4
        ? 'floor marks: flush with the jambs'
        : mark > 0
          ? 'floor marks: each beyond its jamb, away from the opening'
          : 'floor marks: each inside its jamb, in the opening',
      { size: 4, bold: true },
    ),
    end(-1),
    end(1),
    across(edges[0]!, edges[1]!, spreadY, '', {}),
    zigzag,
    text(W / 2, spreadY + 9, `${tape(door, between)} between the inner edges of the rails`, { size: 4.4, bold: true }),
  )
  return { drawing, scale: N }
}
