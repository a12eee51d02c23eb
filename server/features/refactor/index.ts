/**
 * Changes to the text that keep what it means. Each is only a proposal: whoever
 * offers it checks that it keeps all values, where it is not `sure`.
 */
import type { Span } from '../../../grammar/index.ts'
import type { Edit, Files } from '../../model/index.ts'
import type { At } from '../at.ts'
import { convertAll } from './convert_all.ts'
import { extractLet } from './extract_let.ts'
import { makeLike } from './make_like.ts'
import { toStock } from './to_stock.ts'

export interface Refactoring {
  readonly title: string
  readonly kind: 'refactor.extract' | 'refactor.rewrite'
  readonly edits: readonly Edit[]
  /** Values that may differ afterwards: what the change itself is about. */
  readonly apart?: readonly string[]
  /** Every value stays by the way it is made. */
  readonly sure?: true
}

/** @param selected in the chunk; empty for a mere cursor */
export function refactorings(a: At, selected: Span, files: Files): Refactoring[] {
  return [...extractLet(a, selected, files), ...toStock(a, files), ...makeLike(a, files), ...convertAll(a, files)]
}
