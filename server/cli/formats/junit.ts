/**
 * Findings as JUnit XML: a suite for each file, a case for each opening. Errors are failures; warnings, notes and what was
 * accepted stand in the case's output. Most readers take one failure a case, so all errors of an opening are in one.
 */
import type { LocatedFinding } from '../../service.ts'
import type { Io } from '../io.ts'
import { safe } from '../width.ts'
import { type FileReport, type Format, plural } from './report.ts'

/** What stands in no opening. */
const WHOLE_FILE = '(the file itself)'

export function junit(io: Io): Format {
  const suites: Suite[] = []
  return {
    file: report => void suites.push(suiteOf(report)),
    end(summary, { status, problems }) {
      const run = runCase(status, summary.errors, problems)
      if (run) suites.push({ name: 'doorwright', cases: [run] })
      const all = suites.flatMap(s => s.cases)
      io.out(
        `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="doorwright check"${counts(all)}>\n${suites.map(suiteText).join('')}</testsuites>\n`,
      )
    },
  }
}

interface Case {
  readonly group: string
  readonly name: string
  readonly bad?: {
    readonly kind: 'failure' | 'error'
    readonly type: string
    readonly message: string
    readonly text: string
  }
  readonly output: readonly string[]
}
interface Suite {
  readonly name: string
  readonly cases: readonly Case[]
}

function suiteOf(report: FileReport): Suite {
  // a mark that stands twice by mistake is one case
  const marks = [...new Set(report.openings().map(o => o.mark))]
  const cases = new Map<string | undefined, LocatedFinding[]>(marks.map(m => [m, []]))
  for (const f of report.findings) {
    const mark = f.opening !== undefined && cases.has(f.opening) ? f.opening : undefined
    cases.set(mark, [...(cases.get(mark) ?? []), f])
  }
  if (cases.size === 0) cases.set(undefined, [])
  return {
    name: report.name,
    cases: [...cases].map(([mark, findings]) => caseOf(mark ?? WHOLE_FILE, findings, report)),
  }
}

function caseOf(name: string, findings: readonly LocatedFinding[], report: FileReport): Case {
  const errors = findings.filter(f => f.severity === 'error' && f.accepted === undefined)
  const first = errors[0]
  return {
    group: report.name,
    name,
    output: findings.filter(f => !errors.includes(f)).map(f => line(f, report)),
    ...(first && {
      bad: {
        kind: 'failure' as const,
        type: first.rule,
        message:
          errors.length === 1 ? first.message : `${first.message} (and ${plural(errors.length - 1, 'more error')})`,
        text: errors.map(f => line(f, report)).join('\n'),
      },
    }),
  }
}

function line(f: LocatedFinding, report: FileReport): string {
  const severity = f.accepted === undefined ? f.severity : `accepted ${f.severity}`
  const limit = f.limit ? ` Limit: ${f.limit.text} (${f.limit.source}).` : ''
  const reason = f.accepted === undefined ? '' : ` Accepted because ${f.accepted}.`
  return `${report.name}:${f.range.start.line + 1}:${f.range.start.character + 1}  ${severity}  ${f.rule}  ${f.message}${limit}${reason}`
}

/** What no opening can be blamed for: without it a run could fail and all its cases be green. */
function runCase(status: 0 | 1 | 2, errors: number, problems: readonly string[]): Case | undefined {
  const text = problems.join('\n')
  const of = (name: string, bad: Omit<NonNullable<Case['bad']>, 'text'>): Case => ({ group: 'doorwright', name, bad: { ...bad, text }, output: [] }) // biome-ignore format: one case
  if (status === 2)
    return of('everything could be looked at', { kind: 'error', type: 'unusable', message: problems[0] ?? 'The call or a file could not be used.' }) // biome-ignore format: one call
  if (status === 1 && errors === 0)
    return of('no more warnings than allowed', { kind: 'failure', type: 'max_warnings', message: problems.at(-1) ?? 'There are more warnings than allowed.' }) // biome-ignore format: one call
  return undefined
}

function counts(cases: readonly Case[]): string {
  const of = (kind: string): number => cases.filter(c => c.bad?.kind === kind).length
  return ` tests="${cases.length}" failures="${of('failure')}" errors="${of('error')}"`
}

const suiteText = ({ name, cases }: Suite): string =>
  `  <testsuite name="${attribute(name)}"${counts(cases)} skipped="0">\n${cases.map(caseText).join('')}  </testsuite>\n`

function caseText({ group, name, bad, output }: Case): string {
  const start = `    <testcase classname="${attribute(group)}" name="${attribute(name)}"`
  if (!bad && output.length === 0) return `${start}/>\n`
  const failure = bad
    ? `      <${bad.kind} type="${attribute(bad.type)}" message="${attribute(bad.message)}">${content(bad.text)}</${bad.kind}>\n`
    : ''
  const out = output.length > 0 ? `      <system-out>${content(output.join('\n'))}</system-out>\n` : ''
  return `${start}>\n${failure}${out}    </testcase>\n`
}

/** XML has no way to write most control characters, half of a pair, or U+FFFE: they are written out as `\u{1}`. */
const sayable = (text: string): string =>
  safe(text, true).replace(/[\p{Cs}\ufffe\uffff]/gu, c => `\\u{${c.codePointAt(0)!.toString(16)}}`)
const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
}
const content = (text: string): string => sayable(text).replace(/[&<>"']/g, c => ENTITIES[c]!)
/** A line end in an attribute would be read as a blank. */
const attribute = (text: string): string => content(text).replace(/\n/g, '&#10;')
