/**
 * An opening (or a stock block) put together: what is written in it, over what it copies by `like`, over stock.
 * Expressions stay expressions here; each remembers the home it was written in.
 */
import type { Allow, Block, Field, Label, Let, Require, Span, Statement } from '../../grammar/index.ts'
import type { Dependency, Files, Item } from './files.ts'
import { labelOf, nameOf } from './files.ts'
import type { Finding, Place } from './finding.ts'
import { nearestNames } from './names.ts'
import type { BlockSpec } from './spec.ts'
import type { Cell, Value } from './value.ts'
import { plainName, standardPipe, topBlock } from './vocabulary/index.ts'

/** Where a piece of text was written, and how it got here. */
export interface Home {
  readonly file: string
  readonly chunk: Item['chunk']
  /** The clause in the asking opening through which it came (`like "Dock 3"`, `slat = flat_20`). */
  readonly via?: Place
  /** True for what lies outside the opening (stock, limits of the file): its own findings are made where it stands. */
  readonly outside?: boolean
}

export interface Written<S extends Statement> {
  readonly node: S
  readonly home: Home
}

export type FieldSource = Written<Field> | { readonly constant: Value; readonly node?: undefined; readonly home?: Home }

export interface Instance {
  readonly spec: BlockSpec
  readonly parent: Instance | undefined
  /** Full path: `opening`, `curtain.slat`, `spring[0]`. */
  path: string
  /** Its name where it has one (`long`). */
  name: string | undefined
  fields: ReadonlyMap<string, FieldSource>
  /** What the nearest value of a field has replaced; kept for limits, which are judged against it, and where another field took its place. */
  under: ReadonlyMap<string, FieldSource>
  lets: ReadonlyMap<string, Written<Let>>
  readonly blocks: Instance[]
  /** Where it is written; the nearest where it is both copied and written. */
  written: Written<Block> | undefined
  requires: readonly Written<Require>[]
  allows: readonly Written<Allow>[]
  /** Fields and derived values once worked out, each in its slot. */
  cells: (Cell | undefined)[] | undefined
  letCells: Map<Let, Cell> | undefined
  /** The stock item could not be found: everything in here is unknown and has been reported. */
  broken: boolean
}

/** Openings that may be copied from one another in a row. */
const MOST_COPIES = 50

/** Blocks that belong to one opening on one site: `like` leaves them behind. */
const NOT_COPIED = new Set(['survey', 'installed', 'delivery', 'handover'])

/** A field that, where it is written nearer, takes the place of one that was copied and would go before it. */
const TAKES_PLACE_OF: Readonly<Record<string, Readonly<Record<string, string>>>> = { slat: { gauge: 'weight' } }

export const placeOf = (home: Home, span: Span): Place =>
  home.via ?? { file: home.file, chunk: home.chunk, start: span.start, end: span.end }

/** The text where it was written, whatever way it came here. */
export const origin = (home: Home, span: Span): Place => ({
  file: home.file,
  chunk: home.chunk,
  start: span.start,
  end: span.end,
})

/** Most blocks of an opening are not written and have nothing of their own: they share these. */
const NONE: ReadonlyMap<string, never> = new Map<string, never>()
const NO_STATEMENTS: readonly never[] = []

export function put<V>(map: ReadonlyMap<string, V>, key: string, value: V): ReadonlyMap<string, V> {
  return map.size === 0 ? new Map([[key, value]]) : (map as Map<string, V>).set(key, value)
}

const without = <V>(map: ReadonlyMap<string, V>, key: string): ReadonlyMap<string, V> =>
  new Map([...map].filter(([k]) => k !== key))

export function instance(spec: BlockSpec, parent: Instance | undefined, path: string): Instance {
  return {
    spec,
    parent,
    path,
    name: undefined,
    fields: NONE,
    under: NONE,
    lets: NONE,
    blocks: [],
    written: undefined,
    requires: NO_STATEMENTS,
    allows: NO_STATEMENTS,
    cells: undefined,
    letCells: undefined,
    broken: false,
  }
}

export class Builder {
  readonly #files: Files
  readonly #report: (finding: Finding) => void
  /** Whether a `like` of the opening led nowhere or in a circle. */
  likeFailed = false
  /** Everything looked up so far, with what was found. */
  readonly dependencies: Map<string, Dependency>

  constructor(files: Files, report: (finding: Finding) => void, dependencies: Map<string, Dependency>) {
    this.#files = files
    this.#report = report
    this.dependencies = dependencies
  }

  /** What a look-up finds, remembered as something this depends on. */
  found(file: string, key: string): unknown {
    const found = this.#files.find(file, key)
    // the first answer is what was built upon
    const id = `${file}\0${key}`
    if (!this.dependencies.has(id)) this.dependencies.set(id, { file, key, found })
    return found
  }

  find(file: string, key: string): Item<never> | undefined {
    this.found(file, key)
    return this.#files.item(file, key) as Item<never> | undefined
  }

  /** The names of a kind that are in reach of a file, the nearest first. */
  names(file: string, kind: string): string[] {
    this.found(file, `names ${kind}`)
    return this.#files.names(file, kind).map(i => nameOf(i.node))
  }

  /** An opening, whole: every single block of the vocabulary stands in it, written or not. */
  opening(item: Item<Block>): Instance {
    const root = instance(topBlock('opening')!, undefined, 'opening')
    root.name = labelOf(item.node)
    this.found(item.file, 'limits')
    const limits = instance(root.spec.blocks.get('limits')!, root, 'limits')
    root.blocks.push(limits)
    for (const level of [...this.#files.limits(item.file)].reverse())
      this.#statements(limits, level.node.body, { file: level.file, chunk: level.chunk, outside: true })
    this.#open(root, item, { file: item.file, chunk: item.chunk }, [])
    finish(root)
    return root
  }

  /** A stock block or the job on its own. */
  single(item: Item<Block>): Instance {
    const root = instance(topBlock(plainName(item.node.name.text))!, undefined, plainName(item.node.name.text))
    root.name = labelOf(item.node)
    this.#block(root, item.node, { file: item.file, chunk: item.chunk }, [item])
    finish(root)
    return root
  }

  #open(root: Instance, item: Item<Block>, home: Home, trail: readonly Item<Block>[]): void {
    const like = item.node.like
    if (like?.target) {
      const mark = like.target.kind === 'text' ? like.target.value : like.target.text
      const base = this.find(home.file, `opening ${mark}`) as Item<Block> | undefined
      const around = [...trail, item]
      if (!base || around.some(i => i.node === base.node)) this.likeFailed = true
      if (!base) {
        const near = this.#near(home, 'opening', mark).filter(n => !around.some(i => labelOf(i.node) === n))
        this.#likeFailed(
          home,
          like.target,
          `No opening "${mark}" in this file or in the files it uses.${offer(near)}`,
          near,
          n => JSON.stringify(n),
        )
      } else if (around.some(i => i.node === base.node)) this.#likeCircle(around, base, home.via ?? origin(home, like))
      else if (around.length > MOST_COPIES) {
        this.likeFailed = true
        const top = around[0]!
        this.#report({
          rule: 'like_failed',
          message: `More than ${MOST_COPIES} openings are copied from one another in a row here. Copy from the first of them.`,
          place: origin(top, top.node.like!),
        })
      } else this.#open(root, base, { file: base.file, chunk: base.chunk, via: home.via ?? origin(home, like) }, around)
    }
    this.#statements(root, item.node.body, home)
    root.written = { node: item.node, home }
  }

  #likeFailed(
    home: Home,
    target: Label,
    message: string,
    near: readonly string[],
    write: (name: string) => string,
  ): void {
    if (home.via || home.outside) return
    const place = origin(home, target)
    this.#report({
      rule: 'like_failed',
      message,
      place,
      fixes: near.map(n => ({ title: `Write \`${write(n)}\``, safe: false, edits: [{ place, text: write(n) }] })),
    })
  }

  /** A circle is reported once, at the first of its members by name; what only leads into one is not at fault. */
  #likeCircle(trail: readonly Item<Block>[], last: Item<Block>, place: Place): void {
    const top = trail[0]!
    if (last.node !== top.node) return
    const names = trail.map(i => labelOf(i.node) ?? '')
    if (trail.some((i, n) => i.file === top.file && names[n]! < names[0]!)) return
    const loop = [...names, names[0]!].map(n => `"${n}"`).join(' is like ')
    this.#report({ rule: 'circle', message: `A circle of \`like\`: ${loop}. Write out what one of them needs.`, place })
  }

  #near(home: Home, kind: string, name: string): string[] {
    return nearestNames(name, [...this.names(home.file, kind), ...(kind === 'pipe' ? standardPipe.names() : [])])
  }

  #block(into: Instance, node: Block, home: Home, trail: readonly Item<Block>[]): void {
    if (node.like?.target) this.#stock(into, labelText(node.like.target), node.like.target, home, trail)
    this.#statements(into, node.body, home)
    into.written = { node, home }
  }

  /** Copies a stock block's statements in. */
  #stock(into: Instance, name: string, at: Span, home: Home, trail: readonly Item<Block>[], viaField?: Place): void {
    const kind = into.spec.name
    const item = this.find(home.file, `${kind} ${name}`) as Item<Block> | undefined
    if (!item) {
      if (kind === 'pipe' && this.#standardPipe(into, name, home, at)) return
      into.broken = true
      if (!home.via && !home.outside) {
        const place = origin(home, at)
        this.#report({
          rule: viaField ? 'unknown_name' : 'like_failed',
          message: this.#noStock(kind, name, home),
          place,
          fixes: this.#near(home, kind, name).map(n => ({
            title: `Write \`${n}\``,
            safe: false,
            edits: [{ place, text: n }],
          })),
        })
      }
      return
    }
    if (trail.some(i => i.node === item.node)) {
      into.broken = true
      if (!into.parent) this.#likeCircle(trail, item, home.via ?? origin(home, at))
      return
    }
    const via = home.via ?? viaField ?? origin(home, at)
    this.#block(into, item.node, { file: item.file, chunk: item.chunk, via, outside: true }, [...trail, item])
  }

  #standardPipe(into: Instance, name: string, home: Home, at: Span): boolean {
    const pipe = standardPipe(name)
    if (!pipe) return false
    const via: Home = { ...home, via: home.via ?? origin(home, at), outside: true }
    for (const [field, constant] of pipe) into.fields = put(into.fields, field, { constant, home: via })
    return true
  }

  #noStock(kind: string, name: string, home: Home): string {
    const near = this.#near(home, kind, name)
    const names = this.names(home.file, kind)
    const have = near.length
      ? offer(near)
      : names.length
        ? ` In reach: ${names.slice(0, 6).join(', ')}${names.length > 6 ? ' ...' : ''}.`
        : ''
    return `No ${kind} named \`${name}\` in this file or in the files it uses.${have} Write one (\`${kind} ${name} { ... }\`) or \`use\` the stock file that has it.`
  }

  #statements(into: Instance, body: readonly Statement[], home: Home): void {
    const copied = [...into.blocks]
    let replaced = false
    const own = new Set<string>()
    for (const node of body) {
      if (node.kind === 'field') {
        const name = plainName(node.name.text)
        if (!into.spec.fields.has(name) || own.has(name)) continue
        own.add(name)
        const before = into.fields.get(name)
        if (before && into.spec.name === 'limits') into.under = put(into.under, name, before)
        const other = TAKES_PLACE_OF[into.spec.name]?.[name]
        const far = other && !own.has(other) ? into.fields.get(other) : undefined
        if (far) {
          into.under = put(into.under, other!, far)
          into.fields = without(into.fields, other!)
        }
        into.fields = put(into.fields, name, { node, home })
        const takes = into.spec.fields.get(name)!.takes
        if (takes.kind === 'stock') this.#stockField(into, takes.block, node, home)
      } else if (node.kind === 'let') {
        if (node.name && !own.has(`let ${node.name.text}`)) into.lets = put(into.lets, node.name.text, { node, home })
        if (node.name) own.add(`let ${node.name.text}`)
      } else if (node.kind === 'require') into.requires = [...into.requires, { node, home }]
      else if (node.kind === 'allow') {
        if (!home.via) into.allows = [...into.allows, { node, home }]
      } else if (node.kind === 'block') {
        const spec = into.spec.blocks.get(plainName(node.name.text))
        if (!spec || (home.via && NOT_COPIED.has(spec.name))) continue
        if (spec.repeatable) {
          const key = node.label && `${spec.name} ${labelText(node.label)}`
          if (key && own.has(key)) continue
          if (key) own.add(key)
          if (!key && !replaced) {
            // an unnamed one takes the place of all that were copied
            for (const old of copied)
              if (old.spec === spec && into.blocks.includes(old)) into.blocks.splice(into.blocks.indexOf(old), 1)
            replaced = true
          }
          this.#repeatable(into, spec, node, home)
        } else if (!own.has(spec.name)) {
          own.add(spec.name)
          let child = into.blocks.find(b => b.spec === spec)
          if (child && into.spec.fields.has(spec.name)) {
            // `slat { }` replaces `slat = x`, wherever that was written; two slat blocks override field by field
            if (into.fields.has(spec.name)) {
              into.fields = without(into.fields, spec.name)
              child = replace(into, child)
            }
          }
          if (child && node.like) child = replace(into, child)
          if (!child) into.blocks.push((child = instance(spec, into, pathIn(into, spec.name))))
          this.#block(child, node, home, [])
        }
      }
    }
  }

  #repeatable(into: Instance, spec: BlockSpec, node: Block, home: Home): void {
    const name = labelOf(node)
    let child = name === undefined ? undefined : into.blocks.find(b => b.spec === spec && b.name === name)
    if (child && node.like) child = replace(into, child)
    if (!child) into.blocks.push((child = instance(spec, into, spec.name)))
    child.name = name
    this.#block(child, node, home, [])
  }

  #stockField(into: Instance, kind: string, node: Field, home: Home): void {
    const spec = into.spec.blocks.get(kind)!
    const old = into.blocks.find(b => b.spec === spec)
    const child = old ? replace(into, old) : instance(spec, into, pathIn(into, kind))
    if (!old) into.blocks.push(child)
    const value = node.value
    if (value.kind === 'path' && value.names.length === 1)
      this.#stock(child, value.names[0]!.text, value, home, [], home.via ?? origin(home, value))
    else child.broken = true
  }
}

const labelText = (label: Label): string => (label.kind === 'text' ? label.value : label.text)
const pathIn = (parent: Instance, name: string): string => (parent.parent ? `${parent.path}.${name}` : name)

const offer = (near: readonly string[]): string =>
  near.length ? ` Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?` : ''

function replace(into: Instance, old: Instance): Instance {
  const fresh = instance(old.spec, into, old.path)
  into.blocks[into.blocks.indexOf(old)] = fresh
  return fresh
}

/** Gives the springs their index and adds the blocks that nobody wrote, so that their derived values exist. */
function finish(root: Instance): void {
  let springs = 0
  const visit = (at: Instance): void => {
    for (const spec of at.spec.blocks.values()) {
      if (spec.repeatable || spec.name === 'operator' || at.blocks.some(b => b.spec === spec)) continue
      at.blocks.push(instance(spec, at, pathIn(at, spec.name)))
    }
    for (const b of at.blocks) {
      if (b.spec.repeatable) b.path = `${b.spec.name}[${springs++}]`
      visit(b)
    }
  }
  visit(root)
}
