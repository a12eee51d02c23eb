/** The page that a check leaves in the job summary of GitHub. */
import { ASSISTS, CAUTIONS, LISTED, RULES } from '../../service.ts'
import { plain } from './compare_markdown.ts'
import type { Annotated } from './github.ts'
import { type Ending, plural, type Summary } from './report.ts'

/** Bytes. GitHub takes 1 MiB a step (from memory), and drops the whole page where it is longer. */
const LONGEST_PAGE = 900_000
/** More than this nobody reads there; the command line shows all. */
const MOST_ROWS = 500

/** @param more what is not shown as annotations, in words */
export function summaryPage(all: readonly Annotated[], s: Summary, how: Ending, more: readonly string[]): string {
  const out = [`### Doorwright: ${title(s, how)}\n`]
  if (how.problems.length > 0) out.push(`${how.problems.map(p => `- ${plain(p)}`).join('\n')}\n`)
  const counts = [
    plural(s.files, 'file'),
    plural(s.errors, 'error'),
    how.quiet ? `${plural(s.warnings, 'warning')} (not shown)` : plural(s.warnings, 'warning'),
    how.quiet ? `${plural(s.notes, 'note')} (not shown)` : plural(s.notes, 'note'),
    `${s.accepted} accepted`,
    ...(s.known === undefined ? [] : [`${s.known} known from the baseline`, `${s.gone ?? 0} of the baseline gone`]),
  ]
  out.push(`${counts.join(', ')}.\n`)
  if (more.length > 0) out.push(`**More than annotations can show:** ${more.join(', ')} more are only here.\n`)
  if (all.length > 0) out.push(table(all))
  const dangers = new Set(all.flatMap(a => RULES.find(r => r.id === a.finding.rule)?.caution ?? []))
  for (const d of dangers) out.push(`> **${CAUTIONS[d].title}.** ${CAUTIONS[d].short}\n`)
  out.push(`<sub>${ASSISTS} ${LISTED}</sub>\n`)
  return `${out.join('\n')}\n`
}

const title = (s: Summary, how: Ending): string =>
  how.status === 2
    ? 'not everything could be looked at'
    : s.errors > 0
      ? plural(s.errors, 'error')
      : how.status === 1
        ? 'more warnings than allowed'
        : s.warnings > 0
          ? plural(s.warnings, 'warning')
          : 'nothing that fails'

function table(all: readonly Annotated[]): string {
  let text = '| severity | opening | rule | what | where |\n| --- | --- | --- | --- | --- |\n'
  let room = LONGEST_PAGE - Buffer.byteLength(text)
  let shown = 0
  for (const { finding: f, path } of all) {
    const limit = f.limit ? ` Limit: ${f.limit.text} (${f.limit.source}).` : ''
    const row = `| ${f.severity} | ${plain(f.opening ?? '')} | ${f.rule.replaceAll('_', '\\_')} | ${plain(f.message + limit)} | ${plain(path)}:${f.range.start.line + 1} |\n`
    room -= Buffer.byteLength(row)
    if (room < 0 || shown >= MOST_ROWS) break
    text += row
    shown++
  }
  const left = all.length - shown
  return left === 0
    ? text
    : `${text}\n**${plural(left, 'more finding')}** ${left === 1 ? 'is' : 'are'} not in this table: \`doorwright check\` on the command line shows everything.\n`
}
