/** The adjuster wheel as it is seen facing it from outside the door, with its holes and the way it is wound. */
import { type Html, html } from '../html.ts'
import { c, svg, text } from './svg.ts'

const SIZE = 70
const MIDDLE = SIZE / 2
const ARROW = 31
const RIM = 24

/** With more holes than this they would run into each other: then only a ring stands for them, and the number. */
const MOST_HOLES = 36

/** @param holes in the wheel, a whole number @param winding undefined draws no arrow */
export function wheel(holes: number, winding: 'clockwise' | 'counterclockwise' | undefined): Html {
  const hole = Math.min(2.6, (Math.PI * (RIM - 6)) / Math.max(holes, 3) / 1.6)
  const holesDrawn =
    holes <= MOST_HOLES
      ? Array.from({ length: holes }, (_, i) => {
          const angle = (2 * Math.PI * i) / holes - Math.PI / 2
          return html`<circle class="hole" cx="${c(MIDDLE + (RIM - 6) * Math.cos(angle))}" cy="${c(MIDDLE + (RIM - 6) * Math.sin(angle))}" r="${c(hole)}" fill="#fff" stroke="#000" stroke-width="0.5"/>`
        })
      : html`<circle cx="${c(MIDDLE)}" cy="${c(MIDDLE)}" r="${c(RIM - 6)}" fill="none" stroke="#000" stroke-width="2" stroke-dasharray="1 1"/>`
  return svg(
    SIZE,
    SIZE,
    `Adjuster wheel with ${holes} holes${winding ? `, wound ${winding} as seen facing it` : ''}`,
    html`<circle cx="${c(MIDDLE)}" cy="${c(MIDDLE)}" r="${c(RIM)}" fill="#fff" stroke="#000" stroke-width="1"/>`,
    holesDrawn,
    html`<circle cx="${c(MIDDLE)}" cy="${c(MIDDLE)}" r="5" fill="#fff" stroke="#000" stroke-width="0.8"/>`,
    text(MIDDLE, MIDDLE + 12, `${holes} hole${holes === 1 ? '' : 's'}`, { size: 3.4 }),
    winding && arrow(winding),
  )
}

/**
 * Most of a circle, open at the bottom. On paper y runs down, so sweep flag 1 goes clockwise as seen; it starts at the
 * lower left for clockwise, at the lower right for counterclockwise, and passes over the top.
 */
function arrow(winding: 'clockwise' | 'counterclockwise'): Html {
  const sign = winding === 'clockwise' ? 1 : -1
  // 50 degrees off straight down, on either side
  const dx = ARROW * Math.sin((50 * Math.PI) / 180)
  const dy = ARROW * Math.cos((50 * Math.PI) / 180)
  const from = { x: MIDDLE - sign * dx, y: MIDDLE + dy }
  const to = { x: MIDDLE + sign * dx, y: MIDDLE + dy }
  // At its end a clockwise arrow on the right side runs down and to the left: along (-cos, sin) of the 50 degrees.
  const ux = (-sign * dy) / ARROW
  const uy = dx / ARROW
  const tip = { x: to.x + ux * 4, y: to.y + uy * 4 }
  const base = { x: to.x - ux * 3, y: to.y - uy * 3 }
  const wing = 4.2
  return html`<path class="arrow ${winding}" d="M${c(from.x)} ${c(from.y)}A${ARROW} ${ARROW} 0 1 ${sign === 1 ? 1 : 0} ${c(to.x)} ${c(to.y)}" fill="none" stroke="#000" stroke-width="2.2"/><path d="M${c(tip.x)} ${c(tip.y)}L${c(base.x - uy * wing)} ${c(base.y + ux * wing)}L${c(base.x + uy * wing)} ${c(base.y - ux * wing)}Z"/>`
}
