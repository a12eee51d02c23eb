/**
 * Values on demand: a field or derived value is computed when first asked for, once. Unknown stays unknown and names
 * the missing field; a circle is reported whole.
 */
import type { Block, Expression, Field, Let, Path, Span } from '../../grammar/index.ts'
import {
  DIMENSION,
  type Dimension,
  type DimensionName,
  sameDimension,
  showQuantity,
  unitMeant,
  unitsFor,
} from '../units/index.ts'
import { aDimension, type Env, evaluate, type Scope, type SimpleFix, ungroup, withUnit } from './expression.ts'
import type { Files, Item } from './files.ts'
import type { Finding } from './finding.ts'
import { Builder, type FieldSource, type Home, type Instance, origin, placeOf, type Written } from './instance.ts'
import { nearestNames } from './names.ts'
import type { BlockSpec, Computed, Derivation, DerivedSpec, FieldSpec, Read } from './spec.ts'
import {
  faulty,
  type Known,
  known,
  number,
  type Result,
  truth,
  type Unknown,
  unknown,
  type Value,
  word,
} from './value.ts'
import { plainName } from './vocabulary/index.ts'

export type Target =
  | { readonly kind: 'field'; readonly instance: Instance; readonly spec: FieldSpec }
  | { readonly kind: 'derived'; readonly instance: Instance; readonly spec: DerivedSpec }
  | { readonly kind: 'let'; readonly written: Written<Let>; readonly instance: Instance | undefined }

interface Running {
  readonly label: string
  readonly written: Written<Field | Let> | undefined
  readonly key: object
}

const RUNNING = { running: true } as const
const segments = new Map<string, readonly string[]>()
const split = (path: string): readonly string[] => {
  let parts = segments.get(path)
  if (!parts) segments.set(path, (parts = path.split('.')))
  return parts
}

export class Evaluator implements Env {
  readonly root: Instance | undefined
  readonly #files: Files
  readonly #file: string
  readonly #builder: Builder
  readonly #report: (finding: Finding) => void
  readonly #lets = new Map<Let, Result | typeof RUNNING>()
  readonly #running: Running[] = []
  /** The circles that have been reported, by the written statements in them. */
  readonly #circles = new Set<string>()
  readonly #jobs = new Map<string, Instance | undefined>()
  #quiet = false
  /** Values put in place of what is written: for asking "what if". */
  readonly overrides: ReadonlyMap<string, Value>

  constructor(
    files: Files,
    file: string,
    builder: Builder,
    root: Instance | undefined,
    report: (finding: Finding) => void,
    overrides: ReadonlyMap<string, Value> = new Map(),
  ) {
    this.#files = files
    this.#file = file
    this.#builder = builder
    this.root = root
    this.#report = report
    this.overrides = overrides
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
    const target = this.target(names, scope)
    if (target) {
      this.#tradeWords(path, target, scope)
      return this.value(target)
    }
    const absent = this.#absent(names, scope)
    if (absent)
      return unknown([plainName(names[0]!)], 'takes' in absent ? dimensionOf(absent) : DIMENSION[absent.dimension])
    this.#unknownName(path, scope)
    return faulty()
  }

  wordsOf = (path: Path, scope: Scope): readonly string[] | 'any' | undefined => {
    const names = path.names.map(n => n.text)
    const target = this.target(names, scope)
    const spec = target ? (target.kind === 'let' ? undefined : target.spec) : this.#absent(names, scope)
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
      if (last ? target.spec.name !== plain : this.#blockNamed(name.text, scope)?.spec.name !== plain) continue
      this.report(scope.home, name, 'trade_word', `The word of the language for \`${name.text}\` is \`${plain}\`.`, [
        { title: `Write \`${plain}\``, at: name, text: plain, safe: true },
      ])
    }
  }

  /** What a path would lead to in a block that this opening does not have (yet): unknown, but no mistake. */
  #absent(names: readonly string[], scope: Scope): FieldSpec | DerivedSpec | undefined {
    if (names.length < 2 || scope.home.outside) return undefined
    let at = this.root?.spec.blocks.get(plainName(names[0]!))
    if (!at || this.root?.blocks.some(b => b.spec === at)) return undefined
    for (const name of names.slice(1, -1)) at = at?.blocks.get(plainName(name))
    const last = names.at(-1)!
    return at?.fields.get(plainName(last)) ?? at?.derived.get(last)
  }

  // ---- names

  /** What a path means where it stands; see the order of names in the language reference. */
  target(names: readonly string[], scope: Scope): Target | undefined {
    if (names.length === 1) return this.#bare(names[0]!, scope)
    let at = this.#blockNamed(names[0]!, scope)
    for (const name of names.slice(1, -1)) at = at && childNamed(at, name)
    return at && inBlock(at, names.at(-1)!)
  }

  #bare(name: string, scope: Scope): Target | undefined {
    for (const at of around(scope)) {
      const written = at.lets.get(name)
      if (written) return { kind: 'let', written, instance: at }
    }
    const fileLet = this.#builder.find(scope.home.file, `let ${name}`) as Item<Let> | undefined
    if (fileLet) {
      const home: Home = { file: fileLet.file, chunk: fileLet.chunk, outside: true }
      return { kind: 'let', written: { node: fileLet.node, home }, instance: undefined }
    }
    for (const at of around(scope)) {
      const found = inBlock(at, name)
      if (found) return found
    }
    const job = this.#jobOf(scope.home.file)
    return job && inBlock(job, name)
  }

  #blockNamed(name: string, scope: Scope): Instance | undefined {
    const chain = around(scope)
    const child = chain[0] && childNamed(chain[0], name)
    if (child) return child
    const plain = plainName(name)
    for (const at of chain) if (at.spec.name === plain || (at.parent && at.name === name)) return at
    for (const at of chain.slice(1)) {
      const sibling = childNamed(at, name)
      if (sibling) return sibling
    }
    return name === 'job' ? this.#jobOf(scope.home.file) : undefined
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

  #unknownName(path: Path, scope: Scope): void {
    const text = path.names.map(n => n.text).join('.')
    const { word: last, candidates } = this.#candidates(path, scope)
    const near = nearestNames(last.text, candidates)
    const offer = near.length ? ` Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?` : ''
    // a name of another block of the opening is nearly right
    const homes = path.names.length === 1 && !scope.home.outside ? this.#homes(last.text) : []
    const elsewhere = homes.length ? ` It stands in another block: ${homes.map(h => `\`${h}\``).join(' or ')}.` : ''
    const unit = path.names.length === 1 && homes.length === 0 && UNIT_WORDS.has(last.text)
    const message = unit
      ? `\`${text}\` is a unit, but no number stands before it. Write the number and its unit together: \`20/day\`, \`12ft\`.`
      : path.names.length === 1
        ? `No field, derived value or \`let\` is called \`${text}\` here.${offer || elsewhere}`
        : `\`${text}\` leads to nothing: there is no \`${last.text}\`${last === path.names[0] ? ' here' : ` in \`${path.names[path.names.indexOf(last) - 1]!.text}\``}.${offer}`
    const fixes: SimpleFix[] = [...near, ...(near.length ? [] : homes)].map(n => ({
      title: `Write \`${n}\``,
      at: last,
      text: n,
    }))
    if (unit) {
      const before = scope.home.chunk.text.slice(0, path.start).match(/(\d)\s*\/\s*$/)
      if (before)
        fixes.unshift({
          title: `Write the unit \`/${text}\``,
          at: { start: path.start - before[0].length + 1, end: path.end },
          text: `/${text}`,
        })
    }
    this.report(scope.home, path, 'unknown_name', message, fixes)
  }

  /** Paths of other blocks in which a bare name would be found. */
  #homes(name: string): string[] {
    return (this.root?.blocks ?? [])
      .filter(b => b.spec.name !== 'limits' && (b.spec.fields.has(name) || b.spec.derived.has(name)))
      .map(b => `${b.name ?? b.spec.name}.${name}`)
      .slice(0, 3)
  }

  /** The word of a path that leads nowhere, and what could have been meant by it. */
  #candidates(path: Path, scope: Scope): { word: Path['names'][number]; candidates: string[] } {
    const out: string[] = []
    const all = (at: Instance) => out.push(...at.spec.fields.keys(), ...at.spec.derived.keys())
    const inner = (at: Instance) => out.push(...at.blocks.map(b => b.name ?? b.spec.name))
    const names = path.names
    if (names.length > 1) {
      let at = this.#blockNamed(names[0]!.text, scope)
      if (!at) {
        for (const a of around(scope)) inner(a)
        return { word: names[0]!, candidates: out }
      }
      for (const name of names.slice(1, -1)) {
        const child = childNamed(at, name.text)
        if (!child) {
          inner(at)
          return { word: name, candidates: out }
        }
        at = child
      }
      all(at)
      return { word: names.at(-1)!, candidates: out }
    }
    for (const at of around(scope)) {
      out.push(...at.lets.keys())
      all(at)
    }
    out.push(...this.#builder.names(scope.home.file, 'let'))
    return { word: names[0]!, candidates: out }
  }

  // ---- values

  value(target: Target): Result {
    if (target.kind === 'let') return this.#let(target.written, target.instance)
    return this.field(target.instance, target.spec.name)
  }

  #let(written: Written<Let>, inside: Instance | undefined): Result {
    const key = `let ${written.node.name!.text}`
    const scope = { instance: inside, home: written.home }
    if (!inside) {
      return this.#once(this.#lets, written.node, written.node.name!.text, written, () =>
        evaluate(written.node.value, scope, this),
      )
    }
    return this.#once(inside.cells as Map<string, Result>, key, written.node.name!.text, written, () =>
      evaluate(written.node.value, scope, this),
    )
  }

  /** The value of a field or derived value of a block. */
  field(at: Instance, name: string): Result {
    const cached = at.cells.get(name) as Result | typeof RUNNING | undefined
    if (cached && !('running' in cached)) return cached
    const source = at.fields.get(name)
    return this.#once(
      at.cells as Map<string, Result>,
      name,
      pathOf(at, name),
      source?.node ? (source as Written<Field>) : undefined,
      () => this.#compute(at, name, source),
    )
  }

  /** What a field would be with another source, or with none: for comparing a value with the one it replaces. */
  fieldFrom(at: Instance, name: string, source: FieldSource | undefined): Result {
    return this.quietly(() => this.#compute(at, name, source))
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

  #once<K>(
    cells: Map<K, Result | typeof RUNNING>,
    key: K,
    label: string,
    written: Written<Field | Let> | undefined,
    compute: () => Result,
  ): Result {
    const cached = cells.get(key)
    if (cached) {
      if (!('running' in cached)) return cached
      this.#circle(cells, label)
      return faulty()
    }
    cells.set(key, RUNNING)
    this.#running.push({ label, written, key: cells })
    const result = compute()
    this.#running.pop()
    cells.set(key, result)
    return result
  }

  #circle(cells: object, label: string): void {
    let from = this.#running.length - 1
    while (from > 0 && !(this.#running[from]!.label === label && this.#running[from]!.key === cells)) from--
    const loop = this.#running.slice(from)
    const written = loop.filter(r => r.written)
    const first =
      cells === this.#lets
        ? written.toSorted((a, b) => (a.label < b.label ? -1 : 1))[0]
        : written.filter(r => !r.written!.home.outside).toSorted(inOrder)[0]
    if (!first || first.written!.home.outside) return
    // what is worked out leads back to one written field in many ways; one finding says it
    const key = written
      .map(r => r.label)
      .sort()
      .join(' ')
    if (this.#circles.has(key)) return
    this.#circles.add(key)
    const i = loop.indexOf(first)
    const names = [...loop.slice(i), ...loop.slice(0, i), first].map(r => `\`${r.label}\``)
    this.report(
      first.written!.home,
      first.written!.node,
      'circle',
      `A circle: ${names.join(' needs ')}. Give one of them a value that does not depend on the others.`,
    )
  }

  #compute(at: Instance, name: string, source: FieldSource | undefined): Result {
    const spec = at.spec.fields.get(name)
    const override = this.overrides.get(pathOf(at, name))
    if (override) return known(override, 'written')
    if (at.broken) return faulty(dimensionOf(spec))
    if (!spec) {
      const d = at.spec.derived.get(name)
      return d ? this.derive(d, at, 'derived', DIMENSION[d.dimension]) : faulty()
    }
    if (source) {
      if (!source.node) return known(source.constant, 'stock')
      return this.#written(spec, source.node, source.home, at)
    }
    if (spec.derived) return this.derive(spec.derived, at, 'derived', dimensionOf(spec))
    const d = spec.byDefault
    if (d === undefined) return unknown([missingPath(at, name)], dimensionOf(spec))
    if ('compute' in d) return this.derive(d, at, 'default', dimensionOf(spec))
    return known(constant(d.value, spec), 'default')
  }

  /** What a `given or derived` field would be were it not written. */
  computed(at: Instance, name: string): Result {
    const spec = at.spec.fields.get(name)
    return spec?.derived ? this.derive(spec.derived, at, 'derived', dimensionOf(spec)) : faulty()
  }

  derive(d: Derivation, at: Instance, from: 'derived' | 'default', dimension?: Dimension): Result {
    const inputs: Record<string, unknown> = {}
    const missing: string[] = []
    let bad = false
    for (const [alias, read] of Object.entries(d.reads)) {
      const r = this.read(read, at)
      if ('value' in r) inputs[alias] = r.value
      else if (read.optional) inputs[alias] = undefined
      else {
        missing.push(...r.missing)
        bad ||= r.faulty === true
      }
    }
    if (bad) return faulty(dimension)
    if (missing.length > 0) return unknown([...new Set(missing)], dimension)
    const computed = result(d.compute(inputs), from, dimension)
    return computed.state === 'unknown' && d.instead ? unknown([pathOf(at, d.instead)], dimension) : computed
  }

  /** The plain value behind one thing that a derived value reads. */
  read(read: Read<unknown>, at: Instance): { value: unknown } | Unknown {
    const path = split(read.path)
    if (read.each) {
      const values: unknown[] = []
      const springs = this.root?.blocks.filter(b => b.spec.name === path[0]) ?? []
      if (springs.length === 0) return unknown([path[0]!])
      for (const s of springs) {
        const r = this.field(s, path[1]!)
        if (r.state === 'unknown') return r
        values.push(plain(r.value))
      }
      return { value: values }
    }
    let from: Instance | undefined = at
    if (path.length > 1) {
      from = path[0] === 'job' ? this.job : this.root?.spec.name === path[0] ? this.root : this.root
      if (from && path[0] !== 'job' && path[0] !== from.spec.name) from = childOfKind(from, path[0]!)
      for (const name of path.slice(1, -1)) from = from && childOfKind(from, name)
    }
    if (!from) return unknown([path[0]!])
    const r = this.field(from, path.at(-1)!)
    if (r.state === 'unknown') return r
    return { value: read.as === 'value' ? r.value : plain(r.value) }
  }

  // ---- written fields

  #written(spec: FieldSpec, node: Field, home: Home, at: Instance): Result {
    const from = home.outside && at.spec.name !== 'limits' ? 'stock' : 'written'
    const e = ungroup(node.value)
    if (e.kind === 'missing') return faulty(dimensionOf(spec))
    const takes = spec.takes
    if (takes.kind === 'word' || takes.kind === 'stock') {
      const w = this.#wordValue(spec, e, home)
      return w === undefined ? faulty() : known(word(w), from)
    }
    const r = takes.kind === 'truth' || takes.kind === 'tick' ? this.#yes(e, home) : undefined
    if (r) return r
    if ((takes.kind === 'text' || takes.kind === 'date') && this.#unquoted(spec, e, { instance: at, home }))
      return faulty()
    const value = evaluate(e, { instance: at, home }, this)
    if (value.state === 'unknown') {
      if (value.dimension && !this.#fits(spec, value.dimension)) this.#wrongDimension(spec, e, value.dimension, home)
      return value.faulty ? faulty(dimensionOf(spec)) : { ...value, dimension: value.dimension ?? dimensionOf(spec) }
    }
    return this.#check(spec, value, e, home) ? { ...value, origin: from } : faulty(dimensionOf(spec))
  }

  #wordValue(spec: FieldSpec, e: Expression, home: Home): string | undefined {
    const takes = spec.takes
    if (e.kind === 'path' && e.names.length === 1) {
      const name = e.names[0]!.text
      if (takes.kind === 'stock' || (takes.kind === 'word' && Object.hasOwn(takes.words, name))) return name
    }
    const text = this.source(home, e)
    if (takes.kind === 'stock') {
      this.report(
        home,
        e,
        'wrong_type',
        `\`${spec.name}\` takes the name of a ${takes.block} from the stock, or a block \`${takes.block} { ... }\`; found \`${text}\`.`,
      )
      return undefined
    }
    if (takes.kind !== 'word') return undefined
    const all = Object.keys(takes.words)
    const meant = e.kind === 'text' ? e.value : e.kind === 'path' ? text : ''
    const near = all.includes(meant) ? [meant] : nearestNames(meant, all)
    this.report(
      home,
      e,
      e.kind === 'path' ? 'unknown_name' : 'wrong_type',
      `\`${spec.name}\` is one of ${all.map(w => `\`${w}\``).join(', ')}; found \`${text}\`.`,
      near.map(n => ({ title: `Write \`${n}\``, at: e, text: n })),
    )
    return undefined
  }

  /** `yes` and `no` are what people write first; they get a fix. */
  #yes(e: Expression, home: Home): Result | undefined {
    if (e.kind !== 'path' || e.names.length !== 1) return undefined
    const meant = { yes: 'true', no: 'false', ok: 'true', done: 'true' }[e.names[0]!.text]
    if (!meant) return undefined
    this.report(home, e, 'wrong_type', `Write \`true\` or \`false\` here; found \`${e.names[0]!.text}\`.`, [
      { title: `Write \`${meant}\``, at: e, text: meant },
    ])
    return faulty()
  }

  /** A text that was written without its quotes. */
  #unquoted(spec: FieldSpec, e: Expression, scope: Scope): boolean {
    if (
      e.kind !== 'path' ||
      this.target(
        e.names.map(n => n.text),
        scope,
      )
    )
      return false
    const text = this.source(scope.home, e)
    this.report(
      scope.home,
      e,
      'wrong_type',
      `\`${spec.name}\` takes ${EXPECTED[spec.takes.kind]!(spec)}; found \`${text}\`.`,
      [{ title: `Write "${text}"`, at: e, text: JSON.stringify(text) }],
    )
    return true
  }

  #fits(spec: FieldSpec, d: Dimension): boolean {
    const takes = spec.takes
    if (takes.kind === 'quantity') return takes.dimensions.some(name => sameDimension(DIMENSION[name], d))
    if (takes.kind === 'range') return sameDimension(DIMENSION[takes.dimension], d)
    return takes.kind !== 'tick' || sameDimension(d, DIMENSION.count)
  }

  #check(spec: FieldSpec, { value }: Known, e: Expression, home: Home): boolean {
    const takes = spec.takes
    const text = this.source(home, e)
    const expected = EXPECTED[takes.kind]!
    const right =
      takes.kind === 'quantity' ? value.kind === 'number'
      : takes.kind === 'range' ? value.kind === 'list' && value.items.length === 2 && value.items.every(i => i.kind === 'number')
      : takes.kind === 'tick' ? value.kind === 'truth' || value.kind === 'number'
      : value.kind === (takes.kind === 'date' ? 'text' : takes.kind) // biome-ignore format: a table
    if (!right) {
      const fixes =
        (takes.kind === 'text' || takes.kind === 'date') && e.kind !== 'text'
          ? [{ title: `Write "${text}"`, at: e, text: JSON.stringify(text) }]
          : []
      this.report(home, e, 'wrong_type', `\`${spec.name}\` takes ${expected(spec)}; found \`${text}\`.`, fixes)
      return false
    }
    const numbers = value.kind === 'list' ? value.items : [value]
    for (const n of numbers)
      if (n.kind === 'number' && !this.#fits(spec, n.dimension)) {
        this.#wrongDimension(spec, e, n.dimension, home)
        return false
      }
    const parsed = spec.schema.safeParse(value.kind === 'list' ? value.items.map(plain) : plain(value))
    if (parsed.success) return true
    const issue = parsed.error.issues[0]!
    this.report(
      home,
      e,
      takes.kind === 'date' ? 'wrong_type' : 'value_range',
      `\`${spec.name}\` ${this.#must(spec, issue as never)}; found \`${text}\`.`,
    )
    return false
  }

  #must(
    spec: FieldSpec,
    issue: { code: string; minimum?: number; maximum?: number; inclusive?: boolean; message: string },
  ): string {
    const dimension = dimensionOf(spec) ?? DIMENSION.count
    const show = (si: number) => (si === 0 ? 'zero' : showQuantity(si, dimension, { system: this.system }).text)
    if (issue.code === 'custom') return `must be right: ${issue.message}`
    if (spec.takes.kind === 'date') return 'takes a date written year, month, day, as in "2026-03-09"'
    if (issue.code === 'too_small')
      return `must be ${issue.inclusive ? `${show(issue.minimum!)} or more` : `above ${show(issue.minimum!)}`}`
    if (issue.code === 'too_big')
      return `must be ${issue.inclusive ? `${show(issue.maximum!)} or less` : `below ${show(issue.maximum!)}`}`
    if (issue.code === 'invalid_type') return 'must be a whole number'
    return issue.message
  }

  #wrongDimension(spec: FieldSpec, e: Expression, found: Dimension, home: Home): void {
    const takes = spec.takes
    const wanted: readonly DimensionName[] =
      takes.kind === 'quantity' ? takes.dimensions : takes.kind === 'range' ? [takes.dimension] : ['count']
    const text = this.source(home, e)
    const what = wanted.map(w => aDimension(DIMENSION[w])).join(' or ')
    const bare = e.kind === 'quantity' && e.parts.length === 1 && !e.parts[0]!.unit
    const units = wanted.flatMap(w => unitsFor(DIMENSION[w]))
    if (bare && !sameDimension(DIMENSION[wanted[0]!], DIMENSION.count)) {
      const offers = units.filter(u => u !== '').slice(0, wanted[0] === 'length' ? 4 : 3)
      this.report(
        home,
        e,
        'wrong_dimension',
        `\`${spec.name}\` is ${what} and needs a unit; found \`${text}\`. Write ${offers.map(u => `\`${withUnit(text, u)}\``).join(', ')}.`,
        offers.map(u => ({ title: `Write ${withUnit(text, u)}`, at: e, text: withUnit(text, u) })),
      )
      return
    }
    let more = ''
    const fixes: SimpleFix[] = []
    const unit = e.kind === 'quantity' && e.parts.length === 1 ? e.parts[0]!.unit : undefined
    if (unit) {
      const meant = wanted.map(w => unitMeant(unit.text, DIMENSION[w])).find(u => u !== undefined)
      if (meant) {
        fixes.push({ title: `Write the unit \`${meant}\``, at: unit, text: meant })
        if (sameDimension(found, DIMENSION.force)) more = ' A weight here is a mass, as a scale reads it.'
      }
    }
    this.report(
      home,
      e,
      'wrong_dimension',
      `\`${spec.name}\` is ${what}; \`${text}\` is ${aDimension(found)}.${more}`,
      fixes,
    )
  }
}

const UNIT_WORDS = new Set([
  'day',
  'week',
  'month',
  'year',
  'h',
  'min',
  's',
  'ft',
  'in',
  'mm',
  'cm',
  'm',
  'lb',
  'kg',
  'lbf',
  'turn',
  'turns',
  'deg',
])

const EXPECTED: Record<string, (spec: FieldSpec) => string> = {
  quantity: s =>
    s.takes.kind === 'quantity' ? s.takes.dimensions.map(d => aDimension(DIMENSION[d])).join(' or ') : '',
  range: () => 'two values, the lower and the upper, as in `[4, 16]`',
  text: () => 'a text in quotes',
  date: () => 'a date in quotes, as in "2026-03-09"',
  truth: () => '`true` or `false`',
  tick: () => 'a count, or `true` / `false`',
}

export const dimensionOf = (spec: FieldSpec | undefined): Dimension | undefined =>
  spec?.takes.kind === 'quantity'
    ? DIMENSION[spec.takes.dimensions[0]]
    : spec?.takes.kind === 'range'
      ? DIMENSION[spec.takes.dimension]
      : undefined

/** The full path of a name in a block: `width` of the opening is `opening.width`, of the curtain's slat `curtain.slat.width`. */
export const pathOf = (at: Instance, name: string): string => `${at.path}.${name}`

/** Written here before copied, then in the order of the text. */
const inOrder = (a: Running, b: Running): number =>
  Number(!!a.written!.home.via) - Number(!!b.written!.home.via) || a.written!.node.start - b.written!.node.start

/**
 * The blocks whose names are in scope, from the inside out. What comes from the stock or from limits outside sees its own
 * block and no further: names keep the meaning they had where they were written.
 */
function around({ instance, home }: Scope): Instance[] {
  const out: Instance[] = []
  for (let at = instance; at; at = home.outside ? undefined : at.parent) out.push(at)
  return out
}

/** The same block with nothing of it reported here. */
function outside(root: Instance): Instance {
  for (const [name, source] of root.fields)
    if (source.node) root.fields.set(name, { node: source.node, home: { ...source.home, outside: true } })
  for (const [name, let_] of root.lets) root.lets.set(name, { node: let_.node, home: { ...let_.home, outside: true } })
  return root
}

/** A field of a slat or pipe that nobody has named is not what is missing: the slat is. */
function missingPath(at: Instance, name: string): string {
  const alternative = at.parent?.spec.fields.has(at.spec.name) && at.fields.size === 0
  return alternative ? pathOf(at.parent!, at.spec.name) : pathOf(at, name)
}

function inBlock(at: Instance, raw: string): Target | undefined {
  const name = plainName(raw)
  const spec = at.spec.fields.get(name) ?? at.spec.fields.get(raw)
  if (spec) return { kind: 'field', instance: at, spec }
  const d = at.spec.derived.get(raw)
  return d && { kind: 'derived', instance: at, spec: d }
}

const childOfKind = (at: Instance, kind: string): Instance | undefined => at.blocks.find(b => b.spec.name === kind)
const childNamed = (at: Instance, name: string): Instance | undefined =>
  childOfKind(at, plainName(name)) ?? at.blocks.find(b => b.name === name)

function plain(v: Value): unknown {
  if (v.kind === 'number') return v.si
  if (v.kind === 'text') return v.text
  if (v.kind === 'truth') return v.truth
  if (v.kind === 'word') return v.word
  return v.items.map(plain)
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

export type { BlockSpec }
export { ungroup, withUnit }
