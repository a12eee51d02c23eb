/** The findings of a day, kept in a file, so that from then on only new ones count. */
import { existsSync, statSync } from 'node:fs'
import { dirname, isAbsolute, relative, resolve, sep } from 'node:path'
import * as z from 'zod'
import { readText } from '../host.ts'
import { type LocatedFinding, RULES, type Service, type Severity, type Version } from '../service.ts'
import { fingerprint } from './fingerprint.ts'
import { checkTarget } from './formats/outputs.ts'
import { linesOf } from './formats/report.ts'
import { CallError, type Io } from './io.ts'
import { safe } from './width.ts'

export const BASELINE_VERSION = 1

const text = z.string().max(10_000)
export const baselineSchema = z.strictObject({
  version: z.literal(BASELINE_VERSION),
  findings: z.array(
    z.strictObject({
      file: text.min(1).meta({ description: 'Relative to the baseline, with /.' }),
      opening: text.nullable(),
      rule: text.min(1),
      severity: z.enum(['error', 'warning', 'note']).meta({ description: 'The same finding counts again where it gets more severe.' }), // biome-ignore format: one field
      block: text.nullable().meta({ description: 'The path of the block, drum or curtain.slat.' }),
      fingerprint: z
        .string()
        .regex(/^[0-9a-f]{16}$/)
        .meta({ description: 'Of rule, opening, block and the text found fault with; not of line or message.' }),
      count: z.int().gte(1).lte(1_000_000),
    }),
  ),
})
type Entry = z.infer<typeof baselineSchema>['findings'][number]

const RANK: Readonly<Record<Severity, number>> = { error: 3, warning: 2, note: 1 }
const NEVER = new Set(RULES.filter(r => r.never).map(r => r.id))

/** Whether a baseline may not know it: what nobody can accept with `allow` cannot be put aside by a list either. */
export const alwaysCounts = (f: LocatedFinding): boolean => NEVER.has(f.rule) && f.severity === 'error'

/** Collects what a baseline is written from. */
export class BaselineMaker {
  readonly #entries = new Map<string, Entry>()
  readonly #folder: string

  /** @param folder that the baseline will lie in */
  constructor(folder: string) {
    this.#folder = folder
  }

  add(file: string, findings: readonly LocatedFinding[], lines: readonly string[]): void {
    for (const f of findings) {
      const print = fingerprint(f, lines)
      const key = `${print} ${f.severity} ${file}`
      const old = this.#entries.get(key)
      if (old) old.count++
      else this.#entries.set(key, { file: nameFrom(this.#folder, file), opening: f.opening ?? null, rule: f.rule, severity: f.severity, block: f.block ?? null, fingerprint: print, count: 1 }) // biome-ignore format: one entry
    }
  }

  get size(): number {
    return [...this.#entries.values()].reduce((n, e) => n + e.count, 0)
  }

  /** The same findings give the same bytes, whatever the order of the files. */
  get text(): string {
    const key = (e: Entry): string => JSON.stringify([e.file, e.opening ?? '', e.rule, e.block ?? '', e.fingerprint, e.severity]) // biome-ignore format: one key
    const findings = [...this.#entries.values()].map(e => [key(e), e] as const).sort(([a], [b]) => (a < b ? -1 : 1))
    return `${JSON.stringify(baselineSchema.parse({ version: BASELINE_VERSION, findings: findings.map(([, e]) => e) }), null, 2)}\n`
  }
}

/** A baseline in use: each of its findings is taken off as it is met. */
export class Baseline {
  readonly #left = new Map<string, { readonly entry: Entry; count: number }[]>()
  readonly #folder: string
  readonly #seen = new Set<string>()

  constructor(entries: readonly Entry[], folder: string) {
    this.#folder = folder
    for (const entry of entries) {
      const key = `${entry.fingerprint} ${entry.file}`
      this.#left.set(key, [...(this.#left.get(key) ?? []), { entry, count: entry.count }])
    }
  }

  /** Which of a file's findings it knows. Asked once for each file. */
  known(file: string, findings: readonly LocatedFinding[], lines: readonly string[]): Set<LocatedFinding> {
    const name = nameFrom(this.#folder, file)
    this.#seen.add(name)
    const out = new Set<LocatedFinding>()
    // the most severe first, so that a milder one does not use up what knows them
    for (const f of [...findings].sort((a, b) => RANK[b.severity] - RANK[a.severity])) {
      if (f.accepted !== undefined || alwaysCounts(f)) continue
      const same = (this.#left.get(`${fingerprint(f, lines)} ${name}`) ?? []).filter(l => l.count > 0 && RANK[l.entry.severity] >= RANK[f.severity]) // biome-ignore format: one list
      const mildest = same.sort((a, b) => RANK[a.entry.severity] - RANK[b.entry.severity])[0]
      if (!mildest) continue
      mildest.count--
      out.add(f)
    }
    return out
  }

  /** What it knows and is not there any more, in the files that were looked at and in those that are gone. */
  gone(): (Entry & { readonly count: number })[] {
    return [...this.#left.values()]
      .flat()
      .filter(l => l.count > 0 && (this.#seen.has(l.entry.file) || !existsSync(resolve(this.#folder, l.entry.file))))
      .map(l => ({ ...l.entry, count: l.count }))
  }
}

/** A side of a comparison with those of its findings marked that a baseline has. */
export function withKnown(
  version: Version,
  files: readonly { readonly file: string; readonly name: string; readonly text: string }[],
  service: Service,
  baseline: Baseline,
): Version {
  type Compared = Version['doors'][number]['findings'][number]
  const key = (name: string, f: Compared | LocatedFinding): string =>
    JSON.stringify([name, f.opening ?? '', f.rule, f.severity, f.block ?? '', f.message])
  const left = new Map<string, number>()
  for (const { file, name, text } of files)
    for (const f of baseline.known(file, service.findings(file), linesOf(text)))
      left.set(key(name, f), (left.get(key(name, f)) ?? 0) + 1)
  const marked = (name: string, findings: readonly Compared[]): Compared[] =>
    findings.map(f => {
      const n = f.accepted === undefined ? (left.get(key(name, f)) ?? 0) : 0
      if (n === 0) return f
      left.set(key(name, f), n - 1)
      return { ...f, known: true }
    })
  return {
    doors: version.doors.map(d => ({ ...d, findings: marked(d.file, d.findings) })),
    others: version.others.map(o => ({ ...o, findings: marked(o.file, o.findings) })),
  }
}

/** Whether a text is, or before an unfinished merge was, a baseline. */
const looksLikeOne = (text: string): boolean => text.trim() === '' || /"findings"\s*:/.test(text)

/** @param file to be written @throws CallError where it holds something else than a baseline */
export function checkBaselineTarget(file: string, io: Io): void {
  checkTarget(file, '--output ', io)
  const there = readText(resolve(io.cwd, file))
  if (there.ok && !looksLikeOne(there.text))
    throw new CallError(`${safe(file)} is something else than a baseline, and would be overwritten. Name another file.`)
}

/** @param name as it was written on the command line @throws CallError in words: where, what was expected, what to do */
export function readBaseline(name: string, cwd: string): Baseline {
  const path = resolve(cwd, name)
  const shown = safe(name)
  const read = readText(path)
  if (!read.ok) {
    const target = statSync(path, { throwIfNoEntry: false })?.isDirectory() ? 'FILE' : shown
    throw new CallError(
      `${shown} ${read.reason}. --baseline takes a file that was written by: doorwright baseline -o ${target}`,
    )
  }
  // what was never one is not to be overwritten on our advice
  const anew = looksLikeOne(read.text)
    ? `Write it anew: doorwright baseline -o ${shown}`
    : '--baseline takes a file that was written by: doorwright baseline -o FILE'
  let data: unknown
  try {
    data = JSON.parse(read.text)
  } catch (error) {
    const merge = /^(<{7}|={7}|>{7})/m.test(read.text) ? ' It has the marks of a merge that was not finished.' : ''
    throw new CallError(`${shown} is not JSON: ${safe((error as Error).message)}.${merge} ${anew}`)
  }
  const version = (data as { version?: unknown } | null)?.version
  if (Number.isInteger(version) && version !== BASELINE_VERSION)
    throw new CallError(
      `${shown} is a baseline of version ${version}; this doorwright reads version ${BASELINE_VERSION}. ${anew}`,
    )
  const result = baselineSchema.safeParse(data)
  if (result.success) return new Baseline(result.data.findings, dirname(path))
  const issue = result.error.issues[0]!
  const at = issue.path.map(p => (typeof p === 'number' ? `[${p}]` : `.${String(p)}`)).join('')
  throw new CallError(
    `${shown} is not a baseline: ${at === '' ? 'it' : safe(at.replace(/^\./, ''))}: ${safe(issue.message)}. ${anew}`,
  )
}

function nameFrom(folder: string, file: string): string {
  const way = relative(folder, file)
  return (isAbsolute(way) ? file : way).split(sep).join('/')
}
