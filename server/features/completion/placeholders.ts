/**
 * What stands for a value until somebody writes one. It can be read, and it is found fault with until it is replaced: a
 * bare `0` where a unit is needed, a word that means nothing. A number that looks right would be believed.
 */
import { type BlockSpec, type FieldSpec, type Files, labelOf } from '../../model/index.ts'
import { choice, literal } from './item.ts'

/** Not a name of the language, so every field refuses it. */
const UNCHOSEN = 'choose'
const UNCOUNTED = 'how_many'

export interface Reach {
  readonly files: Files
  readonly file: string
}

export function placeholder(spec: FieldSpec, stop: number, reach: Reach): string {
  const byDefault = spec.byDefault && 'text' in spec.byDefault ? spec.byDefault.text : undefined
  switch (spec.takes.kind) {
    case 'word': {
      const words = Object.keys(spec.takes.words)
      return choice(
        stop,
        byDefault === undefined ? [UNCHOSEN, ...words] : [byDefault, ...words.filter(w => w !== byDefault)],
      )
    }
    case 'stock':
      return choice(stop, [UNCHOSEN, ...stockNames(spec.takes.block, reach)])
    case 'truth':
    case 'tick':
      return choice(
        stop,
        byDefault === undefined ? [UNCHOSEN, 'true', 'false'] : [byDefault, byDefault === 'true' ? 'false' : 'true'],
      )
    case 'text':
      return `"\${${stop}}"`
    case 'date':
      return `"\${${stop}:YYYY-MM-DD}"`
    case 'range':
      return `\${${stop}:${literal(byDefault ?? '[0, 0]')}}`
    case 'quantity':
      return `\${${stop}:${literal(byDefault ?? (spec.takes.dimensions[0] === 'count' ? UNCOUNTED : '0'))}}`
  }
}

export const stockNames = (kind: string, { files, file }: Reach): string[] =>
  files.names(file, kind).flatMap(i => (i.node.kind === 'block' ? [labelOf(i.node) ?? []].flat() : []))

/** A block with a tab stop for everything it needs; `head` is its name and label. */
export function blockSnippet(spec: BlockSpec, head: string, firstStop: number, reach: Reach): string {
  const stops = { next: firstStop }
  return body(spec, head, '', stops, reach)
}

function body(spec: BlockSpec, head: string, indent: string, stops: { next: number }, reach: Reach): string {
  const inner = `${indent}\t`
  const lines: string[] = []
  for (const f of spec.fields.values())
    if (f.required) lines.push(`${inner}${f.name} = ${placeholder(f, stops.next++, reach)}`)
  for (const b of spec.blocks.values()) if (b.required) lines.push(`${inner}${body(b, b.name, inner, stops, reach)}`)
  const last = indent === '' ? `\n${inner}$0` : ''
  return `${head} {${lines.map(l => `\n${l}`).join('')}${last}\n${indent}}`
}
