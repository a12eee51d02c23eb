/**
 * The files of a workspace as openings with values. What a chunk gave is kept as long as the chunk and everything it
 * looked up elsewhere stay the same objects, so an edit costs the openings that read it and no others.
 */
import type { Block, Chunk, Source, Use } from '../../grammar/index.ts'
import { everything, missingFields, missingIn, requirement } from './checks.ts'
import { Door } from './door.ts'
import { Evaluator } from './evaluate.ts'
import { type Dependency, Files, type Host, type Item, keyOf, labelOf } from './files.ts'
import type { Finding } from './finding.ts'
import { Builder, type Home, origin } from './instance.ts'
import { structure } from './structure.ts'
import { type Parts, type Single, Unit } from './unit.ts'
import type { Value } from './value.ts'
import { plainName, topBlock } from './vocabulary/index.ts'

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
    return this.unitsOf(file, this.files.get(file)?.source.chunks ?? [])
  }

  /** The units of some chunks of a file; the others are not looked at. */
  unitsOf(file: string, chunks: readonly Chunk[]): Unit[] {
    this.files.look(file)
    return chunks.map(chunk => this.unit(file, chunk))
  }

  /** The unit of one chunk of a file; the others are not looked at. */
  unit(file: string, chunk: Chunk): Unit {
    const [last, before] = this.#units.get(chunk) ?? []
    if (last && this.#holds(last)) return last
    const unit = before && this.#holds(before) ? before : this.#unit(file, chunk)
    this.#units.set(chunk, [unit, last])
    return unit
  }

  #holds(unit: Unit): boolean {
    const holds = this.files.holds(unit.dependencies, unit.follows ? 0 : unit.checked)
    if (holds) unit.checked = this.files.now
    return holds
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
    const unit = new Unit(
      { file, chunk, findings, dependencies, checked: this.files.now },
      { doors, singles },
      again,
      u => this.#used(u),
    )
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
    if (root.spec.name === 'slat' || root.spec.name === 'pipe') missingIn(root, evaluator, report)
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
