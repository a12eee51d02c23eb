/** One opening with everything that follows from it: what rules, features and reports look at. */
import type { Block, Field, Span } from '../../grammar/index.ts'
import { DIMENSION, type Dimension, showQuantity } from '../units/index.ts'
import { lacking } from './checks.ts'
import { dimensionOf, type Evaluator, pathOf } from './evaluate.ts'
import { evaluate } from './expression.ts'
import type { Item } from './files.ts'
import { labelOf } from './files.ts'
import type { Place } from './finding.ts'
import { type Instance, origin, placeOf } from './instance.ts'
import type { DerivedSpec, FieldSpec, Shown } from './spec.ts'
import type { Known, Result, Value } from './value.ts'

export interface Entry {
  /** Full path: `drum.turns`, `spring[0].rate`. */
  readonly path: string
  readonly instance: Instance
  readonly spec: FieldSpec | DerivedSpec
  readonly derivedOnly: boolean
}

export class Door {
  readonly item: Item<Block>
  readonly root: Instance
  readonly evaluator: Evaluator
  readonly #blocks = new Map<string, Instance | undefined>()
  readonly #rebuild: (overrides: ReadonlyMap<string, Value>) => Door

  constructor(item: Item<Block>, evaluator: Evaluator, rebuild: (overrides: ReadonlyMap<string, Value>) => Door) {
    this.item = item
    this.root = evaluator.root!
    this.evaluator = evaluator
    this.#rebuild = rebuild
  }

  get mark(): string {
    return labelOf(this.item.node) ?? ''
  }

  get system(): 'imperial' | 'metric' {
    return this.evaluator.system
  }

  /** The same opening with other values in place of what is written. Paths as in `number`; values of the field's kind. */
  with(overrides: Readonly<Record<string, Value>>): Door {
    const all = new Map(this.evaluator.overrides)
    for (const [path, value] of Object.entries(overrides)) all.set(this.entry(path)?.path ?? path, value)
    return this.#rebuild(all)
  }

  /** All springs, in written order. */
  get springs(): readonly Instance[] {
    return this.root.blocks.filter(b => b.spec.name === 'spring')
  }

  /** A block by path (`drum`, `curtain.slat`, `spring[1]`, `spring` for the first, a spring by its name). */
  block(path: string): Instance | undefined {
    let found = this.#blocks.get(path)
    if (found === undefined && !this.#blocks.has(path)) this.#blocks.set(path, (found = this.#find(path)))
    return found
  }

  #find(path: string): Instance | undefined {
    if (path === 'opening') return this.root
    let at: Instance | undefined = this.root
    for (const { name, index } of stepsOf(path)) {
      if (!at) return undefined
      at =
        index === undefined
          ? (at.blocks.find(b => b.spec.name === name) ?? at.blocks.find(b => b.name === name))
          : at.blocks.filter(b => b.spec.name === name)[index]
    }
    return at
  }

  #at(path: string): { instance: Instance; name: string } | undefined {
    const { block, name } = takenApart(path)
    const instance = block === undefined ? this.root : this.block(block)
    return instance && { instance, name }
  }

  entry(path: string): Entry | undefined {
    const at = this.#at(path)
    const spec = at && (at.instance.spec.fields.get(at.name) ?? at.instance.spec.derived.get(at.name))
    if (!at || !spec) return undefined
    return {
      path: pathOf(at.instance, at.name),
      instance: at.instance,
      spec,
      derivedOnly: !at.instance.spec.fields.has(at.name),
    }
  }

  result(path: string): Result {
    const at = this.#at(path)
    return at ? this.evaluator.field(at.instance, at.name) : { state: 'unknown', missing: [path.split('.')[0]!] }
  }

  /** What a `given or derived` field comes to from the others, whether or not it is written. */
  computed(path: string): number | undefined {
    const at = this.#at(path)
    return at && asNumber(this.evaluator.computed(at.instance, at.name))
  }

  computedWord(path: string): string | undefined {
    const at = this.#at(path)
    const r = at && this.evaluator.computed(at.instance, at.name)
    return r?.state === 'known' && r.value.kind === 'word' ? r.value.word : undefined
  }

  /** SI value, or undefined where it is unknown. A bounded value gives its bound. */
  number(path: string): number | undefined {
    return asNumber(this.result(path))
  }

  word(path: string): string | undefined {
    const r = this.result(path)
    return r.state === 'known' && r.value.kind === 'word' ? r.value.word : undefined
  }

  truth(path: string): boolean | undefined {
    const r = this.result(path)
    return r.state === 'known' && r.value.kind === 'truth' ? r.value.truth : undefined
  }

  text(path: string): string | undefined {
    const r = this.result(path)
    return r.state === 'known' && r.value.kind === 'text' ? r.value.text : undefined
  }

  range(path: string): readonly [number, number] | undefined {
    const r = this.result(path)
    if (r.state !== 'known' || r.value.kind !== 'list') return undefined
    const [low, high] = r.value.items
    return low?.kind === 'number' && high?.kind === 'number' ? [low.si, high.si] : undefined
  }

  /** Whether a value stands in the file for it (here, copied, or in the stock). */
  written(path: string): boolean {
    const at = this.#at(path)
    return at?.instance.fields.has(at.name) ?? false
  }

  /** The field as it stands in the opening itself; undefined where it is copied or from the stock. */
  writtenHere(path: string): Field | undefined {
    const at = this.#at(path)
    const source = at?.instance.fields.get(at.name)
    return source?.node && !source.home.via && !source.home.outside ? source.node : undefined
  }

  /**
   * Where to point for a path: at the written value; for a copied one at the `like` clause; for one that is not written
   * at the header of its block, else at that of the opening.
   */
  place(path: string): Place {
    const at = this.#at(path)
    const source = at?.instance.fields.get(at.name)
    if (source?.node) return placeOf(source.home, source.node.value)
    if (source?.home?.via) return source.home.via
    return this.header(path.includes('.') ? path.slice(0, path.lastIndexOf('.')) : 'opening')
  }

  /** Where a value was first written, when `place` points at the clause that brought it here. */
  writtenAt(path: string): Place | undefined {
    const at = this.#at(path)
    const source = at?.instance.fields.get(at.name)
    return source?.node && (source.home.via || source.home.outside) ? origin(source.home, source.node.value) : undefined
  }

  header(blockPath: string): Place {
    for (let at = this.block(blockPath); at; at = at.parent)
      if (at.written) return placeOf(at.written.home, headerOf(at.written.node))
    return { file: this.item.file, chunk: this.item.chunk, ...headerOf(this.item.node) }
  }

  /** A number in words, in the job's units: `door.show('drum.sag')`. */
  show(path: string): string {
    const entry = this.entry(path)
    const r = this.result(path)
    if (!entry || r.state === 'unknown') return 'not known'
    return showAs(r, entry.spec.shown, this.system)
  }

  /** An SI number in words, shown as the value at `like` is, or by its dimension. */
  say(si: number, like: string | Dimension): string {
    if (typeof like !== 'string') return showQuantity(si, like, { system: this.system }).text
    const entry = this.entry(like)
    return showQuantity(si, (entry && dimensionOfEntry(entry.spec)) ?? DIMENSION.count, {
      system: this.system,
      unit: shownUnit(entry?.spec.shown, this.system),
    }).text
  }

  /** Every field and derived value of the opening, written springs in order, in the order of the vocabulary. */
  entries(): Entry[] {
    const out: Entry[] = []
    const visit = (instance: Instance): void => {
      for (const spec of instance.spec.fields.values())
        out.push({ path: pathOf(instance, spec.name), instance, spec, derivedOnly: false })
      for (const spec of instance.spec.derived.values())
        out.push({ path: pathOf(instance, spec.name), instance, spec, derivedOnly: true })
      for (const kind of instance.spec.blocks.values()) for (const b of instance.blocks) if (b.spec === kind) visit(b)
    }
    visit(this.root)
    return out
  }

  /** The required fields and blocks that are not there yet, by full path. */
  missing(): string[] {
    const out: string[] = []
    const visit = (at: Instance): void => {
      if (at.broken) return
      for (const path of lacking(at, this.evaluator))
        if (!blockWritten(at, path.slice(path.lastIndexOf('.') + 1))) out.push(path)
      for (const spec of at.spec.blocks.values()) {
        const found = at.blocks.filter(b => b.spec === spec)
        const there = found.filter(b => b.written || b.fields.size > 0 || b.broken)
        if (there.length > 0) there.forEach(visit)
        else if (spec.required) out.push(at.parent ? pathOf(at, spec.name) : spec.name)
      }
    }
    visit(this.root)
    return out
  }

  /** Which of the `require`s that hold for the opening are false, by their number; those that cannot be decided are not. */
  brokenRequirements(): number[] {
    // a copy that reports nothing: the faults in them have been found once already
    const { root, evaluator } = this.with({})
    const out: number[] = []
    let i = 0
    const visit = (at: Instance): void => {
      for (const r of at.requires) {
        const decided = evaluate(r.node.value, { instance: at, home: r.home }, evaluator)
        if (decided.state === 'known' && decided.value.kind === 'truth' && !decided.value.truth) out.push(i)
        i++
      }
      at.blocks.forEach(visit)
    }
    visit(root)
    return out
  }

  /** All required fields are there and can be read. */
  get complete(): boolean {
    const unread = (e: Entry) =>
      'required' in e.spec &&
      e.spec.required &&
      e.instance.fields.has(e.spec.name) &&
      this.evaluator.field(e.instance, e.spec.name).state === 'unknown'
    return this.missing().length === 0 && !this.entries().some(unread)
  }
}

/** Paths come from the vocabulary and the rules, so there are few; springs by number add some. */
const paths = new Map<string, { readonly block: string | undefined; readonly name: string }>()
function takenApart(path: string) {
  let parts = paths.get(path)
  if (!parts) {
    const dot = path.lastIndexOf('.')
    parts = { block: dot < 0 ? undefined : path.slice(0, dot), name: path.slice(dot + 1) }
    if (paths.size < 10_000) paths.set(path, parts)
  }
  return parts
}

const steps = new Map<string, readonly { readonly name: string; readonly index: number | undefined }[]>()
function stepsOf(path: string) {
  let parts = steps.get(path)
  if (!parts) {
    parts = path.split('.').map(part => {
      const indexed = /^(\w+)\[(\d+)\]$/.exec(part)
      return { name: indexed?.[1] ?? part, index: indexed ? Number(indexed[2]) : undefined }
    })
    if (steps.size < 10_000) steps.set(path, parts)
  }
  return parts
}

const blockWritten = (at: Instance, kind: string): boolean =>
  at.blocks.some(b => b.spec.name === kind && (b.written !== undefined || b.fields.size > 0))

const asNumber = (r: Result): number | undefined =>
  r.state === 'known' && r.value.kind === 'number' ? r.value.si : undefined

/** The name and label of a block, without its body. */
export const headerOf = (node: Block): Span => ({ start: node.name.start, end: node.label?.end ?? node.name.end })

export const shownUnit = (shown: Shown | undefined, system: 'imperial' | 'metric'): string | undefined =>
  shown?.[system === 'imperial' ? 0 : 1]

/** The dimension of a field or derived value; the first where a field takes several. */
export const dimensionOfEntry = (spec: FieldSpec | DerivedSpec): Dimension | undefined =>
  'takes' in spec ? dimensionOf(spec) : DIMENSION[spec.dimension]

/** A known value in words. A bound says so: `more than 1000000`. */
export function showAs(r: Known, shown: Shown | undefined, system: 'imperial' | 'metric'): string {
  const v = r.value
  if (v.kind === 'number') {
    const text = showQuantity(v.si, v.dimension, { system, unit: shownUnit(shown, system) }).text
    return v.bound ? `${v.bound} than ${text}` : text
  }
  if (v.kind === 'text') return v.text
  if (v.kind === 'truth') return v.truth ? 'yes' : 'no'
  if (v.kind === 'word') return v.word
  return v.items.map(i => showAs({ ...r, value: i }, shown, system)).join(' to ')
}
