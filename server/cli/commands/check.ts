/** `check`: every finding, and the safe fixes where they are asked for. */
import { type Engine, engine } from '../engine.ts'
import { checkStdin, displayName, findFiles, type InputFile, readFiles, say } from '../files.ts'
import { FORMATS } from '../formats/index.ts'
import { pretty } from '../formats/pretty.ts'
import { type Format, linesOf, pick, plural, type Summary } from '../formats/report.ts'
import { CallError, type Io } from '../io.ts'
import { printConfig, WarningsByProject } from '../project.ts'
import { writeChanged } from '../write_file.ts'

export interface CheckOptions {
  readonly format: string
  readonly fix?: boolean
  readonly quiet?: boolean
  readonly maxWarnings?: string
  readonly units?: string
  readonly stdinPath?: string
  readonly config?: string
  readonly printConfig?: boolean
}

/** How long a run may be silent before it shows how far it is, in milliseconds. */
const PATIENCE = 500

export async function check(args: readonly string[], options: CheckOptions, io: Io): Promise<number> {
  const most = maxWarnings(options.maxWarnings)
  const maker = pick(options.format, FORMATS)
  checkStdin(args, options.stdinPath)
  const fixInput = options.fix === true && args.includes('-')
  if (fixInput && options.format !== 'pretty')
    throw new CallError(
      'With --fix the fixed text of standard input goes to standard output, so there is no room for another format. Leave out --format or --fix.',
    )
  const told = new Set<string>()
  const run = engine(io, options.units, options.config, told)
  if (options.printConfig) return printConfig(args, options.stdinPath, run, io)
  const format = fixInput ? pretty(io, io.errColour, io.err) : maker(io)
  const summary: Summary = { files: 0, errors: 0, warnings: 0, notes: 0, accepted: 0 }
  let unusable = 0
  const found = findFiles(args, io.cwd, run.excluded)
  let inputs: AsyncIterable<InputFile | undefined> | Iterable<InputFile | undefined> = readFiles(
    found,
    io,
    options.stdinPath,
  )
  const applied = new Map<string, readonly string[]>()
  if (options.fix) {
    // All are fixed before the first is checked: what one uses from another counts as it is afterwards.
    const fixed: (InputFile | undefined)[] = []
    const fixer = engine(io, undefined, options.config, told)
    for await (const input of inputs) fixed.push(input && fix(input, fixer, applied, io, () => unusable++))
    unusable += fixer.faults()
    inputs = fixed
  }
  const ofProjects = new WarningsByProject()
  const started = Date.now()
  for await (const input of inputs) {
    if (io.closed) break
    if (!input) {
      unusable++
      continue
    }
    if (found.files.length > 1 && Date.now() - started > PATIENCE)
      io.progress(`Checking ${summary.files + 1} of ${found.files.length} files`)
    const before = summary.warnings
    one(input, run, format, applied.get(input.file) ?? [], options.quiet === true, summary, io)
    ofProjects.add(run.project(input.file), summary.warnings - before)
  }
  io.progress(undefined)
  if (summary.files > 0 || options.format !== 'pretty') format.end(summary, { quiet: options.quiet === true })
  if (unusable > 0 || run.faults() > 0) return 2
  if (summary.warnings > most) say(io, `${plural(summary.warnings, 'warning')}; --max-warnings allows ${most}.`)
  const tooMany = options.maxWarnings === undefined ? ofProjects.tooMany(io) : summary.warnings > most
  return summary.errors > 0 || tooMany ? 1 : 0
}

function one(
  input: InputFile,
  { service }: Engine,
  format: Format,
  applied: readonly string[],
  quiet: boolean,
  summary: Summary,
  io: Io,
): void {
  const { file } = input
  service.open(file, input.text)
  const findings = service.findings(file)
  summary.files++
  for (const f of findings) {
    if (f.accepted !== undefined) summary.accepted++
    else if (f.severity === 'error') summary.errors++
    else if (f.severity === 'warning') summary.warnings++
    else summary.notes++
  }
  format.file({
    file,
    name: input.name,
    lines: linesOf(input.text),
    job: service.jobNumber(file),
    openings: () => service.values(file),
    findings: quiet ? findings.filter(f => f.severity === 'error' && f.accepted === undefined) : findings,
    applied,
    nameOf: other => (other === file ? input.name : displayName(other, io.cwd)),
  })
  service.close(file)
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
