/** The names of the workspace for a search by name: openings, stock, lets, jobs. */
import { type Item, labelOf, nameOf, plainName } from '../model/index.ts'

export interface Named {
  readonly name: string
  readonly kind: 'job' | 'opening' | 'stock' | 'let'
  readonly item: Item
}

/** In the order asked: a name that starts with the words, one that has them, one that has their letters in this order. */
export function search(query: string, items: Iterable<Item>, most: number): Named[] {
  const wanted = query.trim().toLowerCase()
  const found: { rank: number; named: Named }[] = []
  for (const item of items) {
    const named = namedOf(item)
    const rank = named ? rankOf(named.name.toLowerCase(), wanted) : 0
    if (named && rank > 0) found.push({ rank, named })
  }
  return found
    .sort((a, b) => a.rank - b.rank)
    .slice(0, most)
    .map(f => f.named)
}

function namedOf(item: Item): Named | undefined {
  const { node } = item
  if (node.kind === 'let') return node.name && { name: node.name.text, kind: 'let', item }
  if (node.kind !== 'block') return undefined
  const name = labelOf(node)
  const kind = plainName(node.name.text)
  if (!name?.trim()) return undefined
  return { name: nameOf(node), kind: kind === 'opening' || kind === 'job' ? kind : 'stock', item }
}

/** 0 for one that does not fit. */
function rankOf(name: string, wanted: string): number {
  if (name.startsWith(wanted)) return 1
  if (name.includes(wanted)) return 2
  let i = 0
  for (const char of name) if (char === wanted[i]) i++
  return i === wanted.length ? 3 : 0
}
