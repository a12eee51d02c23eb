import { chunkIndexAt } from './blocks.ts'
import type { Chunk, Expression, Source, Span, Statement } from './tree.ts'

/** A node of the tree that has a kind. */
export type Node = Statement | Expression

const NONE: readonly Node[] = []

/** The nodes directly inside `node`, in the order of the text. */
export function children(node: Node): readonly Node[] {
  switch (node.kind) {
    case 'block':
      return node.body
    case 'field':
    case 'let':
    case 'require':
      return [node.value]
    case 'call':
      return node.args
    case 'list':
      return node.items
    case 'group':
      return [node.inner]
    case 'unary':
      return [node.operand]
    case 'binary':
      return [node.left, node.right]
    default:
      return NONE
  }
}

/** Calls `visit` for each node, outer before inner; a node for which it returns false is not entered. */
export function walk(
  nodes: readonly Node[],
  // biome-ignore lint/suspicious/noConfusingVoidType: a visitor that decides nothing returns nothing
  visit: (node: Node, parents: readonly Node[]) => boolean | void,
): void {
  const parents: Node[] = []
  const enter = (node: Node): void => {
    if (visit(node, parents) === false) return
    parents.push(node)
    for (const child of children(node)) enter(child)
    parents.pop()
  }
  for (const node of nodes) enter(node)
}

/** An offset at the end of a node still belongs to it: that is where the cursor stands after typing. */
export const holds = (span: Span, offset: number): boolean => span.start <= offset && offset <= span.end

/** The innermost of `nodes` that touches `offset`; of two neighbours, the one that starts there. */
function touching(nodes: readonly Node[], offset: number): Node | undefined {
  let found: Node | undefined
  for (const node of nodes) {
    if (node.start > offset) break
    if (holds(node, offset)) found = node
  }
  return found
}

/** The nodes that hold `offset` (counted from the start of the chunk), from outermost to innermost. */
export function pathTo(chunk: Chunk, offset: number): readonly Node[] {
  const path: Node[] = []
  for (let node = touching(chunk.statements, offset); node; node = touching(children(node), offset)) path.push(node)
  return path
}

/** The innermost statement that holds `offset`. */
export function statementAt(chunk: Chunk, offset: number): Statement | undefined {
  return pathTo(chunk, offset).findLast(isStatement)
}

export function isStatement(node: Node): node is Statement {
  return (
    node.kind === 'use' ||
    node.kind === 'block' ||
    node.kind === 'field' ||
    node.kind === 'let' ||
    node.kind === 'require' ||
    node.kind === 'allow'
  )
}

/** The chunk at a file offset, with its start and the offset inside it. */
export function chunkAt(source: Source, offset: number) {
  const index = chunkIndexAt(source, offset)
  const chunk = source.chunks[index]
  const start = source.starts[index] ?? 0
  return chunk && { index, chunk, start, offset: offset - start }
}
