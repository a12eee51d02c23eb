/** What feeds a value and what uses it, within its opening (or stock block): one step at a time. */
import { type Evaluator, type Instance, origin, type Place, type Single, showAs, type Unit } from '../model/index.ts'
import { headerPlace } from './definition.ts'
import { reads, type ValueOf } from './reads.ts'

/** An opening or a block by itself, with its evaluator. */
export type Owner = Single

export const ownersOf = (unit: Unit): Owner[] => [...unit.doors, ...unit.singles]

export interface ValueItem {
  /** `drum.turns` */
  readonly path: string
  readonly text: string | undefined
  readonly written: boolean
  /** Its name where it is written, else the header of its block. */
  readonly place: Place
}
export interface Call {
  readonly item: ValueItem
  /** Where the one is named in the other; none where a formula reads it. */
  readonly places: readonly Place[]
}

export function valueItem(o: Owner, path: string): ValueItem | undefined {
  const value = valueAt(o, path)
  return value && itemOf(o, value)
}

export function feeds(o: Owner, path: string): Call[] {
  const value = valueAt(o, path)
  return (value ? reads(value, o.evaluator) : []).flatMap(r => {
    const item = itemOf(o, r)
    return item ? [{ item, places: r.places }] : []
  })
}

export function usedBy(o: Owner, path: string): Call[] {
  return all(o.root).flatMap(v => {
    const read = reads(v, o.evaluator).find(r => pathOf(r) === path)
    const item = read && itemOf(o, v)
    return read && item ? [{ item, places: read.places }] : []
  })
}

export const pathOf = ({ instance, name }: ValueOf): string => `${instance.path}.${name}`

function itemOf(o: Owner, v: ValueOf): ValueItem | undefined {
  const source = v.instance.fields.get(v.name)
  const place = source?.node ? origin(source.home, source.node.name) : headerPlace(v.instance)
  return place && { path: pathOf(v), text: shown(v, o.evaluator), written: source?.node !== undefined, place }
}

function shown({ instance, name }: ValueOf, evaluator: Evaluator): string | undefined {
  const spec = instance.spec.fields.get(name) ?? instance.spec.derived.get(name)
  const r = evaluator.field(instance, name)
  return spec && r.state === 'known' ? showAs(r, spec.shown, evaluator.system) : undefined
}

const valueAt = (o: Owner, path: string): ValueOf | undefined => all(o.root).find(v => pathOf(v) === path)

function all(at: Instance): ValueOf[] {
  const own = [...new Set([...at.spec.fields.keys(), ...at.spec.derived.keys()])].map(name => ({ instance: at, name }))
  return [...own, ...at.blocks.flatMap(all)]
}
