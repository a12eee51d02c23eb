/** Writes an opening as being like another of the file, without what then comes along by itself. */
import type { Block, Span, Statement } from '../../../grammar/index.ts'
import { type Edit, type Files, type Item, labelOf, plainName } from '../../model/index.ts'
import type { At } from '../at.ts'
import type { Refactoring } from './index.ts'
import { inHeader, wholeLines } from './text.ts'

/** How many others are offered: the nearest above. */
const MOST = 3
/** What `like` leaves behind, so it stays. */
const STAYS = new Set(['survey', 'installed', 'delivery', 'handover'])

export function makeLike(a: At, files: Files): Refactoring[] {
  const node = a.nodes.at(-1)
  if (node?.kind !== 'block' || !a.roots.some(r => r.node === node && r.door) || !inHeader(node, a.offset)) return []
  const index = files.get(a.file)
  if (node.like || !node.label || node.close < 0 || !index) return []
  const own = index.named.get(`opening ${labelOf(node)}`)
  if (own?.node !== node) return []
  const others: Item<Block>[] = []
  for (const [key, item] of index.named) {
    if (item.node === node) break
    if (key.startsWith('opening ') && item.node.kind === 'block') others.unshift({ ...item, node: item.node })
  }
  return others.flatMap(o => like(a, node, o)).slice(0, MOST)
}

function like(a: At, node: Block, base: Item<Block>): Refactoring[] {
  const removed = same(node, a.chunk.text, base.node, base.chunk.text)
  if (!removed || removed.length === 0) return []
  const mark = a.chunk.text.slice(node.label!.start, node.label!.end)
  const target = base.chunk.text.slice(base.node.label!.start, base.node.label!.end)
  const place = (start: number, end: number) => ({ file: a.file, chunk: a.chunk, start, end })
  const edits: Edit[] = [{ place: place(node.label!.end, node.label!.end), text: ` like ${target}` }]
  for (const s of removed) edits.push({ place: place(s.start, s.end), text: '' })
  return [{ title: `Write ${mark} as like ${target}; all values stay`, kind: 'refactor.rewrite', edits }]
}

/**
 * The statements of a block that are the same in another. Undefined where that one has something that this one has not:
 * it would come along, and change this one now or later.
 */
function same(own: Block, text: string, base: Block, baseText: string): Span[] | undefined {
  const mine = byKey(own)
  const out: Span[] = []
  for (const [key, theirs] of byKey(base)) {
    if (theirs.kind === 'allow' || (theirs.kind === 'block' && STAYS.has(plainName(theirs.name.text)))) continue
    const at = mine.get(key)
    if (!at || at.kind !== theirs.kind) return undefined
    if (wordsOf(text, at) === wordsOf(baseText, theirs)) {
      const lines = wholeLines(text, at)
      // a comment in it or behind it would be lost
      if (lines && !text.slice(lines.start, lines.end).includes('#')) out.push(lines)
    } else if (at.kind === 'block' && theirs.kind === 'block') {
      if (at.like || theirs.like || (plainName(at.name.text) === 'spring' && !at.label)) continue
      const inner = same(at, text, theirs, baseText)
      if (!inner) return undefined
      out.push(...inner)
    }
  }
  return out
}

/** Statements by what they say something about; of several without a name each has its own number. */
function byKey(block: Block): Map<string, Statement> {
  const out = new Map<string, Statement>()
  for (const s of block.body) {
    const name = s.kind === 'field' ? plainName(s.name.text) : s.kind === 'let' ? s.name?.text : undefined
    const kind = s.kind === 'block' ? `${plainName(s.name.text)} ${labelOf(s) ?? ''}` : `${s.kind} ${name ?? ''}`
    let key = kind
    for (let i = 2; out.has(key); i++) key = `${kind} ${i}`
    out.set(key, s)
  }
  return out
}

const wordsOf = (text: string, s: Span): string => text.slice(s.start, s.end).replace(/\s+/g, ' ')
