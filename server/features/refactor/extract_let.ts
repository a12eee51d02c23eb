/** Gives the selected part of an expression a name. */
import { type Expression, type Node, RESERVED, type Span, type Statement } from '../../../grammar/index.ts'
import { allBlocks, type Files } from '../../model/index.ts'
import { type At, scopeOf } from '../at.ts'
import { letsInScope } from '../scope.ts'
import type { Refactoring } from './index.ts'
import { firstInLine, freeName, indentAt, newlineOf } from './text.ts'

const WORTH_A_NAME: readonly Node['kind'][] = ['quantity', 'binary', 'unary', 'call', 'group', 'path']
/** A `let` of such a name would hide what the name means already. */
const WORDS = new Set(allBlocks.flatMap(b => [b.name, ...b.fields.keys(), ...b.derived.keys()]))

export function extractLet(a: At, selected: Span, files: Files): Refactoring[] {
  const s = trimmed(a.chunk.text, selected)
  const e = s.end > s.start && a.nodes.find(n => n.start === s.start && n.end === s.end && isValue(n))
  const home =
    e && a.nodes.findLast((n): n is Statement => n.kind === 'field' || n.kind === 'let' || n.kind === 'require')
  if (!e || !home) return []
  const takes = a.field?.takes.kind
  if (home.kind === 'field' && (takes === 'word' || takes === 'stock')) return []
  const lets = letsInScope(scopeOf(a), files)
  const base = home.kind === 'field' ? home.name.text : home.kind === 'let' ? (home.name?.text ?? 'value') : 'value'
  const name = freeName(`${base}_part`, n => lets.has(n) || WORDS.has(n) || RESERVED.has(n))
  const { text } = a.chunk
  const written = `let ${name} = ${text.slice(e.start, e.end)}`
  const sep = firstInLine(text, home.start) ? newlineOf(text) + indentAt(text, home.start) : '; '
  const place = (start: number, end: number) => ({ file: a.file, chunk: a.chunk, start, end })
  return [
    {
      title: `Name this part: \`${written.length > 60 ? `let ${name}` : written}\``,
      kind: 'refactor.extract',
      edits: [
        { place: place(home.start, home.start), text: written + sep },
        { place: place(e.start, e.end), text: name },
      ],
    },
  ]
}

const isValue = (n: Node): n is Expression => WORTH_A_NAME.includes(n.kind)

function trimmed(text: string, { start, end }: Span): Span {
  const part = text.slice(start, end)
  return { start: start + part.length - part.trimStart().length, end: end - part.length + part.trimEnd().length }
}
