/** What follows from a line, shown at its end: short, in the job's units; the derivation comes when it is asked for. */
import type { Block, Expression, Field, Require, Statement } from '../../grammar/index.ts'
import {
  type BlockSpec,
  type Door,
  type Edit,
  type Evaluator,
  evaluate,
  type Instance,
  plainName,
  type Scope,
  setField,
  showAs,
  type Unit,
  ungroup,
} from '../model/index.ts'
import { DIMENSION, sameDimension, showQuantity, writeFraction } from '../units/index.ts'
import { instanceOf, rootsOf } from './at.ts'
import { HEADERS, type Label, PARTNERS } from './hint_table.ts'
import { code, explainPaths, paragraphs } from './markdown.ts'

/** Longer labels push the text of the line out of sight. */
export const LONGEST = 24

export interface Hint {
  /** In the chunk: the end of the line. */
  readonly offset: number
  readonly label: string
  /** The values shown, by full path; none for what only stands in the text. */
  readonly paths: readonly string[]
  /** The expression whose value is shown, where the hint shows one. */
  readonly of?: string
  /** A field that a double click writes down. */
  readonly writes?: string
}

/** The hints of a chunk between two offsets. */
export function inlayHints(unit: Unit, from: number, to: number, any?: () => Evaluator | undefined): Hint[] {
  const walker = new Walker(unit, from, to)
  const roots = rootsOf(unit)
  for (const node of unit.chunk.statements) {
    const root = roots.find(r => r.node === node)
    if (root && node.kind === 'block') walker.block(node, root.instance, root.evaluator, root.door)
    else if (node.kind === 'let' || node.kind === 'require') walker.statement(node, undefined, any?.(), undefined)
  }
  return walker.hints
}

class Walker {
  readonly hints: Hint[] = []
  readonly #ends = new Set<number>()

  constructor(
    readonly unit: Unit,
    readonly from: number,
    readonly to: number,
  ) {}

  block(node: Block, at: Instance | undefined, evaluator: Evaluator, door: Door | undefined): void {
    if (node.start > this.to || node.end < this.from || !at) return
    if (door) this.#labels(node.open < 0 ? node.start : node.open, HEADERS[at.spec.name]?.(door, at))
    for (const s of node.body) {
      if (s.kind !== 'block') this.statement(s, at, evaluator, door)
      else {
        const spec: BlockSpec | undefined = at.spec.blocks.get(plainName(s.name.text))
        this.block(s, instanceOf(at, s, spec), evaluator, door)
      }
    }
  }

  statement(node: Statement, at: Instance | undefined, evaluator: Evaluator | undefined, door: Door | undefined): void {
    if (node.start > this.to || node.end < this.from || !evaluator) return
    const scope: Scope = { instance: at, home: { file: this.unit.file, chunk: this.unit.chunk } }
    if (node.kind === 'field' && at) this.#field(node, at, evaluator, door)
    else if (node.kind === 'let' && node.name && computed(node.value)) {
      const r = evaluator.quietly(() =>
        evaluator.value({ kind: 'let', written: { node, home: scope.home }, instance: at }),
      )
      if (r.state === 'known')
        this.#put(node.end, { text: `= ${showAs(r, undefined, evaluator.system)}`, paths: [] }, this.#text(node.value))
    } else if (node.kind === 'require') this.#require(node, scope, evaluator)
  }

  #field(node: Field, at: Instance, evaluator: Evaluator, door: Door | undefined): void {
    const name = plainName(node.name.text)
    const spec = at.spec.fields.get(name)
    if (!spec || at.fields.get(name)?.node !== node) return
    const partner = door && PARTNERS[`${at.spec.name}.${name}`]?.(door, at)
    if (computed(node.value) && (spec.takes.kind === 'quantity' || spec.takes.kind === 'range')) {
      const r = evaluator.field(at, name)
      if (r.state === 'known') {
        const value = `= ${showAs(r, spec.shown, evaluator.system)}`
        const both = partner?.map(p => ({ ...p, text: `${value}, ${p.text}` })) ?? []
        this.#labels(node.end, [...both, { text: value, paths: [`${at.path}.${name}`] }], this.#text(node.value))
        return
      }
    }
    this.#labels(node.end, partner)
  }

  #require(node: Require, scope: Scope, evaluator: Evaluator): void {
    const e = ungroup(node.value)
    if (e.kind !== 'binary' || !['<', '<=', '>', '>=', '==', '!='].includes(e.operator)) return
    // the evaluator may be another statement's, whose findings these faults are not
    const sides = evaluator.quietly(() => [e.left, e.right].map(side => evaluate(side, scope, evaluator)))
    if (!sides.every(s => s.state === 'known' && s.value.kind === 'number')) return
    // in one unit, so that the two can be compared at a glance
    const unit = evaluator.system === 'imperial' ? 'in' : 'mm'
    const show = (v: { si: number; dimension: Parameters<typeof sameDimension>[0] }): string =>
      showQuantity(v.si, v.dimension, {
        system: evaluator.system,
        ...(sameDimension(v.dimension, DIMENSION.length) ? { unit, digits: 4 } : {}),
      }).text
    const [left, right] = sides.map(s => (s.state === 'known' && s.value.kind === 'number' ? show(s.value) : ''))
    this.#put(node.end, { text: `${left} ${e.operator} ${right}`, paths: [] }, this.#text(node.value))
  }

  #text = (e: Expression): string => this.unit.chunk.text.slice(e.start, e.end)

  /** The first of the labels that is short enough. */
  #labels(offset: number, labels: readonly Label[] | undefined, of?: string): void {
    const fits = labels?.find(short)
    if (fits) this.#put(offset, fits, of)
  }

  /** One hint a line: a block written on one line shows what its header has to say. */
  #put(offset: number, label: Label, of?: string): void {
    const end = lineEnd(this.unit.chunk.text, offset)
    if (!short(label) || end < this.from || end > this.to || this.#ends.has(end)) return
    this.#ends.add(end)
    this.hints.push({ offset: end, label: label.text, paths: label.paths, of, writes: label.writes })
  }
}

const short = (l: Label): boolean => l.text.length <= (l.longest ?? LONGEST)

/** A value that has to be worked out in the head: not a quantity, word or text as it stands. */
function computed(value: Expression): boolean {
  const e = ungroup(value)
  if (e.kind === 'list') return e.items.some(computed)
  if (e.kind === 'unary') return computed(e.operand)
  return e.kind === 'binary' || e.kind === 'call' || e.kind === 'path'
}

/** The end of the line's text, before the blanks at its end. */
function lineEnd(text: string, offset: number): number {
  const rest = text.slice(offset).search(/[\r\n]/)
  const end = rest < 0 ? text.length : offset + rest
  return offset + text.slice(offset, end).trimEnd().length
}

/** The opening that a hint stands in, or behind whose end it stands. */
export const doorOf = ({ doors, chunk }: Unit, { offset }: Hint): Door | undefined =>
  doors.find(({ item: { node } }) => node.start <= offset && offset <= lineEnd(chunk.text, node.end))

/** What a hint stands for, in full. */
export function hintTooltip(door: Door | undefined, hint: Pick<Hint, 'paths' | 'of' | 'label'>): string {
  return paragraphs(hint.of && `${code(hint.of)} ${hint.label}`, door && explainPaths(door, hint.paths))
}

/** What a double click writes: a field that is worked out but may be written down. A preload is rounded up to a hole. */
export function hintEdits(door: Door, field: string): Edit[] | undefined {
  const text = fieldText(door, field)
  return text === undefined || door.written(field) ? undefined : setField(door, field, text)
}

/** The text that writes a worked-out value down. */
export function fieldText(door: Door, field: string): string | undefined {
  const entry = door.entry(field)
  const r = door.result(field)
  if (!entry || r.state === 'unknown') return undefined
  if (r.value.kind === 'word') return r.value.word
  if (r.value.kind !== 'number') return undefined
  const holes = door.number('adjuster.holes')
  if (field === 'adjuster.preload')
    return holes === undefined || r.value.si <= 0
      ? undefined
      : writeFraction(r.value.si, 'turn', holes, { rounding: 'up' })
  return undefined
}
