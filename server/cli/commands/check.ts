/** `check`: every finding, and the safe fixes where they are asked for. */

import type { LocatedFinding } from '../../service.ts'
import { type Baseline, readBaseline } from '../baseline.ts'
import { Cache, cachePath } from '../cache.ts'
import { type Engine, engine } from '../engine.ts'
import { checkStdin, displayName, findFiles, type InputFile, readFiles, say } from '../files.ts'
import { FORMATS, NEED_OPENINGS } from '../formats/index.ts'
import { DEFAULT_FORMAT, outputsOf, together } from '../formats/outputs.ts'
import { pretty } from '../formats/pretty.ts'
import { type Format, linesOf, plural, type Summary } from '../formats/report.ts'
import { CallError, type Io } from '../io.ts'
import { findingsOf, type PlainReport } from '../look.ts'
import { Pool, PROGRAM } from '../pool.ts'
import { printConfig, WarningsByProject } from '../project.ts'
import { type Inputs, readAhead, reports } from '../reports.ts'
import { jobsOf, shardOf } from '../share.ts'
import { safe } from '../width.ts'
import { writeChanged } from '../write_file.ts'

export interface CheckOptions {
  /** Each a format, or a format and the file for it: `json=out.json`. */
  readonly format?: readonly string[]
  readonly fix?: boolean
  readonly quiet?: boolean
  readonly maxWarnings?: string
  readonly units?: string
  readonly stdinPath?: string
  readonly config?: string
  readonly printConfig?: boolean
  readonly baseline?: string
  readonly shard?: string
  readonly jobs?: string
  /** A file for it, or true for the usual one. */
  readonly cache?: string | true
}

/** How long a run may be silent before it shows how far it is, in milliseconds. */
const PATIENCE = 500

export async function check(args: readonly string[], options: CheckOptions, io: Io): Promise<number> {
  const most = maxWarnings(options.maxWarnings)
  const outputs = outputsOf(options.format ?? [DEFAULT_FORMAT], FORMATS, io)
  const onStdout = outputs.find(o => o.file === undefined)?.format
  checkStdin(args, options.stdinPath)
  const fixInput = options.fix === true && args.includes('-')
  if (fixInput && (outputs.length !== 1 || onStdout !== DEFAULT_FORMAT))
    throw new CallError(
      'With --fix the fixed text of standard input goes to standard output, so there is no room for another format. Leave out --format or --fix.',
    )
  const known = options.baseline === undefined ? undefined : readBaseline(options.baseline, io.cwd)
  const problems: string[] = []
  const heard = listening(io, problems, onStdout !== outputs[0]?.format || outputs.length > 1)
  const told = new Set<string>()
  const run = engine(heard, options.units, options.config, told)
  if (options.printConfig) return printConfig(args, options.stdinPath, run, io)
  const format = fixInput ? pretty(io, io.errColour, io.err) : together(outputs, io)
  const summary: Summary = { files: 0, errors: 0, warnings: 0, notes: 0, accepted: 0 }
  let unusable = 0
  const found = shardOf(options.shard, findFiles(args, io.cwd, run.excluded))
  const jobs = jobsOf(options.jobs, found.files.length)
  const wanted = { openings: outputs.some(o => NEED_OPENINGS.has(o.format)), uses: options.cache !== undefined }
  const cache = options.cache && new Cache(cachePath(options.cache, run, io), run, options.units, wanted.openings)
  let inputs: Inputs = readAhead(found, heard, options.stdinPath)
  const applied = new Map<string, readonly string[]>()
  if (options.fix) {
    // All are fixed before the first is checked: what one uses from another counts as it is afterwards.
    const fixed: { input: InputFile | undefined; said: [] }[] = []
    const fixer = engine(heard, undefined, options.config, told)
    for await (const input of readFiles(found, heard, options.stdinPath))
      fixed.push({ input: input && fix(input, fixer, applied, heard, () => unusable++), said: [] })
    unusable += fixer.faults()
    inputs = (async function* () {
      yield* fixed
    })()
  }
  const ofProjects = new WarningsByProject()
  const started = Date.now()
  const { cwd } = io
  const { units, config } = options
  const pool =
    jobs > 1 && PROGRAM !== undefined ? new Pool(PROGRAM, jobs - 1, { cwd, units, config, wanted }) : undefined
  try {
    for await (const { input, report } of reports(
      inputs,
      { run, pool, jobs, cache: cache || undefined, wanted },
      heard,
    )) {
      if (heard.closed) break
      if (!input || !report) {
        unusable++
        continue
      }
      if (found.files.length > 1 && Date.now() - started > PATIENCE)
        io.progress(`Checking ${summary.files + 1} of ${found.files.length} files`)
      const before = summary.warnings
      const project = run.project(input.file)
      report.faults.forEach(run.tell)
      one(input, report, format, applied.get(input.file) ?? [], options.quiet === true, summary, known, io)
      ofProjects.add(project, summary.warnings - before)
      await io.drained?.()
    }
  } finally {
    io.progress(undefined)
    await pool?.end()
  }
  if (cache) save(cache, io)
  if (known) sayGone(known, options.baseline!, summary, io)
  if (summary.warnings > most) say(heard, `${plural(summary.warnings, 'warning')}; --max-warnings allows ${most}.`)
  const tooMany = options.maxWarnings === undefined ? ofProjects.tooMany(heard) : summary.warnings > most
  const status = unusable > 0 || run.faults() > 0 ? 2 : summary.errors > 0 || tooMany ? 1 : 0
  if (summary.files > 0 || outputs.length > 1 || onStdout !== DEFAULT_FORMAT)
    format.end(summary, { quiet: options.quiet === true, status, problems })
  return status
}

/** What is said on standard error is kept for those formats that hand it on. @param whole go on though nobody reads standard output */
function listening(io: Io, problems: string[], whole: boolean): Io {
  const err = (text: string): void => {
    problems.push(text.replace(/^doorwright: /, '').trimEnd())
    io.err(text)
  }
  return Object.create(io, { err: { value: err }, ...(whole && { closed: { value: false } }) })
}

/** A long list is of no use to anybody. */
const MOST_GONE = 20

function sayGone(known: Baseline, name: string, summary: Summary, io: Io): void {
  const gone = known.gone()
  summary.gone = gone.reduce((n, e) => n + e.count, 0)
  summary.known ??= 0
  say(
    io,
    `${safe(name)}: ${plural(summary.known, 'finding')} known${summary.gone === 0 ? '' : `, ${summary.gone} gone; write it anew to leave ${summary.gone === 1 ? 'it' : 'them'} out`}.`,
  )
  for (const e of gone.slice(0, MOST_GONE))
    say(
      io,
      `  gone: ${safe(e.file)}  ${e.opening === null ? '' : `${safe(e.opening)}  `}${safe(e.rule)}${e.count > 1 ? ` (${e.count} times)` : ''}`,
    )
  if (gone.length > MOST_GONE) say(io, `  and ${gone.length - MOST_GONE} more.`)
}

function one(
  input: InputFile,
  report: PlainReport,
  format: Format,
  applied: readonly string[],
  quiet: boolean,
  summary: Summary,
  baseline: Baseline | undefined,
  io: Io,
): void {
  const { file } = input
  const all = findingsOf(report)
  // they are shown beside what is found
  const lines = all.length > 0 ? linesOf(input.text) : []
  const known = baseline?.known(file, all, lines) ?? new Set()
  const findings = known.size === 0 ? all : all.filter(f => !known.has(f))
  if (baseline) summary.known = (summary.known ?? 0) + known.size
  summary.files++
  for (const f of findings) {
    if (f.accepted !== undefined) summary.accepted++
    else if (f.severity === 'error') summary.errors++
    else if (f.severity === 'warning') summary.warnings++
    else summary.notes++
  }
  const wanted = (list: LocatedFinding[]): LocatedFinding[] =>
    quiet ? list.filter(f => f.severity === 'error' && f.accepted === undefined) : list
  format.file({
    file,
    name: input.name,
    lines,
    job: report.job,
    openings: () => report.openings ?? [],
    findings: wanted(findings),
    known: wanted([...known]),
    applied,
    nameOf: other => (other === file ? input.name : displayName(other, io.cwd)),
  })
}

/** A cache is a help; that it cannot be written makes no door wrong. */
function save(cache: Cache, io: Io): void {
  try {
    cache.save()
  } catch (error) {
    if (!(error instanceof CallError)) throw error
    say(io, error.message)
  }
}

function fix(
  input: InputFile,
  { service }: Engine,
  applied: Map<string, readonly string[]>,
  io: Io,
  failed: () => void,
): InputFile {
  service.open(input.file, input.text)
  const result = service.fixAll(input.file)
  service.close(input.file)
  try {
    if (input.standardInput) io.out(result.text)
    else writeChanged(input, result.text)
    applied.set(input.file, result.applied)
    return { ...input, text: result.text }
  } catch (error) {
    if (!(error instanceof CallError)) throw error
    say(io, error.message)
    failed()
    return input
  }
}

function maxWarnings(text: string | undefined): number {
  if (text === undefined) return Number.POSITIVE_INFINITY
  if (!/^\d+$/.test(text)) throw new CallError(`--max-warnings takes a whole number, 0 or more, not "${text}".`)
  return Number(text)
}
