/** Completion of a field's value, by what the field takes. */

import { type FieldSpec, pathOf, standardPipe } from '../../model/index.ts'
import { DIMENSION, type Dimension, showQuantity } from '../../units/index.ts'
import { fieldText } from '../inlay_hints.ts'
import { inBothSystems } from '../quantities.ts'
import { type Cursor, image } from './context.ts'
import { expressionItems } from './expression.ts'
import { type Item, sortKey } from './item.ts'
import { stockNames } from './placeholders.ts'

export function dimensionsOf(spec: FieldSpec | undefined): readonly Dimension[] {
  if (spec?.takes.kind === 'quantity') return spec.takes.dimensions.map(d => DIMENSION[d])
  return spec?.takes.kind === 'range' ? [DIMENSION[spec.takes.dimension]] : []
}

export function valueItems(c: Cursor, spec: FieldSpec, wanted: readonly Dimension[]): Item[] {
  // what stands behind a name that is changed stays, and can only follow a name
  const named = c.typed !== '' && (c.follows === '.' || c.follows === '(')
  const first = image(c, c.head.at(-1)) === '=' && !named
  const item: Make = (label, kind, place, more = {}) => ({
    label,
    kind,
    insert: label,
    sort: sortKey(0, place),
    span: c.word,
    ...more,
  })
  const takes = spec.takes
  const byDefault = spec.byDefault && 'text' in spec.byDefault ? spec.byDefault.text : undefined
  switch (takes.kind) {
    case 'word':
      return first ? wordItems(c, spec, takes.words, byDefault, item) : []
    case 'stock':
      return first ? stockItems(c, takes.block, item) : []
    case 'truth':
    case 'tick':
      return first
        ? ['true', 'false'].map((w, i) => item(w, 'word', i, { detail: w === byDefault ? 'default' : undefined }))
        : []
    case 'text':
      return first && !c.quoted
        ? [item('""', 'value', 0, { snippet: '"$1"', detail: 'a text in quotes', insert: '""' })]
        : []
    case 'date':
      return []
    case 'range':
      return [
        ...(first && byDefault ? [item(byDefault, 'value', 0, { detail: 'default' })] : []),
        ...expressionItems(c, wanted),
      ]
    case 'quantity':
      return [
        ...(first ? worked(c, spec, item) : []),
        ...expressionItems(c, wanted, c.at.instance && pathOf(c.at.instance, spec.name)),
      ]
  }
}

type Make = (label: string, kind: Item['kind'], place: number, more?: Partial<Item>) => Item

function wordItems(
  c: Cursor,
  spec: FieldSpec,
  words: Readonly<Record<string, string>>,
  byDefault: string | undefined,
  item: Make,
): Item[] {
  const right = needed(c, spec)
  const note = (w: string): string => (w === right ? ', what this door needs' : w === byDefault ? ' (default)' : '')
  return Object.entries(words).map(([w, doc], i) =>
    item(w, 'word', w === right ? 0 : i + 1, {
      detail: doc + note(w),
      preselect: w === right,
      doc: `field ${c.at.spec?.name}.${spec.name}`,
    }),
  )
}

/** The word that a direction or hand works out to. */
function needed(c: Cursor, spec: FieldSpec): string | undefined {
  const at = c.at.instance
  if (!at || !c.at.evaluator) return undefined
  const r = spec.derived
    ? c.at.evaluator.computed(at, spec.name)
    : at.spec.derived.has(`${spec.name}_needed`)
      ? c.at.evaluator.field(at, `${spec.name}_needed`)
      : undefined
  return r?.state === 'known' && r.value.kind === 'word' ? r.value.word : undefined
}

/** What the field comes to when nobody writes it. */
function worked(c: Cursor, spec: FieldSpec, item: Make): Item[] {
  const out: Item[] = []
  const { door, instance } = c.at
  if (door && spec.name === 'preload' && instance?.spec.name === 'adjuster') {
    const best = door.number('balance.preload')
    const text = door.with({}).written('adjuster.preload') ? preloadText(c) : fieldText(door, 'adjuster.preload')
    if (best !== undefined && text !== undefined)
      out.push(
        item(text, 'value', 0, {
          detail: `balances best at ${showQuantity(best, DIMENSION.angle, { system: door.system }).text}, rounded up to a whole increment`,
          preselect: true,
          doc: 'value balance.preload',
        }),
      )
  }
  const byDefault = spec.byDefault && 'text' in spec.byDefault ? spec.byDefault : undefined
  if (byDefault && typeof byDefault.value === 'number') {
    const both = inBothSystems({ si: byDefault.value, dimension: dimensionsOf(spec)[0]! }, byDefault.text)
    out.push(item(byDefault.text, 'value', 1, { detail: `default ${both}`.trim() }))
  }
  return out
}

function preloadText(c: Cursor): string | undefined {
  const best = c.at.door?.result('balance.preload')
  return best?.state === 'known' && c.at.door
    ? fieldText(c.at.door.with({ 'adjuster.preload': best.value }), 'adjuster.preload')
    : undefined
}

function stockItems(c: Cursor, kind: string, item: Make): Item[] {
  const names = stockNames(kind, { files: c.world.files, file: c.at.file })
  const out = names.map((n, i) => item(n, 'stock', i, { detail: `${kind} from the stock`, doc: `stock ${kind} ${n}` }))
  if (kind !== 'pipe') return out
  const standard = standardPipe.names().filter(n => !names.includes(n))
  return [
    ...out,
    ...standard.map((n, i) => item(n, 'stock', names.length + i, { detail: pipeText(n), doc: `stock pipe ${n}` })),
  ]
}

function pipeText(name: string): string {
  const sizes = [...(standardPipe(name) ?? [])].map(([, v]) =>
    v.kind === 'number' ? `${Number((v.si / 0.0254).toFixed(3))}` : '',
  )
  return `${sizes.join(' x ')} in, ASME B36.10M`
}
