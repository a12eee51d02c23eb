/**
 * The live preview of one opening, as pieces of HTML: what an editor shows beside the text while it is written. Whatever
 * can be gone to is a button with `data-line` and `data-character`; lines count from the opening's own first line, so
 * that an edit above it changes nothing here.
 */
import { ASSISTS, CAUTIONS, type Door, type Entry, type Place } from '../model/index.ts'
import type { SheetFinding } from './findings.ts'
import { bySeverity } from './findings.ts'
import { coded, type Html, html, type Part } from './html.ts'
import { type Margin, margins } from './margins.ts'
import { shown } from './parts.ts'
import { drawingsOf } from './preview_drawings.ts'

export interface PreviewSection {
  readonly id: string
  readonly title: string
  readonly html: string
}

export interface Spot {
  readonly line: number
  readonly character: number
}
export interface PreviewFinding extends SheetFinding {
  readonly spot: Spot
}

const WORD = { error: 'Error', warning: 'Warning', note: 'Note' } as const

/** @param spotOf where a place is, with lines from the opening's own first line */
export function preview(
  door: Door,
  findings: readonly PreviewFinding[],
  spotOf: (place: Place) => Spot,
): PreviewSection[] {
  const go = (path: string, what: Part): Html => button(spotOf(door.place(path)), path, what)
  const found = margins(door)
  return [
    { id: 'state', title: 'State', html: state(door, findings, go).markup },
    ...drawingsOf(door).map(d => ({
      id: d.id,
      title: d.title,
      html: html`${plainSize(d.drawing)}${d.id === 'balance' && caution()}`.markup,
    })),
    { id: 'margins', title: 'Margins to the limits', html: marginTable(door, found, go).markup },
    { id: 'values', title: 'What follows', html: html`${valueTable(door, go)}<p class="small">${ASSISTS}</p>`.markup },
  ]
}

const button = ({ line, character }: Spot, key: string, what: Part): Html =>
  html`<button type="button" class="go" data-line="${line}" data-character="${character}" data-key="${key}">${what}</button>`

/** A page of an editor allows no style attributes, and its width is its own. */
const plainSize = (drawing: Html): Html =>
  new (drawing.constructor as typeof Html)(drawing.markup.replace(/ style="[^"]*"/g, ''))

const caution = (): Html =>
  html`<p class="caution"><strong>${CAUTIONS.spring.title}.</strong> ${CAUTIONS.spring.short}</p>`

function state(door: Door, findings: readonly PreviewFinding[], go: (path: string, what: Part) => Html): Html {
  const open = bySeverity(findings.filter(f => f.accepted === undefined)) as PreviewFinding[]
  const accepted = findings.filter(f => f.accepted !== undefined)
  const missing = door.missing()
  const item = (f: PreviewFinding, i: number): Html =>
    html`<li class="${f.accepted === undefined ? f.severity : 'accepted'}">${button(
      f.spot,
      `${f.rule} ${i}`,
      html`<b class="word">${f.accepted === undefined ? WORD[f.severity] : 'Accepted'}</b> <span>${coded(f.message)}${f.accepted !== undefined && html` <em>Because: ${f.accepted}</em>`} <small>${f.rule}</small></span>`,
    )}</li>`
  return html`${
    missing.length > 0 &&
    html`<p class="incomplete"><b class="word">Incomplete</b> Still to be written: ${missing.map((m, i) => [i > 0 && ', ', go(m, m)])}</p>`
  }${open.length > 0 ? html`<ul class="findings">${open.map(item)}</ul>` : html`<p class="fine"><b class="word">Fine</b> The checks found nothing to put right.</p>`}${
    accepted.length > 0 && html`<ul class="findings">${accepted.map((f, i) => item(f, open.length + i))}</ul>`
  }`
}

/** The name of a value in plain words, with its block: `drum sag`, `spring long, life`. */
function nameOf(door: Door, path: string): string {
  const block = path.slice(0, path.lastIndexOf('.'))
  const words = path.slice(block.length + 1).replace(/_/g, ' ')
  if (block === 'opening') return words
  return door.springs.some(s => s.path === block)
    ? `${titleOf(door, block)}, ${words}`
    : `${titleOf(door, block)} ${words}`
}

function marginTable(door: Door, found: readonly Margin[], go: (path: string, what: Part) => Html): Html {
  if (found.length === 0) return html`<p>Nothing that has a limit is known yet.</p>`
  const bounds = (m: Margin): string =>
    m.least !== undefined && m.most !== undefined
      ? `${m.least} to ${m.most}`
      : m.least !== undefined
        ? `at least ${m.least}`
        : `at most ${m.most}`
  const share = (m: Margin): string =>
    m.share === undefined || m.share > 1 ? '' : ` (${Math.round(Math.abs(m.share) * 100)}%)`
  return html`<table><thead><tr><th scope="col">value</th><th scope="col">is</th><th scope="col">limit</th><th scope="col">margin</th></tr></thead><tbody>${[
    ...found,
  ]
    .sort((a, b) => Number(b.over) - Number(a.over))
    .map(
      m =>
        html`<tr${m.over && html` class="over"`}><th scope="row">${go(m.path, nameOf(door, m.path))}</th><td>${shown(door, m.path)}</td><td>${bounds(m)}</td><td>${m.over && html`<b class="word">outside</b> `}${m.text}${share(m)}</td></tr>`,
    )}</tbody></table>`
}

/** What is called otherwise where it stands beside its lens and its drawing. */
const PLAIN: Readonly<Record<string, string>> = {
  'balance.worst': 'out of balance by',
  'balance.worst_at': 'most out of balance at',
}

/** Every derived value that is known, a table a block. */
function valueTable(door: Door, go: (path: string, what: Part) => Html): Html {
  const groups = new Map<string, Entry[]>()
  for (const entry of door.entries()) {
    const r = door.result(entry.path)
    if (r.state !== 'known' || r.origin !== 'derived') continue
    const block = entry.path.slice(0, entry.path.lastIndexOf('.'))
    groups.set(block, [...(groups.get(block) ?? []), entry])
  }
  if (groups.size === 0) return html`<p>Nothing follows yet.</p>`
  return html`${[...groups].map(
    ([block, entries]) =>
      html`<table><caption>${titleOf(door, block)}</caption><tbody>${entries.map(
        e =>
          html`<tr><th scope="row" title="${e.spec.doc}">${go(e.path, PLAIN[e.path] ?? e.spec.name.replace(/_/g, ' '))}</th><td>${shown(door, e.path)}</td></tr>`,
      )}</tbody></table>`,
  )}`
}

function titleOf(door: Door, block: string): string {
  const spring = door.springs.find(s => s.path === block)
  if (!spring) return block.replace(/\./g, ', ').replace(/_/g, ' ')
  return door.springs.length > 1 ? `spring ${spring.name ?? door.springs.indexOf(spring) + 1}` : 'spring'
}
