/** Checks texts as the service does, without a disk: findings in offsets of the whole file. */
import { posix } from 'node:path'
import { applyEdits, parseSource } from '../../grammar/index.ts'
import { type Door, type Fix, type Host, Model, type Place, type Severity } from '../../server/model/index.ts'
import { RULES } from '../../server/rules/index.ts'
import type { Rule } from '../../server/rules/rule.ts'
import { Runner } from '../../server/rules/run.ts'

/** Where a finding stands, with the text that stands there. */
export interface Spot {
  readonly file: string
  readonly start: number
  readonly end: number
  readonly text: string
}

export interface Found extends Spot {
  readonly rule: string
  readonly severity: Severity
  readonly message: string
  readonly opening: string | undefined
  readonly block: string | undefined
  readonly limit: { readonly text: string; readonly source: string } | undefined
  readonly related: readonly (Spot & { readonly message: string })[]
  readonly accepted: string | undefined
  readonly fixes: readonly Fix[]
}

export class Checked {
  readonly texts: Readonly<Record<string, string>>
  readonly model: Model
  readonly findings: readonly Found[]
  readonly doors: readonly Door[]
  readonly #rules: readonly Rule[]

  constructor(texts: Readonly<Record<string, string>>, rules: readonly Rule[]) {
    this.texts = texts
    this.#rules = rules
    this.model = new Model(host)
    for (const [file, text] of Object.entries(texts)) this.model.set(file, parseSource(text))
    const runner = new Runner(rules, (rule, error) => {
      throw new Error(`rule ${rule} failed`, { cause: error })
    })
    this.doors = this.model.units(MAIN).flatMap(u => u.doors)
    this.findings = this.model
      .units(MAIN)
      .flatMap(u => runner.findings(u, this.model.files))
      .map(f => ({
        ...this.spot(f.place),
        rule: f.rule,
        severity: f.severity!,
        message: f.message,
        opening: f.opening,
        block: f.block,
        limit: f.limit,
        related: (f.related ?? []).map(r => ({ ...this.spot(r.place), message: r.message })),
        accepted: f.accepted,
        fixes: f.fixes ?? [],
      }))
  }

  get text(): string {
    return this.texts[MAIN]!
  }

  door(mark?: string): Door {
    const found = mark === undefined ? this.doors[0] : this.doors.find(d => d.mark === mark)
    if (!found) throw new Error(`no opening ${mark ?? ''}`)
    return found
  }

  /** The findings of one rule. */
  of(rule: string): readonly Found[] {
    return this.findings.filter(f => f.rule === rule)
  }

  /** The one finding of a rule; throws where there is not exactly one. */
  one(rule: string): Found {
    const all = this.of(rule)
    if (all.length !== 1) throw new Error(`${all.length} findings of ${rule}:\n${this.summary()}`)
    return all[0]!
  }

  /** All findings, one a line, for a test's failure. */
  summary(): string {
    return this.findings.map(f => `${f.severity} ${f.rule} [${f.text}] ${f.message}`).join('\n')
  }

  spot(place: Place): Spot {
    const source = this.model.files.get(place.file)!.source
    const start = source.starts[source.chunks.indexOf(place.chunk)]!
    return {
      file: relative(place.file),
      start: start + place.start,
      end: start + place.end,
      text: place.chunk.text.slice(place.start, place.end),
    }
  }

  /** The same files after a fix, checked again. */
  apply(fix: Fix | undefined): Checked {
    if (!fix) throw new Error(`no such fix:\n${this.summary()}`)
    const texts: Record<string, string> = { ...this.texts }
    for (const file of new Set(fix.edits.map(e => e.place.file))) {
      const edits = fix.edits.filter(e => e.place.file === file)
      texts[file] = applyEdits(texts[file]!, edits.map(e => ({ start: this.spot(e.place).start, end: this.spot(e.place).end, text: e.text }))) // biome-ignore format: one call
    }
    return new Checked(texts, this.#rules)
  }

  /** The fix of a rule's only finding whose title holds `words`, applied. */
  fixed(rule: string, words = ''): Checked {
    return this.apply(this.one(rule).fixes.find(f => f.title.includes(words)))
  }
}

const ROOT = '/jobs'
const MAIN = `${ROOT}/job.door`
const relative = (file: string): string => file.slice(ROOT.length + 1)

/** `use` is followed by path; what leads out of the folder is refused. */
const host: Host = {
  resolve(from, path) {
    const file = posix.normalize(posix.join(posix.dirname(from), path))
    if (!file.startsWith(`${ROOT}/`)) return { ok: false, outside: true, message: `"${path}" leads out of the folder.` }
    return { ok: true, file }
  },
}

/** Checks a job with, beside it, files by relative path. */
export function check(
  text: string,
  files: Readonly<Record<string, string>> = {},
  rules: readonly Rule[] = RULES,
): Checked {
  const all: Record<string, string> = {}
  for (const [name, content] of Object.entries(files)) all[`${ROOT}/${name}`] = content
  return new Checked({ ...all, [MAIN]: text }, rules)
}

/** The text of the job after a fix. */
export const applyFix = (checked: Checked, fix: Fix | undefined): string => checked.apply(fix).text
