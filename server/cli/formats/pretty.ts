/** Findings for a person at a terminal. */
import type { LocatedFinding } from '../../service.ts'
import { type Colours, severityColour } from '../colour.ts'
import { frame } from '../frame.ts'
import type { Io } from '../io.ts'
import { safe, wrap } from '../width.ts'
import { type FileReport, type Format, plural, type Summary } from './report.ts'

export function pretty(io: Io, colour: Colours = io.colour, out: (text: string) => void = io.out): Format {
  /** Two findings may be put right by one fix. */
  const fixable = new Set<string>()
  let fixed = 0
  const print = (lines: readonly string[]): void => out(`${lines.join('\n')}\n\n`)
  return {
    file(report) {
      fixed += report.applied.length
      if (report.applied.length > 0)
        print([
          `${colour.bold(safe(report.name))}: ${plural(report.applied.length, 'fix', 'fixes')} applied`,
          ...report.applied.map(title => colour.dim(`  ${safe(title)}`)),
        ])
      for (const f of report.findings) {
        if (io.closed) return
        if (f.accepted !== undefined) {
          print(accepted(f, report, colour, io.width))
          continue
        }
        const fixes = f.fixes()
        const safeFix = fixes.find(x => x.safe)
        if (safeFix) fixable.add(JSON.stringify(safeFix.edits))
        print(finding(f, fixes, report, colour, io.width))
      }
    },
    end: (summary, how) => out(`${sumUp(summary, how.quiet, fixable.size, fixed, colour)}\n`),
  }
}

const where = (report: FileReport, f: LocatedFinding): string =>
  `${safe(report.name)}:${f.range.start.line + 1}:${f.range.start.character + 1}`

const belongsTo = (f: LocatedFinding): string => (f.opening === undefined ? '' : `  ${safe(f.opening)}`)

function finding(
  f: LocatedFinding,
  fixes: ReturnType<LocatedFinding['fixes']>,
  report: FileReport,
  c: Colours,
  width: number,
): string[] {
  const paint = severityColour(c, f.severity)
  const out = [`${c.bold(where(report, f))}  ${paint(f.severity)}  ${c.bold(f.rule)}${c.dim(belongsTo(f))}`]
  out.push(...wrap(safe(f.message, true), width - 2).map(l => `  ${l}`), '')
  out.push(...codeFrame(f, report, paint, c, width), '')
  const more = (label: string, text: string): void =>
    void wrap(safe(text), width - 11).forEach(
      (l, i) => void out.push(`  ${i === 0 ? c.dim(label.padEnd(9)) : ' '.repeat(9)}${l}`),
    )
  if (f.limit) more('limit', f.limit.text === f.limit.source ? f.limit.text : `${f.limit.text} (${f.limit.source})`)
  for (const r of f.related)
    more('see', `${report.nameOf(r.file)}:${r.range.start.line + 1}:${r.range.start.character + 1}  ${r.message}`)
  for (const x of fixes) more('fix', x.safe ? `${x.title} (--fix does this)` : x.title)
  if (out.at(-1) === '') out.pop()
  return out
}

function codeFrame(
  f: LocatedFinding,
  report: FileReport,
  paint: (t: string) => string,
  c: Colours,
  width: number,
): string[] {
  const digits = String(f.range.end.line + 1).length
  const lines = frame(report.lines, f.range, width - digits - 5)
  return lines.map(l => {
    const gutter = c.dim(`  ${(l.number === undefined ? '' : String(l.number)).padStart(digits)} |`)
    const text = l.kind === 'carets' ? paint(l.text) : l.kind === 'left out' ? c.dim(l.text) : l.text
    return `${gutter} ${text}`.trimEnd()
  })
}

function accepted(f: LocatedFinding, report: FileReport, c: Colours, width: number): string[] {
  const lines = [`${where(report, f)}  accepted ${f.severity}  ${f.rule}${belongsTo(f)}`]
  lines.push(
    ...wrap(`${safe(f.message, true)} Accepted because ${safe(f.accepted!)}.`.replace(/\.\.$/, '.'), width - 2).map(
      l => `  ${l}`,
    ),
  )
  return lines.map(l => c.dim(l))
}

function sumUp(s: Summary, quiet: boolean, fixable: number, fixed: number, c: Colours): string {
  const parts: string[] = []
  if (s.errors > 0) parts.push(c.bold(c.red(plural(s.errors, 'error'))))
  if (s.warnings > 0) parts.push(c.yellow(plural(s.warnings, 'warning')) + (quiet ? ' (not shown)' : ''))
  if (s.notes > 0) parts.push(c.cyan(plural(s.notes, 'note')) + (quiet ? ' (not shown)' : ''))
  const last = parts.pop()
  const counts =
    last === undefined ? c.green('nothing found') : parts.length === 0 ? last : `${parts.join(', ')} and ${last}`
  const more: string[] = []
  if (s.accepted > 0) more.push(`${plural(s.accepted, 'finding')} accepted`)
  if (s.known) more.push(`${s.known} known from the baseline`)
  if (fixed > 0) more.push(`${fixed} fixed`)
  if (fixable > 0) more.push(`${fixable} can be put right with --fix`)
  return `${plural(s.files, 'file')}: ${counts}${more.map(m => `; ${m}`).join('')}.`
}
