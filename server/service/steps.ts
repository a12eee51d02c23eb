/** What takes long, a little a step, for whoever has other things to do in between. */
import type { Unit } from '../model/index.ts'
import type { Context } from './context.ts'
import { firstLines } from './positions.ts'
import { colours, hasColours, outlineOf } from './reading.ts'
import { standings } from './views.ts'

/** What is told of all openings of a file. A run without a step means that all is there. */
export function* openings(c: Context, file: string): Generator<void> {
  const by = c.findings.project(file)
  for (const { unit, line } of unitsOf(c, file, u => !c.findings.known(u, by))) {
    c.findings.held(unit)
    // while its openings are at hand
    standings(unit)
    outlineOf(unit, line)
    yield
  }
}

/** What its words are. */
export function* words(c: Context, file: string): Generator<void> {
  for (const { unit } of unitsOf(c, file, u => !u.empty && !hasColours(u))) {
    colours(c, unit)
    yield
  }
}

/** Those that are wanted; nearly always few of many. Ends where the file changes meanwhile. */
function* unitsOf(
  { workspace }: Context,
  file: string,
  wanted: (unit: Unit) => boolean,
): Generator<{ readonly unit: Unit; readonly line: number }> {
  const source = workspace.source(file)
  if (!source) return
  // the files in use are looked for once and not for each chunk
  workspace.unitsOf(file, [])
  const { chunks } = source
  for (let i = 0; i < chunks.length; i++) {
    const unit = workspace.model.unit(file, chunks[i]!)
    if (!wanted(unit)) continue
    yield { unit, line: firstLines(source)[i]! }
    if (workspace.source(file) !== source) return
  }
}
