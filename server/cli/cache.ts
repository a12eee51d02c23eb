/**
 * Reports of an earlier run, by what they were made of: this program, the project's settings, the file's text and the
 * texts of all that it uses. A file of lines, one a report; what cannot be read of it is passed over and made anew.
 */
import { existsSync, readFileSync, statSync } from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'
import { version } from '../../package.json'
import { readText } from '../host.ts'
import type { Engine } from './engine.ts'
import type { InputFile } from './files.ts'
import { checkTarget } from './formats/outputs.ts'
import { CallError, type Io } from './io.ts'
import type { PlainReport, Used } from './look.ts'
import { sha256 } from './sha256.ts'
import { safe } from './width.ts'
import { writeNew } from './write_file.ts'

export const CACHE_NAME = '.doorwright-cache.jsonl'
const HEADER = '{"doorwright-cache":1}'

/**
 * Where it lies: as named, else beside the project file of the current folder, else in that folder.
 * @throws CallError where that would overwrite something else
 */
export function cachePath(asked: string | true, run: Engine, io: Io): string {
  if (asked === true) {
    const project = run.project(join(io.cwd, 'any.door'))
    return join(project ? dirname(project.file) : io.cwd, CACHE_NAME)
  }
  const path = resolve(io.cwd, asked)
  const hint = ' Without a name of its own write --cache after the files.'
  try {
    checkTarget(asked, '--cache=', io)
  } catch (error) {
    throw error instanceof CallError ? new CallError(`${error.message}${hint}`) : error
  }
  const there = statSync(path, { throwIfNoEntry: false })
  const ours = !there || there.size === 0 || basename(path).includes('cache') || linesIn(path)[0] === HEADER
  if (!ours)
    throw new CallError(`${safe(asked)} is something else than a cache. --cache=FILE would overwrite it.${hint}`)
  return path
}

export class Cache {
  readonly #path: string
  readonly #run: Engine
  readonly #common: string
  readonly #openings: boolean
  /** By file, the rest of its line: key, sum, report. */
  readonly #lines = new Map<string, string>()
  readonly #met = new Set<string>()
  /** Hashes of used files as they are now, each read once. */
  readonly #texts = new Map<string, string | undefined>()
  #changed = false

  /** @param openings whether a report is of use only with the values of its openings */
  constructor(path: string, run: Engine, units: string | undefined, openings: boolean) {
    this.#path = path
    this.#run = run
    this.#openings = openings
    this.#common = sha256(programId(), units ?? '')
    const [first, ...lines] = linesIn(path)
    if (first !== HEADER) return
    for (const line of lines) {
      const tab = line.indexOf('\t')
      if (tab > 0) this.#lines.set(line.slice(0, tab), line.slice(tab + 1))
    }
  }

  get(input: InputFile): PlainReport | undefined {
    if (input.standardInput) return undefined
    const name = JSON.stringify(input.file)
    this.#met.add(name)
    const [key, sum, text] = this.#lines.get(name)?.split('\t') ?? []
    if (text === undefined || key !== this.#key(input) || sum !== sha256(text)) return undefined
    try {
      const report = JSON.parse(text) as PlainReport
      if (this.#openings && !report.openings) return undefined
      return report.uses?.every(u => this.#same(u)) ? report : undefined
    } catch {
      return undefined
    }
  }

  /** A report that is not the whole truth, or hangs on files that are not there, is not kept. */
  put(input: InputFile, report: PlainReport): void {
    if (input.standardInput) return
    this.#changed = true
    const name = JSON.stringify(input.file)
    this.#lines.delete(name)
    if (report.faults.length > 0 || !report.uses) return
    const text = JSON.stringify(report)
    this.#lines.set(name, `${this.#key(input)}\t${sha256(text)}\t${text}`)
  }

  /** Puts it in the old one's place in one step. Files that are gone are left out. @throws CallError in words */
  save(): void {
    if (!this.#changed) return
    for (const name of this.#lines.keys()) if (!this.#met.has(name) && !isThere(name)) this.#lines.delete(name)
    writeNew(this.#path, safe(basename(this.#path)), this.#text())
  }

  *#text(): Iterable<string> {
    yield `${HEADER}\n`
    // in order, so that the same reports give the same bytes
    for (const name of [...this.#lines.keys()].sort()) yield `${name}\t${this.#lines.get(name)}\n`
  }

  #key({ file, text }: InputFile): string {
    const p = this.#run.project(file)
    return sha256(this.#common, p ? JSON.stringify([p.file, p.limits, p.severity]) : '', file, text)
  }

  #same({ from, path, file, hash }: Used): boolean {
    const target = this.#run.host.resolve(from, path)
    if (!target.ok || target.file !== file) return false
    if (!this.#texts.has(file)) {
      const read = readText(file)
      this.#texts.set(file, read.ok ? sha256(read.text) : undefined)
    }
    return this.#texts.get(file) === hash
  }
}

function linesIn(path: string): string[] {
  try {
    return readFileSync(path, 'utf8').split('\n')
  } catch {
    return []
  }
}

function isThere(name: string): boolean {
  try {
    return existsSync(JSON.parse(name))
  } catch {
    return false
  }
}

/** Another build of the same version may find other things. */
const programId = (): string => `${version} ${sha256(readFileSync(fileURLToPath(import.meta.url), 'latin1'))}`
