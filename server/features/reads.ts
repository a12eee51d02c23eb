/** What a value reads: the names in its expression, or what its formula is given. */
import { type Expression, type Path, type Span, walk } from '../../grammar/index.ts'
import {
  type Derivation,
  type DerivedSpec,
  type Evaluator,
  type FieldSpec,
  type Home,
  type Instance,
  origin,
  type Place,
  plainName,
  type Target,
} from '../model/index.ts'

/** One value of a block. */
export interface ValueOf {
  readonly instance: Instance
  readonly name: string
}
export interface ReadValue extends ValueOf {
  /** Where it is named; none where a formula reads it. */
  readonly places: readonly Place[]
}

/** The formula of a value that is not written. */
export function derivationOf(t: { instance: Instance; spec: FieldSpec | DerivedSpec }): Derivation | undefined {
  if (t.instance.fields.has(t.spec.name)) return undefined
  if ('compute' in t.spec) return t.spec
  const { derived, byDefault } = t.spec
  return derived ?? (byDefault && 'compute' in byDefault ? byDefault : undefined)
}

/** What a formula reads of the opening (or stock block) it stands in. */
export function readsOf(at: Instance, d: Derivation): ValueOf[] {
  const root = top(at)
  return Object.values(d.reads).flatMap((read): ValueOf[] => {
    const parts = read.path.split('.')
    const name = parts.pop()!
    if (read.each) return root.blocks.filter(b => b.spec.name === parts[0]).map(instance => ({ instance, name }))
    if (parts[0] === 'job') return []
    let from: Instance | undefined = parts.length > 0 ? root : at
    for (const [i, part] of parts.entries())
      if (i > 0 || part !== root.spec.name) from = from?.blocks.find(b => b.spec.name === part)
    return from ? [{ instance: from, name }] : []
  })
}

/** All that a value reads directly; a `let` on the way is looked through. */
export function reads(value: ValueOf, evaluator: Evaluator): ReadValue[] {
  const { instance, name } = value
  const spec = instance.spec.fields.get(name) ?? instance.spec.derived.get(name)
  if (!spec) return []
  const source = instance.fields.get(name)
  const out = new Map<string, { value: ValueOf; places: Place[] }>()
  const add = (v: ValueOf, place?: Place): void => {
    const key = `${v.instance.path}.${v.name}`
    const entry = out.get(key) ?? { value: v, places: [] }
    if (place) entry.places.push(place)
    out.set(key, entry)
  }
  if (source?.node) {
    const takes = 'takes' in spec ? spec.takes.kind : undefined
    const stock = takes === 'stock' ? instance.blocks.find(b => b.spec.name === name) : undefined
    if (!stock && takes !== 'word') named(source.node.value, instance, source.home, evaluator, add, new Set())
  } else {
    const d = derivationOf({ instance, spec })
    if (d) for (const v of readsOf(instance, d)) add(v)
  }
  return [...out.values()].map(e => ({ ...e.value, places: e.places }))
}

function named(
  e: Expression,
  at: Instance | undefined,
  home: Home,
  evaluator: Evaluator,
  add: (v: ValueOf, place: Place) => void,
  lets: Set<object>,
  through?: Place,
): void {
  for (const path of pathsIn(e)) {
    const target: Target | undefined = evaluator.target(
      path.names.map(n => n.text),
      { instance: at, home },
    )
    const place = through ?? origin(home, path as Span)
    if (!target) continue
    if (target.kind !== 'let') add({ instance: target.instance, name: plainName(target.spec.name) }, place)
    else if (!lets.has(target.written.node)) {
      lets.add(target.written.node)
      named(target.written.node.value, target.instance, target.written.home, evaluator, add, lets, place)
    }
  }
}

function pathsIn(e: Expression): Path[] {
  const out: Path[] = []
  walk([e], n => {
    if (n.kind === 'path') out.push(n)
  })
  return out
}

const top = (at: Instance): Instance => (at.parent ? top(at.parent) : at)
