/** The coil closed and open, seen facing the adjuster end, against wall, head and headroom; to scale. */
import { coilStart, TURN } from '../../mechanics/index.ts'
import type { Door } from '../../model/index.ts'
import { type Html, html } from '../html.ts'
import { tape } from '../parts.ts'
import type { Drawing } from './elevation.ts'
import { c, hatch, line, rect, scaleFor, svg, text, upright } from './svg.ts'

/** The wall as it is drawn, m. The job does not say how thick it is. */
const WALL = 0.2

export function section(door: Door, id: string): Drawing | undefined {
  const od = door.number('drum.pipe.od')
  const ring = door.number('drum.ring')
  const thickness = door.number('curtain.slat.thickness')
  const dead = door.number('drum.dead_wraps')
  const turns = door.number('drum.turns')
  const coil = door.number('drum.coil_diameter')
  const rise = door.number('drum.rise')
  if (
    !od ||
    ring === undefined ||
    thickness === undefined ||
    dead === undefined ||
    turns === undefined ||
    !coil ||
    rise === undefined
  )
    return undefined
  const headroom = door.number('headroom')
  const above = Math.max(rise + coil / 2, Math.min(headroom ?? 0, 3 * coil)) + 0.04
  const below = Math.max(0.25, coil * 0.6)
  const gap = 0.03
  const N = scaleFor(coil + gap + WALL, above + below, { width: 64, height: 92 })
  const s = 1000 / N
  // Seen from the right end the wall is on the right, from the left end on the left.
  const wallRight = door.word('adjuster.side') !== 'left'
  const leavesRight = wallRight === (door.word('drum.leaves') !== 'room_side')
  const panelWidth = 90
  const top = 12
  const y = (m: number): number => top + (above - m) * s
  const start = coilStart(od, ring, thickness, dead / TURN)

  const panel = (x0: number, n: number, title: string): Html => {
    const radius = start + thickness * n
    const cx = x0 + panelWidth / 2 + (wallRight ? -1 : 1) * ((WALL + gap) / 2) * s
    const face = cx + (wallRight ? 1 : -1) * (coil / 2 + gap) * s
    const wallX = wallRight ? face : face - WALL * s
    const hang = cx + (leavesRight ? 1 : -1) * radius * s
    // closed it hangs past the head to the floor; open the bottom bar stands at the head
    const hangTo = n === 0 ? -below : 0
    return html`<g>${rect(wallX, y(above), WALL * s, above * s, { fill: `url(#${id}-cut)`, stroke: 0.5 })}${line(x0 + 2, y(0), x0 + panelWidth - 2, y(0), 0.2, '3 1.2')}${
      headroom !== undefined && headroom <= above && line(x0 + 4, y(headroom), x0 + panelWidth - 4, y(headroom), 0.8)
    }${html`<circle cx="${c(cx)}" cy="${c(y(rise))}" r="${c((od / 2) * s)}" fill="#fff" stroke="#000" stroke-width="0.7"/>`}${
      ring > 0 &&
      html`<circle cx="${c(cx)}" cy="${c(y(rise))}" r="${c((od / 2 + ring) * s)}" fill="none" stroke="#000" stroke-width="0.3" stroke-dasharray="1.5 1"/>`
    }${spiral(cx, y(rise), radius * s, thickness * s, dead / TURN + n, leavesRight, Math.max(0.3, Math.min(0.9, thickness * s * 0.35)))}${line(hang, y(rise), hang, y(hangTo), Math.max(0.3, Math.min(0.9, thickness * s * 0.35)))}${
      n === 0
        ? text(hang + (wallRight ? -3 : 3), y(hangTo) - 2, 'to the floor', {
            size: 3,
            anchor: wallRight ? 'end' : 'start',
          })
        : rect(hang - 1, y(hangTo) - 1, 2, 2.4, { fill: '#000' })
    }${line(cx - 2, y(rise), cx + 2, y(rise), 0.2)}${line(cx, y(rise) - 2, cx, y(rise) + 2, 0.2)}${text(x0 + panelWidth / 2, 5, title, { bold: true, size: 4.2 })}${text(wallX + (WALL * s) / 2, y(0) + 5, 'wall', { size: 3 })}${text(wallRight ? x0 + 3 : x0 + panelWidth - 3, y(0) + 4, 'head', { size: 3, anchor: wallRight ? 'start' : 'end' })}</g>`
  }
  const measureX = (x0: number): number => (wallRight ? x0 + 6 : x0 + panelWidth - 6)
  const n = turns / TURN
  const openX = 92
  const coilTop = rise + coil / 2
  const textX = wallRight ? openX + 3 : openX + panelWidth - 3
  const drawing = svg(
    182,
    y(-below) + 4,
    `Section through the coil of ${door.mark}, closed and open, scale 1 to ${N}`,
    hatch(`${id}-cut`),
    panel(0, 0, 'CLOSED'),
    panel(openX, n, 'OPEN'),
    upright(y(rise), y(0), measureX(0), tape(door, rise), { beside: undefined }),
    upright(y(coilTop), y(0), measureX(openX), tape(door, coilTop)),
    headroom !== undefined &&
      headroom <= above &&
      text(wallRight ? 5 : 85, y(headroom) - 1.2, `headroom ${tape(door, headroom)}`, {
        size: 3.2,
        anchor: wallRight ? 'start' : 'end',
      }),
    text(textX, y(-below) + 1, `open coil ${tape(door, coil)} across`, {
      anchor: wallRight ? 'start' : 'end',
      size: 3.6,
      bold: true,
    }),
  )
  return { drawing, scale: N }
}

/**
 * The curtain's centre line from where it leaves the coil inward. Going on in the direction that the drum turns to raise,
 * each turn lies one thickness deeper. Sizes in mm on the paper.
 */
function spiral(
  cx: number,
  cy: number,
  radius: number,
  thickness: number,
  wraps: number,
  leavesRight: boolean,
  stroke: number,
): Html {
  const steps = Math.max(8, Math.ceil(wraps * 48))
  let d = ''
  for (let i = 0; i <= steps; i++) {
    const turn = (wraps * i) / steps
    const r = radius - thickness * turn
    const angle = 2 * Math.PI * turn
    // y runs down on the paper, so up and over is minus
    const px = cx + (leavesRight ? 1 : -1) * r * Math.cos(angle)
    const py = cy - r * Math.sin(angle)
    d += `${i === 0 ? 'M' : 'L'}${c(px)} ${c(py)}`
  }
  return html`<path class="coil" d="${d}" fill="none" stroke="#000" stroke-width="${c(stroke)}"/>`
}
