/** What takes long, a little a step, for whoever has other things to do in between. */
import type { Unit } from '../model/index.ts'
import type { Context } from './context.ts'
import { firstLines } from './positions.ts'
import { colours, hasColours, outlineOf } from './reading.ts'
import { standings } from './views.ts'

/** What is told of all openings of a file. A run without a step means that all is there. */
export function* openings(c: Context, file: string): Generator<void> {
  for (const { unit, line } of unitsOf(c, file)) {
    if (c.findings.known(unit)) continue
    c.findings.held(unit)
    // while its openings are at hand
    standings(unit)
    outlineOf(unit, line)
    yield
  }
}

/** What its words are. */
export function* words(c: Context, file: string): Generator<void> {
  for (const { unit } of unitsOf(c, file)) {
    if (unit.empty || hasColours(unit)) continue
    colours(c, unit)
    yield
  }
}

/** Ends where the file changes meanwhile. */
function* unitsOf(c: Context, file: string): Generator<{ readonly unit: Unit; readonly line: number }> {
  const { workspace } = c
  const source = workspace.source(file)
  // the files in use are looked for once and not for each chunk
  workspace.unitsOf(file, [])
  if (!source) return
  const lines = firstLines(source)
  for (const [i, chunk] of source.chunks.entries()) {
    if (workspace.source(file) !== source) return
    yield { unit: workspace.model.unit(file, chunk), line: lines[i]! }
  }
}
