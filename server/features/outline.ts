/** The blocks and names of a file, as a tree. */
import type { Block, Label, Span, Statement } from '../../grammar/index.ts'
import { type BlockSpec, type Door, type Instance, plainName, topBlock, type Unit } from '../model/index.ts'
import { instanceOf } from './at.ts'

export type OutlineKind = 'job' | 'opening' | 'block' | 'spring' | 'stock' | 'let' | 'use'

export interface OutlineNode {
  readonly name: string
  readonly detail: string
  readonly kind: OutlineKind
  readonly span: Span
  /** What is selected when it is chosen: the name. */
  readonly selection: Span
  readonly children: readonly OutlineNode[]
}

/** The outline of one chunk; offsets from its start. */
export function outline(unit: Unit): OutlineNode[] {
  return statements(unit.chunk.statements, undefined, undefined, unit)
}

function statements(
  body: readonly Statement[],
  parent: BlockSpec | undefined,
  at: Instance | undefined,
  unit: Unit,
): OutlineNode[] {
  const out: OutlineNode[] = []
  for (const node of body) {
    if (node.kind === 'use' && node.path)
      out.push({
        name: node.path.value || '""',
        detail: 'use',
        kind: 'use',
        span: node,
        selection: node.path,
        children: [],
      })
    else if (node.kind === 'let' && node.name)
      out.push({
        name: node.name.text,
        detail: unit.chunk.text.slice(node.value.start, node.value.end),
        kind: 'let',
        span: node,
        selection: node.name,
        children: [],
      })
    else if (node.kind === 'block') out.push(block(node, parent, at, unit))
  }
  return out
}

function block(node: Block, parent: BlockSpec | undefined, at: Instance | undefined, unit: Unit): OutlineNode {
  const kind = plainName(node.name.text)
  const spec = parent ? parent.blocks.get(kind) : topBlock(kind)
  const door = parent ? undefined : unit.doors.find(d => d.item.node === node)
  const instance = parent
    ? instanceOf(at, node, spec)
    : (door?.root ?? unit.singles.find(s => s.item.node === node)?.root)
  return {
    name: name(kind, node.label),
    detail: door ? doorDetail(door) : parent || kind === 'limits' ? '' : kind === 'job' ? 'job' : 'stock',
    kind:
      kind === 'job' || kind === 'opening'
        ? kind
        : parent
          ? kind === 'spring'
            ? 'spring'
            : 'block'
          : kind === 'limits'
            ? 'block'
            : 'stock',
    span: node,
    selection: node.label ?? node.name,
    children: spec ? statements(node.body, spec, instance, unit) : [],
  }
}

/** An editor shows no symbol without a name. */
function name(kind: string, label: Label | undefined): string {
  const text = label === undefined ? '' : label.kind === 'text' ? label.value : label.text
  if (kind === 'opening' || kind === 'job') return text.trim() || kind
  return text.trim() ? `${kind} ${text}` : kind
}

function doorDetail(door: Door): string {
  const size = [door.show('opening.width'), door.show('opening.height')]
  const known = door.number('opening.width') !== undefined && door.number('opening.height') !== undefined
  return known ? size.join(' x ') : 'size not known'
}
