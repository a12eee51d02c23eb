/** A comparison for a person at a terminal. */
import {
  type Comparison,
  type FindingChange,
  type FindingChanges,
  nothingChanged,
  type OpeningChange,
  type ValueChange,
} from '../../service.ts'
import { type Colours, severityColour } from '../colour.ts'
import { padEnd, safe, widthOf, wrap } from '../width.ts'
import {
  changeOf,
  completeness,
  condensed,
  crossing,
  marginText,
  NOTHING,
  severityText,
  summaryOf,
  titleOf,
} from './compare_words.ts'
import { plural } from './report.ts'
import { cautionsFooter, type Danger } from './values.ts'

export function comparisonAsText(c: Comparison, colour: Colours, width: number): string[] {
  if (nothingChanged(c)) return [NOTHING(c)]
  const out: string[] = []
  for (const o of c.openings) out.push(...opening(o, colour, width), '')
  for (const o of c.others)
    out.push(
      `${colour.bold(safe(o.file))}${colour.dim('  outside of its openings')}`,
      ...findings(o.findings, colour, width),
      '',
    )
  out.push(...wrap(summaryOf(c), width), '')
  const dangers = new Set(c.openings.flatMap(o => o.values.flatMap(v => (v.caution ? [v.caution as Danger] : []))))
  return [...out, ...cautionsFooter(dangers, colour, width)]
}

function opening(o: OpeningChange, c: Colours, width: number): string[] {
  const title = titleOf(o)
  const out = [
    `${c.bold(safe(o.mark))}${title ? `  ${c.yellow(safe(title))}` : ''}${c.dim(`  ${safe(o.file)}${o.job === undefined ? '' : `  job ${safe(o.job)}`}`)}`,
  ]
  const complete = completeness(o)
  if (complete) out.push(`  ${complete}`)
  out.push(...findings(o.findings, c, width))
  for (const [name, kind] of [
    ['written', 'written'],
    ['follows from it', 'derived'],
  ] as const) {
    const { rows, lists } = condensed(o.values.filter(v => v.kind === kind))
    if (rows.length + lists.length > 0) out.push('', `  ${c.bold(name)}`)
    if (rows.length > 0) out.push(...table(rows.map(valueRow), c, width))
    for (const [title, names] of lists)
      out.push(...wrap(`${title}: ${names.join(', ')}`, width - 4).map(l => `    ${l}`))
  }
  const kept = o.margins.filter(m => m.after)
  if (kept.length > 0)
    out.push(
      '',
      `  ${c.bold('margin to the limit')}`,
      ...table(
        kept.map(m => [m.path, `${marginText(m.before)} → ${marginText(m.after)}`, crossing(m) || m.rule]),
        c,
        width,
      ),
    )
  return out
}

const valueRow = (v: ValueChange): string[] => [
  v.path,
  `${v.before?.text ?? 'not known'} → ${v.after?.text ?? 'not known'}`,
  `${v.before && v.after ? changeOf(v) : ''}${v.because ? `  because ${v.because}` : ''}`,
]

function table(rows: readonly string[][], c: Colours, width: number): string[] {
  const clean = rows.map(r => r.map(t => safe(t)))
  const name = Math.max(...clean.map(r => widthOf(r[0]!)))
  const most = Math.max(12, width - name - 30)
  const text = Math.min(most, Math.max(...clean.map(r => widthOf(r[1]!))))
  return clean.map(([a, b, d]) => `    ${padEnd(a!, name)}  ${padEnd(b!, text)}  ${c.dim(d!)}`.trimEnd())
}

function findings(f: FindingChanges, c: Colours, width: number): string[] {
  const out: string[] = []
  const one = (label: string, x: FindingChange, message: string): void => {
    out.push(
      `  ${padEnd(label, 9)} ${severityColour(c, x.severity)(severityText(x))}  ${c.bold(x.rule)}${x.never ? '  keeps people safe' : ''}`,
    )
    out.push(...wrap(safe(message, true), width - 12).map(l => `            ${l}`))
  }
  for (const x of f.fresh) one('new', x, x.message)
  for (const x of f.accepted) one('accepted', { ...x, was: undefined }, `${x.message} Accepted because ${x.accepted}`)
  for (const x of f.fixed) out.push(`  ${padEnd('fixed', 9)} ${x.severity}  ${c.bold(x.rule)}`)
  const list = (label: string, all: readonly FindingChange[]): void => {
    if (all.length === 0) return
    const text = `${plural(all.length, 'finding')}: ${all.map(x => `${x.rule} (${severityText(x)})`).join(', ')}`
    out.push(...wrap(text, width - 12).map((l, i) => `  ${padEnd(i === 0 ? label : '', 9)} ${l}`))
  }
  list('known', f.known)
  list('still', f.still)
  return out
}
