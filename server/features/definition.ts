/** Where a name was written: an opening or stock item, a `let`, a field, the file that `use` names. */
import type { Place } from '../model/index.ts'
import { type Files, headerOf, type Item, origin, plainName, type Target } from '../model/index.ts'
import { type At, scopeOf } from './at.ts'
import { blockAtPath } from './scope.ts'

export type Definition = Place | { readonly file: string }

export function definition(a: At, files: Files): Definition | undefined {
  const node = a.nodes.at(-1)
  const holds = (s: { start: number; end: number }): boolean => s.start <= a.offset && a.offset <= s.end
  if (node?.kind === 'use') {
    const target = node.path && holds(node.path) ? files.target(a.file, node.path.value) : undefined
    return target?.ok ? { file: target.file } : undefined
  }
  if (node?.kind === 'block') {
    const like = node.like?.target
    if (!like || !holds(like)) return undefined
    return header(files.item(a.file, `${plainName(node.name.text)} ${like.kind === 'text' ? like.value : like.text}`))
  }
  if (node?.kind !== 'path') return undefined
  const i = node.names.findIndex(holds)
  if (i < 0) return undefined
  const takes = a.statement?.kind === 'field' && a.statement.value === node ? a.field?.takes : undefined
  if (takes?.kind === 'stock') return header(files.item(a.file, `${takes.block} ${node.names[i]!.text}`))
  if (takes?.kind === 'word' || !a.evaluator) return undefined
  const names = node.names.slice(0, i + 1).map(n => n.text)
  if (i === node.names.length - 1) {
    const target = a.evaluator.target(names, scopeOf(a))
    if (target) return written(target)
  }
  const block = blockAtPath(names, scopeOf(a), a.evaluator)
  return block?.written && origin(block.written.home, headerOf(block.written.node))
}

function header(item: Item | undefined): Place | undefined {
  return item?.node.kind === 'block' ? origin(item, headerOf(item.node)) : undefined
}

function written(target: Target): Place | undefined {
  if (target.kind === 'let') return origin(target.written.home, target.written.node.name!)
  const source = target.instance.fields.get(target.spec.name)
  if (source?.node) return origin(source.home, source.node.name)
  const at = target.instance.written
  return at && origin(at.home, headerOf(at.node))
}
