/** Where the name under the cursor was written; for a value that is worked out, the fields that it comes from. */
import type { Derivation, Files, Place } from '../model/index.ts'
import { headerOf, type Instance, origin, type Target } from '../model/index.ts'
import type { At } from './at.ts'
import { likeChain } from './groups.ts'
import { type Mention, rootOf } from './mentions.ts'
import { derivationOf, readsOf } from './reads.ts'

export type Definition = Place | { readonly file: string }

/** A `use` leads to the top of its file. */
export function usedFile(a: At, files: Files): Definition | undefined {
  const node = a.nodes.at(-1)
  if (node?.kind !== 'use' || !node.path || a.offset < node.path.start || a.offset > node.path.end) return undefined
  const target = files.target(a.file, node.path.value)
  return target.ok ? { file: target.file } : undefined
}

export function definition(m: Mention): Place[] {
  if (m.at) return [m.at]
  const t = m.target
  if (!t || t.kind === 'let') return []
  const derivation = derivationOf(t)
  const from = derivation ? writtenReads(t.instance, derivation) : []
  if (from.length > 0) return from
  const block = headerPlace(t.instance)
  return block ? [block] : []
}

/** The written fields that a value reads; where it reads none directly, those that what it reads comes from. */
function writtenReads(at: Instance, d: Derivation): Place[] {
  // each spring has the same formulas
  const seen = new Set<string>()
  let level: (readonly [Instance, Derivation])[] = [[at, d]]
  while (level.length > 0) {
    const out: Place[] = []
    const next: (readonly [Instance, Derivation])[] = []
    for (const [instance, derivation] of level) {
      const key = `${instance.path} ${derivation.formula}`
      if (seen.has(key)) continue
      seen.add(key)
      for (const read of readsOf(instance, derivation)) {
        const source = read.instance.fields.get(read.name)
        if (source?.node) out.push(origin(source.home, source.node.name))
        const spec = read.instance.spec.fields.get(read.name) ?? read.instance.spec.derived.get(read.name)
        const deeper = !source && spec && derivationOf({ instance: read.instance, spec })
        if (deeper) next.push([read.instance, deeper])
      }
    }
    if (out.length > 0) return out
    level = next
  }
  return []
}

/** What a thing is made after: an opening or block is like another, a value belongs to a block. */
export function typeDefinition(m: Mention, files: Files): Place[] {
  if (m.kind === 'opening' || m.kind === 'stock') {
    const item = m.at && m.meaning && itemOf(m, files)
    const base = item && likeChain(item, files)[1]
    return base ? [origin(base, headerOf(base.node))] : m.at ? [m.at] : []
  }
  if (m.block?.written) {
    const like = m.block.written.node.like?.target
    const name = like && (like.kind === 'text' ? like.value : like.text)
    const item = name && files.item(m.block.written.home.file, `${m.block.spec.name} ${name}`)
    const place = item && item.node.kind === 'block' ? origin(item, headerOf(item.node)) : headerPlace(m.block)
    return place ? [place] : []
  }
  const t: Target | undefined = m.target
  const block = t && t.kind !== 'let' ? headerPlace(t.instance) : undefined
  return block ? [block] : []
}

function itemOf(m: Mention, files: Files) {
  for (const index of files.all)
    for (const item of index.named.values())
      if (item.node === m.meaning!.of && item.node.kind === 'block') return { ...item, node: item.node }
  return undefined
}

/** The header of the block that a value stands in; of one that nobody wrote, that of the opening. */
export function headerPlace(at: Instance): Place | undefined {
  for (let i: Instance | undefined = at; i; i = i.parent)
    if (i.written) return origin(i.written.home, headerOf(i.written.node))
  const root = rootOf(at)
  return root.written && origin(root.written.home, headerOf(root.written.node))
}
