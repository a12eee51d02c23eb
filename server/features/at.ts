/** Where an offset stands: the block, field and part of the line, and what they come to. Works on half-typed text. */
import {
  type Block,
  type Chunk,
  type Node,
  pathTo,
  type Span,
  type Statement,
  type Token,
  tokenize,
} from '../../grammar/index.ts'
import {
  type BlockSpec,
  type Door,
  type Evaluator,
  type FieldSpec,
  type Instance,
  plainName,
  type Scope,
  type Single,
  topBlock,
  type Unit,
} from '../model/index.ts'

export interface At {
  readonly file: string
  readonly chunk: Chunk
  /** Counted from the start of the chunk, as all offsets here. */
  readonly offset: number
  readonly tokens: readonly Token[]
  /** The nodes that hold the offset, the outermost first. */
  readonly nodes: readonly Node[]
  readonly statement: Statement | undefined
  /** The blocks between whose braces the offset stands, the outermost first. */
  readonly blocks: readonly Block[]
  /** What may stand here; undefined at the top of a file, or inside a block that does not exist. */
  readonly spec: BlockSpec | undefined
  readonly instance: Instance | undefined
  readonly door: Door | undefined
  readonly single: Single | undefined
  /** The top-level blocks of the chunk, with what they came to. */
  readonly roots: readonly Root[]
  /** Undefined only in a file that has no block at all. */
  readonly evaluator: Evaluator | undefined
  /** The field that the offset's statement sets. */
  readonly field: FieldSpec | undefined
}

export interface Root {
  readonly node: Block
  readonly instance: Instance
  readonly evaluator: Evaluator
  readonly door: Door | undefined
}

export const rootsOf = (unit: Unit): Root[] => [
  ...unit.doors.map(d => ({ node: d.item.node, instance: d.root, evaluator: d.evaluator, door: d })),
  ...unit.singles.map(s => ({ node: s.item.node, instance: s.root, evaluator: s.evaluator, door: undefined })),
]

/**
 * @param unit what the chunk comes to
 * @param any an evaluator of the same file, for what stands at its top level
 */
export function at(unit: Unit, offset: number, any?: () => Evaluator | undefined): At {
  const { chunk, file } = unit
  const blocks = blocksAround(chunk.statements, offset)
  const nodes = pathTo(chunk, offset)
  const statement = nodes.findLast(isPlainStatement)
  const root = blocks[0]
  const door = unit.doors.find(d => d.item.node === root)
  const single = unit.singles.find(s => s.item.node === root)
  const { spec, instance } = blockAt(blocks, door?.root ?? single?.root)
  return {
    file,
    chunk,
    offset,
    tokens: tokenize(chunk.text),
    nodes,
    statement,
    blocks,
    spec,
    instance,
    door,
    single,
    roots: rootsOf(unit),
    evaluator: door?.evaluator ?? single?.evaluator ?? any?.(),
    field: statement?.kind === 'field' ? spec?.fields.get(plainName(statement.name.text)) : undefined,
  }
}

const isPlainStatement = (n: Node): n is Statement =>
  n.kind === 'field' ||
  n.kind === 'let' ||
  n.kind === 'require' ||
  n.kind === 'allow' ||
  n.kind === 'use' ||
  n.kind === 'block'

/** An unclosed block goes on to the end: that is how a block stands while it is typed. */
function blocksAround(body: readonly Statement[], offset: number): Block[] {
  const last = body.findLast(s => s.start < offset)
  if (last?.kind !== 'block' || last.open < 0 || offset <= last.open || (last.close >= 0 && offset > last.close))
    return []
  return [last, ...blocksAround(last.body, offset)]
}

function blockAt(blocks: readonly Block[], root: Instance | undefined) {
  let spec: BlockSpec | undefined
  let instance: Instance | undefined
  blocks.forEach((node, i) => {
    const name = plainName(node.name.text)
    spec = i === 0 ? topBlock(name) : spec?.blocks.get(name)
    instance = i === 0 ? root : instanceOf(instance, node, spec)
  })
  return { spec, instance }
}

/** The instance that a block's text became; of a block that does not count (the second of two) there is none. */
export function instanceOf(
  parent: Instance | undefined,
  node: Block,
  spec: BlockSpec | undefined,
): Instance | undefined {
  return (
    parent?.blocks.find(b => b.written?.node === node) ??
    (spec?.repeatable ? undefined : parent?.blocks.find(b => b.spec === spec))
  )
}

export const scopeOf = (a: At): Scope => ({ instance: a.instance, home: { file: a.file, chunk: a.chunk } })

/** The token that the offset stands in or touches; of two neighbours the one that starts there. */
export function tokenAt(a: At): Token | undefined {
  return a.tokens.findLast(t => t.start <= a.offset && a.offset <= t.end)
}

/** In a comment, or in a text that has begun: nothing of the language goes on there. */
export function inside(a: At, kind: 'comment' | 'text'): Token | undefined {
  return a.tokens.find(t => {
    if (kind === 'comment') return (t.kind === 'comment' || t.kind === 'doc') && t.start < a.offset && a.offset <= t.end
    if (t.kind !== 'text' || t.start >= a.offset) return false
    const closed = t.end - t.start > 1 && /[^\\]"$|^""$/.test(a.chunk.text.slice(t.start, t.end))
    return a.offset < t.end || (a.offset === t.end && !closed)
  })
}

export const textOf = (a: At, span: Span): string => a.chunk.text.slice(span.start, span.end)
