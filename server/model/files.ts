/**
 * The files of a workspace and what each brings to the others: stock, openings, limits, lets.
 *
 * Every look-up goes through `find`, by file and key, so that whoever evaluated something can remember what it looked
 * up and ask later whether the answer would still be the same.
 */
import type { Block, Chunk, Source, Statement, Use } from '../../grammar/index.ts'

/** A top-level statement and where it stands. */
export interface Item<S extends Statement = Statement> {
  readonly file: string
  readonly chunk: Chunk
  readonly node: S
}

export type UseTarget =
  | { readonly ok: true; readonly file: string }
  | { readonly ok: false; readonly outside: boolean; readonly message: string }

/** How the model reaches other files; whoever runs it decides what may be read. */
export interface Host {
  /** Where `use "path"` in `from` leads, or why it may not be followed. */
  resolve(from: string, path: string): UseTarget
  /** The system that values are shown in, whatever the job says. */
  readonly units?: 'imperial' | 'metric'
  /** The file whose `limits` hold for all that `file` says nothing closer about: the limits of the house. */
  house?(file: string): string | undefined
}

/** What a file holds at its top level, by name. The first of two with one name counts. */
export interface FileIndex {
  readonly file: string
  readonly source: Source
  readonly uses: readonly Item<Use>[]
  readonly named: ReadonlyMap<string, Item>
  readonly limits: readonly Item<Block>[]
  readonly firstOpening: Item<Block> | undefined
}

export const labelOf = (block: Block): string | undefined =>
  block.label === undefined ? undefined : block.label.kind === 'text' ? block.label.value : block.label.text

/** What a top-level statement is called: a `let` by its name, a block by its label. */
export const nameOf = (node: Statement): string =>
  node.kind === 'let' ? (node.name?.text ?? '') : node.kind === 'block' ? (labelOf(node) ?? '') : ''

/** The key that a top-level statement is found under. */
export function keyOf(node: Statement): string | undefined {
  if (node.kind === 'let') return node.name && `let ${node.name.text}`
  if (node.kind !== 'block') return undefined
  if (node.name.text === 'job') return 'job'
  const label = labelOf(node)
  return label === undefined ? undefined : `${node.name.text} ${label}`
}

export function indexFile(file: string, source: Source): FileIndex {
  const uses: Item<Use>[] = []
  const named = new Map<string, Item>()
  const limits: Item<Block>[] = []
  let firstOpening: Item<Block> | undefined
  for (const chunk of source.chunks)
    for (const node of chunk.statements) {
      if (node.kind === 'use') uses.push({ file, chunk, node })
      else if (node.kind === 'block' && node.name.text === 'limits') limits.push({ file, chunk, node })
      if (node.kind === 'block' && node.name.text === 'opening') firstOpening ??= { file, chunk, node }
      const key = keyOf(node)
      if (key !== undefined && !named.has(key)) named.set(key, { file, chunk, node })
    }
  return { file, source, uses, named, limits, firstOpening }
}

/** One thing that was looked up, and what was found. */
export interface Dependency {
  readonly file: string
  readonly key: string
  readonly found: unknown
}

/** Everything looked up, each thing once. */
export type Dependencies = ReadonlyMap<string, Dependency>

export class Files {
  readonly #host: Host
  readonly #indexes = new Map<string, FileIndex>()
  readonly #reach = new Map<string, readonly FileIndex[]>()
  readonly #limits = new Map<string, readonly Item<Block>[]>()
  readonly #houses = new Map<string, string | undefined>()
  /** Counts the changes. */
  #now = 1
  /** When what a key means was last changed, for changes that left everything else as it was. */
  readonly #changed = new Map<string, number>()
  /** When anything at all may have changed last. */
  #anything = 1

  constructor(host: Host) {
    this.#host = host
  }

  get units(): 'imperial' | 'metric' | undefined {
    return this.#host.units
  }

  get(file: string): FileIndex | undefined {
    return this.#indexes.get(file)
  }

  set(file: string, source: Source): void {
    const index = indexFile(file, source)
    this.#note(changedKeys(this.#indexes.get(file), index))
    this.#indexes.set(file, index)
    this.#reach.clear()
  }

  delete(file: string): void {
    this.#note(undefined)
    this.#indexes.delete(file)
    this.#limits.delete(file)
    this.#houses.delete(file)
    this.#reach.clear()
  }

  get all(): Iterable<FileIndex> {
    return this.#indexes.values()
  }

  target(from: string, path: string): UseTarget {
    return this.#host.resolve(from, path)
  }

  /**
   * The files whose names count in `file`, the nearest first: itself, then those it uses, then those they use. Of two
   * equally near ones the later `use` comes first.
   */
  reach(file: string): readonly FileIndex[] {
    const cached = this.#reach.get(file)
    if (cached) return cached
    const own = this.#indexes.get(file)
    const out: FileIndex[] = []
    const seen = new Set<string>([file])
    let level = own ? [own] : []
    while (level.length > 0) {
      out.push(...level)
      const next: FileIndex[] = []
      for (const index of level)
        for (let i = index.uses.length - 1; i >= 0; i--) {
          const path = index.uses[i]!.node.path
          if (!path) continue
          const target = this.#host.resolve(index.file, path.value)
          if (!target.ok || seen.has(target.file)) continue
          seen.add(target.file)
          const used = this.#indexes.get(target.file)
          if (used) next.push(used)
        }
      level = next
    }
    this.#reach.set(file, out)
    return out
  }

  /** All files that `file` reaches by `use`, whether loaded or not. */
  usedBy(file: string): string[] {
    const out: string[] = []
    for (const item of this.#indexes.get(file)?.uses ?? []) {
      if (!item.node.path) continue
      const target = this.#host.resolve(file, item.node.path.value)
      if (target.ok) out.push(target.file)
    }
    return out
  }

  /** The circle that a `use` of `target` in `file` closes: the files from `target` back to `file`, or nothing. */
  useCircle(file: string, target: string): string[] | undefined {
    const seen = new Set<string>()
    const search = (at: string, trail: string[]): string[] | undefined => {
      if (at === file) return trail
      if (seen.has(at)) return undefined
      seen.add(at)
      for (const next of this.usedBy(at)) {
        const found = search(next, [...trail, next])
        if (found) return found
      }
      return undefined
    }
    return search(target, [target])
  }

  /**
   * What `key` means in `file`: `job` and `let NAME` in the file itself, `opening MARK` and stock (`slat NAME`) through
   * used files too, `limits` a list with the nearest first, `names KIND` all names of a kind that are in reach.
   */
  find(file: string, key: string): unknown {
    if (key === 'limits') return this.limits(file)
    if (key.startsWith('names '))
      return this.names(file, key.slice(6))
        .map(i => nameOf(i.node))
        .join('\n')
    if (key === 'first opening') {
      // by its mark, so that an edit inside of it touches no other
      const first = this.#indexes.get(file)?.firstOpening
      return first && labelOf(first.node)
    }
    if (key.startsWith('use ')) return this.#useState(file, key.slice(4))
    if (key.startsWith('own ')) return this.#indexes.get(file)?.named.get(key.slice(4))?.node
    return this.item(file, key)?.node
  }

  item(file: string, key: string): Item | undefined {
    const own = this.#indexes.get(file)?.named.get(key)
    if (own || key === 'job' || key.startsWith('let ')) return own
    for (const index of this.reach(file)) {
      const found = index.named.get(key)
      if (found) return found
    }
    return undefined
  }

  limits(file: string): readonly Item<Block>[] {
    const fresh: Item<Block>[] = []
    for (const index of this.reach(file))
      for (let i = index.limits.length - 1; i >= 0; i--) fresh.push(index.limits[i]!)
    const house = this.#host.house?.(file)
    if (house !== undefined) fresh.push(...(this.#indexes.get(house)?.limits ?? []))
    const old = this.#limits.get(file)
    if (old && old.length === fresh.length && old.every((item, i) => item.node === fresh[i]!.node)) return old
    this.#limits.set(file, fresh)
    return fresh
  }

  /** Names of a kind (`slat`, `opening`, `let`) in reach of a file, nearest first. */
  names(file: string, kind: string): Item[] {
    const seen = new Map<string, Item>()
    const prefix = `${kind} `
    for (const index of kind === 'let' ? [this.#indexes.get(file)] : this.reach(file))
      for (const [key, item] of index?.named ?? []) if (key.startsWith(prefix) && !seen.has(key)) seen.set(key, item)
    return [...seen.values()]
  }

  #useState(file: string, path: string): string {
    const target = this.#host.resolve(file, path)
    if (!target.ok) return target.message
    const circle = this.useCircle(file, target.file)
    return `${target.file} ${this.#indexes.has(target.file)} ${circle?.join(' ') ?? ''}`
  }

  // ---- what has changed

  /** Grows with every change. */
  get now(): number {
    return this.#now
  }

  /** Takes note of where the house limits of a file come from, before its units are looked at. */
  look(file: string): void {
    const house = this.#host.house?.(file)
    if (this.#houses.has(file) && this.#houses.get(file) !== house) this.#note(undefined)
    this.#houses.set(file, house)
  }

  /** @param keys those whose meaning has changed; undefined where it may be any */
  #note(keys: readonly string[] | undefined): void {
    this.#now++
    if (!keys || this.#changed.size > MOST_CHANGED) {
      this.#changed.clear()
      this.#anything = this.#now
    } else for (const key of keys) this.#changed.set(key, this.#now)
  }

  /**
   * Whether all that was looked up still means what was found.
   * @param since when it last did; only what has changed after that is looked at again. 0 looks at everything.
   */
  holds(dependencies: Dependencies, since = 0): boolean {
    if (since === this.#now) return true
    const all = since < this.#anything
    for (const d of dependencies.values())
      if ((all || (this.#changed.get(d.key) ?? 0) > since) && this.find(d.file, d.key) !== d.found) return false
    return true
  }
}

/** Keys that are remembered as changed. */
const MOST_CHANGED = 10_000

/** The keys that mean something else than before; undefined where names have come, gone or moved, or a `use` leads elsewhere. */
function changedKeys(old: FileIndex | undefined, fresh: FileIndex): readonly string[] | undefined {
  const label = ({ firstOpening }: FileIndex): string | undefined => firstOpening && labelOf(firstOpening.node)
  if (
    !old ||
    old.named.size !== fresh.named.size ||
    old.limits.length !== fresh.limits.length ||
    old.uses.length !== fresh.uses.length ||
    old.uses.some((u, i) => u.node.path?.value !== fresh.uses[i]!.node.path?.value) ||
    label(old) !== label(fresh)
  )
    return undefined
  const out = old.limits.some((l, i) => l.node !== fresh.limits[i]!.node) ? ['limits'] : []
  const before = old.named.entries()
  for (const [key, { node }] of fresh.named) {
    const [was, item] = before.next().value!
    if (was !== key) return undefined
    if (item.node !== node) out.push(key, `own ${key}`)
  }
  return out
}
