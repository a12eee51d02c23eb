/** Moves a slat or pipe that is written out in an opening into the stock, where others can take it too. */
import { type Block, chunkIndexAt } from '../../../grammar/index.ts'
import { type Edit, type Files, plainName, standardPipe } from '../../model/index.ts'
import type { At } from '../at.ts'
import type { Refactoring } from './index.ts'
import { freeName, indentAt, inHeader, lineStart, nameFrom, newlineOf } from './text.ts'

export function toStock(a: At, files: Files): Refactoring[] {
  const node = a.nodes.at(-1)
  const kind = node?.kind === 'block' ? plainName(node.name.text) : ''
  if (node?.kind !== 'block' || !a.door || !inHeader(node, a.offset) || node.close < 0 || node.label) return []
  // the header stands outside of its own braces: what is around it is the block whose field names the stock
  if (a.spec?.fields.get(kind)?.takes.kind !== 'stock') return []
  const own = files.get(a.file)
  if (!own) return []
  const name = freeName(
    `${kind}_${nameFrom(a.door.mark) || 'one'}`,
    n => files.item(a.file, `${kind} ${n}`) !== undefined || standardPipe(n) !== undefined,
  )
  const { text } = a.chunk
  const top = a.blocks[0]!
  // the name of the slat is what changes
  const apart = [`${a.blocks.at(-1) === top ? '' : `${plainName(a.blocks.at(-1)!.name.text)}.`}${kind}`]
  const use: Edit = {
    place: { file: a.file, chunk: a.chunk, start: node.start, end: node.end },
    text: `${kind} = ${name}`,
  }
  const item = (eol: string): string => block(node, text, kind, name, eol)
  const eol = newlineOf(own.source.text)
  // before the description that belongs to the opening
  const at = descriptionStart(text, top)
  const above = own.source.chunks[own.source.chunks.indexOf(a.chunk) - 1]?.text ?? ''
  const out: Refactoring[] = [
    {
      title: `Move to the stock of this file: \`${kind} = ${name}\``,
      kind: 'refactor.extract',
      apart,
      edits: [
        {
          place: { file: a.file, chunk: a.chunk, start: at, end: at },
          text: blankLine(above + text.slice(0, at), eol) + item(eol) + eol + eol,
        },
        use,
      ],
    },
  ]
  const stock = stockFile(a.file, files)
  if (stock) {
    const { source } = files.get(stock)!
    const chunk = source.chunks[chunkIndexAt(source, source.text.length)]
    const end = newlineOf(source.text)
    if (chunk) {
      const place = { file: stock, chunk, start: chunk.text.length, end: chunk.text.length }
      const gap = blankLine(chunk.text, end)
      out.push({
        title: `Move to ${stock.slice(Math.max(stock.lastIndexOf('/'), stock.lastIndexOf('\\')) + 1)}: \`${kind} = ${name}\``,
        kind: 'refactor.extract',
        apart,
        edits: [{ place, text: gap + item(end) + end }, use],
      })
    }
  }
  return out
}

/** The block with its own lines, as far to the left as a top-level block stands. */
function block(node: Block, text: string, kind: string, name: string, eol: string): string {
  const indent = indentAt(text, node.start)
  const like = node.like ? ` ${text.slice(node.like.start, node.like.end)}` : ''
  const lines = text.slice(node.open, node.close + 1).split(/\r\n|\n|\r/)
  return [`${kind} ${name}${like} ${lines[0]}`, ...lines.slice(1).map(l => (l.startsWith(indent) ? l.slice(indent.length) : l))].join(eol) // biome-ignore format: one list
}

function descriptionStart(text: string, top: Block): number {
  let at = lineStart(text, top.start)
  while (at > 0) {
    const above = lineStart(text, text.slice(0, at).replace(/(\r\n|\n|\r)$/, '').length)
    if (!/^[ \t]*#/.test(text.slice(above, at))) break
    at = above
  }
  return at
}

/** What leaves a line free behind a text. */
const blankLine = (before: string, eol: string): string =>
  before.trim() === '' || /(\r\n|\n|\r)[ \t]*\1[ \t]*$/.test(before) ? '' : /[\r\n]$/.test(before) ? eol : eol + eol

/** The first used file that has stock in it. */
function stockFile(file: string, files: Files): string | undefined {
  return files.usedBy(file).find(f => {
    for (const key of files.get(f)?.named.keys() ?? []) if (/^(slat|pipe|spring|operator) /.test(key)) return true
    return false
  })
}
