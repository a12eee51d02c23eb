/** The small pieces that stages are made of: values, blanks, ticks, tables. Lengths are as a tape reads them. */
import { CAUTIONS, type Door } from '../model/index.ts'
import { DIMENSION, showCycles, showQuantity } from '../units/index.ts'
import { type Html, html, type Part } from './html.ts'

/** A length to the nearest 1/16 in, or 1 mm, by the job's units. `si` in m. */
export const tape = (door: Door, si: number): string =>
  door.system === 'imperial'
    ? showQuantity(si, DIMENSION.length, {
        system: 'imperial',
        unit: Math.abs(si) < 0.3048 - 0.0254 / 32 ? 'in' : 'ft+in',
        fraction: 16,
      }).text
    : showQuantity(si, DIMENSION.length, { system: 'metric', unit: 'mm', fraction: 1 }).text

/** A limit on the tape, rounded to the side where whoever keeps it keeps the exact one too. `si` in m. */
export const tapeLimit = (door: Door, si: number, side: 'most' | 'least'): string => {
  const step = door.system === 'imperial' ? 0.0254 / 16 : 0.001
  const whole = side === 'most' ? Math.floor(si / step + 1e-6) : Math.ceil(si / step - 1e-6)
  return tape(door, whole * step)
}

/** A limit of the job in words, on the tape. */
export function limitText(door: Door, path: string, side: 'most' | 'least' = 'most'): string {
  const si = door.number(path)
  return si === undefined ? 'none until set' : `at ${side} ${tapeLimit(door, si, side)}`
}

/** A measured length as it was written, to 1/64 in or a hundredth of a millimetre: rounding might hide what it shows. */
export const asMeasured = (door: Door, si: number): string => {
  if (!tapeRounds(door, si)) return tape(door, si)
  if (door.system === 'metric')
    return showQuantity(Math.round(si * 1e5) / 1e5, DIMENSION.length, { system: 'metric', unit: 'mm', digits: 9 }).text
  return showQuantity(si, DIMENSION.length, {
    system: 'imperial',
    unit: Math.abs(si) < 0.3 ? 'in' : 'ft+in',
    fraction: 64,
  }).text
}

/** What `tape` rounds to, in words. */
export const tapeStep = (door: Door): string => (door.system === 'imperial' ? '1/16 in' : '1 mm')

/** Whether `tape` had to round it by more than the noise of the arithmetic. `si` in m. */
export const tapeRounds = (door: Door, si: number): boolean => {
  const steps = si / (door.system === 'imperial' ? 0.0254 / 16 : 0.001)
  return Math.abs(steps - Math.round(steps)) > 1e-6
}

const UNKNOWN = html`<span class="unknown">not known</span>`

/** A length of the door as a tape reads it. */
export function length(door: Door, path: string): Html {
  const si = door.number(path)
  return si === undefined ? UNKNOWN : html`${tape(door, si)}`
}

/** Any value of the door in words; a life as well as it is known. */
export function shown(door: Door, path: string): string {
  const r = door.result(path)
  if (!path.endsWith('.life') || r.state !== 'known' || r.value.kind !== 'number') return door.show(path)
  const { si, bound } = r.value
  return `${bound ? `${bound} than ` : ''}${showCycles(si, bound !== undefined)}`
}
export const value = (door: Door, path: string): Html =>
  door.result(path).state === 'known' ? html`${shown(door, path)}` : UNKNOWN

/** Where something stands beside a jamb, by how far it lies beyond it (m). */
export const besideJamb = (beyond: number): string =>
  Math.abs(beyond) < 5e-4 ? 'flush with the jamb' : beyond < 0 ? 'inside the jamb' : 'beyond the jamb'

/** A word of the language as it is read: `wall_side` as `wall side`. */
export const plainWord = (word: string): string => word.replace(/_/g, ' ')

/** What was measured, else a line to write on. */
export const measured = (text: string | undefined): Html =>
  text === undefined ? html`<span class="line"></span>` : html`<strong>${text}</strong>`
export const measuredLength = (door: Door, path: string): Html => {
  const si = door.number(path)
  return measured(si === undefined ? undefined : asMeasured(door, si))
}

/** A box to tick, ticked where the job says so; the word beside it says it too. */
export const tick = (ticked: boolean): Html =>
  html`<svg class="tick" viewBox="0 0 10 10" role="img" aria-label="${ticked ? 'ticked' : 'not ticked'}"><rect x="0.6" y="0.6" width="8.8" height="8.8" fill="none" stroke="#000" stroke-width="1"/>${ticked && html`<path d="M2 5.2 4.3 7.7 8.2 2.3" fill="none" stroke="#000" stroke-width="1.5"/>`}</svg>`

export type Row = readonly [what: Part, value: Part]
/** Names and values, one a row. */
export const facts = (rows: readonly (Row | undefined | false)[]): Html =>
  html`<table class="facts"><tbody>${rows.map(r => r && html`<tr><th scope="row">${r[0]}</th><td>${r[1]}</td></tr>`)}</tbody></table>`

export function table(head: readonly Part[], rows: readonly (readonly Part[])[], kind = ''): Html {
  return html`<table class="grid ${kind}"><thead><tr>${head.map(h => html`<th scope="col">${h}</th>`)}</tr></thead><tbody>${rows.map(r => html`<tr>${r.map(c => html`<td>${c}</td>`)}</tr>`)}</tbody></table>`
}

/** The whole caution in a box. */
export const cautionBox = (about: keyof typeof CAUTIONS): Html =>
  html`<aside class="caution keep"><h4>${CAUTIONS[about].title}</h4><ul>${CAUTIONS[about].long.map(line => html`<li>${line}</li>`)}</ul></aside>`

export const stage = (number: number, title: string, ...body: readonly Part[]): Html =>
  html`<section class="stage stage-${number}"><h3><span class="number">${number}</span> ${title}</h3>${body}</section>`

export const figure = (caption: Part, drawing: Part): Html =>
  html`<figure class="keep">${drawing}<figcaption>${caption}</figcaption></figure>`

/** Where it was measured or set, by whom and when: known, or lines to write on. */
export const signed = (door: Door, block: 'survey' | 'installed', verb: string): Html =>
  html`<p class="signed">${verb} by ${measured(door.text(`${block}.by`))} on ${measured(door.text(`${block}.date`))}</p>`

/** The name of a spring on the sheet. */
export const springName = (door: Door, i: number): string => {
  const name = door.springs[i]!.name
  return name !== undefined ? `Spring “${name}”` : door.springs.length > 1 ? `Spring ${i + 1}` : 'Spring'
}
