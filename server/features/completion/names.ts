/** Completion of names of other things: what `like` copies, what `use` reads, which rule `allow` accepts. */
import type { Label } from '../../../grammar/index.ts'
import { labelOf, type Item as Named, plainName } from '../../model/index.ts'
import { allowable } from '../rule_info.ts'
import { type Cursor, image } from './context.ts'
import { type Item, sortKey } from './item.ts'

/** A text between quotes: with them where none have been typed, and the closing one where that is missing. */
function quotedItem(c: Cursor, text: string): { insert: string; filter: string } {
  const escaped = text.replace(/[\\"]/g, '\\$&')
  if (!c.quoted) return { insert: `"${escaped}"`, filter: text }
  const closed = c.at.chunk.text[c.quoted.end] === '"'
  return { insert: closed ? escaped : `${escaped}"`, filter: text }
}

export function useItems(c: Cursor): Item[] {
  return c.world
    .usable()
    .map((path, i) => ({ label: path, kind: 'file', ...quotedItem(c, path), sort: sortKey(0, i), span: c.word }))
}

export function likeItems(c: Cursor): Item[] {
  const kind = plainName(image(c, c.head[0]))
  const isOpening = kind === 'opening'
  if (c.quoted && !isOpening) return []
  return c.world.files.names(c.at.file, kind).flatMap((from, i): Item[] => {
    const name = from.node.kind === 'block' ? labelOf(from.node) : undefined
    if (name === undefined || comesBack(c, from)) return []
    const item = { sort: sortKey(0, i), span: c.word, doc: `stock ${kind} ${name}` }
    if (!isOpening) return [{ ...item, label: name, kind: 'stock', detail: `${kind} from the stock`, insert: name }]
    const detail = from.file === c.at.file ? undefined : `in ${from.file.slice(from.file.lastIndexOf('/') + 1)}`
    return [{ ...item, label: `"${name}"`, kind: 'opening', detail, ...quotedItem(c, name) }]
  })
}

/** Whether a block is the one that is being written, or made after it: to copy from that would go in a circle. */
function comesBack(c: Cursor, from: Named): boolean {
  const [kind, label] = [plainName(image(c, c.head[0])), image(c, c.head[1])]
  const own = c.world.files.item(c.at.file, `${kind} ${label.replace(/^"|"$/g, '').replace(/\\(.)/g, '$1')}`)
  if (c.at.blocks.length > 0 || own === undefined) return false
  const seen = new Set<Named>()
  for (let at: Named | undefined = from; at && !seen.has(at); ) {
    if (at.node === own.node) return true
    seen.add(at)
    const target: Label | undefined = at.node.kind === 'block' ? at.node.like?.target : undefined
    at = target && c.world.files.item(at.file, `${kind} ${target.kind === 'text' ? target.value : target.text}`)
  }
  return false
}

/** Those with something to say here come first; what cannot be allowed is not offered. */
export function ruleItems(c: Cursor): Item[] {
  const found = c.world.found()
  const reason = c.follows === 'because'
  return [...c.world.rules.values()].filter(allowable).map((r, i) => ({
    label: r.id,
    kind: 'rule',
    detail: found.has(r.id) ? `found here: ${r.what}` : r.what,
    insert: reason ? r.id : `${r.id} because ""`,
    snippet: reason ? r.id : `${r.id} because "$1"`,
    sort: sortKey(found.has(r.id) ? 0 : 1, i),
    span: c.word,
    doc: `rule ${r.id}`,
  }))
}
