/** From a name to where it was written, to every other place that means it, and by words to names. */
import { definition as definitionOf, typeDefinition as typeOf, usedFile } from '../features/definition.ts'
import { mentionsOf } from '../features/everywhere.ts'
import { search } from '../features/symbols.ts'
import { type Context, nameAt, whatIsAt } from './context.ts'
import { TOP } from './positions.ts'
import type { Highlight, Location, Position, Step, WorkspaceSymbol } from './types.ts'

export function definition(c: Context, file: string, position: Position): Location[] {
  const { model } = c.workspace
  const a = whatIsAt(c, file, position)
  const used = a && usedFile(a, model.files)
  if (used) return [{ file: used.file, range: TOP }]
  const found = nameAt(c, file, position)
  return found ? definitionOf(found.mention).map(p => c.workspace.locate(p)) : []
}

export function typeDefinition(c: Context, file: string, position: Position): Location[] {
  const found = nameAt(c, file, position)
  return found ? typeOf(found.mention, c.workspace.model.files).map(p => c.workspace.locate(p)) : []
}

/**
 * What `references` looks through, read and worked out a file a step, for who has other things to do in between.
 * @param findings too: what `rename` takes
 */
export function* looking(c: Context, file: string, position: Position, findings: boolean): Generator<Step> {
  yield* c.workspace.reading()
  const name = nameAt(c, file, position)?.mention.name
  const files = c.workspace.knownFiles.filter(f => name !== undefined && c.workspace.text(f)?.includes(name))
  for (const [i, f] of files.entries()) {
    yield { done: i, of: files.length }
    if (findings) c.findings.of(f)
    else c.workspace.units(f)
  }
}

export function references(c: Context, file: string, position: Position, declared: boolean): Location[] {
  return sameAs(c, file, position, c.workspace.all())
    .filter(f => declared || !f.mention.definition)
    .map(f => c.workspace.spot(f.unit, f.mention.span))
}

export function highlights(c: Context, file: string, position: Position): Highlight[] {
  return sameAs(c, file, position, [file]).map(f => ({
    range: c.workspace.spot(f.unit, f.mention.span).range,
    write: f.mention.definition,
  }))
}

function sameAs(c: Context, file: string, position: Position, where: readonly string[]) {
  const found = nameAt(c, file, position)
  return found?.mention.meaning ? mentionsOf(found.mention.meaning, found.mention.name, where, c.bench) : []
}

export function symbols(c: Context, query: string): WorkspaceSymbol[] {
  const { model } = c.workspace
  const all = c.workspace.all().flatMap(f => [...(model.files.get(f)?.named.values() ?? [])])
  return search(query, all, 500).map(({ name, kind, item }) => {
    const { node } = item
    return { name, kind, ...c.workspace.spot(item, node.kind === 'block' ? (node.label ?? node.name) : node) }
  })
}
