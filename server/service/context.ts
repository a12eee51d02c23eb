/** What every group of verbs takes, and how a verb gets from a place in a file to what stands there. */
import { type Chunk, chunkIndexAt } from '../../grammar/index.ts'
import { type At, at } from '../features/at.ts'
import type { Found } from '../features/everywhere.ts'
import { type Mention, mentionAt, mentions } from '../features/mentions.ts'
import type { Bench } from '../features/trial.ts'
import { emptyUnit, type Unit } from '../model/index.ts'
import { Findings } from './findings.ts'
import { firstLines, offsetAt, spanAt } from './positions.ts'
import type { Position, Range, ServiceHost } from './types.ts'
import { Workspace } from './workspace.ts'

export interface Context {
  readonly host: ServiceHost
  readonly workspace: Workspace
  readonly findings: Findings
  /** The same, as what looks through all files, and what tries edits out, takes it. */
  readonly bench: Bench
}

export function contextOf(host: ServiceHost): Context {
  const workspace = new Workspace(host)
  const findings = new Findings(host, workspace)
  const bench: Bench = {
    files: workspace.model.files,
    units: file => workspace.units(file),
    any: file => workspace.evaluator(file),
    set: (file, source) => workspace.set(file, source),
    rules: file => findings.of(file).map(f => f.rule),
    users: file => workspace.users(file),
  }
  return { host, workspace, findings, bench }
}

/** What an empty file has for a chunk. */
export const EMPTY: Chunk = { text: '', statements: [], findings: [] }

/** The unit that holds a position; the offset counts from the start of its chunk. */
export function unitAt(c: Context, file: string, position: Position): { unit: Unit; offset: number } | undefined {
  const source = c.workspace.source(file)
  if (!source) return undefined
  const offset = offsetAt(source, position)
  const i = chunkIndexAt(source, offset)
  const chunk = source.chunks[i]
  return chunk
    ? { unit: c.workspace.unitsOf(file, [chunk])[0]!, offset: offset - source.starts[i]! }
    : { unit: emptyUnit(file, EMPTY), offset: 0 }
}

export function whatIsAt(c: Context, file: string, position: Position): At | undefined {
  const found = unitAt(c, file, position)
  return found && at(found.unit, found.offset, () => c.workspace.evaluator(file))
}

/** The name at a position, with what it means. */
export function nameAt(c: Context, file: string, position: Position): Found | undefined {
  const found = unitAt(c, file, position)
  const mention = found && mentionAt(namesIn(c, found.unit), found.offset)
  return mention && { mention, unit: found.unit }
}

export const namesIn = (c: Context, unit: Unit): readonly Mention[] =>
  mentions(unit, c.workspace.model.files, () => c.workspace.evaluator(unit.file))

/** The units that a range touches, each with its first line and the range inside it. */
export function unitsIn(
  c: Context,
  file: string,
  range: Range,
): { unit: Unit; line: number; from: number; to: number }[] {
  const source = c.workspace.source(file)
  if (!source) return []
  const { start, end } = spanAt(source, range)
  const first = Math.max(0, chunkIndexAt(source, start))
  const lines = firstLines(source)
  const touched = source.chunks.slice(first, chunkIndexAt(source, end) + 1)
  return c.workspace.unitsOf(file, touched).map((unit, i) => {
    const at = source.starts[first + i]!
    return { unit, line: lines[first + i]!, from: start - at, to: end - at }
  })
}
