/** What can be done to the text under the cursor beside the fixes that findings bring. */
import type { Quantity } from '../../grammar/index.ts'
import {
  addTo,
  type Door,
  type Edit,
  type FieldSpec,
  type Files,
  type Finding,
  type Instance,
  type Place,
} from '../model/index.ts'
import type { At } from './at.ts'
import { plainText } from './completion/item.ts'
import { blockSnippet, placeholder } from './completion/placeholders.ts'
import { conversions } from './quantities.ts'
import { allowable, type RuleInfo } from './rule_info.ts'

export interface Action {
  readonly title: string
  readonly kind: 'quickfix' | 'refactor.rewrite'
  readonly edits: readonly Edit[]
  /** The text of the only edit with tab stops, where it has any. */
  readonly snippet?: string
}

/** Whether an action of a kind was asked for: `source` asks for every kind below it. */
export const asked = (only: readonly string[] | undefined, kind: string): boolean =>
  only === undefined || only.length === 0 || only.some(o => kind === o || kind.startsWith(`${o}.`))

const placeOf = (a: At, start: number, end: number): Place => ({ file: a.file, chunk: a.chunk, start, end })

/** What may be done at one place, whether or not anything is wrong there. */
export function refactors(a: At, files: Files): Action[] {
  const quantity = a.nodes.findLast((n): n is Quantity => n.kind === 'quantity')
  return [...(quantity ? convertActions(a, quantity) : []), ...addDefaults(a), ...fillIn(a, files)]
}

function convertActions(a: At, q: Quantity): Action[] {
  return conversions(q).map(c => ({
    title: c.exact
      ? `Convert to ${c.text}, exactly`
      : `Convert to ${c.text}, the nearest ${c.to === 'imperial' ? '1/16 in' : 'millimetre'} (${offText(c.off)})`,
    kind: 'refactor.rewrite',
    edits: [{ place: placeOf(a, q.start, q.end), text: c.text }],
  }))
}

function offText(si: number): string {
  const mm = Number(Math.abs(si * 1000).toPrecision(2))
  return `${mm} mm ${si > 0 ? 'more' : 'less'}`
}

/** On the name of a block: its fields that have a plain default, written down. */
function addDefaults(a: At): Action[] {
  const header = headerInstance(a)
  if (!header || !a.door || a.door.item.chunk !== a.chunk) return []
  const out: Action[] = []
  for (const f of header.spec.fields.values()) {
    if (header.fields.has(f.name) || !f.byDefault || !('text' in f.byDefault) || header.spec.name === 'limits') continue
    const line = `${f.name} = ${f.byDefault.text}`
    const edits = addTo(a.door, header.path, line)
    if (edits) out.push({ title: `Write \`${line}\`, the default`, kind: 'refactor.rewrite', edits })
  }
  return out
}

/** The block in whose header the cursor stands. */
function headerInstance(a: At): Instance | undefined {
  const node = a.nodes.at(-1)
  if (node?.kind !== 'block' || a.blocks.at(-1) === node || a.offset > (node.label?.end ?? node.name.end))
    return undefined
  return a.roots.find(r => r.node === node)?.instance ?? a.instance?.blocks.find(b => b.written?.node === node)
}

/** Adds what a block or opening still needs, each with something in its place that cannot be taken for a value. */
function fillIn(a: At, files: Files): Action[] {
  const node = a.nodes.at(-1)
  const door = a.roots.find(r => r.node === (a.blocks[0] ?? node))?.door
  const at = headerInstance(a)
  if (!door || !at) return []
  const names = door.missing().flatMap(path => {
    const dot = path.lastIndexOf('.')
    const home = dot < 0 ? 'opening' : path.slice(0, dot)
    return home === at.path ? [path.slice(dot + 1)] : []
  })
  if (names.length === 0) return []
  const reach = { files, file: a.file }
  const lines = names.map(name => {
    const field = at.spec.fields.get(name)
    return field ? fillField(field, reach) : plainText(blockSnippet(at.spec.blocks.get(name)!, name, 1, reach))
  })
  const edits = addTo(door, at.path, ...lines)
  return edits ? [{ title: `Add what is missing, to be filled in: ${names.join(', ')}`, kind: 'quickfix', edits }] : []
}

const fillField = (f: FieldSpec, reach: { files: Files; file: string }): string =>
  `${f.name} = ${plainText(placeholder(f, 1, reach))}`

/** Accepts a finding, with a reason to be filled in; undefined for one that cannot be accepted. */
export function allowAction(door: Door, finding: Finding, rule: RuleInfo | undefined): Action | undefined {
  if (!rule || !allowable(rule) || finding.accepted !== undefined) return undefined
  const block = finding.block === undefined || finding.block === '' ? 'opening' : finding.block
  const line = `allow ${rule.id} because ""`
  const edits = addTo(door, block, line) ?? addTo(door, 'opening', line)
  const only = edits?.length === 1 ? edits[0] : undefined
  return (
    edits && {
      title: `Allow \`${rule.id}\` here, with a reason`,
      kind: 'quickfix',
      edits,
      snippet: only?.text.replace(/[\\$}]/g, '\\$&').replace('because ""', 'because "$1"'),
    }
  )
}
