/** Whether something keeps its meaning: what openings come to before and after. */
import { type Door, nearly, type Value } from '../model/index.ts'

/** Every value of an opening, the unknown ones too. */
export type Snapshot = ReadonlyMap<string, Value | undefined>

export function snapshot(door: Door): Snapshot {
  const out = new Map<string, Value | undefined>()
  for (const e of door.entries()) {
    const r = door.evaluator.field(e.instance, e.spec.name)
    out.set(e.path, r.state === 'known' ? r.value : undefined)
  }
  return out
}

/** @param apart values that may differ: what the change itself is about */
export function sameValues(before: Snapshot, after: Snapshot, apart: readonly string[] = []): boolean {
  if (before.size !== after.size) return false
  for (const [path, value] of before)
    if (!after.has(path) || (!apart.includes(path) && !sameValue(value, after.get(path)))) return false
  return true
}

function sameValue(a: Value | undefined, b: Value | undefined): boolean {
  if (!a || !b) return a === b
  if (a.kind === 'number' && b.kind === 'number') return a.bound === b.bound && nearly(a.si, b.si)
  if (a.kind === 'list' && b.kind === 'list')
    return a.items.length === b.items.length && a.items.every((x, i) => sameValue(x, b.items[i]))
  return JSON.stringify(a) === JSON.stringify(b)
}

/** Rules with how often each found something; nothing may be found more often than before. */
export function noNewFindings(before: readonly string[], after: readonly string[]): boolean {
  const left = new Map<string, number>()
  for (const rule of before) left.set(rule, (left.get(rule) ?? 0) + 1)
  return after.every(rule => {
    const n = left.get(rule) ?? 0
    left.set(rule, n - 1)
    return n > 0
  })
}
