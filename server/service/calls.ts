/** From value to value, within an opening or a stock block. */
import { type Call, feeds, type Owner, ownersOf, usedBy, type ValueItem, valueItem } from '../features/calls.ts'
import { type Context, nameAt, unitAt } from './context.ts'
import type { Position, ValueCall, ValueNode } from './types.ts'

type Data = ValueNode['data']

export function valueAt(c: Context, file: string, position: Position): ValueNode | undefined {
  const target = nameAt(c, file, position)?.mention.target
  if (!target || target.kind === 'let') return undefined
  const owner = ownerAt(c, file, position)
  const item = owner && valueItem(owner, `${target.instance.path}.${target.spec.name}`)
  return item && node(c, owner, item, { file, line: position.line })
}

export const valueFeeds = (c: Context, data: Data): ValueCall[] => calls(c, data, feeds)
export const valueUsers = (c: Context, data: Data): ValueCall[] => calls(c, data, usedBy)

function calls(c: Context, data: Data, look: (owner: Owner, path: string) => Call[]): ValueCall[] {
  const owner = ownerAt(c, data.file, { line: data.line, character: 0 })
  return (owner ? look(owner, data.path) : []).map(({ item, places }) => ({
    value: node(c, owner!, item, data),
    places: places.map(p => c.workspace.locate(p)),
  }))
}

/** What stands on the line of a position. */
function ownerAt(c: Context, file: string, position: Position): Owner | undefined {
  const unit = unitAt(c, file, position)?.unit
  return (unit ? ownersOf(unit) : []).find(({ item }) => {
    const { start, end } = c.workspace.spot(item, item.node).range
    return start.line <= position.line && position.line <= end.line
  })
}

const node = (c: Context, owner: Owner, item: ValueItem, { file, line }: Pick<Data, 'file' | 'line'>): ValueNode => ({
  path: item.path,
  text: item.text,
  written: item.written,
  owner: owner.root.name ?? '',
  ...c.workspace.locate(item.place),
  data: { file, line, path: item.path },
})
