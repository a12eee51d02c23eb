import { DIMENSION, type Dimension } from '../units/index.ts'

/** A number in SI base units (m, kg, s, rad and what follows from them), with its dimension. */
export interface NumberValue {
  readonly kind: 'number'
  readonly si: number
  readonly dimension: Dimension
  /** Given where only a bound is known: the true value is `more` or `less` than `si`. */
  readonly bound?: 'more' | 'less'
}
export interface TextValue {
  readonly kind: 'text'
  readonly text: string
}
export interface TruthValue {
  readonly kind: 'truth'
  readonly truth: boolean
}
/** One of a fixed set of words (`face`), or the name of a stock item (`flat_20`). */
export interface WordValue {
  readonly kind: 'word'
  readonly word: string
}
export interface ListValue {
  readonly kind: 'list'
  readonly items: readonly Value[]
}
export type Value = NumberValue | TextValue | TruthValue | WordValue | ListValue

export type Origin = 'written' | 'derived' | 'default' | 'stock'

export interface Known {
  readonly state: 'known'
  readonly value: Value
  readonly origin: Origin
}

/** Not known. `missing` names the fields, by full path, that would have to be written. */
export interface Unknown {
  readonly state: 'unknown'
  readonly missing: readonly string[]
  /** The dimension is often known where the value is not; expressions are checked with it. */
  readonly dimension?: Dimension
  /** True where a finding has been made already (wrong unit, circle ...), so that nothing more need be said. */
  readonly faulty?: boolean
}
export type Result = Known | Unknown

/** Stands in the place of a value while it is worked out: who meets it has come in a circle. */
export const RUNNING: unique symbol = Symbol('being worked out')
export type Cell = Result | typeof RUNNING

export const number = (si: number, dimension: Dimension = DIMENSION.count): NumberValue => ({
  kind: 'number',
  si,
  dimension,
})
export const word = (w: string): WordValue => ({ kind: 'word', word: w })
export const truth = (t: boolean): TruthValue => ({ kind: 'truth', truth: t })
export const known = (value: Value, origin: Origin): Known => ({ state: 'known', value, origin })
export const unknown = (missing: readonly string[], dimension?: Dimension): Unknown => ({
  state: 'unknown',
  missing,
  dimension,
})
export const faulty = (dimension?: Dimension): Unknown => ({ state: 'unknown', missing: [], dimension, faulty: true })

/** The plain value: SI number, text, truth or word; a list of them. */
export function plain(v: Value): unknown {
  if (v.kind === 'number') return v.si
  if (v.kind === 'text') return v.text
  if (v.kind === 'truth') return v.truth
  if (v.kind === 'word') return v.word
  return v.items.map(plain)
}
