/** Which opening of one version is which of the other. */
import type { Door } from '../model/index.ts'
import type { ComparedDoor } from './compare.ts'
import { fingerprint, likeness } from './compare_values.ts'

export interface Pair {
  readonly before: ComparedDoor | undefined
  readonly after: ComparedDoor | undefined
  /** For each spring of the later version, by number, the path of the one it was before. */
  readonly springs: ReadonlyMap<number, string>
}

/** Two openings with less in common are two openings. */
const ENOUGH = 0.6
/** So many comparisons at most are made in search of renamed openings. */
const MOST = 500_000

/** Every opening of both versions once, those of the later one first and in its order. */
export function pairOpenings(before: readonly ComparedDoor[], after: readonly ComparedDoor[]): Pair[] {
  const found = new Map<ComparedDoor, ComparedDoor>()
  const left = new Set(before)
  const meet = (keyOf: (d: ComparedDoor) => string): void => {
    const byKey = new Map<string, ComparedDoor[]>()
    for (const d of left) byKey.set(keyOf(d), [...(byKey.get(keyOf(d)) ?? []), d])
    for (const d of after) {
      if (found.has(d)) continue
      const old = byKey.get(keyOf(d))?.shift()
      if (!old) continue
      found.set(d, old)
      left.delete(old)
    }
  }
  // a mark may stand in several files and jobs: a job keeps its number wherever its file goes
  meet(d => JSON.stringify([d.file, d.job, d.door.mark]))
  meet(d => JSON.stringify([d.job ?? { none: d.file }, d.door.mark]))
  meet(d => JSON.stringify([d.file, d.door.mark]))
  meet(d => d.door.mark)
  renamed(
    left,
    after.filter(d => !found.has(d)),
    found,
  )
  return [
    ...after.map(d => ({ before: found.get(d), after: d, springs: springPairs(found.get(d)?.door, d.door) })),
    ...[...left].map(d => ({ before: d, after: undefined, springs: new Map() })),
  ]
}

/** Of the rest, those with equal values, then the most alike. */
function renamed(left: Set<ComparedDoor>, rest: readonly ComparedDoor[], found: Map<ComparedDoor, ComparedDoor>): void {
  const prints = new Map([...left, ...rest].map(d => [d, fingerprint(d.door)]))
  const text = (d: ComparedDoor): string => JSON.stringify([...prints.get(d)!])
  const equal = new Map<string, ComparedDoor[]>()
  for (const d of left) equal.set(text(d), [...(equal.get(text(d)) ?? []), d])
  const take = (d: ComparedDoor, old: ComparedDoor): void => {
    found.set(d, old)
    left.delete(old)
  }
  for (const d of rest) {
    const old = prints.get(d)!.size > 0 ? equal.get(text(d))?.shift() : undefined
    if (old) take(d, old)
  }
  // in one file first: there doors are renamed, between files they are moved
  for (const sameFile of [true, false]) {
    const open = rest.filter(d => !found.has(d))
    const byFile = new Map<string, ComparedDoor[]>()
    for (const d of left) byFile.set(d.file, [...(byFile.get(d.file) ?? []), d])
    if (!sameFile && open.length * left.size > MOST) return
    const pairs = open
      .flatMap(d =>
        (sameFile ? (byFile.get(d.file) ?? []) : [...left])
          .map(old => ({ d, old, like: likeness(prints.get(old)!, prints.get(d)!) }))
          .filter(p => p.like >= ENOUGH),
      )
      .sort((a, b) => b.like - a.like)
    for (const { d, old } of pairs) if (left.has(old) && !found.has(d)) take(d, old)
  }
}

/** Springs by name, the others by their order. */
function springPairs(before: Door | undefined, after: Door): Map<number, string> {
  const out = new Map<number, string>()
  if (!before) return out
  const left = new Set(before.springs)
  for (const [i, s] of after.springs.entries()) {
    const old = s.name === undefined ? undefined : [...left].find(o => o.name === s.name)
    if (!old) continue
    out.set(i, old.path)
    left.delete(old)
  }
  for (const i of after.springs.keys()) {
    const [old] = out.has(i) ? [] : left
    if (!old) continue
    out.set(i, old.path)
    left.delete(old)
  }
  // one that was not there before meets none of the old ones
  for (const i of after.springs.keys()) if (!out.has(i)) out.set(i, 'no spring')
  return out
}
