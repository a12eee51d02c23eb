/** The names that may stand in an expression, found the way the evaluator finds them. */

import {
  allBlocks,
  type DerivedSpec,
  type Door,
  dimensionOfEntry,
  type Entry,
  type Evaluator,
  type FieldSpec,
  type Files,
  type Instance,
  pathOf,
  type Scope,
  type Target,
} from '../model/index.ts'
import type { Dimension } from '../units/index.ts'

/** A name that lies in every kind of block, one for each kind: asking for it shows which block a path leads to. */
const PROBES = allBlocks.map(b => [...b.fields.keys(), ...b.derived.keys()][0]).filter(name => name !== undefined)

/** The block that a path leads to where it stands (`drum`, `curtain.slat`, `long`). */
export function blockAtPath(names: readonly string[], scope: Scope, evaluator: Evaluator): Instance | undefined {
  for (const probe of PROBES) {
    const target = evaluator.target([...names, probe], scope)
    if (target && target.kind !== 'let' && !(names.length === 0)) return target.instance
  }
  return undefined
}

export interface Reachable {
  /** As it is written here: `width`, `drum.turns`, `long.rate`. */
  readonly path: string
  readonly entry: Entry
  readonly dimension: Dimension | undefined
}

/**
 * Every field and derived value that an expression here can name, each by its shortest path. Own and enclosing blocks
 * are searched first, as the evaluator does; a `let` hides a bare name.
 */
export function reachable(
  door: Door | undefined,
  scope: Scope,
  evaluator: Evaluator,
  lets: ReadonlySet<string>,
): Reachable[] {
  const out: Reachable[] = []
  const bare = new Set(lets)
  const seen = new Set<string>()
  const add = (path: string, entry: Entry): void =>
    void out.push({ path, entry, dimension: dimensionOfEntry(entry.spec) })
  for (let at = scope.instance; at; at = at.parent)
    for (const spec of [...at.spec.fields.values(), ...at.spec.derived.values()]) {
      if (bare.has(spec.name)) continue
      bare.add(spec.name)
      seen.add(pathOf(at, spec.name))
      add(spec.name, { path: pathOf(at, spec.name), instance: at, spec, derivedOnly: !at.spec.fields.has(spec.name) })
    }
  for (const entry of door?.entries() ?? []) {
    if (seen.has(entry.path)) continue
    const { instance, spec } = entry
    const forms = [`${instance.name}.${spec.name}`, `${instance.path.replace(/\[\d+\]/, '')}.${spec.name}`]
    // the name of an opening is a text and no name
    const form = forms.find(
      f =>
        /^[a-z]\w*(\.[a-z]\w*)*$/.test(f) &&
        !f.startsWith('undefined.') &&
        leadsTo(evaluator.target(f.split('.'), scope), instance, spec),
    )
    if (form !== undefined) add(form, entry)
  }
  return out
}

const leadsTo = (t: Target | undefined, instance: Instance, spec: FieldSpec | DerivedSpec): boolean =>
  t !== undefined && t.kind !== 'let' && t.instance === instance && t.spec === spec

/** The names given by `let` that are in scope. */
export function letsInScope(scope: Scope, files: Files): Set<string> {
  const out = new Set<string>()
  for (let at = scope.instance; at; at = at.parent) for (const name of at.lets.keys()) out.add(name)
  for (const item of files.names(scope.home.file, 'let'))
    if (item.node.kind === 'let' && item.node.name) out.add(item.node.name.text)
  return out
}
