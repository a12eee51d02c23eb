/** Which findings came, went or stayed. They are matched by rule and block; where they stand in the text does not matter. */
import type { Severity } from '../model/index.ts'

/** A finding as it counts here: where it stands in the text does not matter. */
export interface ComparedFinding {
  readonly rule: string
  readonly severity: Severity
  /** Cannot be accepted away: it keeps people safe. */
  readonly never: boolean
  readonly message: string
  readonly accepted: string | undefined
  /** The block it belongs to, by path. */
  readonly block: string | undefined
  /** The mark of its opening, where it belongs to one. */
  readonly opening?: string | undefined
  /** A baseline has it: where it was not there before, it is not counted as new all the same. */
  readonly known?: boolean
}

export interface FindingChange extends ComparedFinding {
  /** How severe it was before, where it was there and is no longer as severe, or accepted. */
  readonly was: Severity | 'accepted' | undefined
}
export interface FindingChanges {
  /** Not there before, or milder, or accepted. */
  readonly fresh: readonly FindingChange[]
  /** The same, and a baseline has it. */
  readonly known: readonly FindingChange[]
  readonly fixed: readonly ComparedFinding[]
  readonly still: readonly FindingChange[]
  /** Accepted now, and not before. */
  readonly accepted: readonly ComparedFinding[]
}

const RANK: Readonly<Record<Severity, number>> = { error: 1, warning: 2, note: 3 }
/** 0 for what keeps people safe, then errors, warnings and notes. */
export const rankOf = (f: ComparedFinding): number => (f.never && f.severity === 'error' ? 0 : RANK[f.severity])
const byRank = <F extends ComparedFinding>(list: F[]): F[] => list.sort((a, b) => rankOf(a) - rankOf(b))

export function compareFindings(
  before: readonly ComparedFinding[],
  after: readonly ComparedFinding[],
  toNew: (path: string) => string,
): FindingChanges {
  const key = (f: ComparedFinding, path: (p: string) => string): string => `${f.rule} ${path(f.block ?? '')}`
  const left = new Map<string, ComparedFinding[]>()
  for (const f of before) left.set(key(f, toNew), [...(left.get(key(f, toNew)) ?? []), f])
  const pairs = new Map<ComparedFinding, ComparedFinding>()
  // those that say the very same first, so that of several by one rule the right ones meet
  for (const same of [true, false])
    for (const f of after) {
      const candidates = left.get(key(f, p => p)) ?? []
      const i = pairs.has(f) ? -1 : candidates.findIndex(c => !same || c.message === f.message)
      if (i >= 0) pairs.set(f, candidates.splice(i, 1)[0]!)
    }
  const out = {
    fresh: [] as FindingChange[],
    known: [] as FindingChange[],
    still: [] as FindingChange[],
    accepted: [] as ComparedFinding[],
    fixed: [] as ComparedFinding[],
  }
  for (const f of after) {
    const old = pairs.get(f)
    if (f.accepted !== undefined) {
      if (old?.accepted === undefined || old.accepted !== f.accepted) out.accepted.push(f)
      continue
    }
    const came = f.known ? out.known : out.fresh
    if (!old) came.push({ ...f, was: undefined })
    else if (old.accepted !== undefined) came.push({ ...f, was: 'accepted' })
    else if (RANK[f.severity] < RANK[old.severity]) came.push({ ...f, was: old.severity })
    else out.still.push({ ...f, was: old.severity === f.severity ? undefined : old.severity })
  }
  // an acceptance that went together with its finding is nothing to be told
  for (const rest of left.values()) out.fixed.push(...rest.filter(f => f.accepted === undefined))
  return {
    fresh: byRank(out.fresh),
    known: byRank(out.known),
    fixed: byRank(out.fixed),
    still: byRank(out.still),
    accepted: byRank(out.accepted),
  }
}

export const changed = (f: FindingChanges): boolean =>
  f.fresh.length + f.known.length + f.fixed.length + f.accepted.length + f.still.filter(s => s.was).length > 0
