/**
 * What changed in a job between two versions: in the doors, not in the text. Openings are matched by their marks; of
 * those whose mark is gone, by what they are. Findings are matched by rule and block, never by line.
 */
import type { Door } from '../model/index.ts'
import { type ComparedFinding, changed, compareFindings, type FindingChanges, rankOf } from './compare_findings.ts'
import { type Pair, pairOpenings } from './compare_pairs.ts'
import { compareValues, type ValueChange } from './compare_values.ts'
import { type Margin, margins } from './margins.ts'

export interface ComparedDoor {
  /** How the file is called, the same way on both sides. */
  readonly file: string
  readonly job: string | undefined
  readonly door: Door
  readonly findings: readonly ComparedFinding[]
}

/** One of the two versions. */
export interface Version {
  readonly doors: readonly ComparedDoor[]
  /** Findings that belong to no opening (stock, limits of a file), by file. */
  readonly others: readonly { readonly file: string; readonly findings: readonly ComparedFinding[] }[]
}

export interface MarginChange {
  readonly path: string
  readonly rule: string
  readonly before: Margin | undefined
  readonly after: Margin | undefined
}

export interface OpeningChange {
  readonly kind: 'changed' | 'renamed' | 'added' | 'removed'
  readonly mark: string
  /** The mark before, where it is another. */
  readonly was: string | undefined
  readonly file: string
  readonly job: string | undefined
  readonly values: readonly ValueChange[]
  readonly margins: readonly MarginChange[]
  readonly findings: FindingChanges
  /** Whether every required field is there, before and after. */
  readonly complete: readonly [before: boolean | undefined, after: boolean | undefined]
}

export interface Comparison {
  /** The openings in which something changed, what matters most first. */
  readonly openings: readonly OpeningChange[]
  readonly others: readonly { readonly file: string; readonly findings: FindingChanges }[]
  /** How many openings are as they were. */
  readonly unchanged: number
  readonly summary: {
    readonly fresh: number
    readonly freshErrors: number
    /** Came as well, but a baseline has them. */
    readonly known: number
    readonly fixed: number
    readonly still: number
    readonly values: number
  }
}

export type { ComparedFinding, FindingChange, FindingChanges } from './compare_findings.ts'
export type { ValueChange } from './compare_values.ts'

export function compare(before: Version, after: Version): Comparison {
  const openings: OpeningChange[] = []
  let unchanged = 0
  for (const pair of pairOpenings(before.doors, after.doors)) {
    const change = compareOpening(pair)
    if (differs(change)) openings.push(change)
    else unchanged++
  }
  openings.sort((a, b) => compareWeights(weightOf(a), weightOf(b)) || (a.mark < b.mark ? -1 : 1))
  const files = [...new Set([...after.others, ...before.others].map(o => o.file))]
  const of = (v: Version, file: string): readonly ComparedFinding[] =>
    v.others.find(o => o.file === file)?.findings ?? []
  // one file on each side is one file, whatever it is called
  const single = before.others.length === 1 && after.others.length === 1
  const others = (single ? [after.others[0]!.file] : files).map(file => ({
    file,
    findings: compareFindings(single ? before.others[0]!.findings : of(before, file), of(after, file), p => p),
  }))
  const all = [...openings.map(o => o.findings), ...others.map(o => o.findings)]
  const sum = (n: (f: FindingChanges) => number): number => all.reduce((s, f) => s + n(f), 0)
  return {
    openings,
    others: others.filter(o => changed(o.findings)),
    unchanged,
    summary: {
      fresh: sum(f => f.fresh.length),
      freshErrors: sum(f => f.fresh.filter(x => x.severity === 'error').length),
      known: sum(f => f.known.length),
      fixed: sum(f => f.fixed.length),
      still: sum(f => f.still.length),
      values: openings.reduce((s, o) => s + o.values.length, 0),
    },
  }
}

/** Whether nothing at all differs. */
export const nothingChanged = (c: Comparison): boolean => c.openings.length === 0 && c.others.length === 0

function compareOpening({ before, after, springs }: Pair): OpeningChange {
  const door = (after ?? before)!
  const toOld = (path: string): string =>
    path.replace(/^spring\[(\d+)\]/, (whole, i: string) => springs.get(Number(i)) ?? whole)
  const fromOld = new Map([...springs].map(([now, old]) => [old, `spring[${now}]`]))
  const toNew = (path: string): string => path.replace(/^spring\[\d+\]/, whole => fromOld.get(whole) ?? whole)
  return {
    kind: !before ? 'added' : !after ? 'removed' : before.door.mark !== after.door.mark ? 'renamed' : 'changed',
    mark: door.door.mark,
    was: before && after && before.door.mark !== after.door.mark ? before.door.mark : undefined,
    file: door.file,
    job: door.job,
    values: before && after ? compareValues(before.door, after.door, toOld, toNew) : [],
    margins: before && after ? compareMargins(before.door, after.door, toOld) : [],
    // what stood against a door that is gone was not put right
    findings: compareFindings((after && before?.findings) ?? [], after?.findings ?? [], toNew),
    complete: [before?.door.complete, after?.door.complete],
  }
}

/** The margins that moved; those that lie as they did are left out. */
function compareMargins(before: Door, after: Door, toOld: (path: string) => string): MarginChange[] {
  const old = margins(before)
  const fresh = margins(after)
  const pairs: MarginChange[] = fresh.map(m => ({
    path: m.path,
    rule: m.rule,
    before: old.find(o => o.path === toOld(m.path) && o.rule === m.rule),
    after: m,
  }))
  const met = new Set(pairs.map(p => p.before))
  for (const o of old) if (!met.has(o)) pairs.push({ path: o.path, rule: o.rule, before: o, after: undefined })
  const same = (a: Margin, b: Margin): boolean =>
    Math.abs(a.room - b.room) <= 1e-9 * Math.max(Math.abs(a.room), Math.abs(b.room), 1e-6)
  return pairs
    .filter(p => !p.before || !p.after || !same(p.before, p.after))
    .sort(
      (a, b) =>
        Number(b.after?.over ?? false) - Number(a.after?.over ?? false) ||
        (a.after?.share ?? 9) - (b.after?.share ?? 9),
    )
}

const differs = (o: OpeningChange): boolean =>
  o.kind !== 'changed' ||
  o.values.length > 0 ||
  o.margins.length > 0 ||
  changed(o.findings) ||
  o.complete[0] !== o.complete[1]

/** Smaller comes first: what is new and how severe, then doors that came or went, then what was put right, then how far the values moved. */
function weightOf(o: OpeningChange): readonly number[] {
  const worst = (list: readonly ComparedFinding[]): number => Math.min(9, ...list.map(rankOf))
  const came = o.kind === 'added' || o.kind === 'removed' ? 4 : 9
  return [
    Math.min(came, worst(o.findings.fresh)),
    worst(o.findings.fixed),
    -Math.max(0, ...o.values.map(v => v.weight)),
  ]
}

function compareWeights(a: readonly number[], b: readonly number[]): number {
  for (const [i, x] of a.entries()) if (x !== b[i]) return x - b[i]!
  return 0
}
