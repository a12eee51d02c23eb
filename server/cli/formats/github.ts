/**
 * Findings as annotations on a pull request of GitHub: workflow commands on standard output, and a page in the job summary.
 *
 * GitHub takes 10 errors, 10 warnings and 10 notices of a step and drops the rest without a word, and shows at most 50 of a run
 * (its limits of annotations, from memory). So only those are printed that are shown, the most severe first, and it is
 * said how many more there are and where.
 */
import { appendFileSync } from 'node:fs'
import { inWords } from '../../host.ts'
import { type LocatedFinding, RULES, type Severity } from '../../service.ts'
import { say } from '../files.ts'
import type { Io } from '../io.ts'
import { below, rootOf } from '../repository.ts'
import { safe } from '../width.ts'
import { summaryPage } from './github_summary.ts'
import { type Format, plural } from './report.ts'

/** Annotations of each kind that a step may have. */
export const MOST_OF_A_KIND = 10

/** The doors are what matters: problems with files may not take up all the room. */
const MOST_PROBLEMS = 3

const COMMAND: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', note: 'notice' }
const NEVER = new Set(RULES.filter(r => r.never).map(r => r.id))
const RANK: Readonly<Record<Severity, number>> = { error: 1, warning: 2, note: 3 }
const rank = (f: LocatedFinding): number => (f.severity === 'error' && NEVER.has(f.rule) ? 0 : RANK[f.severity])

/** A finding with its file as GitHub calls it. */
export interface Annotated {
  readonly finding: LocatedFinding
  readonly path: string
}

export function github(io: Io): Format {
  const root = rootOf(io.cwd)
  const all: Annotated[] = []
  return {
    file({ file, name, findings }) {
      const path = below(root, file) ?? name
      for (const finding of findings) if (finding.accepted === undefined) all.push({ finding, path })
    },
    end(summary, how) {
      // sorting is stable: those of a kind stay in the order of the files
      all.sort((a, b) => rank(a.finding) - rank(b.finding))
      const of = (s: Severity): Annotated[] => all.filter(a => a.finding.severity === s)
      // why the run failed where no finding says it; they are errors to GitHub and take of the same ten
      const reasons = how.status === 0 ? [] : how.problems.slice(0, MOST_PROBLEMS)
      for (const text of reasons) io.out(`::error title=doorwright::${data(safe(text, true))}\n`)
      const room = (s: Severity): number => MOST_OF_A_KIND - (s === 'error' ? reasons.length : 0)
      for (const s of ['error', 'warning', 'note'] as const)
        for (const a of of(s).slice(0, room(s))) io.out(`${command(a)}\n`)
      const more = (['error', 'warning', 'note'] as const)
        .map(s => [s, of(s).length - room(s)] as const)
        .filter(([, n]) => n > 0)
        .map(([s, n]) => plural(n, s))
      const page = process.env.GITHUB_STEP_SUMMARY
      if (more.length > 0)
        io.out(
          `Not shown as annotations, since GitHub takes ${MOST_OF_A_KIND} of a kind: ${more.join(', ')} more.${page ? ' The job summary lists them.' : ''}\n`,
        )
      io.out(
        `${plural(summary.files, 'file')}: ${plural(summary.errors, 'error')}, ${plural(summary.warnings, 'warning')}, ${plural(summary.notes, 'note')}.\n`,
      )
      if (page) append(page, summaryPage(all, summary, how, more), io)
    },
  }
}

/** The page is a help to readers; that it cannot be written makes no door wrong. */
function append(page: string, text: string, io: Io): void {
  try {
    appendFileSync(page, text)
  } catch (error) {
    say(io, `the job summary, ${safe(page)}, could not be written: it ${inWords(error)}.`)
  }
}

function command({ finding: f, path }: Annotated): string {
  const { start, end } = f.range
  const properties: [string, string | number][] = [
    ['file', safe(path)],
    ['line', start.line + 1],
    ['endLine', end.line + 1],
    // columns only count where both ends are on one line; the last is that of the last character
    ...(start.line === end.line
      ? ([
          ['col', start.character + 1],
          ['endColumn', Math.max(start.character + 1, end.character)],
        ] as [string, number][])
      : []),
    ['title', f.rule],
  ]
  const limit = f.limit ? `\nLimit: ${f.limit.text} (${f.limit.source})` : ''
  const opening = f.opening === undefined ? '' : `${f.opening}: `
  return `::${COMMAND[f.severity]} ${properties.map(([k, v]) => `${k}=${property(String(v))}`).join(',')}::${data(safe(`${opening}${f.message}${limit}`, true))}`
}

/** As GitHub's own toolkit writes them (its `command.ts`, from memory): one line, whatever is in the text. */
const data = (text: string): string => text.replace(/%/g, '%25').replace(/\r/g, '%0D').replace(/\n/g, '%0A')
const property = (text: string): string => data(text).replace(/:/g, '%3A').replace(/,/g, '%2C')
