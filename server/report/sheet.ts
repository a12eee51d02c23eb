/**
 * The printable field sheet of a job: one HTML file that stands by itself, in the order of the work. The same job gives
 * the same bytes: there is no clock in it.
 */
import { ASSISTS, type Door, LISTED, type Single, showAs } from '../model/index.ts'
import { elevation } from './drawings/elevation.ts'
import { findingsList, type SheetFinding } from './findings.ts'
import { type Html, html, raw } from './html.ts'
import { facts, figure, measured } from './parts.ts'
import { hood, limits } from './stages/closing.ts'
import { curtain } from './stages/curtain.ts'
import { delivery } from './stages/delivery.ts'
import { drum } from './stages/drum.ts'
import { handover } from './stages/handover.ts'
import { rails } from './stages/rails.ts'
import { survey } from './stages/survey.ts'
import { tension } from './stages/tension.ts'
import { type Paper, style } from './style.ts'

export interface SheetOpening {
  readonly door: Door
  readonly findings: readonly SheetFinding[]
  /** The `##` lines above it. */
  readonly description: string | undefined
}

export interface SheetInput {
  /** The number of the job; the name of the file where it has none. */
  readonly number: string
  readonly job: Single | undefined
  readonly openings: readonly SheetOpening[]
  /** Findings that belong to no opening. */
  readonly findings: readonly SheetFinding[]
  /** Version of the tool. */
  readonly version: string
  readonly paper?: Paper
}

const VERSION_LINE = (version: string): string => (version === '' ? 'Doorwright' : `Doorwright ${version}`)

export function sheet(input: SheetInput): string {
  const revision = jobText(input.job, 'revision')
  const name = `${input.number}${revision === undefined ? '' : `, revision ${revision}`}`
  // What is wrong with the file itself makes every number in it doubtful.
  const shared = input.findings.filter(f => f.never && f.severity === 'error')
  const page = html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width">
<meta name="generator" content="${VERSION_LINE(input.version)}">
<title>Field sheet ${name}</title>
<style>${raw(
    style(
      `${ASSISTS} ${LISTED}`,
      name,
      input.openings.map(o => o.door.mark),
      input.paper,
    ),
  )}</style>
</head>
<body>
${header(input, revision)}
${input.findings.length > 0 && findingsList(input.findings, 'in the file')}
${input.openings.length === 0 && html`<p>This job has no openings yet.</p>`}
${input.openings.map((o, i) => opening(o, `o${i + 1}`, shared, i === 0))}
</body>
</html>
`
  return page.markup
}

const jobText = (job: Single | undefined, field: string): string | undefined => {
  const r = job?.evaluator.field(job.root, field)
  return r?.state === 'known' && r.value.kind === 'text' ? showAs(r, undefined, 'imperial') : undefined
}

function header(input: SheetInput, revision: string | undefined): Html {
  return html`<header class="job"><h1>Field sheet: ${input.number}</h1>${facts([
    ['Site', measured(jobText(input.job, 'site'))],
    ['Customer', measured(jobText(input.job, 'customer'))],
    ['Revision', measured(revision)],
    ['Date of the revision', measured(jobText(input.job, 'date'))],
    ['Drawn by', measured(jobText(input.job, 'drawn_by'))],
    ['Openings', input.openings.length === 0 ? 'none' : input.openings.map(o => o.door.mark).join(' · ')],
    ['Worked out by', VERSION_LINE(input.version)],
  ])}<p>${ASSISTS} ${LISTED}</p></header>`
}

function opening(
  { door, findings, description }: SheetOpening,
  id: string,
  shared: readonly SheetFinding[],
  first: boolean,
): Html {
  const drawn = elevation(door, `${id}-elevation`)
  const deciding = [...shared, ...findings]
  return html`<article class="opening${first && ' first'}" id="${id}"><h2>${door.mark || 'Opening without a mark'}</h2>
${description !== undefined && html`<p class="about">${description}</p>`}
${findingsList(findings, 'for this opening')}
${drawn ? figure(html`Elevation seen from the coil side, which is ${door.word('coil_side') === 'outside' ? 'outside' : 'inside'} the building. 1 : ${drawn.scale} where printed at full size.`, drawn.drawing) : html`<p>The elevation cannot be drawn before the sizes of the opening, the rails and the drum are known.</p>`}
${delivery(door)}
${survey(door)}
${rails(door, id)}
${drum(door, id)}
${curtain(door, deciding)}
${tension(door, deciding)}
${limits(door)}
${hood(door)}
${handover(door)}
<footer><p>${ASSISTS}</p><p>${LISTED}</p></footer></article>
`
}

/** A name for the file that the sheet goes into, without what a file system may refuse: `HS-2207-B.html`. */
export function sheetName(number: string, revision: string | undefined): string {
  const plain = [number, revision ?? '']
    .join('-')
    .normalize('NFC')
    .replace(/[^\p{L}\p{M}\p{N}._-]+/gu, '-')
    .replace(/-{2,}/g, '-')
    .replace(/^[-.]+|[-.]+$/g, '')
    .slice(0, 100)
  // These names belong to devices on one system, whatever stands behind the dot.
  return `${plain === '' ? 'sheet' : /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(plain) ? `job-${plain}` : plain}.html`
}

export { jobText }
