/** The words of a comparison that a terminal and a comment share. */
import type { Comparison, FindingChange, MarginChange, OpeningChange, ValueChange } from '../../service.ts'
import { plural } from './report.ts'

/** Nothing is told by an arrow alone: up and down have their sign. */
export function changeOf(v: ValueChange): string {
  if (!v.before) return 'was not known'
  if (!v.after) return 'no longer known'
  if (!v.difference) return ''
  const { text, part } = v.difference
  return part === undefined ? text : `${text} (${percent(part)})`
}

/** With enough digits to show that something moved, and no more. */
export function percent(part: number): string {
  const p = Math.abs(part) * 100
  const digits = p >= 10 ? 0 : p >= 1 ? 1 : p >= 0.1 ? 2 : undefined
  return digits === undefined
    ? `${part < 0 ? 'less' : 'more'} by less than 0.1 %`
    : `${part < 0 ? '-' : '+'}${p.toFixed(digits)} %`
}

export const marginText = (m: MarginChange['before']): string =>
  m ? `${m.text}${m.share === undefined || m.over ? '' : ` (${Math.round(m.share * 100)} %)`}` : 'not known'

/** A step over the limit is said in words too. */
export const crossing = (m: MarginChange): string =>
  m.after?.over && !m.before?.over
    ? 'now beyond its limit'
    : m.before?.over && m.after && !m.after.over
      ? 'now within its limit'
      : ''

export const severityText = (f: FindingChange): string =>
  `${f.severity}${f.was ? ` (was ${f.was === 'accepted' ? '' : 'a '}${f.was})`.replace('a error', 'an error') : ''}`

export function titleOf(o: OpeningChange): string {
  return o.kind === 'renamed' ? `renamed, was ${o.was}` : o.kind === 'changed' ? '' : o.kind
}

export function completeness({ complete: [before, after] }: OpeningChange): string | undefined {
  if (before === undefined || after === undefined || before === after) return undefined
  return after ? 'It is complete now.' : 'It is no longer complete: a field that it needs is missing.'
}

export function summaryOf(c: Comparison): string {
  const s = c.summary
  const parts = [
    s.fresh > 0
      ? `${plural(s.fresh, 'new finding')}${s.freshErrors > 0 ? `, ${s.freshErrors === 1 ? '1 of them an error' : `${s.freshErrors} of them errors`}` : ''}`
      : 'no new finding',
    ...(s.known > 0 ? [`${s.known} known from the baseline`] : []),
    `${s.fixed} fixed`,
    `${s.still} still there`,
    `${plural(s.values, 'value')} changed in ${plural(c.openings.filter(o => o.values.length > 0).length, 'opening')}`,
  ]
  return `${parts.join('; ')}. ${c.unchanged === 0 ? '' : `${plural(c.unchanged, 'opening')} as before.`}`.trim()
}

export const NOTHING = (c: Comparison): string =>
  `Nothing changed in ${c.unchanged === 1 ? 'the one opening' : plural(c.unchanged, 'opening')}: every value and every finding is as it was.`

/** So many values may become known or unknown one line each; of more only the names are given. */
const MOST_UNKNOWN = 6

/** The values apart that became known or unknown in such numbers that their list would hide the others. */
export function condensed(values: readonly ValueChange[]): {
  readonly rows: readonly ValueChange[]
  readonly lists: readonly (readonly [title: string, names: readonly string[]])[]
} {
  const gone = values.filter(v => !v.after)
  const came = values.filter(v => !v.before)
  const lists = (
    [
      ['no longer known', gone],
      ['known now', came],
    ] as const
  ).filter(([, list]) => list.length > MOST_UNKNOWN)
  const hidden = new Set(lists.flatMap(([, list]) => list))
  return {
    rows: values.filter(v => !hidden.has(v)),
    lists: lists.map(([title, list]) => [title, list.map(v => v.path)]),
  }
}
