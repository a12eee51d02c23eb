/**
 * Every name in a chunk with what it means: the one look at names that definition, references, rename, highlights and
 * colours share. Two mentions mean the same where `of` is the same object and `path` the same text.
 */
import type { Binary, Block, Chunk, Expression, Field, Label, Let, Path, Span, Statement } from '../../grammar/index.ts'
import {
  type BlockSpec,
  type Evaluator,
  type Files,
  headerOf,
  type Instance,
  type Item,
  origin,
  type Parts,
  type Place,
  plainName,
  type Scope,
  standardPipe,
  type Target,
  topBlock,
  type Unit,
  ungroup,
} from '../model/index.ts'
import { instanceOf, rootsOf } from './at.ts'
import { letGroup, springGroup } from './groups.ts'

export type MentionKind =
  | 'opening'
  | 'stock'
  | 'spring'
  | 'let'
  | 'field'
  | 'derived'
  /** The word that a block starts with, and a block named by its kind in a path. */
  | 'block'
  | 'word'
  | 'function'
  | 'rule'

export interface Meaning {
  /** The statement that gives it; for what nobody wrote, the top-level block that it belongs to. */
  readonly of: object
  readonly path: string
}

export interface Mention {
  readonly kind: MentionKind
  readonly span: Span
  readonly name: string
  readonly definition: boolean
  /** The kind of block that an opening or stock item is: `slat`. */
  readonly of?: string
  readonly meaning?: Meaning
  /** The nearest place where it is written. */
  readonly at?: Place
  readonly target?: Target
  readonly block?: Instance
  /** What the block of an opening's value, or of a stock item, belongs to. */
  readonly root?: Instance
}

/** Standard pipes are nobody's statement. */
const STANDARD = {}
/** By what they lead to, and gone with it. */
const kept = new WeakMap<Parts, readonly Mention[]>()

/** @param any an evaluator of the same file, for what stands at its top level */
export function mentions(unit: Unit, files: Files, any: () => Evaluator | undefined): readonly Mention[] {
  const { parts } = unit
  const old = kept.get(parts)
  if (old) return old
  const out = new Walker(unit, files, any).run()
  // what stands at the top of a file hangs on other chunks, so it is looked at again each time
  if (!unit.empty) kept.set(parts, out)
  return out
}

/** A mention without what it leads to, which is large. */
export type Meant = Pick<Mention, 'kind' | 'span' | 'name' | 'definition' | 'meaning'>
const keptMeant = new WeakMap<Unit, readonly Meant[]>()

/** Those that mean something. Kept as long as the unit, so one may ask for it of all units of a file. */
export function meant(unit: Unit, files: Files, any: () => Evaluator | undefined): readonly Meant[] {
  const old = keptMeant.get(unit)
  if (old) return old
  const out = mentions(unit, files, any)
    .filter(m => m.meaning)
    .map(({ kind, span, name, definition, meaning }) => ({ kind, span, name, definition, meaning }))
  if (!unit.empty) keptMeant.set(unit, out)
  return out
}

export const sameMeaning = (a: Meaning | undefined, b: Meaning | undefined): boolean =>
  a !== undefined && b !== undefined && a.of === b.of && a.path === b.path

/** The mention that an offset stands in or behind; of two neighbours the one that starts there. */
export const mentionAt = (all: readonly Mention[], offset: number): Mention | undefined =>
  all.findLast(m => m.span.start <= offset && offset <= m.span.end)

export const textOfLabel = (label: Label): string => (label.kind === 'text' ? label.value : label.text)

/** Where a path leads and whose value it is. */
export function meaningOf(target: Target, files: Files): Meaning {
  if (target.kind === 'let') return { of: letGroup(target.written, files), path: '' }
  const source = target.instance.fields.get(target.spec.name)
  if (source?.node) return { of: source.node, path: '' }
  const root = rootOf(target.instance)
  return { of: root.written?.node ?? root, path: `${target.instance.path}.${target.spec.name}` }
}

export const rootOf = (at: Instance): Instance => (at.parent ? rootOf(at.parent) : at)

class Walker {
  readonly #unit: Unit
  readonly #file: string
  readonly #chunk: Chunk
  readonly #files: Files
  readonly #any: () => Evaluator | undefined
  readonly #out: Mention[] = []

  constructor(unit: Unit, files: Files, any: () => Evaluator | undefined) {
    this.#unit = unit
    this.#file = unit.file
    this.#chunk = unit.chunk
    this.#files = files
    this.#any = any
  }

  run(): readonly Mention[] {
    const roots = rootsOf(this.#unit)
    for (const node of this.#chunk.statements) {
      const root = roots.find(r => r.node === node)
      if (node.kind === 'block') this.#block(node, topBlock(plainName(node.name.text)), root?.instance, root?.evaluator)
      else this.#statement(node, undefined, undefined, undefined)
    }
    return this.#out.sort((a, b) => a.span.start - b.span.start)
  }

  #add(kind: MentionKind, span: Span, rest: Partial<Mention> = {}): void {
    this.#out.push({ kind, span, name: this.#chunk.text.slice(span.start, span.end), definition: false, ...rest })
  }

  #place = (span: Span): Place => origin({ file: this.#file, chunk: this.#chunk }, span)

  #block(
    node: Block,
    spec: BlockSpec | undefined,
    at: Instance | undefined,
    evaluator: Evaluator | undefined,
    inner = false,
  ): void {
    this.#add('block', node.name, { definition: true, block: at, at: this.#place(headerOf(node)) })
    const kind = plainName(node.name.text)
    if (node.label && spec) this.#label(node, node.label, spec, inner)
    const like = node.like?.target
    if (like && spec) this.#named(kind, textOfLabel(like), like)
    if (spec) for (const s of node.body) this.#statement(s, spec, at, evaluator)
  }

  #label(node: Block, label: Label, spec: BlockSpec, inner: boolean): void {
    const shared = { name: textOfLabel(label), of: spec.name, definition: true, at: this.#place(headerOf(node)) }
    if (inner) {
      if (spec.repeatable)
        this.#add('spring', label, {
          ...shared,
          meaning: { of: springGroup(this.#written(node), this.#files), path: '' },
        })
    } else if (spec.name === 'opening') this.#add('opening', label, { ...shared, meaning: { of: node, path: '' } })
    else if (spec.name !== 'job' && spec.name !== 'limits')
      this.#add('stock', label, { ...shared, meaning: { of: node, path: '' } })
  }

  #written = <S extends Statement>(node: S) => ({ node, home: { file: this.#file, chunk: this.#chunk } })

  /** The name of an opening or stock item that is meant from afar. */
  #named(kind: string, name: string, span: Span): void {
    const item = this.#files.item(this.#file, `${kind} ${name}`) as Item<Block> | undefined
    const as = kind === 'opening' ? 'opening' : 'stock'
    if (item)
      this.#add(as, span, {
        name,
        of: kind,
        meaning: { of: item.node, path: '' },
        at: origin(item, headerOf(item.node)),
      })
    else if (kind === 'pipe' && standardPipe(name))
      this.#add(as, span, { name, of: kind, meaning: { of: STANDARD, path: name } })
    else this.#add(as, span, { name, of: kind })
  }

  #statement(
    node: Statement,
    spec: BlockSpec | undefined,
    at: Instance | undefined,
    evaluator: Evaluator | undefined,
  ): void {
    const scope: Scope = { instance: at, home: { file: this.#file, chunk: this.#chunk } }
    if (node.kind === 'field') this.#field(node, spec, at, scope, evaluator)
    else if (node.kind === 'let') {
      if (node.name) this.#let(node, scope)
      this.#expression(node.value, scope, evaluator)
    } else if (node.kind === 'require') this.#expression(node.value, scope, evaluator)
    else if (node.kind === 'allow') {
      if (node.rule) this.#add('rule', node.rule)
    } else if (node.kind === 'block') {
      const inner = spec?.blocks.get(plainName(node.name.text))
      this.#block(node, inner, instanceOf(at, node, inner), evaluator, true)
    }
  }

  #let(node: Let, { instance }: Scope): void {
    const written = this.#written(node)
    const meaning = { of: letGroup(written, this.#files), path: '' }
    const target: Target = { kind: 'let', written, instance }
    this.#add('let', node.name!, { definition: true, meaning, at: this.#place(node.name!), target })
  }

  #field(
    node: Field,
    spec: BlockSpec | undefined,
    at: Instance | undefined,
    scope: Scope,
    evaluator: Evaluator | undefined,
  ): void {
    const name = plainName(node.name.text)
    const field = spec?.fields.get(name)
    const known: Target | undefined = field && at && { kind: 'field', instance: at, spec: field }
    this.#add(field || !spec?.derived.has(name) ? 'field' : 'derived', node.name, {
      name,
      definition: true,
      at: this.#place(node.name),
      meaning: { of: node, path: '' },
      target: known,
      root: at && rootOf(at),
    })
    const takes = field?.takes
    const e = ungroup(node.value)
    if ((takes?.kind === 'word' || takes?.kind === 'stock') && e.kind === 'path' && e.names.length === 1) {
      if (takes.kind === 'stock') this.#named(takes.block, e.names[0]!.text, e)
      else this.#add('word', e)
    } else this.#expression(node.value, scope, evaluator)
  }

  #expression(e: Expression, scope: Scope, evaluator: Evaluator | undefined): void {
    const inside = (x: Expression): void => this.#expression(x, scope, evaluator)
    if (e.kind === 'path') this.#path(e, scope, evaluator)
    else if (e.kind === 'call') {
      this.#add('function', e.name)
      e.args.forEach(inside)
    } else if (e.kind === 'list') e.items.forEach(inside)
    else if (e.kind === 'group') inside(e.inner)
    else if (e.kind === 'unary') inside(e.operand)
    else if (e.kind === 'binary') {
      const word = e.operator === '==' || e.operator === '!=' ? this.#wordBeside(e, scope, evaluator) : undefined
      for (const side of [e.left, e.right]) if (side !== word?.side) inside(side)
      if (word?.stock !== undefined) this.#named(word.stock, word.path.names[0]!.text, word.path)
      else if (word) this.#add('word', word.path)
    }
  }

  /** Beside `==` and `!=` a bare name is a word, or the name of a stock item, where the other side takes such: as in the evaluator. */
  #wordBeside(e: Binary, scope: Scope, evaluator: Evaluator | undefined) {
    if (!evaluator) return undefined
    for (const [one, other] of [
      [e.left, e.right],
      [e.right, e.left],
    ] as const) {
      const [path, word] = [ungroup(one), ungroup(other)]
      if (path.kind !== 'path' || word.kind !== 'path' || word.names.length !== 1) continue
      const words = evaluator.wordsOf(path, scope)
      if (!words) continue
      const others = evaluator.wordsOf(word, scope)
      if (words === 'any' ? others === 'any' : others && !words.includes(word.names[0]!.text)) continue
      const target = evaluator.target(namesOf(path), scope)
      const takes = target && target.kind === 'field' ? target.spec.takes : undefined
      return { side: other, path: word, stock: takes?.kind === 'stock' ? takes.block : undefined }
    }
    return undefined
  }

  #path(p: Path, scope: Scope, own: Evaluator | undefined): void {
    const evaluator = own ?? this.#any()
    if (!evaluator) {
      this.#fileLet(p)
      return
    }
    let block = p.names.length > 1 ? evaluator.names.blockNamed(p.names[0]!.text, scope) : undefined
    p.names.slice(0, -1).forEach((word, i) => {
      if (i > 0) block = block && childNamed(block, word.text)
      if (
        block?.spec.repeatable &&
        block.name === word.text &&
        block.written &&
        plainName(word.text) !== block.spec.name
      )
        this.#add('spring', word, {
          meaning: { of: springGroup(block.written, this.#files), path: '' },
          at: origin(block.written.home, headerOf(block.written.node)),
          block,
        })
      else
        this.#add('block', word, {
          block,
          at: block?.written && origin(block.written.home, headerOf(block.written.node)),
        })
    })
    const last = p.names.at(-1)!
    const target = evaluator.target(namesOf(p), scope)
    if (target) this.#value(last, target)
  }

  #value(span: Span, target: Target): void {
    const shared = { target, meaning: meaningOf(target, this.#files) }
    if (target.kind === 'let') {
      this.#add('let', span, { ...shared, at: origin(target.written.home, target.written.node.name!) })
      return
    }
    const source = target.instance.fields.get(target.spec.name)
    this.#add(target.kind, span, {
      ...shared,
      at: source?.node && origin(source.home, source.node.name),
      root: rootOf(target.instance),
    })
  }

  /** In a file without any block only its own lets can be meant. */
  #fileLet(p: Path): void {
    const item = p.names.length === 1 ? this.#files.item(this.#file, `let ${p.names[0]!.text}`) : undefined
    if (item?.node.kind === 'let' && item.node.name)
      this.#add('let', p, { meaning: { of: item.node, path: '' }, at: origin(item, item.node.name) })
  }
}

const namesOf = (p: Path): string[] => p.names.map(n => n.text)

const childNamed = (at: Instance, name: string): Instance | undefined =>
  at.blocks.find(b => b.spec.name === plainName(name)) ?? at.blocks.find(b => b.name === name)
