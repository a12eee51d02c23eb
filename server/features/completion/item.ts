/** One thing that can be completed to. */
import type { Span } from '../../../grammar/index.ts'

export type ItemKind =
  | 'block' | 'field' | 'derived' | 'let' | 'word' | 'unit' | 'stock' | 'keyword' | 'function' | 'rule' | 'file' | 'snippet' | 'opening' | 'value' // biome-ignore format: a list

export interface Item {
  readonly label: string
  readonly kind: ItemKind
  readonly detail?: string
  /** Plain text, complete as it stands. */
  readonly insert: string
  /** The same with tab stops, in the notation of the Language Server Protocol. */
  readonly snippet?: string
  readonly sort: string
  readonly filter?: string
  /** What it takes the place of; offsets in the chunk. */
  readonly span: Span
  readonly preselect?: boolean
  /** More is to be chosen right behind it. */
  readonly retrigger?: boolean
  /** What its documentation is about: `field drum.pipe`, `unit ft`, `rule headroom`. */
  readonly doc?: string
}

/** Groups come in this order; within one the order is that of `place`. */
export const sortKey = (group: number, place: number): string => `${group}${String(place).padStart(4, '0')}`

/** Text to stand in a snippet as it is. */
export const literal = (text: string): string => text.replace(/[\\$}]/g, '\\$&')

/** A tab stop with one of several words; the first is written until another is chosen. */
export const choice = (stop: number, words: readonly string[]): string =>
  words.length === 1
    ? `\${${stop}:${literal(words[0]!)}}`
    : `\${${stop}|${words.map(w => w.replace(/[\\,|]/g, '\\$&')).join(',')}|}`

/** A snippet as plain text: each tab stop with what it holds at first, lines indented as the first one is. */
export function plainText(snippet: string, indent = ''): string {
  return snippet
    .replace(/\n\t*\$0(?=\n)/g, '')
    .replace(/\$0/g, '')
    .replace(/\$\{\d+\|((?:\\.|[^|,\\])*)(?:,(?:\\.|[^|\\])*)?\|\}/g, '$1')
    .replace(/\$\{\d+:((?:\\.|[^}\\])*)\}/g, '$1')
    .replace(/\$\{\d+\}|\$\d+/g, '')
    .replace(/\\([\\$},|])/g, '$1')
    .replace(/\n/g, `\n${indent}`)
    .replace(/\t/g, '  ')
}
