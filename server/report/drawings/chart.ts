/** What the door asks for against what the springs give, over the height of the bottom bar. */
import { scaleLinear } from 'd3-scale'
import { line as path } from 'd3-shape'
import * as m from '../../mechanics/index.ts'
import type { Door } from '../../model/index.ts'
import { type Html, html } from '../html.ts'
import { c, line, svg, text } from './svg.ts'

const POINTS = 60
const W = 178
const H = 89
const FRAME = { left: 24, right: 172, top: 14, bottom: 76 }
/** Of the label at the worst place: its letters, how wide one is at the most, and from row to row. */
const SIZE = 3.4
const BOLD = 0.6
const ROW = 4.2
const UNITS = {
  imperial: { torque: ['lbf*in', 0.1129848290276167], height: ['ft', 0.3048] },
  metric: { torque: ['N*m', 1], height: ['mm', 0.001] },
} as const

export function balanceChart(door: Door): Html | undefined {
  const v = Object.fromEntries(
    Object.entries({
      od: 'drum.pipe.od',
      ring: 'drum.ring',
      thickness: 'curtain.slat.thickness',
      dead: 'drum.dead_wraps',
      per: 'curtain.weight_per_height',
      bar: 'curtain.bottom_bar_weight',
      height: 'height',
      rise: 'drum.rise',
      turns: 'drum.turns',
      rate: 'balance.rate',
      preload: 'adjuster.preload',
      worstAt: 'balance.worst_at',
    }).map(([k, p]) => [k, door.number(p)]),
  ) as Record<
    'od' | 'ring' | 'thickness' | 'dead' | 'per' | 'bar' | 'height' | 'rise' | 'turns' | 'rate' | 'preload' | 'worstAt',
    number
  >
  if (Object.values(v).some(x => x === undefined) || !(v.turns > 0)) return undefined
  const turns = v.turns / m.TURN
  const body = m.doorOf({ ...v, dead: v.dead / m.TURN, turns })
  const asks = (n: number): number => m.doorTorque(body, n)
  const gives = (n: number): number => m.springTorque(v.rate * m.TURN, v.preload / m.TURN, turns, n)
  const lift = (n: number): number => m.coilLength(body.start, body.thickness, n)
  const at = Array.from({ length: POINTS + 1 }, (_, i) => (turns * i) / POINTS)
  const unit = UNITS[door.system]
  const torque = (si: number): number => si / unit.torque[1]
  const height = (si: number): number => si / unit.height[1]
  const all = at.flatMap(n => [torque(asks(n)), torque(gives(n))])
  const x = scaleLinear([0, height(v.height)], [FRAME.left, FRAME.right])
  const y = scaleLinear([Math.min(0, ...all), Math.max(...all)], [FRAME.bottom, FRAME.top]).nice(6)
  const curve = (f: (n: number) => number): string =>
    path<number>(
      n => x(height(lift(n))),
      n => y(torque(f(n))),
    ).digits(2)(at) ?? ''
  const worst = m.coilTurns(body.start, body.thickness, v.worstAt)
  const wx = x(height(v.worstAt))
  const [door0, springs0] = [y(torque(asks(worst))), y(torque(gives(worst)))]
  const labelRight = wx < (FRAME.left + FRAME.right) / 2
  const tooMuch = gives(worst) > asks(worst) ? 'the springs give more' : 'the door asks for more'
  const label = [`out of balance by ${door.show('balance.worst')}`, tooMuch]
  const anchor = labelRight ? 'start' : 'end'
  const labelX = wx + (labelRight ? 3 : -3)
  const labelY = Math.max(FRAME.top + 3, Math.min(door0, springs0) - 3 - ROW)
  const labelWidth = Math.max(...label.map(row => row.length)) * SIZE * BOLD
  return svg(
    W,
    H,
    `Balance of ${door.mark}: torque of the door and of the springs over the height of the bottom bar`,
    y
      .ticks(6)
      .map(t => [
        line(FRAME.left, y(t), FRAME.right, y(t), 0.12),
        text(FRAME.left - 1.5, y(t) + 1.2, String(t), { anchor: 'end', size: 3.2 }),
      ]),
    // no line of the grid runs through the label; the curves may
    html`<rect class="behind" x="${c(labelRight ? labelX - 1 : labelX - labelWidth - 1)}" y="${c(labelY - SIZE)}" width="${c(labelWidth + 2)}" height="${c(SIZE + ROW + 1)}" fill="#fff"/>`,
    x
      .ticks(8)
      .map(t => [
        line(x(t), FRAME.bottom, x(t), FRAME.bottom + 1.5, 0.25),
        text(x(t), FRAME.bottom + 5, String(t), { size: 3.2 }),
      ]),
    line(FRAME.left, y(0), FRAME.right, y(0), 0.5),
    line(FRAME.left, FRAME.top, FRAME.left, FRAME.bottom, 0.5),
    html`<path class="asks" d="${curve(asks)}" fill="none" stroke="#000" stroke-width="0.9"/><path class="gives" d="${curve(gives)}" fill="none" stroke="#000" stroke-width="0.7" stroke-dasharray="3 1.6"/>`,
    html`<g class="worst">${line(wx, door0, wx, springs0, 1.1)}<circle cx="${c(wx)}" cy="${c(door0)}" r="1.3" fill="#fff" stroke="#000" stroke-width="0.5"/><circle cx="${c(wx)}" cy="${c(springs0)}" r="1.3" fill="#000"/></g>`,
    label.map((row, i) => text(labelX, labelY + i * ROW, row, { anchor, size: SIZE, bold: true, halo: true })),
    text(
      (FRAME.left + FRAME.right) / 2,
      FRAME.bottom + 10.5,
      `height of the bottom bar above the floor, ${unit.height[0]}`,
      { size: 3.4 },
    ),
    text(6, (FRAME.top + FRAME.bottom) / 2, `torque at the drum, ${unit.torque[0]}`, { size: 3.4, turn: true }),
    [
      line(FRAME.left, 6, FRAME.left + 12, 6, 0.9),
      text(FRAME.left + 14, 7.2, 'the door asks for', { anchor: 'start' }),
      line(FRAME.left + 60, 6, FRAME.left + 72, 6, 0.7, '3 1.6'),
      text(FRAME.left + 74, 7.2, 'the springs give, with the preload in the job', { anchor: 'start' }),
    ],
  )
}
