/** Completion of names of other things: what `like` copies, what `use` reads, which rule `allow` accepts. */
import { labelOf, plainName } from '../../model/index.ts'
import { allowable } from '../rule_info.ts'
import { type Cursor, image } from './context.ts'
import { type Item, sortKey } from './item.ts'
import { stockNames } from './placeholders.ts'

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
  if (kind !== 'opening')
    return c.quoted
      ? []
      : stockNames(kind, { files: c.world.files, file: c.at.file }).map((n, i) => ({
          label: n,
          kind: 'stock',
          detail: `${kind} from the stock`,
          insert: n,
          sort: sortKey(0, i),
          span: c.word,
          doc: `stock ${kind} ${n}`,
        }))
  const own = c.head[1]?.kind === 'text' ? image(c, c.head[1]) : undefined
  return c.world.files.names(c.at.file, 'opening').flatMap((item, i) => {
    if (item.node.kind !== 'block') return []
    const mark = labelOf(item.node) ?? ''
    if (`"${mark}"` === own) return []
    return [
      {
        label: `"${mark}"`,
        kind: 'opening' as const,
        detail: item.file === c.at.file ? undefined : `in ${item.file.slice(item.file.lastIndexOf('/') + 1)}`,
        ...quotedItem(c, mark),
        sort: sortKey(0, i),
        span: c.word,
        doc: `stock opening ${mark}`,
      },
    ]
  })
}

/** Those with something to say here come first; what cannot be allowed is not offered. */
export function ruleItems(c: Cursor): Item[] {
  const found = c.world.found()
  return [...c.world.rules.values()].filter(allowable).map((r, i) => ({
    label: r.id,
    kind: 'rule',
    detail: found.has(r.id) ? `found here: ${r.what}` : r.what,
    insert: `${r.id} because ""`,
    snippet: `${r.id} because "$1"`,
    sort: sortKey(found.has(r.id) ? 0 : 1, i),
    span: c.word,
    doc: `rule ${r.id}`,
  }))
}
