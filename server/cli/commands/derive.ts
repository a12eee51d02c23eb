/** `derive`: every value of every opening, or how one of them came about. */
import type * as z from 'zod'
import { type Explanation, nearestNames, type OpeningValues, type Service } from '../../service.ts'
import { engine } from '../engine.ts'
import { checkStdin, findFiles, type InputFile, readFiles, say } from '../files.ts'
import {
  type deriveSchema,
  explainSchema,
  JSON_VERSION,
  openingOf,
  deriveSchema as schema,
  writeJson,
} from '../formats/json.ts'
import { pick, plural } from '../formats/report.ts'
import { cautionsFooter, type Danger, explanationText, openingTable } from '../formats/values.ts'
import { CallError, type Io } from '../io.ts'
import { safe } from '../width.ts'

export interface DeriveOptions {
  readonly format: string
  readonly opening?: string
  readonly explain?: string
  readonly units?: string
  readonly stdinPath?: string
  readonly config?: string
}

interface Derived {
  readonly input: InputFile
  readonly job: string | undefined
  readonly openings: readonly OpeningValues[]
}

export async function derive(args: readonly string[], options: DeriveOptions, io: Io): Promise<number> {
  const asJson = pick(options.format, { pretty: false, json: true })
  checkStdin(args, options.stdinPath)
  const run = engine(io, options.units, options.config)
  const { service } = run
  const marks = new Set<string>()
  const files: Derived[] = []
  let unusable = 0
  for await (const input of readFiles(findFiles(args, io.cwd, run.excluded), io, options.stdinPath)) {
    if (!input) {
      unusable++
      continue
    }
    service.open(input.file, input.text)
    const all = service.values(input.file)
    for (const o of all) marks.add(o.mark)
    files.push({
      input,
      job: service.jobNumber(input.file),
      openings: all.filter(o => options.opening === undefined || o.mark === options.opening),
    })
  }
  if (options.opening !== undefined && files.length > 0 && !marks.has(options.opening))
    throw new CallError(noSuch('opening', options.opening, [...marks]))
  if (options.explain !== undefined) explain(files, options.explain, service, asJson, io)
  else if (asJson) deriveJson(files, io)
  else table(files, service, io)
  for (const f of files) warnOfErrors(f, service, io)
  return unusable > 0 || run.faults() > 0 ? 2 : 0
}

/** Numbers are given even where something is wrong; nobody may take them for checked. */
function warnOfErrors({ input, openings }: Derived, service: Service, io: Io): void {
  if (openings.length === 0) return
  const errors = service.findings(input.file).filter(f => f.severity === 'error' && f.accepted === undefined).length
  if (errors > 0)
    say(
      io,
      `${safe(input.name)} has ${plural(errors, 'error')}, so do not build from these numbers; check shows ${errors === 1 ? 'it' : 'them'}.`,
    )
}

function deriveJson(files: readonly Derived[], io: Io): void {
  const out: z.infer<typeof deriveSchema>['files'] = files.map(f => ({
    path: f.input.name,
    job: f.job ?? null,
    openings: f.openings.map(openingOf),
  }))
  writeJson(io, schema, { version: JSON_VERSION, files: out })
}

function table(files: readonly Derived[], service: Service, io: Io): void {
  const dangers = new Set<Danger>()
  let some = false
  for (const { input, job, openings } of files) {
    if (openings.length === 0) continue
    some = true
    io.out(`${io.colour.underline(safe(input.name))}${job === undefined ? '' : `  job ${safe(job)}`}\n\n`)
    for (const o of openings) {
      const door = service.doors(input.file).find(d => d.mark === o.mark)
      const dangerOf = (path: string): Danger | undefined => door?.entry(path)?.spec.caution
      for (const v of o.values) {
        const danger = dangerOf(v.path)
        if (danger) dangers.add(danger)
      }
      io.out(
        `${openingTable(o, { springs: door?.springs.map(s => s.name) ?? [], dangerOf }, io.colour, io.width).join('\n')}\n\n`,
      )
    }
  }
  if (some) io.out(`${cautionsFooter(dangers, io.colour, io.width).join('\n')}\n`)
  else if (files.length > 0) say(io, 'There is no opening in what was read, so nothing to derive.')
}

function explain(files: readonly Derived[], name: string, service: Service, asJson: boolean, io: Io): void {
  const out: { path: string; opening: string; explanation: Explanation }[] = []
  const names = new Set<string>()
  for (const { input, openings } of files)
    for (const o of openings) {
      const all = namesOf(service, input.file, o.mark)
      for (const n of all) names.add(n)
      const e = service.explain(input.file, o.mark, meant(name, all))
      if (e) out.push({ path: input.name, opening: o.mark, explanation: e })
    }
  if (out.length === 0) {
    if (names.size === 0) throw new CallError('There is no opening in what was read, so nothing to explain.')
    throw new CallError(noSuch('value', name, [...names]))
  }
  if (asJson) {
    writeJson(io, explainSchema, {
      version: JSON_VERSION,
      explanations: out.map(({ path, opening, explanation: e }) => ({
        path,
        opening,
        name: e.path,
        what: e.doc,
        text: e.text ?? null,
        origin: e.origin ?? null,
        formula: e.formula ?? null,
        inputs: e.inputs.map(i => ({ name: i.path, text: i.text })),
        source: e.source ?? null,
        missing: [...e.missing],
        because: e.because ?? null,
        caution: e.caution ?? null,
      })),
    })
    return
  }
  for (const { opening, explanation } of out)
    io.out(`${explanationText(opening, explanation, io.colour, io.width).join('\n')}\n\n`)
  io.out(`${cautionsFooter(new Set(), io.colour, io.width).join('\n')}\n`)
}

/** The names of all values; the first spring's also as those of `spring`, which no shell takes for a pattern. */
function namesOf(service: Service, file: string, mark: string): string[] {
  const door = service.doors(file).find(d => d.mark === mark)
  return (door?.entries() ?? []).map(e => e.path.replace(/^spring\[0\]/, 'spring'))
}

const lastOf = (path: string): string => path.slice(path.lastIndexOf('.') + 1)

/** A name without its block is enough where only one block has it. */
function meant(name: string, names: readonly string[]): string {
  if (name.includes('.') || names.includes(name)) return name
  const with_ = names.filter(n => lastOf(n) === name)
  return with_.length === 1 ? with_[0]! : name
}

function noSuch(what: string, name: string, names: readonly string[]): string {
  const sameEnd = name.includes('.') ? [] : names.filter(n => lastOf(n) === name)
  const near = sameEnd.length > 0 ? sameEnd : nearestNames(name, names)
  const byEnd =
    near.length > 0 ? near : names.filter(n => nearestNames(lastOf(name), [lastOf(n)]).length > 0).slice(0, 3)
  if (byEnd.length > 0)
    return `There is no ${what} "${name}". Did you mean ${byEnd
      .slice(0, 5)
      .map(n => `"${n}"`)
      .join(' or ')}?`
  if (what === 'opening')
    return names.length > 0
      ? `There is no opening "${name}". There ${names.length === 1 ? 'is' : 'are'}: ${names.slice(0, 20).join(', ')}.`
      : `There is no opening "${name}", nor any other.`
  return `There is no value "${name}". derive without --explain lists those that are known.`
}
