/** What the project file means to the commands: how many warnings are too many, and what is in force. */

import { resolve } from 'node:path'
import type { Config } from '../config/index.ts'
import { LIMITS, RULES } from '../service.ts'
import type { Engine } from './engine.ts'
import { displayName, findFiles, say } from './files.ts'
import { plural } from './formats/report.ts'
import type { Io } from './io.ts'
import { padEnd, safe, widthOf, wrap } from './width.ts'

/** Warnings by project file, since each may have its own bound. */
export class WarningsByProject {
  readonly #count = new Map<Config, number>()

  add(project: Config | undefined, warnings: number): void {
    if (project) this.#count.set(project, (this.#count.get(project) ?? 0) + warnings)
  }

  /** Whether a bound is passed; says which. */
  tooMany(io: Io): boolean {
    const over = [...this.#count].filter(([p, n]) => p.maxWarnings !== undefined && n > p.maxWarnings)
    for (const [p, n] of over)
      say(io, `${plural(n, 'warning')}; ${safe(displayName(p.file, io.cwd))} allows ${p.maxWarnings}.`)
    return over.length > 0
  }
}

/** What is in force for the files that are meant: each limit and setting, and where it comes from. */
export function printConfig(args: readonly string[], stdinPath: string | undefined, run: Engine, io: Io): number {
  const found = findFiles(args, io.cwd, run.excluded)
  for (const problem of found.problems) say(io, problem)
  const projects = new Map<Config | undefined, string[]>()
  for (const path of found.files) {
    const file = path === '-' ? resolve(io.cwd, stdinPath ?? 'standard-input.door') : path
    const project = run.project(file)
    projects.set(project, [...(projects.get(project) ?? []), file])
  }
  for (const [project, files] of projects) io.out(`${page(project, files, io).join('\n')}\n\n`)
  return found.problems.length > 0 || run.faults() > 0 ? 2 : 0
}

function page(project: Config | undefined, files: readonly string[], io: Io): string[] {
  const c = io.colour
  const name = project ? safe(displayName(project.file, io.cwd)) : undefined
  const first = safe(displayName(files[0]!, io.cwd))
  const where = files.length === 1 ? first : `${first} and ${files.length - 1} more`
  const out = [name ? `${c.bold(name)}  for ${where}` : `${c.bold('no doorwright.json')}  for ${where}`, '']
  const set = new Map(project?.settings.map(s => [s.name, s]))
  const row = (key: string, usual: string, from: string): [string, string, string] => {
    const s = set.get(key)
    return s ? [key, s.text, `${name}:${s.line + 1}${s.because ? `, because ${s.because}` : ''}`] : [key, usual, from]
  }
  const rows = [
    ...[...LIMITS].map(([limit, l]) => {
      const d = l.field.byDefault
      return row(`limits.${limit}`, d === undefined ? 'none' : 'text' in d ? d.text : d.formula, `usual: ${l.source}`)
    }),
    ...RULES.filter(r => set.has(`severity.${r.id}`)).map(r => row(`severity.${r.id}`, r.severity, '')),
    row('stock', 'none', 'usual'),
    row('exclude', 'none', 'usual'),
    row('max_warnings', 'any number', 'usual'),
  ]
  const [a, b] = [0, 1].map(i => Math.min(36, Math.max(...rows.map(r => widthOf(r[i]!)))))
  for (const [key, text, from] of rows) {
    const lines = wrap(safe(from), Math.max(20, io.width - a! - b! - 6))
    lines.forEach(
      (l, i) =>
        void out.push(
          i === 0
            ? `  ${padEnd(key, a!)}  ${padEnd(safe(text), b!)}  ${c.dim(l)}`
            : `${' '.repeat(a! + b! + 6)}${c.dim(l)}`,
        ),
    )
  }
  out.push('', ...wrap('What a job says itself, or a file it uses, is nearer than this and wins.', io.width))
  return out
}
