/** The names that may stand in an expression, found the way the evaluator finds them. */
import type { Dimension } from '../units/index.ts'
import { allBlocks, type DerivedSpec, dimensionOfEntry, type Door, type Entry, type Evaluator, type FieldSpec, type Instance, type Scope, type Target } from '../model/index.ts'

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

/** Every field and derived value of the opening that an expression here can name, each by its shortest path. */
export function reachable(door: Door, scope: Scope): Reachable[] {
  const out: Reachable[] = []
  for (const entry of door.entries()) {
    const path = written(entry, scope, door.evaluator)
    if (path !== undefined) out.push({ path, entry, dimension: dimensionOfEntry(entry.spec) })
  }
  return out
}

function written(entry: Entry, scope: Scope, evaluator: Evaluator): string | undefined {
  const name = entry.spec.name
  const forms = [name, `${entry.instance.name ?? ''}.${name}`, `${entry.instance.path.replace(/\[\d+\]/, '')}.${name}`]
  return forms.find(form => !form.startsWith('.') && isName(form) && leadsTo(evaluator.target(form.split('.'), scope), entry.instance, entry.spec))
}

// the name of an opening is a text and no name
const isName = (path: string): boolean => /^[a-z]\w*(\.[a-z]\w*)*$/.test(path)

const leadsTo = (t: Target | undefined, instance: Instance, spec: FieldSpec | DerivedSpec): boolean =>
  t !== undefined && t.kind !== 'let' && t.instance === instance && t.spec === spec
