/**
 * What the vocabulary is made of. A field is one entry (name, zod schema, what it takes, doc, example); a derived value
 * is one entry (name, dimension, formula, what it reads, how it is computed, source). Everything that needs to know the
 * vocabulary (checks, completion, hover, the reference) reads these entries.
 */
import * as z from 'zod'
import { DIMENSION, type Dimension, type DimensionName } from '../units/index.ts'

export type Takes =
  | { readonly kind: 'quantity'; readonly dimensions: readonly [DimensionName, ...DimensionName[]] }
  | { readonly kind: 'range'; readonly dimension: DimensionName }
  | { readonly kind: 'word'; readonly words: Readonly<Record<string, string>> }
  | { readonly kind: 'stock'; readonly block: string }
  | { readonly kind: 'text' | 'date' | 'truth' | 'tick' }

export interface Taken {
  readonly takes: Takes
  /** Checks the value: SI number, text, word or truth. */
  readonly schema: z.ZodType
}

/** How a number is best shown, by system: unit expressions of the language. */
export type Shown = readonly [imperial: string, metric: string]

export interface Read<T> {
  readonly path: string
  readonly as: 'number' | 'word' | 'truth' | 'value'
  readonly optional: boolean
  readonly each: boolean
  readonly type?: T
}
type Reads = Readonly<Record<string, string | Read<unknown>>>
type Inputs<R extends Reads> = { [K in keyof R]: R[K] extends Read<infer T> ? T : number }

/** The number at a path, or undefined where it is not known. */
export const maybe = (path: string): Read<number | undefined> => ({ path, as: 'number', optional: true, each: false })
/** The numbers of all springs: `each('rate')`; unknown as soon as one is. */
export const each = (path: string): Read<number[]> => ({ path, as: 'number', optional: false, each: true })
/** A number with its dimension, for a field that takes quantities of several kinds. */
export const quantityAt = (path: string): Read<{ si: number; dimension: Dimension }> => ({
  path,
  as: 'value',
  optional: false,
  each: false,
})
export const wordAt = (path: string): Read<string> => ({ path, as: 'word', optional: false, each: false })
export const truthAt = (path: string): Read<boolean> => ({ path, as: 'truth', optional: false, each: false })

export type Computed =
  | number
  | string
  | undefined
  | { readonly si: number; readonly bound: 'more' | 'less' | undefined }

export interface Derivation {
  readonly formula: string
  readonly source: string
  readonly reads: Readonly<Record<string, Read<unknown>>>
  /** The same, taken apart once. */
  readonly inputs: readonly Input[]
  /** What `compute` takes, from the values of the inputs in their order. It holds until the next call. */
  readonly named: (values: readonly unknown[]) => unknown
  // biome-ignore lint/suspicious/noExplicitAny: the inputs' types are checked where the entry is written, in `derivation`
  readonly compute: (inputs: any) => Computed
  /**
   * The field that would give the value where the formula has no answer (a strength outside the published range), or
   * those that it lacks, from the inputs.
   */
  // biome-ignore lint/suspicious/noExplicitAny: as for `compute`
  readonly instead?: string | ((inputs: any) => readonly string[])
}

// Entries of one kind are made with all their parts, in one order: code that reads many of them is much quicker then.

export interface FieldSpec extends Taken {
  readonly name: string
  readonly doc: string
  readonly example: string
  readonly required: boolean
  readonly shown?: Shown
  readonly byDefault?:
    | { readonly text: string; readonly value: number | string | boolean | readonly [number, number] }
    | Derivation
  /** `given or derived`: computed where it is not written. */
  readonly derived?: Derivation
  readonly caution?: Caution
}

export interface DerivedSpec extends Derivation {
  readonly name: string
  readonly doc: string
  readonly dimension: DimensionName
  readonly shown?: Shown
  readonly words?: Readonly<Record<string, string>>
  readonly caution?: Caution
}

export type Caution = 'spring' | 'curtain' | 'anchor' | 'power'

/** A field or derived value of a block. */
export interface Member {
  readonly name: string
  /** Where its value stands in the list that a block keeps of its values. */
  readonly slot: number
  readonly field: FieldSpec | undefined
  readonly derived: DerivedSpec | undefined
  /** The first where a field takes several; none for words, texts and truths. */
  readonly dimension: Dimension | undefined
}

export interface BlockSpec {
  readonly name: string
  readonly doc: string
  /** What names it: nothing, a text (`opening "Dock 3"`) or a name (`spring long`), needed or not. */
  readonly label: 'none' | 'text' | 'name' | 'optional name'
  readonly repeatable: boolean
  /** Whether an opening is incomplete without it. */
  readonly required: boolean
  /** `like` may follow. */
  readonly like: boolean
  readonly fields: ReadonlyMap<string, FieldSpec>
  readonly derived: ReadonlyMap<string, DerivedSpec>
  /** Both of them. */
  readonly members: ReadonlyMap<string, Member>
  readonly blocks: ReadonlyMap<string, BlockSpec>
}

/** One thing that a derivation reads: the name it has in the formula, and where it stands. */
export interface Input {
  readonly alias: string
  readonly as: Read<unknown>['as']
  readonly optional: boolean
  readonly each: boolean
  /** The path of the block from the top; nothing for the block itself. */
  readonly block: string | undefined
  readonly name: string
}

function normalise(reads: Reads): Pick<Derivation, 'reads' | 'inputs' | 'named'> {
  const all = Object.entries(reads).map(([alias, given]): [string, Read<unknown>] => [
    alias,
    typeof given === 'string' ? { path: given, as: 'number', optional: false, each: false } : given,
  ])
  const inputs = all.map(([alias, read]): Input => {
    const { path, as, optional, each } = read
    const dot = path.lastIndexOf('.')
    const block = dot < 0 ? undefined : path.slice(0, dot)
    return { alias, as, optional, each, block, name: path.slice(dot + 1) }
  })
  // one object for all calls: filling it again is much cheaper than making another
  const one: Record<string, unknown> = Object.fromEntries(inputs.map(i => [i.alias, undefined]))
  const named = (values: readonly unknown[]): unknown => {
    for (let i = 0; i < inputs.length; i++) one[inputs[i]!.alias] = values[i]
    return one
  }
  return { reads: Object.fromEntries(all), inputs, named }
}

export function derivation<R extends Reads>(d: {
  formula: string
  source: string
  reads: R
  compute: (inputs: Inputs<R>) => Computed
  instead?: string | ((inputs: Inputs<R>) => readonly string[])
}): Derivation {
  const { formula, source, compute, instead } = d
  return { formula, source, compute, instead, ...normalise(d.reads) }
}

export function derived<R extends Reads>(
  name: string,
  dimension: DimensionName,
  d: {
    doc: string
    formula: string
    source: string
    reads: R
    compute: (inputs: Inputs<R>) => Computed
    instead?: (inputs: Inputs<R>) => readonly string[]
    shown?: Shown
    words?: Readonly<Record<string, string>>
    caution?: Caution
  },
): DerivedSpec {
  const { doc, shown, words, caution } = d
  return { ...derivation(d), name, dimension, doc, shown, words, caution }
}

export function field(
  name: string,
  taken: Taken,
  rest: {
    doc: string
    example: string
    required?: boolean
    shown?: Shown
    byDefault?: FieldSpec['byDefault']
    derived?: Derivation
    caution?: Caution
  },
): FieldSpec {
  const { takes, schema } = taken
  const { doc, example, required = false, shown, byDefault, derived, caution } = rest
  return { name, takes, schema, doc, example, required, shown, byDefault, derived, caution }
}

export function block(
  name: string,
  doc: string,
  parts: {
    label?: BlockSpec['label']
    repeatable?: boolean
    required?: boolean
    like?: boolean
    fields?: readonly FieldSpec[]
    derived?: readonly DerivedSpec[]
    blocks?: readonly BlockSpec[]
  },
): BlockSpec {
  const fields = new Map((parts.fields ?? []).map(f => [f.name, f]))
  const derived = new Map((parts.derived ?? []).map(d => [d.name, d]))
  return {
    name,
    doc,
    label: parts.label ?? 'none',
    repeatable: parts.repeatable ?? false,
    required: parts.required ?? false,
    like: parts.like ?? false,
    fields,
    derived,
    members: membersOf(fields, derived),
    blocks: new Map((parts.blocks ?? []).map(b => [b.name, b])),
  }
}

/** The fields first. A name that is both is a field: what is written comes before what is worked out. */
function membersOf(fields: BlockSpec['fields'], derived: BlockSpec['derived']): ReadonlyMap<string, Member> {
  const names = new Set([...fields.keys(), ...derived.keys()])
  return new Map(
    [...names].map((name, slot): [string, Member] => {
      const [f, d] = [fields.get(name), derived.get(name)]
      return [name, { name, slot, field: f, derived: d, dimension: f ? dimensionOf(f) : d && DIMENSION[d.dimension] }]
    }),
  )
}

export const dimensionOf = (spec: FieldSpec | undefined): Dimension | undefined =>
  spec?.takes.kind === 'quantity'
    ? DIMENSION[spec.takes.dimensions[0]]
    : spec?.takes.kind === 'range'
      ? DIMENSION[spec.takes.dimension]
      : undefined

/** What a field may take. Limits are in SI base units. */
type Limits = { above?: number; min?: number; max?: number; below?: number; whole?: boolean }

function numbers(limits: Limits): z.ZodNumber {
  let schema = limits.whole ? z.int() : z.number()
  if (limits.above !== undefined) schema = schema.gt(limits.above)
  if (limits.min !== undefined) schema = schema.gte(limits.min)
  if (limits.below !== undefined) schema = schema.lt(limits.below)
  if (limits.max !== undefined) schema = schema.lte(limits.max)
  return schema
}

export function quantity(dimensions: DimensionName | [DimensionName, ...DimensionName[]], limits: Limits = {}): Taken {
  const list: [DimensionName, ...DimensionName[]] = typeof dimensions === 'string' ? [dimensions] : dimensions
  return { takes: { kind: 'quantity', dimensions: list }, schema: numbers(limits).meta({ dimension: list }) }
}
export const positive = (dimension: DimensionName): Taken => quantity(dimension, { above: 0 })
export const atLeastZero = (dimension: DimensionName): Taken => quantity(dimension, { min: 0 })
export const range = (dimension: DimensionName): Taken => ({
  takes: { kind: 'range', dimension },
  schema: z
    .tuple([z.number().gte(0), z.number()])
    .refine(([low, high]) => low <= high, { error: 'the lower end comes first' })
    .meta({ dimension: [dimension] }),
})
export const words = (set: Readonly<Record<string, string>>): Taken => ({
  takes: { kind: 'word', words: set },
  schema: z.enum(Object.keys(set) as [string, ...string[]]),
})
export const stock = (kind: string): Taken => ({ takes: { kind: 'stock', block: kind }, schema: z.string() })
export const text = (): Taken => ({ takes: { kind: 'text' }, schema: z.string() })
export const date = (): Taken => ({ takes: { kind: 'date' }, schema: z.iso.date() })
export const truthful = (): Taken => ({ takes: { kind: 'truth' }, schema: z.boolean() })
/** A count, or true / false: what a delivery list is ticked with. */
export const tick = (): Taken => ({
  takes: { kind: 'tick' },
  schema: z.union([z.boolean(), z.int().gte(0)]),
})
