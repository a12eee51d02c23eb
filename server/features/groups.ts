/**
 * What `like` ties together: a spring or a `let` written in an opening and again in one that is like it are one name, so
 * the first of them stands for all.
 */
import type { Block, Let, Statement } from '../../grammar/index.ts'
import { type Files, type Home, type Item, labelOf, plainName } from '../model/index.ts'

interface Written<S extends Statement> {
  readonly node: S
  readonly home: Pick<Home, 'file' | 'chunk'>
}

/** The spring of the same name that lies furthest back along `like`. */
export function springGroup({ node, home }: Written<Block>, files: Files): Block {
  const top = topOf(node, home)
  let first = node
  for (const item of top ? likeChain({ ...home, node: top }, files) : [])
    first = item.node.body.find(s => isSpring(s, labelOf(node))) ?? first
  return first
}

const isSpring = (s: Statement, name: string | undefined): s is Block =>
  s.kind === 'block' && plainName(s.name.text) === 'spring' && labelOf(s) === name

/** The `let` of the same name in the same block that lies furthest back along `like`. */
export function letGroup({ node, home }: Written<Let>, files: Files): Let {
  const top = topOf(node, home)
  if (!top) return node
  const inner = blocksAround(top, node)
  let first = node
  for (const item of likeChain({ ...home, node: top }, files)) {
    let body: readonly Statement[] | undefined = item.node.body
    for (const b of inner) {
      const found: Statement | undefined = body?.find(
        s => s.kind === 'block' && plainName(s.name.text) === plainName(b.name.text) && labelOf(s) === labelOf(b),
      )
      body = found?.kind === 'block' ? found.body : undefined
    }
    const same = body?.find((s): s is Let => s.kind === 'let' && s.name?.text === node.name?.text)
    if (same) first = same
  }
  return first
}

/** The top-level block that holds a statement. */
function topOf(node: Statement, { chunk }: Written<Statement>['home']): Block | undefined {
  return chunk.statements.find((s): s is Block => s.kind === 'block' && s.start <= node.start && node.end <= s.end)
}

function blocksAround(top: Block, node: Statement): Block[] {
  const out: Block[] = []
  for (let at: Block | undefined = top; at; ) {
    at = at.body.find((s): s is Block => s.kind === 'block' && s !== node && s.start <= node.start && node.end <= s.end)
    if (at) out.push(at)
  }
  return out
}

/** An opening or stock block, what it is like, and so on back. */
export function likeChain(item: Item<Block>, files: Files): Item<Block>[] {
  const out: Item<Block>[] = []
  for (let at: Item<Block> | undefined = item; at && !out.some(o => o.node === at!.node); ) {
    out.push(at)
    const like: Block['like'] = at.node.like
    const target = like?.target
    if (!target) break
    const name = target.kind === 'text' ? target.value : target.text
    at = files.item(at.file, `${plainName(at.node.name.text)} ${name}`) as Item<Block> | undefined
  }
  return out
}
