/** Edits that set a field of an opening, wherever it has to be written. */
import type { Block } from '../../grammar/index.ts'
import type { Door } from './door.ts'
import type { Edit, Place } from './finding.ts'
import type { Instance } from './instance.ts'

/**
 * Edits that make `path` (`adjuster.preload`, `spring[0].hand`) read `text`. A value written in the opening itself is
 * replaced; a copied one, one from the stock, or one not written yet is written in the opening, its block added where
 * that is missing too. Undefined where the path leads nowhere, or into a stock item that the opening shares with others.
 */
export function setField(door: Door, path: string, text: string): Edit[] | undefined {
  const here = door.writtenHere(path)
  const place = (start: number, end: number): Place => ({ file: door.item.file, chunk: door.item.chunk, start, end })
  if (here) return [{ place: place(here.value.start, here.value.end), text }]
  const dot = path.lastIndexOf('.')
  const at = dot < 0 ? door.root : door.block(path.slice(0, dot))
  const name = path.slice(dot + 1)
  if (!at?.spec.fields.has(name)) return undefined
  return insert(door, at, `${name} = ${text}`, place)
}

/** Edits that add statements (one a line) at the end of a block of the opening, adding the block where it is missing. */
export function addTo(door: Door, blockPath: string, ...lines: string[]): Edit[] | undefined {
  const at = blockPath === 'opening' ? door.root : door.block(blockPath)
  return (
    at &&
    insert(door, at, lines.join('\n'), (start, end) => ({ file: door.item.file, chunk: door.item.chunk, start, end }))
  )
}

function insert(
  door: Door,
  at: Instance,
  lines: string,
  place: (start: number, end: number) => Place,
): Edit[] | undefined {
  const own = ownBlock(door, at)
  if (own) {
    if (own.open < 0 || own.close < 0) return undefined
    return [inside(door.item.chunk.text, own, lines, place)]
  }
  if (!at.parent) return undefined
  if (at.parent.spec.fields.has(at.spec.name) && at.parent.fields.has(at.spec.name)) return undefined
  if (at.spec.repeatable && at.name === undefined) return undefined
  const header = at.name === undefined ? at.spec.name : `${at.spec.name} ${at.name}`
  const body = lines
    .split('\n')
    .map(l => `  ${l}`)
    .join('\n')
  return insert(door, at.parent, `${header} {\n${body}\n}`, place)
}

/** The block as it is written in the opening itself, not where it was copied from. */
function ownBlock(door: Door, at: Instance): Block | undefined {
  const w = at.written
  return w && !w.home.via && !w.home.outside && w.home.chunk === door.item.chunk ? w.node : undefined
}

/** New lines at the end of a block, indented as its neighbours are; a block on one line gets `; ...` instead. */
function inside(text: string, block: Block, lines: string, place: (start: number, end: number) => Place): Edit {
  const body = text.slice(block.open + 1, block.close)
  const eol = text.includes('\r\n') ? '\r\n' : '\n'
  if (!/[\r\n]/.test(body)) {
    if (!lines.includes('\n')) {
      const at = block.open + 1 + body.trimEnd().length
      return { place: place(at, block.close), text: `${body.trim() === '' ? ' ' : '; '}${lines} ` }
    }
    const outer = indentAt(text, block.start)
    const inner = `${outer}  `
    const old = body.trim() === '' ? [] : body.split(';').map(s => `${inner}${s.trim()}`)
    const all = [...old, ...lines.split('\n').map(l => inner + l)]
    return { place: place(block.open + 1, block.close), text: `${eol}${all.join(eol)}${eol}${outer}` }
  }
  const last = block.body.at(-1)
  const indent = last ? indentAt(text, last.start) : `${indentAt(text, block.start)}  `
  const lineStart = Math.max(text.lastIndexOf('\n', block.close - 1), text.lastIndexOf('\r', block.close - 1)) + 1
  const written = lines
    .split('\n')
    .map(l => `${indent}${l}${eol}`)
    .join('')
  // the closing brace usually stands alone on its line; where it does not, it gets a line of its own
  if (text.slice(lineStart, block.close).trim() === '') return { place: place(lineStart, lineStart), text: written }
  return { place: place(block.close, block.close), text: `${eol}${written}${indentAt(text, block.start)}` }
}

function indentAt(text: string, offset: number): string {
  const lineStart = Math.max(text.lastIndexOf('\n', offset - 1), text.lastIndexOf('\r', offset - 1)) + 1
  return text.slice(lineStart).match(/^[ \t]*/)![0]
}
