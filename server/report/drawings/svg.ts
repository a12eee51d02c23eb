/** What the drawings share: a scale, dimension lines, patterns. One unit of a drawing is one millimetre on the paper. */
import { type Html, html, type Part } from '../html.ts'

/** Scales that people know, 1 to so many. */
const SCALES = [
  1, 2, 2.5, 4, 5, 7.5, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 1000,
] as const

/** The largest usual scale at which a size (m) goes into the room for it on the paper (mm); 1 to the number returned. */
export function scaleFor(
  width: number,
  height: number,
  room: { readonly width: number; readonly height: number },
): number {
  const least = Math.max((width * 1000) / room.width, (height * 1000) / room.height)
  return SCALES.find(s => s >= least * (1 - 1e-9)) ?? 1000 * Math.ceil(least / 1000)
}

/** A coordinate: to a thousandth of a millimetre, so that the bytes do not depend on the last bit. */
export const c = (x: number): string => {
  const r = Math.round(x * 1000) / 1000
  return Number.isFinite(r) ? String(r === 0 ? 0 : r) : '0'
}

export const svg = (width: number, height: number, label: string, ...body: readonly Part[]): Html =>
  html`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${c(width)} ${c(height)}" style="width:${c(width)}mm" role="img" aria-label="${label}">${body}</svg>`

export const text = (
  x: number,
  y: number,
  what: Part,
  more: { anchor?: 'start' | 'middle' | 'end'; size?: number; bold?: boolean; turn?: boolean; halo?: boolean } = {},
): Html =>
  html`<text x="${c(x)}" y="${c(y)}" font-size="${more.size ?? 3.4}" text-anchor="${more.anchor ?? 'middle'}"${more.bold && html` font-weight="bold"`}${more.halo && html` paint-order="stroke" stroke="#fff" stroke-width="1.4"`}${more.turn && html` transform="rotate(-90 ${c(x)} ${c(y)})"`}>${what}</text>`

export const line = (x1: number, y1: number, x2: number, y2: number, width = 0.25, dash?: string): Html =>
  html`<line x1="${c(x1)}" y1="${c(y1)}" x2="${c(x2)}" y2="${c(y2)}" stroke="#000" stroke-width="${width}"${dash !== undefined && html` stroke-dasharray="${dash}"`}/>`

export const rect = (
  x: number,
  y: number,
  width: number,
  height: number,
  more: { id?: string; fill?: string; stroke?: number; dash?: string } = {},
): Html =>
  html`<rect${more.id !== undefined && html` class="${more.id}"`} x="${c(x)}" y="${c(y)}" width="${c(width)}" height="${c(height)}" fill="${more.fill ?? 'none'}" stroke="#000" stroke-width="${more.stroke ?? 0.3}"${more.dash !== undefined && html` stroke-dasharray="${more.dash}"`}/>`

const head = (x: number, y: number, dx: number, dy: number): Html =>
  html`<path d="M${c(x)} ${c(y)}L${c(x - dx * 2 - dy * 0.6)} ${c(y - dy * 2 + dx * 0.6)}L${c(x - dx * 2 + dy * 0.6)} ${c(y - dy * 2 - dx * 0.6)}Z"/>`

/** A horizontal dimension from x1 to x2 at height y, with its text above the line; short ones have arrows from outside. */
export function across(
  x1: number,
  x2: number,
  y: number,
  what: string,
  more: { from?: number; size?: number; side?: 'left' | 'right' } = {},
): Html {
  const inside = x2 - x1 > 6
  const arrows = inside
    ? [line(x1, y, x2, y), head(x2, y, 1, 0), head(x1, y, -1, 0)]
    : [line(x1 - 6, y, x1, y), line(x2, y, x2 + 6, y), head(x1, y, 1, 0), head(x2, y, -1, 0)]
  const at = inside
    ? text((x1 + x2) / 2, y - 1.1, what, { size: more.size })
    : more.side === 'left'
      ? text(x1 - 7, y + 1.2, what, { anchor: 'end', size: more.size })
      : text(x2 + 7, y + 1.2, what, { anchor: 'start', size: more.size })
  return html`<g>${more.from !== undefined && [line(x1, more.from, x1, y + Math.sign(y - more.from), 0.15), line(x2, more.from, x2, y + Math.sign(y - more.from), 0.15)]}${arrows}${at}</g>`
}

/** A vertical dimension from y1 (upper) to y2 at x, with its text beside the line; short ones have arrows from outside. */
export function upright(
  y1: number,
  y2: number,
  x: number,
  what: string,
  more: { from?: number; size?: number; beside?: 'left' | 'right' } = {},
): Html {
  const inside = y2 - y1 > 6
  const arrows = inside
    ? [line(x, y1, x, y2), head(x, y2, 0, 1), head(x, y1, 0, -1)]
    : [line(x, y1 - 5, x, y1), line(x, y2, x, y2 + 5), head(x, y1, 0, 1), head(x, y2, 0, -1)]
  const at =
    more.beside !== undefined
      ? text(more.beside === 'left' ? x - 1.2 : x + 1.2, (y1 + y2) / 2 + 1.2, what, {
          anchor: more.beside === 'left' ? 'end' : 'start',
          size: more.size,
        })
      : text(x - 1.1, (y1 + y2) / 2, what, { turn: true, size: more.size })
  return html`<g>${more.from !== undefined && [line(more.from, y1, x + Math.sign(x - more.from), y1, 0.15), line(more.from, y2, x + Math.sign(x - more.from), y2, 0.15)]}${arrows}${at}</g>`
}

/** The wall's hatch. Every drawing has its own, under its own name. */
export const hatch = (id: string): Html =>
  html`<defs><pattern id="${id}" width="2.4" height="2.4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="2.4" height="2.4" fill="#fff"/><line x1="0" y1="0" x2="0" y2="2.4" stroke="#000" stroke-width="0.25"/></pattern></defs>`
