/**
 * The files of a workspace as openings with values. What a chunk gave is kept as long as the chunk and everything it
 * looked up elsewhere stay the same objects, so an edit costs the openings that read it and no others.
 */
import type { Block, Chunk, Require, Source, Use } from '../../grammar/index.ts'
import { Door } from './door.ts'
import { Evaluator, pathOf } from './evaluate.ts'
import { evaluate as evaluateExpression, showValue } from './expression.ts'
import { type Dependencies, type Dependency, Files, type Host, type Item, keyOf, labelOf } from './files.ts'
import type { Finding } from './finding.ts'
import { Builder, type Home, type Instance, origin, placeOf, type Written } from './instance.ts'
import { structure } from './structure.ts'
import type { Value } from './value.ts'
import { plainName, topBlock } from './vocabulary/index.ts'

/** A top-level block that is not an opening, with its values: stock, job, limits. */
export interface Single {
  readonly item: Item<Block>
  readonly root: Instance
  readonly evaluator: Evaluator
}

/** What is put together of a chunk: large, and made again when it is asked for after it was let go. */
export interface Parts {
  readonly doors: readonly Door[]
  readonly singles: readonly Single[]
}

/** What one chunk of a file comes to. */
export class Unit {
  readonly file: string
  readonly chunk: Chunk
  /** Findings of the Language group. */
  readonly findings: readonly Finding[]
  /** Everything that was looked up outside the chunk; grows as values are asked for. */
  readonly dependencies: Dependencies
  /** The marks of its openings, in order. */
  readonly marks: readonly string[]
  /** Whether it holds no opening and no other block. */
  readonly empty: boolean
  #parts: Parts | undefined
  readonly #again: () => Parts
  readonly #used: (unit: Unit) => void

  constructor(
    of: Pick<Unit, 'file' | 'chunk' | 'findings' | 'dependencies'>,
    parts: Parts,
    again: () => Parts,
    used: (unit: Unit) => void,
  ) {
    this.file = of.file
    this.chunk = of.chunk
    this.findings = of.findings
    this.dependencies = of.dependencies
    this.marks = parts.doors.map(d => d.mark)
    this.empty = parts.doors.length + parts.singles.length === 0
    this.#parts = parts
    this.#again = again
    this.#used = used
  }

  /** Whoever goes through all units of a file asks for this of those only that it needs. */
  get parts(): Parts {
    const parts = (this.#parts ??= this.#again())
    this.#used(this)
    return parts
  }

  get doors(): readonly Door[] {
    return this.parts.doors
  }

  get singles(): readonly Single[] {
    return this.parts.singles
  }

  letGo(): void {
    this.#parts = undefined
  }
}

/** What a text without any statement comes to. */
export const emptyUnit = (file: string, chunk: Chunk): Unit =>
  new Unit(
    { file, chunk, findings: [], dependencies: new Map() },
    NOTHING,
    () => NOTHING,
    () => {},
  )

const NOTHING: Parts = { doors: [], singles: [] }

/** Blocks of one chunk that are looked at: a chunk is a line or a block, so there is one, if nobody is up to mischief. */
const MOST_BLOCKS = 200

/** Units whose openings are held; those used longest ago let theirs go. Enough for what an editor shows at a time. */
const MOST_HELD = 100

export class Model {
  readonly files: Files
  /** What each chunk came to last, and before that: where a change is taken back, as after a trial, that holds again. */
  readonly #units = new WeakMap<Chunk, readonly [Unit, Unit | undefined]>()
  readonly #structure = new WeakMap<Chunk, readonly Finding[]>()
  /** Units that hold their parts, the one used last at the end. */
  readonly #held = new Set<Unit>()
  #last: Unit | undefined

  constructor(host: Host) {
    this.files = new Files(host)
  }

  set(file: string, source: Source): void {
    this.files.set(file, source)
  }

  delete(file: string): void {
    this.files.delete(file)
  }

  /** The units of a file, in order. Those that nothing has changed are the same objects as before. */
  units(file: string): Unit[] {
    return this.files.get(file)?.source.chunks.map(chunk => this.unit(file, chunk)) ?? []
  }

  /** The unit of one chunk of a file; the others are not looked at. */
  unit(file: string, chunk: Chunk): Unit {
    const [last, before] = this.#units.get(chunk) ?? []
    if (last && this.files.holds(last.dependencies)) return last
    const unit = before && this.files.holds(before.dependencies) ? before : this.#unit(file, chunk)
    this.#units.set(chunk, [unit, last])
    return unit
  }

  #used(unit: Unit): void {
    if (unit === this.#last) return
    this.#last = unit
    this.#held.delete(unit)
    this.#held.add(unit)
    if (this.#held.size <= MOST_HELD) return
    const [oldest] = this.#held
    this.#held.delete(oldest!)
    oldest!.letGo()
  }

  #unit(file: string, chunk: Chunk): Unit {
    let own = this.#structure.get(chunk)
    if (!own) this.#structure.set(chunk, (own = structure(file, chunk)))
    const findings: Finding[] = [...own]
    const dependencies = new Map<string, Dependency>()
    const doors: Door[] = []
    const singles: Single[] = []
    const blocks: Item<Block>[] = []
    // what is worked out later, in whatever order it is asked for, finds nothing new here
    let built = false
    const report = (f: Finding): void => void (built || findings.push(f))
    const builder = new Builder(this.files, report, dependencies)
    const outside = new Evaluator(this.files, file, builder, undefined, report)
    for (const node of chunk.statements) {
      const home: Home = { file, chunk }
      if (node.kind === 'use') this.#use({ file, chunk, node }, builder, report)
      else if (node.kind === 'let' && node.name) {
        this.#twice({ file, chunk, node }, builder, report)
        outside.value({ kind: 'let', written: { node, home }, instance: undefined })
      } else if (node.kind === 'require') requirement({ node, home }, undefined, outside, report)
      else if (node.kind === 'block') {
        const item: Item<Block> = { file, chunk, node }
        if (blocks.length >= MOST_BLOCKS) {
          report({
            rule: 'syntax',
            message: `More than ${MOST_BLOCKS} blocks stand in one line. Those from here on are not looked at; put each on lines of its own.`,
            place: origin(item, node.name),
          })
          break
        }
        if (isOpening(item)) doors.push(this.#checkedDoor(item, builder, report, dependencies))
        else if (topBlock(plainName(node.name.text))) singles.push(this.#checkedSingle(item, builder, report))
        else continue
        blocks.push(item)
      }
    }
    const again = (): Parts => ({
      doors: blocks.filter(isOpening).map(i => this.#door(i, new Builder(this.files, silent, dependencies), silent)),
      singles: blocks
        .filter(i => !isOpening(i))
        .map(i => this.#single(i, new Builder(this.files, silent, dependencies), silent)),
    })
    built = true
    const unit = new Unit({ file, chunk, findings, dependencies }, { doors, singles }, again, u => this.#used(u))
    this.#used(unit)
    return unit
  }

  #door(item: Item<Block>, builder: Builder, report: (f: Finding) => void): Door {
    const make = (overrides: ReadonlyMap<string, Value>, b: Builder, say: (f: Finding) => void): Door =>
      new Door(item, new Evaluator(this.files, item.file, b, b.opening(item), say, overrides), o =>
        make(o, new Builder(this.files, silent, builder.dependencies), silent),
      )
    return make(new Map(), builder, report)
  }

  #single(item: Item<Block>, builder: Builder, report: (f: Finding) => void): Single {
    const root = builder.single(item)
    return { item, root, evaluator: new Evaluator(this.files, item.file, builder, root, report) }
  }

  /** With all that is wrong in it reported. */
  #checkedDoor(
    item: Item<Block>,
    builder: Builder,
    report: (f: Finding) => void,
    dependencies: Map<string, Dependency>,
  ): Door {
    this.#twice(item, builder, report)
    const own = (f: Finding): void => report({ ...f, opening: labelOf(item.node) })
    const openingBuilder = new Builder(this.files, own, dependencies)
    const door = this.#door(item, openingBuilder, own)
    everything(door.root, door.evaluator, own)
    // with its `like` leading nowhere, all that should have come from there would be called missing
    if (!openingBuilder.likeFailed) missingFields(door, own)
    if (
      builder.found(item.file, 'first opening') === labelOf(item.node) &&
      !builder.find(item.file, 'job') &&
      this.files.get(item.file)?.firstOpening?.node === item.node
    )
      report({
        rule: 'missing_field',
        message: 'This file has openings but no `job`: the order they belong to, and the units it is written in.',
        place: door.header('opening'),
        fixes: [
          {
            title: 'Add a `job`',
            safe: false,
            edits: [
              {
                place: { file: item.file, chunk: item.chunk, start: item.node.start, end: item.node.start },
                text: 'job "1" {\n  units = imperial\n}\n\n',
              },
            ],
          },
        ],
      })
    return door
  }

  #checkedSingle(item: Item<Block>, builder: Builder, report: (f: Finding) => void): Single {
    if (item.node.name.text !== 'limits') this.#twice(item, builder, report)
    // limits are judged against those of the used files that they override
    else builder.found(item.file, 'limits')
    const single = this.#single(item, builder, report)
    const { root, evaluator } = single
    everything(root, evaluator, report)
    // a stock spring or operator may leave fields to the opening that is like it; a slat or pipe is used as it stands
    if (root.spec.name === 'slat' || root.spec.name === 'pipe') missingIn(root, report)
    return single
  }

  #twice(item: Item, builder: Builder, report: (f: Finding) => void): void {
    const key = keyOf(item.node)
    if (!key || !('name' in item.node) || !item.node.name) return
    const first = this.files.get(item.file)?.named.get(key)
    builder.found(item.file, `own ${key}`)
    if (!first || first.node === item.node) return
    const at = item.node.kind === 'block' && item.node.label ? item.node.label : item.node.name
    const what = key === 'job' ? 'A file has one `job`' : `\`${key}\` stands twice in this file`
    report({
      rule: 'duplicate',
      message: `${what}; the first one counts. Rename or remove one of them.`,
      place: origin(item, at),
      related: [{ place: origin(first, first.node), message: 'the first one' }],
    })
  }

  #use(item: Item<Use>, builder: Builder, report: (f: Finding) => void): void {
    const path = item.node.path
    if (!path) return
    builder.found(item.file, `use ${path.value}`)
    const place = origin(item, path)
    const target = this.files.target(item.file, path.value)
    if (!target.ok) {
      report({ rule: target.outside ? 'use_outside' : 'use_failed', message: target.message, place })
      return
    }
    const circle = this.files.useCircle(item.file, target.file)
    if (circle) {
      const names = [item.file, ...circle].map(f => `"${f.slice(f.lastIndexOf('/') + 1)}"`)
      report({
        rule: 'circle',
        message: `A circle of \`use\`: ${names.join(' uses ')}. One of them has to do without.`,
        place,
      })
      return
    }
    if (!this.files.get(target.file))
      report({
        rule: 'use_failed',
        message: `There is no file "${path.value}" beside this one. The path is relative to this file; check its spelling.`,
        place,
      })
  }
}

const isOpening = ({ node }: Item<Block>): boolean => plainName(node.name.text) === 'opening'
const silent = (): void => {}

/** Evaluates all that is written in an opening or block, so that every fault in it is found. */
function everything(root: Instance, evaluator: Evaluator, report: (f: Finding) => void): void {
  const visit = (at: Instance): void => {
    for (const name of at.fields.keys()) evaluator.field(at, name)
    for (const written of at.lets.values()) evaluator.value({ kind: 'let', written, instance: at })
    // what stands in limits outside was judged there; what came with a stock item is judged here
    for (const r of at.requires) if (!r.home.outside || r.home.via) requirement(r, at, evaluator, report)
    for (const b of at.blocks) visit(b)
  }
  visit(root)
}

function requirement(
  written: Written<Require>,
  at: Instance | undefined,
  evaluator: Evaluator,
  report: (f: Finding) => void,
): void {
  const { node, home } = written
  const scope = { instance: at, home }
  const r = evaluateExpression(node.value, scope, evaluator)
  if (r.state === 'unknown' && r.faulty) return
  const because = node.because?.text ? ` (${node.because.text.value})` : ''
  const text = evaluator.source(home, node.value)
  const common = {
    rule: 'requirement',
    place: placeOf(home, node),
    block: at?.path ?? '',
    related: home.via ? [{ place: origin(home, node), message: 'required here' }] : [],
  }
  if (r.state === 'unknown') {
    // in the stock nothing can be decided; where the item is used it can
    if (stockAlone(at)) return
    report({
      ...common,
      severity: 'note',
      message: `Cannot be decided yet: \`${text}\`${because}.${r.missing.length ? ` Missing: ${r.missing.join(', ')}.` : ''}`,
    })
  } else if (r.value.kind !== 'truth')
    evaluator.report(
      home,
      node.value,
      'wrong_type',
      `\`require\` needs something that is true or false, a comparison say; \`${text}\` is neither.`,
    )
  else if (!r.value.truth) {
    const e = node.value
    let sides = ''
    if (e.kind === 'binary' && ['<', '<=', '>', '>=', '==', '!='].includes(e.operator)) {
      const show = (side: typeof e.left): string => {
        const v = evaluator.quietly(() => evaluateExpression(side, scope, evaluator))
        return v.state === 'known' ? showValue(v.value, evaluator.system) : evaluator.source(home, side)
      }
      sides = ` Left: ${show(e.left)}; right: ${show(e.right)}.`
    }
    report({ ...common, message: `Required here but not so: \`${text}\`${because}.${sides}` })
  }
}

const stockAlone = (at: Instance | undefined): boolean =>
  at !== undefined && !rootOf(at).spec.blocks.size && rootOf(at).spec.name !== 'job'
const rootOf = (at: Instance): Instance => (at.parent ? rootOf(at.parent) : at)

/** `missing_field` for what the opening needs to be complete. */
function missingFields(door: Door, report: (f: Finding) => void): void {
  for (const path of door.missing()) {
    const dot = path.lastIndexOf('.')
    const block = dot < 0 ? 'opening' : path.slice(0, dot)
    const name = path.slice(dot + 1)
    const at = door.block(block)!
    const inner = at.spec.fields.has(name) ? undefined : at.spec.blocks.get(name)
    if (inner) {
      const needs = [...inner.fields.values()].filter(f => f.required).map(f => `\`${f.name}\``)
      report({
        rule: 'missing_field',
        block,
        message: `\`${door.mark}\` has no \`${inner.name}\` yet${needs.length ? `; it needs ${needs.join(', ')}` : ''}. ${unlocks(door, path)}`,
        place: door.header(block),
      })
    } else {
      const spec = at.spec.fields.get(name)!
      report({
        rule: 'missing_field',
        block,
        message: `\`${name}\` is missing from \`${at.spec.name}\`: ${lower(spec.doc)} For example \`${name} = ${spec.example}\`. ${unlocks(door, path)}`,
        place: door.header(block),
      })
    }
  }
}

const lower = (s: string): string => s.charAt(0).toLowerCase() + s.slice(1)

function unlocks(door: Door, path: string): string {
  const waiting: string[] = []
  for (const e of door.entries()) {
    if (!e.derivedOnly) continue
    const r = door.evaluator.field(e.instance, e.spec.name)
    if (r.state === 'unknown' && r.missing.some(m => m === path || m.startsWith(`${path}.`))) waiting.push(e.path)
  }
  if (waiting.length === 0) return ''
  const more = waiting.length > 4 ? ` and ${waiting.length - 4} more` : ''
  return `Without it these stay unknown: ${waiting.slice(0, 4).join(', ')}${more}.`
}

function missingIn(root: Instance, report: (f: Finding) => void): void {
  if (!root.written || root.broken) return
  for (const f of root.spec.fields.values())
    if (f.required && !root.fields.has(f.name))
      report({
        rule: 'missing_field',
        message: `\`${f.name}\` is missing from this ${root.spec.name}: ${lower(f.doc)} For example \`${f.name} = ${f.example}\`.`,
        place: placeOf(root.written.home, root.written.node.name),
      })
}

export { pathOf }
