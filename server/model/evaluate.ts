/**
 * Values on demand: a field or derived value is computed when first asked for, once. Unknown stays unknown and names
 * the missing field; a circle is reported whole.
 */
import type { Block, Field, Let, Path, Span } from '../../grammar/index.ts'
import { DIMENSION, type Dimension } from '../units/index.ts'
import { type Env, evaluate, type Scope, type SimpleFix, ungroup, withUnit } from './expression.ts'
import type { Files, Item } from './files.ts'
import type { Finding } from './finding.ts'
import { Builder, type FieldSource, type Home, type Instance, origin, placeOf, type Written } from './instance.ts'
import { childOfKind, missingPath, Names, pathOf, type Target } from './paths.ts'
import { type Computed, type Derivation, dimensionOf, type FieldSpec, type Input, type Member } from './spec.ts'
import {
  type Cell,
  faulty,
  known,
  number,
  plain,
  type Result,
  RUNNING,
  truth,
  unknown,
  type Value,
  word,
} from './value.ts'
import { plainName } from './vocabulary/index.ts'
import { WrittenField } from './written.ts'

interface Running {
  /** The block it is in; nothing for a `let` outside of all. */
  readonly at: Instance | undefined
  readonly name: string
  readonly written: Written<Field | Let> | undefined
  readonly key: object
}

/** Values that may wait for one another in a row: far more than a job has, and few enough to be worked out. */
const MOST_DEEP = 100
const NO_OVERRIDES: ReadonlyMap<string, Value> = new Map()

export class Evaluator implements Env {
  readonly root: Instance | undefined
  readonly #files: Files
  readonly #file: string
  readonly #builder: Builder
  readonly #report: (finding: Finding) => void
  readonly #lets = new Map<Let, Cell>()
  readonly #running: Running[] = []
  /** The circles that have been reported, by the written statements in them. */
  readonly #circles = new Set<string>()
  readonly names: Names
  readonly #fields = new WrittenField(this)
  readonly #jobs = new Map<string, Instance | undefined>()
  readonly #blocks = new Map<string, Instance | undefined>()
  #quiet = false
  /** Values put in place of what is written: for asking "what if". */
  readonly overrides: ReadonlyMap<string, Value>

  constructor(
    files: Files,
    file: string,
    builder: Builder,
    root: Instance | undefined,
    report: (finding: Finding) => void,
    overrides: ReadonlyMap<string, Value> = NO_OVERRIDES,
  ) {
    this.#files = files
    this.#file = file
    this.#builder = builder
    this.root = root
    this.#report = report
    this.overrides = overrides
    this.names = new Names(root, builder, f => this.#jobOf(f))
  }

  // ---- what expressions ask of the world

  source = (home: Home, span: Span): string => home.chunk.text.slice(span.start, span.end)

  report = (home: Home, at: Span, rule: string, message: string, fixes: readonly SimpleFix[] = []): void => {
    if (home.outside || this.#quiet) return
    this.#report({
      rule,
      message,
      place: placeOf(home, at),
      related: home.via ? [{ place: origin(home, at), message: 'written here' }] : [],
      fixes: home.via
        ? []
        : fixes.map(f => ({
            title: f.title,
            safe: f.safe ?? false,
            edits: [{ place: origin(home, f.at), text: f.text }],
          })),
    })
  }

  path = (path: Path, scope: Scope): Result => {
    const names = path.names.map(n => n.text)
    const target = this.names.target(names, scope)
    if (target) {
      this.#tradeWords(path, target, scope)
      return this.value(target)
    }
    const absent = this.names.absent(names, scope)
    if (absent)
      return unknown([plainName(names[0]!)], 'takes' in absent ? dimensionOf(absent) : DIMENSION[absent.dimension])
    this.names.unknown(path, scope, this.report)
    return faulty()
  }

  wordsOf = (path: Path, scope: Scope): readonly string[] | 'any' | undefined => {
    const names = path.names.map(n => n.text)
    const target = this.names.target(names, scope)
    const spec = target ? (target.kind === 'let' ? undefined : target.spec) : this.names.absent(names, scope)
    if (!spec) return undefined
    if (!('takes' in spec)) return spec.words && Object.keys(spec.words)
    return spec.takes.kind === 'word' ? Object.keys(spec.takes.words) : spec.takes.kind === 'stock' ? 'any' : undefined
  }

  /** A trade word in a path is understood, and the word of the language offered for it. */
  #tradeWords(path: Path, target: Target, scope: Scope): void {
    for (const [i, name] of path.names.entries()) {
      const plain = plainName(name.text)
      if (plain === name.text || target.kind === 'let') continue
      const last = i === path.names.length - 1
      if (last ? target.spec.name !== plain : this.names.blockNamed(name.text, scope)?.spec.name !== plain) continue
      this.report(scope.home, name, 'trade_word', `The word of the language for \`${name.text}\` is \`${plain}\`.`, [
        { title: `Write \`${plain}\``, at: name, text: plain, safe: true },
      ])
    }
  }

  /** What a path means where it stands. */
  target(names: readonly string[], scope: Scope): Target | undefined {
    return this.names.target(names, scope)
  }

  get job(): Instance | undefined {
    return this.#jobOf(this.#file)
  }

  /** The job of the file that a name is written in: names keep their meaning where they are copied to. */
  #jobOf(file: string): Instance | undefined {
    if (!this.#jobs.has(file)) {
      if (this.root?.spec.name === 'job' && file === this.#file) return this.root
      const item = this.#builder.find(file, 'job') as Item<Block> | undefined
      // what is wrong in the job is reported where the job stands
      this.#jobs.set(file, item && outside(new Builder(this.#files, () => {}, this.#builder.dependencies).single(item)))
    }
    return this.#jobs.get(file)
  }

  get system(): 'imperial' | 'metric' {
    if (this.#files.units) return this.#files.units
    const job = this.job
    const units = job && this.field(job, 'units')
    return units?.state === 'known' && units.value.kind === 'word' && units.value.word === 'metric'
      ? 'metric'
      : 'imperial'
  }

  // ---- values

  value(target: Target): Result {
    if (target.kind === 'let') return this.#let(target.written, target.instance)
    return this.field(target.instance, target.spec.name)
  }

  #let(written: Written<Let>, inside: Instance | undefined): Result {
    const cells = inside ? (inside.letCells ??= new Map<Let, Cell>()) : this.#lets
    const { node, home } = written
    const cached = cells.get(node)
    if (cached && cached !== RUNNING) return cached
    const running = { at: undefined, name: node.name!.text, written, key: cells }
    if (cached) return this.#circle(running)
    if (this.#running.length >= MOST_DEEP) return this.#tooDeep()
    cells.set(node, RUNNING)
    this.#running.push(running)
    const result = evaluate(node.value, { instance: inside, home }, this)
    this.#running.pop()
    cells.set(node, result)
    return result
  }

  /** The value of a field or derived value of a block. */
  field(at: Instance, name: string): Result {
    const member = at.spec.members.get(name)
    if (!member) return faulty()
    const cells = (at.cells ??= new Array<Cell | undefined>(at.spec.members.size))
    const cached = cells[member.slot]
    if (cached && cached !== RUNNING) return cached
    const source = at.fields.get(name)
    const fixed = source ? undefined : this.#unwritten(at, member)
    if (fixed) return (cells[member.slot] = fixed)
    const running = { at, name, written: source?.node ? (source as Written<Field>) : undefined, key: cells }
    if (cached) return this.#circle(running)
    if (this.#running.length >= MOST_DEEP) return this.#tooDeep()
    cells[member.slot] = RUNNING
    this.#running.push(running)
    const result = this.#compute(at, member, source)
    this.#running.pop()
    return (cells[member.slot] = result)
  }

  /** What a field that nobody wrote is, where nothing has to be worked out for it. */
  #unwritten(at: Instance, { field: spec }: Member): Result | undefined {
    if (!spec || spec.derived || at.broken || this.overrides.size > 0) return undefined
    const d = spec.byDefault
    if (d === undefined) return absent(spec, at)
    return 'compute' in d ? undefined : defaultOf(spec, d.value)
  }

  /** What a field would be with another source, or with none: for comparing a value with the one it replaces. */
  fieldFrom(at: Instance, name: string, source: FieldSource | undefined): Result {
    const member = at.spec.members.get(name)
    return member ? this.quietly(() => this.#compute(at, member, source)) : faulty()
  }

  /** Evaluates something once more, without saying again what is wrong with it. */
  quietly<T>(run: () => T): T {
    const before = this.#quiet
    this.#quiet = true
    try {
      return run()
    } finally {
      this.#quiet = before
    }
  }

  /** Said where the row begins: that is the statement that asks for all of it. */
  #tooDeep(): Result {
    const first = this.#running.find(r => r.written && !r.written.home.outside)?.written
    if (first)
      this.report(
        first.home,
        first.node,
        'circle',
        `More than ${MOST_DEEP} values hang on one another in a row here. Give one of them a value of its own.`,
      )
    return faulty()
  }

  /** @param met what is being worked out already, met again */
  #circle(met: Running): Result {
    let from = this.#running.length - 1
    const here = (r: Running): boolean => r.name === met.name && r.at === met.at && r.key === met.key
    while (from > 0 && !here(this.#running[from]!)) from--
    const loop = this.#running.slice(from)
    const written = loop.filter(r => r.written)
    const first =
      met.key === this.#lets
        ? written.toSorted((a, b) => (a.name < b.name ? -1 : 1))[0]
        : written.filter(r => !r.written!.home.outside).toSorted(inOrder)[0]
    if (!first || first.written!.home.outside) return faulty()
    // what is worked out leads back to one written field in many ways; one finding says it
    const key = written.map(labelOf).sort().join(' ')
    if (this.#circles.has(key)) return faulty()
    this.#circles.add(key)
    const i = loop.indexOf(first)
    const names = [...loop.slice(i), ...loop.slice(0, i), first].map(r => `\`${labelOf(r)}\``)
    this.report(
      first.written!.home,
      first.written!.node,
      'circle',
      `A circle: ${names.join(' needs ')}. Give one of them a value that does not depend on the others.`,
    )
    return faulty()
  }

  #compute(
    at: Instance,
    { name, field: spec, derived: d, dimension }: Member,
    source: FieldSource | undefined,
  ): Result {
    const override = this.overrides.size > 0 ? this.overrides.get(pathOf(at, name)) : undefined
    if (override) return known(override, 'written')
    if (at.broken) return faulty(spec && dimension)
    if (!spec) return this.derive(d!, at, 'derived', dimension)
    if (source) {
      if (!source.node) return known(source.constant, 'stock')
      return this.#fields.value(spec, source.node, source.home, at)
    }
    if (spec.derived) return this.derive(spec.derived, at, 'derived', dimension)
    const given = spec.byDefault
    if (given === undefined) return absent(spec, at)
    return 'compute' in given ? this.derive(given, at, 'default', dimension) : defaultOf(spec, given.value)
  }

  /** What a `given or derived` field would be were it not written. */
  computed(at: Instance, name: string): Result {
    const spec = at.spec.fields.get(name)
    return spec?.derived ? this.derive(spec.derived, at, 'derived', dimensionOf(spec)) : faulty()
  }

  derive(d: Derivation, at: Instance, from: 'derived' | 'default', dimension?: Dimension): Result {
    const values = new Array<unknown>(d.inputs.length)
    // an input may be unknown without any field that would give it
    let missing: string[] | undefined
    let bad = false
    for (let i = 0; i < values.length; i++) {
      const input = d.inputs[i]!
      const r = this.#input(input, at)
      if (r.state === 'known') values[i] = input.as === 'value' ? r.value : plain(r.value)
      else if (!input.optional) {
        missing = missing ? [...missing, ...r.missing] : [...r.missing]
        bad ||= r.faulty === true
      }
    }
    if (bad) return faulty(dimension)
    if (missing) return unknown(missing.length > 1 ? [...new Set(missing)] : missing, dimension)
    const inputs = d.named(values)
    const computed = result(d.compute(inputs), from, dimension)
    if (computed.state === 'known' || !d.instead) return computed
    const lacks = typeof d.instead === 'string' ? [d.instead] : d.instead(inputs)
    return unknown(
      lacks.map(name => pathOf(at, name)),
      dimension,
    )
  }

  /** One thing that a derived value reads; of all springs a list. */
  #input({ each, block, name }: Input, at: Instance): Result {
    if (!each) {
      const from = block === undefined ? at : this.#block(block)
      return from ? this.field(from, name) : unknown([block!.split('.')[0]!])
    }
    const items: Value[] = []
    for (const one of this.root?.blocks ?? []) {
      if (one.spec.name !== block) continue
      const r = this.field(one, name)
      if (r.state === 'unknown') return r
      items.push(r.value)
    }
    return items.length === 0 ? unknown([block!]) : known({ kind: 'list', items }, 'derived')
  }

  /** A block by its path from the top: `drum`, `curtain.slat`, `opening` itself, or the `job` of the file. */
  #block(path: string): Instance | undefined {
    if (path === 'job') return this.job
    if (this.#blocks.has(path)) return this.#blocks.get(path)
    let at = this.root
    for (const [i, name] of path.split('.').entries())
      if (i > 0 || name !== at?.spec.name) at = at && childOfKind(at, name)
    this.#blocks.set(path, at)
    return at
  }
}

const labelOf = ({ at, name }: Running): string => (at ? pathOf(at, name) : name)

/** Written here before copied, then in the order of the text. */
const inOrder = (a: Running, b: Running): number =>
  Number(!!a.written!.home.via) - Number(!!b.written!.home.via) || a.written!.node.start - b.written!.node.start

/** The same block with nothing of it reported here. */
function outside(root: Instance): Instance {
  const away = (home: Home): Home => ({ ...home, outside: true })
  root.fields = mapped(root.fields, f => (f.node ? { node: f.node, home: away(f.home) } : f))
  root.lets = mapped(root.lets, l => ({ node: l.node, home: away(l.home) }))
  return root
}

const mapped = <V>(map: ReadonlyMap<string, V>, change: (value: V) => V): ReadonlyMap<string, V> =>
  new Map([...map].map(([key, value]) => [key, change(value)]))

const absents = new WeakMap<FieldSpec, Map<string, Result>>()
/** Blocks by number (`spring[7]`) could be without end. */
const MOST_ABSENT = 100

/** A field that is not there: the same for all openings, so made once. */
function absent(spec: FieldSpec, at: Instance): Result {
  const path = missingPath(at, spec.name)
  let byPath = absents.get(spec)
  if (!byPath) absents.set(spec, (byPath = new Map()))
  let result = byPath.get(path)
  if (!result) {
    result = unknown([path], dimensionOf(spec))
    if (byPath.size < MOST_ABSENT) byPath.set(path, result)
  }
  return result
}

const defaults = new WeakMap<FieldSpec, Result>()

function defaultOf(spec: FieldSpec, value: Parameters<typeof constant>[0]): Result {
  let result = defaults.get(spec)
  if (!result) defaults.set(spec, (result = known(constant(value, spec), 'default')))
  return result
}

function constant(value: number | string | boolean | readonly [number, number], spec: FieldSpec): Value {
  if (typeof value === 'object') return { kind: 'list', items: value.map(v => number(v, dimensionOf(spec))) }
  if (typeof value === 'number') return number(value, dimensionOf(spec))
  if (typeof value === 'boolean') return truth(value)
  return spec.takes.kind === 'word' ? word(value) : { kind: 'text', text: value }
}

function result(c: Computed, from: 'derived' | 'default', dimension: Dimension = DIMENSION.count): Result {
  if (typeof c === 'string') return known(word(c), from)
  if (typeof c === 'number') return Number.isFinite(c) ? known(number(c, dimension), from) : unknown([], dimension)
  if (c === undefined || !Number.isFinite(c.si)) return unknown([], dimension)
  return known(c.bound ? { ...number(c.si, dimension), bound: c.bound } : number(c.si, dimension), from)
}

export { dimensionOf, pathOf, type Target, ungroup, withUnit }
