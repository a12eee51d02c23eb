/** A written field against what it takes: words, dimension, kind, range. */
import type { Expression, Field } from '../../grammar/index.ts'
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
import type { Home, Instance } from './instance.ts'
import { nearestNames } from './names.ts'
import type { Names } from './paths.ts'
import { dimensionOf, type FieldSpec } from './spec.ts'
import { faulty, type Known, known, plain, type Result, word } from './value.ts'

const EXPECTED: Record<string, (spec: FieldSpec) => string> = {
  quantity: s =>
    s.takes.kind === 'quantity' ? s.takes.dimensions.map(d => aDimension(DIMENSION[d])).join(' or ') : '',
  range: () => 'two values, the lower and the upper, as in `[4, 16]`',
  text: () => 'a text in quotes',
  date: () => 'a date in quotes, as in "2026-03-09"',
  truth: () => '`true` or `false`',
  tick: () => 'a count, or `true` / `false`',
}

/** What a check asks of whoever evaluates. */
export interface Checking extends Env {
  readonly names: Names
  readonly system: 'imperial' | 'metric'
}

export class WrittenField {
  readonly #env: Checking

  constructor(env: Checking) {
    this.#env = env
  }

  /** The value of a written field; a fault in it is reported once. */
  value(spec: FieldSpec, node: Field, home: Home, at: Instance): Result {
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
    const value = evaluate(e, { instance: at, home }, this.#env)
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
    const text = this.#env.source(home, e)
    if (takes.kind === 'stock') {
      this.#env.report(
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
    this.#env.report(
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
    this.#env.report(home, e, 'wrong_type', `Write \`true\` or \`false\` here; found \`${e.names[0]!.text}\`.`, [
      { title: `Write \`${meant}\``, at: e, text: meant },
    ])
    return faulty()
  }

  /** A text that was written without its quotes. */
  #unquoted(spec: FieldSpec, e: Expression, scope: Scope): boolean {
    if (
      e.kind !== 'path' ||
      this.#env.names.target(
        e.names.map(n => n.text),
        scope,
      )
    )
      return false
    const text = this.#env.source(scope.home, e)
    this.#env.report(
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
    const text = this.#env.source(home, e)
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
      this.#env.report(home, e, 'wrong_type', `\`${spec.name}\` takes ${expected(spec)}; found \`${text}\`.`, fixes)
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
    this.#env.report(
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
    const show = (si: number) => (si === 0 ? 'zero' : showQuantity(si, dimension, { system: this.#env.system }).text)
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
    const text = this.#env.source(home, e)
    const what = wanted.map(w => aDimension(DIMENSION[w])).join(' or ')
    const bare = e.kind === 'quantity' && e.parts.length === 1 && !e.parts[0]!.unit
    const units = wanted.flatMap(w => unitsFor(DIMENSION[w]))
    if (bare && !sameDimension(DIMENSION[wanted[0]!], DIMENSION.count)) {
      const offers = units.filter(u => u !== '').slice(0, wanted[0] === 'length' ? 4 : 3)
      this.#env.report(
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
    this.#env.report(
      home,
      e,
      'wrong_dimension',
      `\`${spec.name}\` is ${what}; \`${text}\` is ${aDimension(found)}.${more}`,
      fixes,
    )
  }
}
