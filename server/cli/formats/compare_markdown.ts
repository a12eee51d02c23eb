/** A comparison as a comment on a pull request: what matters in sight, the rest folded away, and never too long to post. */
import {
  ASSISTS,
  CAUTIONS,
  type Comparison,
  type FindingChanges,
  LISTED,
  nothingChanged,
  type OpeningChange,
  type ValueChange,
} from '../../service.ts'
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

/** Characters. A comment may have 65,536; some is left for what whoever posts it puts around. */
export const LONGEST_COMMENT = 60_000

/** Text of a job or a message that a comment shows as it is: no markup, no mention, no link to an issue. */
export function plain(text: string): string {
  const parts = text.replace(/[\r\n]+/g, ' ').split(/(`[^`]+`)/)
  const odd = (text.match(/`/g)?.length ?? 0) % 2 === 1
  return parts.map(p => (!odd && /^`[^`]+`$/.test(p) ? p.replaceAll('|', '\\|') : escaped(p))).join('')
}
const escaped = (text: string): string =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is to be taken out
    .replace(/[\u0000-\u001f\u007f\u202a-\u202e\u2066-\u2069]/g, ' ')
    .replace(/[\\`*_[\]|~]/g, '\\$&')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/@/g, '@\u200b')
    .replace(/#(?=\d)/g, '#\u200b')
    .replace(/:\/\//g, ':\u200b//')

export function comparisonAsMarkdown(before: string, after: string, c: Comparison, longest = LONGEST_COMMENT): string {
  const head = `### Doorwright: ${plain(before)} → ${plain(after)}\n\n`
  if (nothingChanged(c)) return `${head}${NOTHING(c)}\n`
  const start = `${head}**${summaryOf(c)}**\n\n`
  const dangers = [
    ...new Set(c.openings.flatMap(o => o.values.flatMap(v => (v.caution ? [v.caution as keyof typeof CAUTIONS] : [])))),
  ]
  const end = `${dangers.map(d => `> **${CAUTIONS[d].title}.** ${CAUTIONS[d].short}\n\n`).join('')}<sub>${ASSISTS} ${LISTED}</sub>\n`
  const parts: ((detail: 0 | 1 | 2) => string)[] = [
    ...c.openings.map(o => (d: 0 | 1 | 2) => opening(o, d)),
    ...c.others.map(
      o => (d: 0 | 1 | 2) => `#### ${plain(o.file)}, outside of its openings\n\n${findings(o.findings, d)}`,
    ),
  ]
  // the note that something is missing needs room of its own
  let room = longest - start.length - end.length - 400
  let body = ''
  let shortened = 0
  let shown = 0
  for (const part of parts) {
    const detail = ([2, 1, 0] as const).find(d => part(d).length <= room)
    if (detail === undefined) break
    if (detail < 2) shortened++
    body += part(detail)
    room -= part(detail).length
    shown++
  }
  return start + body + cut(c, parts.length - shown, shown, shortened) + end
}

/** Says what is not there. */
function cut(c: Comparison, left: number, shown: number, shortened: number): string {
  if (left === 0 && shortened === 0) return ''
  const gone = [...c.openings, ...c.others].slice(shown)
  const fresh = gone.flatMap(o => o.findings.fresh)
  const errors = fresh.filter(f => f.severity === 'error').length
  const said = [
    left > 0
      ? `${plural(left, 'opening or file', 'openings or files')} with changes ${left === 1 ? 'is' : 'are'} left out, with ${plural(fresh.length, 'new finding')} (${plural(errors, 'error')})`
      : '',
    shortened > 0 ? `of ${shortened} only a part is shown` : '',
  ].filter(Boolean)
  return `**Not all of it is here**, since a comment may not be longer: ${said.join('; ')}. \`doorwright compare\` on the command line shows everything.\n\n`
}

/** @param detail 2 all, 1 without what follows, 0 only what is new */
function opening(o: OpeningChange, detail: 0 | 1 | 2): string {
  const title = titleOf(o)
  let out = `#### ${plain(o.mark)}${title ? ` (${plain(title)})` : ''} · ${plain(o.file)}\n\n`
  const complete = completeness(o)
  if (complete) out += `${complete}\n\n`
  out += findings(o.findings, detail)
  if (detail === 0) return `${out}${plural(o.values.length, 'value')} changed, not shown here.\n\n`
  const written = o.values.filter(v => v.kind === 'written')
  const derived = o.values.filter(v => v.kind === 'derived')
  if (written.length > 0) out += values(written)
  if (detail === 1) return `${out}${plural(derived.length, 'derived value')} changed, not shown here.\n\n`
  if (derived.length > 0)
    out += folded(
      `${plural(derived.length, 'value')} that ${derived.length === 1 ? 'follows' : 'follow'} from it`,
      values(derived),
    )
  const crossed = o.margins.filter(m => crossing(m) !== '').length
  if (o.margins.length > 0)
    out += folded(
      `${plural(o.margins.length, 'margin')} to limits${crossed > 0 ? `, ${crossed} past the limit or back` : ''}`,
      `| value | rule | before | after | |\n| --- | --- | --- | --- | --- |\n${o.margins.map(m => `| ${plain(m.path)} | ${plain(m.rule)} | ${plain(marginText(m.before))} | ${plain(marginText(m.after))} | ${crossing(m)} |\n`).join('')}\n`,
    )
  return out
}

function values(list: readonly ValueChange[]): string {
  const { rows, lists } = condensed(list)
  const row = (v: ValueChange): string =>
    `| ${plain(v.path)} | ${plain(v.before?.text ?? 'not known')} | ${plain(v.after?.text ?? 'not known')} | ${plain(changeOf(v))}${v.because ? ` because ${plain(v.because)}` : ''} |\n`
  const table =
    rows.length > 0 ? `| value | before | after | change |\n| --- | --- | --- | --- |\n${rows.map(row).join('')}\n` : ''
  return table + lists.map(([title, names]) => `${title}: ${plain(names.join(', '))}\n\n`).join('')
}

const folded = (title: string, body: string): string => `<details><summary>${title}</summary>\n\n${body}</details>\n\n`

function findings(f: FindingChanges, detail: 0 | 1 | 2): string {
  const line = (label: string, x: FindingChanges['fresh'][number], message: string): string =>
    `- **${label} ${severityText(x)}** ${plain(x.rule)}${x.never ? ', keeps people safe' : ''}: ${plain(message)}\n`
  let out = f.fresh.map(x => line('New', x, x.message)).join('')
  out += f.accepted
    .map(x => line('Accepted', { ...x, was: undefined }, `${x.message} Accepted because ${x.accepted}`))
    .join('')
  out += f.fixed.map(x => `- Fixed: ${x.severity} ${plain(x.rule)}\n`).join('')
  if (out) out += '\n'
  const list = (label: string, title: string, all: FindingChanges['fresh']): void => {
    if (detail === 2 && all.length > 0)
      out += folded(
        `${plural(all.length, 'finding')} ${title}`,
        `${all.map(x => line(label, x, x.message)).join('')}\n`,
      )
  }
  list('Known', 'known from the baseline', f.known)
  list('Still', 'still there', f.still)
  return out
}
