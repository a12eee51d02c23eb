/** Which values of an opening differ between two versions, by how much, and why. */
import {
  type Door,
  dimensionOfEntry,
  type Entry,
  type Known,
  nearly,
  type Origin,
  showAs,
  shownUnit,
} from '../model/index.ts'
import { showQuantity } from '../units/index.ts'

export interface ComparedValue {
  readonly text: string
  /** In SI base units; words, texts and truths have none. */
  readonly si: number | undefined
  readonly origin: Origin
  /** It is only a bound: the true value is more or less. */
  readonly bound: 'more' | 'less' | undefined
}

export interface ValueChange {
  readonly path: string
  /** `written`: somebody decided it. `derived`: it follows. */
  readonly kind: 'written' | 'derived'
  /** Undefined where the value was, or is, not known. */
  readonly before: ComparedValue | undefined
  readonly after: ComparedValue | undefined
  /** After less before, where both are numbers that are exactly known. */
  readonly difference: { readonly si: number; readonly text: string; readonly part: number | undefined } | undefined
  readonly direction: 'up' | 'down' | undefined
  /** The reason that stands beside the value now. */
  readonly because: string | undefined
  readonly caution: string | undefined
  /** For sorting: how much of the former value the change is; more than any number where one side is not known or a word. */
  readonly weight: number
}

/** The job's own units of the later version, so that both sides read alike. */
export function compareValues(
  before: Door,
  after: Door,
  toOld: (path: string) => string,
  toNew: (path: string) => string,
): ValueChange[] {
  const old = known(before)
  const fresh = known(after)
  const out: ValueChange[] = []
  for (const [path, b] of fresh) {
    const a = old.get(toOld(path))
    if (!a || !same(a.result, b.result)) out.push(change(path, a, b, after))
  }
  const met = new Set([...fresh.keys()].map(toOld))
  for (const [path, a] of old) if (!met.has(path)) out.push(change(toNew(path), a, undefined, after))
  return out.sort((a, b) => Number(a.kind === 'derived') - Number(b.kind === 'derived') || b.weight - a.weight)
}

interface KnownEntry {
  readonly entry: Entry
  readonly result: Known
}

function known(door: Door): Map<string, KnownEntry> {
  const out = new Map<string, KnownEntry>()
  for (const entry of door.entries()) {
    const result = door.evaluator.field(entry.instance, entry.spec.name)
    if (result.state === 'known') out.set(entry.path, { entry, result })
  }
  return out
}

/** How much two values of all that either opening has are alike: 0 to 1. */
export function likeness(a: ReadonlyMap<string, string>, b: ReadonlyMap<string, string>): number {
  let equal = 0
  for (const [path, value] of a) if (b.get(path) === value) equal++
  const all = a.size + b.size - equal
  return all === 0 ? 0 : equal / all
}

/** What says nothing about which door it is. */
const BESIDE = /^(limits|survey|installed|delivery|handover)\./

/**
 * What somebody decided about an opening, as texts that are equal where the values are, to seven digits. What follows
 * is left out: one decision changes much of it.
 */
export function fingerprint(door: Door): Map<string, string> {
  const out = new Map<string, string>()
  for (const [path, k] of known(door)) if (bySomebody(k) && !BESIDE.test(path)) out.set(path, keyOf(k.result))
  return out
}

function keyOf({ value }: Known): string {
  if (value.kind === 'number') return value.si.toPrecision(7)
  if (value.kind === 'list')
    return value.items.map(i => keyOf({ state: 'known', value: i, origin: 'written' })).join(' ')
  return String(value.kind === 'text' ? value.text : value.kind === 'truth' ? value.truth : value.word)
}

function same({ value: a }: Known, { value: b }: Known): boolean {
  if (a.kind === 'number' && b.kind === 'number')
    return a.bound === b.bound && (nearly(a.si, b.si) || Math.abs(a.si - b.si) < 1e-12)
  return (
    a.kind === b.kind &&
    keyOf({ state: 'known', value: a, origin: 'written' }) === keyOf({ state: 'known', value: b, origin: 'written' })
  )
}

const bySomebody = (k: KnownEntry | undefined): boolean =>
  k?.result.origin === 'written' || k?.result.origin === 'stock'

function change(path: string, a: KnownEntry | undefined, b: KnownEntry | undefined, door: Door): ValueChange {
  const { entry } = (b ?? a)!
  const difference = a && b ? differenceOf(a, b, door) : undefined
  const here = b && door.entry(path)
  const source = here?.instance.fields.get(here.spec.name)
  const part = difference?.part === undefined ? undefined : Math.abs(difference.part)
  return {
    path,
    kind: bySomebody(a) || bySomebody(b) ? 'written' : 'derived',
    before: a && shownValue(a, door),
    after: b && shownValue(b, door),
    difference,
    direction: difference && (difference.si > 0 ? 'up' : 'down'),
    because: source?.node?.because?.text?.value,
    caution: entry.spec.caution,
    weight: part ?? (difference ? 1 : 2),
  }
}

const shownValue = ({ entry, result }: KnownEntry, door: Door): ComparedValue => ({
  text: showAs(result, entry.spec.shown, door.system),
  si: result.value.kind === 'number' ? result.value.si : undefined,
  origin: result.origin,
  bound: result.value.kind === 'number' ? result.value.bound : undefined,
})

function differenceOf(a: KnownEntry, b: KnownEntry, door: Door): ValueChange['difference'] {
  const [x, y] = [a.result.value, b.result.value]
  if (x.kind !== 'number' || y.kind !== 'number' || x.bound || y.bound) return undefined
  const si = y.si - x.si
  if (!Number.isFinite(si)) return undefined
  const { text } = showQuantity(Math.abs(si), dimensionOfEntry(b.entry.spec) ?? y.dimension, {
    system: door.system,
    unit: shownUnit(b.entry.spec.shown, door.system),
  })
  // a share of a share would be misread
  const size = text.endsWith('%') ? `${text.slice(0, -1)} points` : text
  return { si, text: `${si < 0 ? '-' : '+'}${size}`, part: x.si === 0 ? undefined : si / Math.abs(x.si) }
}
