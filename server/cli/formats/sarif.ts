/** Findings as SARIF 2.1.0, the form in which services that host repositories take them (OASIS standard, 2020). */
import { pathToFileURL } from 'node:url'
import type { Artifact, Fix, Location, PhysicalLocation, Region, ReportingDescriptor, Result, Run } from 'sarif'
import { version } from '../../../package.json'
import type { LocatedFinding, Range } from '../../service.ts'
import { fingerprint } from '../fingerprint.ts'
import type { Io } from '../io.ts'
import { below, rootOf } from '../repository.ts'
import { safe } from '../width.ts'
import type { Ending, FileReport, Format } from './report.ts'
import { sarifRules } from './sarif_rules.ts'

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json'
/** What relative addresses count from. Where it lies is for the reader to say: the file names no machine's folders. */
const ROOT = '%SRCROOT%'
/** The name says what went into it, so that a later way of making it can stand beside this one. */
const FINGERPRINT = 'doorFinding/v1'

export function sarif(io: Io): Format {
  const root = rootOf(io.cwd)
  const rules = sarifRules()
  const indexOf = new Map(rules.map((r, i) => [r.id, i]))
  const artifacts: Artifact[] = []
  const results: Result[] = []
  return {
    file(report) {
      artifacts.push({ location: artifact(root, report.file), roles: ['analysisTarget'] })
      const seen = new Map<string, number>()
      const add = (f: LocatedFinding, known: boolean): void => {
        const print = fingerprint(f, report.lines)
        // of several that are the same, the first stays the first
        const n = (seen.get(print) ?? 0) + 1
        seen.set(print, n)
        results.push(resultOf(f, known, `${print}:${n}`, indexOf.get(f.rule), root, report))
      }
      for (const f of report.findings) add(f, false)
      for (const f of report.known) add(f, true)
    },
    end: (_summary, how) =>
      io.out(
        `${JSON.stringify({ $schema: SCHEMA, version: '2.1.0', runs: [runOf(rules, artifacts, results, how)] }, null, 2)}\n`,
      ),
  }
}

const runOf = (rules: ReportingDescriptor[], artifacts: Artifact[], results: Result[], how: Ending): Run => ({
  tool: { driver: { name: 'Doorwright', version, semanticVersion: version, rules } },
  invocations: [
    {
      executionSuccessful: how.status !== 2,
      exitCode: how.status,
      exitCodeDescription: EXIT[how.status],
      ...(how.problems.length > 0 && {
        toolExecutionNotifications: how.problems.map(text => ({
          level: how.status === 2 ? ('error' as const) : ('warning' as const),
          message: { text: messageText(text) },
        })),
      }),
    },
  ],
  columnKind: 'utf16CodeUnits',
  originalUriBaseIds: { [ROOT]: { description: { text: 'The root of the repository that the files lie in.' } } },
  artifacts,
  results,
})

const EXIT = { 0: 'nothing above the threshold', 1: 'findings', 2: 'the call or a file could not be used' } as const

function resultOf(
  f: LocatedFinding,
  known: boolean,
  print: string,
  ruleIndex: number | undefined,
  root: string,
  report: FileReport,
): Result {
  const related = f.related.map(
    (r): Location => ({ physicalLocation: at(root, r.file, r.range), message: { text: messageText(r.message) } }),
  )
  const fixes = f.accepted === undefined ? f.fixes().map(x => fixOf(x, root)) : []
  return {
    ruleId: f.rule,
    ...(ruleIndex !== undefined && { ruleIndex }),
    level: f.severity,
    message: { text: messageText(f.message) },
    locations: [
      {
        physicalLocation: at(root, report.file, f.range),
        ...(f.opening !== undefined && { logicalLocations: [logical(f.opening, f.block)] }),
      },
    ],
    partialFingerprints: { [FINGERPRINT]: print },
    ...(related.length > 0 && { relatedLocations: related.map((r, id) => ({ id, ...r })) }),
    ...(fixes.length > 0 && { fixes }),
    ...(f.accepted !== undefined && { suppressions: [{ kind: 'inSource' as const, justification: f.accepted }] }),
    ...(known && { suppressions: [{ kind: 'external' as const, justification: 'It stands in the baseline.' }] }),
    ...(f.limit && { properties: { limit: f.limit.text, limitSource: f.limit.source } }),
  }
}

const logical = (opening: string, block: string | undefined) =>
  block === undefined || block === 'opening'
    ? { name: opening, fullyQualifiedName: opening, kind: 'opening' }
    : { name: block, fullyQualifiedName: `${opening}/${block}`, kind: 'block' }

const at = (root: string, file: string, range: Range): PhysicalLocation => ({
  artifactLocation: artifact(root, file),
  region: region(range),
})

/** Relative to the root of the repository; what lies outside of it has its whole address. */
function artifact(root: string, file: string): { uri: string; uriBaseId?: string } {
  const way = below(root, file)
  return way === undefined
    ? { uri: pathToFileURL(file).href }
    : { uri: way.split('/').map(encodeURIComponent).join('/'), uriBaseId: ROOT }
}

/** Lines and columns from 1; the end column is the one after the last character (3.30.8). */
const region = ({ start, end }: Range): Region => ({
  startLine: start.line + 1,
  startColumn: start.character + 1,
  endLine: end.line + 1,
  endColumn: end.character + 1,
})

function fixOf(fix: ReturnType<LocatedFinding['fixes']>[number], root: string): Fix {
  const byFile = new Map<string, (typeof fix.edits)[number][]>()
  for (const e of fix.edits) byFile.set(e.file, [...(byFile.get(e.file) ?? []), e])
  return {
    description: { text: messageText(fix.title) },
    artifactChanges: [...byFile].map(([file, edits]) => ({
      artifactLocation: artifact(root, file),
      replacements: edits.map(e => ({
        deletedRegion: region(e.range),
        ...(e.text !== '' && { insertedContent: { text: e.text } }),
      })),
    })),
  }
}

/**
 * Text that a reader shows as it is. `[x](y)` would be a link and `{0}` a place to fill in (3.11.5, 3.11.6, from memory);
 * the usual brackets and braces of the language are neither and stay as they are.
 */
const messageText = (text: string): string =>
  safe(text, true)
    .replace(/\[(?=[^[\]]*\]\()/g, '\\[')
    .replace(/\{(\d+)\}/g, '{{$1}}')
