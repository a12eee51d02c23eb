/** The values of an opening, and how one came about, for a person at a terminal. */
import { ASSISTS, CAUTIONS, type Explanation, LISTED, type OpeningValues, type ShownValue } from '../../service.ts'
import type { Colours } from '../colour.ts'
import { padEnd, safe, widthOf, wrap } from '../width.ts'

export type Danger = keyof typeof CAUTIONS

export interface Named {
  /** The names of the springs, in written order. */
  readonly springs: readonly (string | undefined)[]
  /** What a value warns of. */
  readonly dangerOf: (path: string) => Danger | undefined
}

/** Block by block: name, value, where it comes from. */
export function openingTable(o: OpeningValues, named: Named, c: Colours, width: number): string[] {
  const blocks = new Map<string, { name: string; text: string; origin: string }[]>()
  for (const v of o.values) {
    const dot = v.path.lastIndexOf('.')
    const block = dot < 0 ? 'opening' : v.path.slice(0, dot)
    if (!blocks.has(block)) blocks.set(block, [])
    blocks.get(block)!.push({ name: safe(v.path.slice(dot + 1)), text: safe(v.text), origin: originOf(v) })
  }
  const all = [...blocks.values()].flat()
  const nameWidth = Math.max(0, ...all.map(r => widthOf(r.name)))
  const textWidth = Math.min(Math.max(0, ...all.map(r => widthOf(r.text))), Math.max(12, width - nameWidth - 18))
  const out = [`${c.bold(safe(o.mark))}${c.dim(`  line ${o.line + 1}${o.complete ? '' : ', not complete'}`)}`]
  for (const [block, rows] of blocks) {
    out.push('', `  ${c.bold(titleOf(block, named))}`)
    for (const r of rows)
      out.push(`    ${padEnd(r.name, nameWidth)}  ${padEnd(r.text, textWidth)}  ${c.dim(r.origin)}`.trimEnd())
  }
  if (o.missing.length > 0) out.push('', ...labelled('Missing:', o.missing.join(', '), width, 2))
  return out
}

const originOf = (v: ShownValue): string => (v.origin === 'stock' ? 'from stock' : v.origin)

function titleOf(block: string, named: Named): string {
  const spring = /^spring\[(\d+)\]$/.exec(block)
  const name = spring && named.springs[Number(spring[1])]
  return name ? `${block} ${safe(name)}` : block
}

function labelled(label: string, text: string, width: number, indent: number): string[] {
  const lines = wrap(safe(text, true), width - indent - label.length - 1)
  return lines.map((l, i) => `${' '.repeat(indent)}${i === 0 ? label : ' '.repeat(label.length)} ${l}`)
}

/** The cautions that go with what was shown, and what the numbers are worth. */
export function cautionsFooter(dangers: ReadonlySet<Danger>, c: Colours, width: number): string[] {
  const out: string[] = []
  for (const danger of Object.keys(CAUTIONS) as Danger[])
    if (dangers.has(danger))
      out.push(c.bold(CAUTIONS[danger].title), ...wrap(CAUTIONS[danger].long.join(' '), width - 2).map(l => `  ${l}`))
  return [...out, ...wrap(`${ASSISTS} ${LISTED}`, width)]
}

export function explanationText(mark: string, e: Explanation, c: Colours, width: number): string[] {
  const row = (label: string, text: string): string[] => labelled(label.padEnd(8), text, width, 2)
  const origin = e.origin === 'stock' ? 'from the stock' : e.origin
  const out = [
    `${c.bold(`${safe(mark)}: ${safe(e.path)}`)} = ${e.text === undefined ? c.yellow('not known') : c.bold(safe(e.text))}${origin ? c.dim(`  (${origin})`) : ''}`,
  ]
  out.push(...row('what', e.doc))
  if (e.formula !== undefined) out.push(...row('formula', e.formula))
  const nameWidth = Math.max(0, ...e.inputs.map(i => widthOf(i.path)))
  e.inputs.forEach(
    (i, n) => void out.push(`  ${(n === 0 ? 'from' : '').padEnd(8)} ${padEnd(i.path, nameWidth)}  ${safe(i.text)}`),
  )
  if (e.source !== undefined) out.push(...row('source', e.source))
  if (e.because !== undefined) out.push(...row('because', e.because))
  if (e.missing.length > 0) out.push(...row('missing', e.missing.join(', ')))
  if (e.caution !== undefined) out.push(...row('caution', e.caution).map(l => c.yellow(l)))
  return out
}
