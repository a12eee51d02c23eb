/** What is still open for an opening, and whether its springs may be wound by this sheet. */
import { isWhole } from '../mechanics/index.ts'
import type { Door, Severity } from '../model/index.ts'
import { coded, type Html, html } from './html.ts'

/** A finding as the sheet prints it. */
export interface SheetFinding {
  readonly rule: string
  readonly severity: Severity
  readonly message: string
  readonly accepted: string | undefined
  /** 1-based line in the job. */
  readonly line: number
  /** As an error it cannot be accepted away: a rule marked never, or of the Language group. */
  readonly never: boolean
}

const ORDER: readonly Severity[] = ['error', 'warning', 'note']
const WORD: Readonly<Record<Severity, string>> = { error: 'ERROR', warning: 'Warning', note: 'Note' }

/** Errors first, each in the order of the job. */
export const bySeverity = (findings: readonly SheetFinding[]): SheetFinding[] =>
  ORDER.flatMap(s => findings.filter(f => f.severity === s))

const item = (f: SheetFinding): Html =>
  html`<li class="${f.severity}"><b class="severity">${WORD[f.severity]}</b> <span>${coded(f.message)} <small>${f.rule}, line ${f.line}</small></span></li>`

export function findingsList(findings: readonly SheetFinding[], where: string): Html {
  const open = bySeverity(findings.filter(f => f.accepted === undefined))
  const accepted = findings.filter(f => f.accepted !== undefined)
  const count = (s: Severity): number => open.filter(f => f.severity === s).length
  const sum = ORDER.map(s => [count(s), s] as const)
    .filter(([n]) => n > 0)
    .map(([n, s]) => `${n} ${s}${n === 1 ? '' : 's'}`)
    .join(', ')
  return html`<section class="findings"><h3>Open findings: ${sum || 'none'}</h3>${
    open.length > 0 ? html`<ul>${open.map(item)}</ul>` : html`<p>The checks found nothing to put right ${where}.</p>`
  }${
    accepted.length > 0 &&
    html`<h4>Accepted in the job, with the reason given</h4><ul>${accepted.map(f => html`<li><b class="severity">Accepted</b> <span>${coded(f.message)} <em>Because: ${f.accepted}</em> <small>${f.rule}, line ${f.line}</small></span></li>`)}</ul>`
  }</section>`
}

/** Rules that find the springs wound otherwise than the job asks for: then nothing may be added before that is settled. */
const RECORD = new Set(['installed_increments', 'installed_direction'])

/** Why no number may be wound, each reason in a sentence; none where the springs may be wound by this sheet. */
export function doNotWind(door: Door, findings: readonly SheetFinding[]): string[] {
  const out: string[] = []
  if (!door.complete)
    out.push(`The job is not complete${door.missing().length ? `: ${door.missing().join(', ')} missing` : ''}.`)
  for (const f of findings) if (f.severity === 'error' && f.accepted === undefined && f.never) out.push(f.message)
  // what stands in the record already decides before any number of the job does
  for (const f of findings)
    if (f.severity === 'error' && f.accepted === undefined && !f.never && RECORD.has(f.rule)) out.push(f.message)
  const increments = door.number('adjuster.increments')
  const winding = door.word('adjuster.winding')
  const right = door.computedWord('adjuster.winding')
  if (!door.written('adjuster.preload')) out.push('No preload is written in the job.')
  else if (increments === undefined || increments <= 0) out.push('The preload of the job is not a number above zero.')
  else if (!isWhole(increments))
    out.push('The preload is not a whole number of increments of the adjuster wheel: it cannot be set.')
  if (right === undefined)
    out.push('The direction of winding does not follow from the job: the side of the adjuster is not written.')
  else if (winding !== right)
    out.push(
      'The direction of winding in the job disagrees with the side of the adjuster and the side that the curtain hangs from.',
    )
  return out
}
