/** Expressions with checked dimensions. Unknown stays unknown and names what is missing; a fault is reported once. */
import type { Binary, Call, Expression, Path, Quantity, Span, Unary } from '../../grammar/index.ts'
import {
  combineParts,
  DIMENSION,
  type Dimension,
  describeDimension,
  divide,
  multiply,
  power,
  resolveUnit,
  sameDimension,
  showQuantity,
  squareRoot,
  suggestUnits,
  unitMeant,
  unitsFor,
} from '../units/index.ts'
import type { Home, Instance } from './instance.ts'
import { nearestNames } from './names.ts'
import { faulty, known, type NumberValue, number, type Result, truth, unknown, type Value, word } from './value.ts'

export interface Scope {
  /** The block an expression stands in; none at file level. */
  readonly instance: Instance | undefined
  readonly home: Home
}

export interface SimpleFix {
  readonly title: string
  readonly at: Span
  readonly text: string
  readonly safe?: boolean
}

/** What an expression needs of the world around it. */
export interface Env {
  readonly source: (home: Home, span: Span) => string
  readonly path: (path: Path, scope: Scope) => Result
  /** The words that a name may stand for, where the path leads to a field that takes words; `any` where it takes the name of a stock item. */
  readonly wordsOf: (path: Path, scope: Scope) => readonly string[] | 'any' | undefined
  readonly report: (home: Home, at: Span, rule: string, message: string, fixes?: readonly SimpleFix[]) => void
}

/** Two numbers that differ by less than one part in 10^9 count as equal. */
export const nearly = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b))

/** Steel Wire Gauge sizes of the form n/0, in inches, for those who write `wire = 2/0` (Machinery's Handbook, from memory). */
const ZERO_GAUGES: Record<string, string> = {
  '1': '0.3065in', '2': '0.3310in', '3': '0.3625in', '4': '0.3938in', '5': '0.4305in', '6': '0.4615in', '7': '0.4900in',
} // biome-ignore format: a table

const kindName = (v: Value): string =>
  ({ number: 'a number', text: 'a text', truth: 'true or false', word: 'a word', list: 'a list' })[v.kind]

const join = (a: Result, b: Result, dimension?: Dimension): Result => {
  const missing = [
    ...new Set([...(a.state === 'unknown' ? a.missing : []), ...(b.state === 'unknown' ? b.missing : [])]),
  ]
  const bad = (a.state === 'unknown' && a.faulty) || (b.state === 'unknown' && b.faulty)
  return bad ? faulty(dimension) : unknown(missing, dimension)
}

const dimensionOf = (r: Result): Dimension | undefined =>
  r.state === 'unknown' ? r.dimension : r.value.kind === 'number' ? r.value.dimension : undefined

export function evaluate(e: Expression, scope: Scope, env: Env): Result {
  switch (e.kind) {
    case 'quantity':
      return quantity(e, scope, env)
    case 'text':
      return known({ kind: 'text', text: e.value }, 'written')
    case 'truth':
      return known(truth(e.value), 'written')
    case 'path':
      return env.path(e, scope)
    case 'group':
      return evaluate(e.inner, scope, env)
    case 'list': {
      const items = e.items.map(i => evaluate(i, scope, env))
      if (items.every(i => i.state === 'known'))
        return known({ kind: 'list', items: items.map(i => (i.state === 'known' ? i.value : number(0))) }, 'written')
      return items.reduce((a, b) => join(a, b))
    }
    case 'unary':
      return unary(e, scope, env)
    case 'binary':
      return binary(e, scope, env)
    case 'call':
      return call(e, scope, env)
    case 'missing':
      return faulty()
  }
}

function quantity(q: Quantity, { home }: Scope, env: Env): Result {
  const parts: { value: number; factor: number; dimension: Dimension }[] = []
  for (const part of q.parts) {
    if (Number.isNaN(part.number.value)) {
      const wire = part.number.fraction?.under === 0 ? ZERO_GAUGES[String(part.number.fraction.over)] : undefined
      const fixes = wire
        ? [{ title: `Write ${part.number.text} wire as ${wire} (Steel Wire Gauge)`, at: part.number, text: wire }]
        : []
      const more = wire ? ` If the wire gauge ${part.number.text} is meant, write its diameter: ${wire}.` : ''
      env.report(
        home,
        part.number,
        'value_range',
        `\`${part.number.text}\` is a fraction over zero and has no value.${more}`,
        fixes,
      )
      return faulty()
    }
    if (!part.unit) {
      parts.push({ value: part.number.value, factor: 1, dimension: DIMENSION.count })
      continue
    }
    const unit = resolveUnit(part.unit.factors)
    if (!unit.ok) {
      const factor = part.unit.factors[unit.unknown]!
      const near = suggestUnits(factor.name)
      const offer = near.length ? ` Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?` : ''
      env.report(
        home,
        factor,
        'unknown_unit',
        `\`${factor.name}\` is not a unit.${offer}`,
        near.map(n => ({ title: `Write the unit \`${n}\``, at: factor, text: n, safe: false })),
      )
      return faulty()
    }
    parts.push({ value: part.number.value, factor: unit.factor, dimension: unit.dimension })
  }
  const first = parts[0]!
  if (parts.length === 1) return finite(first.value * first.factor, first.dimension, home, q, env)
  const sum = combineParts(parts)
  if (sum.ok) return finite(sum.si, first.dimension, home, q, env)
  const text = env.source(home, q)
  if (sum.problem === 'dimension')
    env.report(
      home,
      q,
      'wrong_dimension',
      `\`${text}\` puts ${parts.map(p => aDimension(p.dimension)).join(' and ')} together; the parts of one quantity are all of one kind.`,
    )
  else
    env.report(
      home,
      q,
      'syntax',
      `\`${text}\`: the parts of one quantity go from the larger unit to the smaller, each once, as in \`12ft 4 1/2in\`.`,
    )
  return faulty(first.dimension)
}

/** Ten to this power, in SI units: what follows from such numbers, the fourth power of a length too, can still be held and shown. */
const LARGEST = 30

function finite(si: number, dimension: Dimension, home: Home, at: Span, env: Env): Result {
  if (Math.abs(si) <= 10 ** LARGEST) return known(number(si, dimension), 'written')
  env.report(
    home,
    at,
    'value_range',
    `This number is too large to work with: it may go up to 10^${LARGEST} in SI units (m, kg, s, rad and what is made of them).`,
  )
  return faulty(dimension)
}

/** `a length`, `an angle`, `a plain number`. */
export function aDimension(d: Dimension): string {
  const name = describeDimension(d)
  return name.startsWith('a ') ? name : `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`
}

/** The operands as numbers; reports and answers undefined where one is of another kind. */
function numeric(r: Result, e: Expression, scope: Scope, env: Env, doing: string): Result | undefined {
  if (r.state === 'unknown' || r.value.kind === 'number') return r
  env.report(
    scope.home,
    e,
    'wrong_type',
    `\`${env.source(scope.home, e)}\` is ${kindName(r.value)}; ${doing} needs a number.`,
  )
  return undefined
}

function truthful(r: Result, e: Expression, scope: Scope, env: Env, doing: string): Result | undefined {
  if (r.state === 'unknown' || r.value.kind === 'truth') return r
  env.report(
    scope.home,
    e,
    'wrong_type',
    `\`${env.source(scope.home, e)}\` is ${kindName(r.value)}; ${doing} needs true or false (a comparison, say).`,
  )
  return undefined
}

function unary(e: Unary, scope: Scope, env: Env): Result {
  const inner = evaluate(e.operand, scope, env)
  if (e.operator === 'not') {
    const r = truthful(inner, e.operand, scope, env, '`not`')
    if (!r) return faulty()
    return r.state === 'known' && r.value.kind === 'truth' ? known(truth(!r.value.truth), 'written') : r
  }
  const r = numeric(inner, e.operand, scope, env, 'a minus sign')
  if (!r) return faulty()
  return r.state === 'known' && r.value.kind === 'number'
    ? known(number(-r.value.si || 0, r.value.dimension), 'written')
    : r
}

/** A number with its unit as it is usually written: short units of length and `/day`, `%` touch, others have a space. */
export const withUnit = (numberText: string, unit: string): string =>
  /^([/%]|(in|ft|mm|cm|m|yd|h|s|deg)$)/.test(unit) ? `${numberText}${unit}` : `${numberText} ${unit}`

/** What a quantity may have been meant to be where another kind is needed: its number with a unit, or the unit that was meant. */
function meant(side: Expression, wanted: Dimension, scope: Scope, env: Env): SimpleFix[] {
  const e = ungroup(side)
  if (e.kind !== 'quantity' || e.parts.length !== 1 || sameDimension(wanted, DIMENSION.count)) return []
  const unit = e.parts[0]!.unit
  if (unit) {
    const right = unitMeant(unit.text, wanted)
    return right === undefined ? [] : [{ title: `Write the unit \`${right}\``, at: unit, text: right }]
  }
  const number = env.source(scope.home, e)
  return unitsFor(wanted)
    .slice(0, 3)
    .map(u => ({ title: `Write ${withUnit(number, u)}`, at: e, text: withUnit(number, u) }))
}

/** Shows both sides of a mismatch one above the other. */
function mismatch(e: Binary, left: Dimension, right: Dimension, scope: Scope, env: Env, verb: string): void {
  const a = env.source(scope.home, e.left)
  const b = env.source(scope.home, e.right)
  const width = Math.max(a.length, b.length)
  env.report(
    scope.home,
    e,
    'wrong_dimension',
    `Cannot ${verb}: the two sides are of different kinds.\n  ${a.padEnd(width)}  ${describeDimension(left)}\n  ${b.padEnd(width)}  ${describeDimension(right)}`,
    [...meant(e.left, right, scope, env), ...meant(e.right, left, scope, env)],
  )
}

const VERB: Record<string, string> = { '+': 'add', '-': 'subtract' }

function binary(e: Binary, scope: Scope, env: Env): Result {
  const op = e.operator
  if (op === 'and' || op === 'or') return logic(e, scope, env)
  const equality = op === '==' || op === '!='
  const named = equality ? namedWord(e, scope, env) : undefined
  if (named) return named
  const left = evaluate(e.left, scope, env)
  const right = evaluate(e.right, scope, env)
  const noNumber = (r: Result): boolean => r.state === 'known' && r.value.kind !== 'number'
  if (equality && (noNumber(left) || noNumber(right))) {
    // what is not known yet may be of any kind
    if (left.state === 'unknown') return left
    if (right.state === 'unknown') return right
  }
  if (equality && left.state === 'known' && right.state === 'known' && noNumber(left)) {
    if (right.value.kind !== left.value.kind) {
      env.report(scope.home, e, 'wrong_type', `Cannot compare ${kindName(left.value)} with ${kindName(right.value)}.`)
      return faulty()
    }
    return known(truth((JSON.stringify(left.value) === JSON.stringify(right.value)) === (op === '==')), 'written')
  }
  const doing = '+-*/^'.includes(op) ? `\`${op}\`` : 'a comparison'
  const l = numeric(left, e.left, scope, env, doing)
  const r = numeric(right, e.right, scope, env, doing)
  if (!l || !r) return faulty()
  const ld = dimensionOf(l)
  const rd = dimensionOf(r)
  if (op === '^') return raise(e, l, r, scope, env)
  if (op === '*' || op === '/') {
    const dimension = ld && rd && (op === '*' ? multiply(ld, rd) : divide(ld, rd))
    if (l.state === 'unknown' || r.state === 'unknown') return join(l, r, dimension)
    const a = (l.value as NumberValue).si
    const b = (r.value as NumberValue).si
    if (op === '/' && b === 0) {
      env.report(
        scope.home,
        e,
        'value_range',
        `\`${env.source(scope.home, e.right)}\` is zero; nothing can be divided by it.`,
      )
      return faulty(dimension)
    }
    return finite(op === '*' ? a * b : a / b, dimension!, scope.home, e, env)
  }
  if (ld && rd && !sameDimension(ld, rd)) {
    mismatch(e, ld, rd, scope, env, VERB[op] ?? 'compare')
    return faulty()
  }
  const arithmetic = op === '+' || op === '-'
  if (l.state === 'unknown' || r.state === 'unknown') return join(l, r, arithmetic ? (ld ?? rd) : undefined)
  const a = (l.value as NumberValue).si
  const b = (r.value as NumberValue).si
  if (arithmetic) return finite(op === '+' ? a + b : a - b, ld!, scope.home, e, env)
  return known(truth(compare(op, l.value as NumberValue, r.value as NumberValue)), 'written')
}

function compare(op: string, l: NumberValue, r: NumberValue): boolean {
  const a = l.si
  const b = r.si
  const same = nearly(a, b)
  if (op === '==') return same
  if (op === '!=') return !same
  if (op === '<') return a < b && !same
  if (op === '<=') return a < b || same
  if (op === '>') return a > b && !same
  return a > b || same
}

function raise(e: Binary, l: Result, r: Result, scope: Scope, env: Env): Result {
  const exponent = r.state === 'known' && r.value.kind === 'number' ? r.value : undefined
  if (
    !exponent ||
    !Number.isInteger(exponent.si) ||
    !sameDimension(exponent.dimension, DIMENSION.count) ||
    Math.abs(exponent.si) > 12
  ) {
    if (!(r.state === 'unknown' && r.faulty))
      env.report(scope.home, e.right, 'wrong_type', 'After `^` a whole number is expected, as in `width ^ 2`.')
    return faulty()
  }
  const d = dimensionOf(l)
  const dimension = d && power(d, exponent.si)
  if (l.state === 'unknown') return { ...l, dimension }
  return finite((l.value as NumberValue).si ** exponent.si, dimension!, scope.home, e, env)
}

/** `false and unknown` is false, `true or unknown` is true; otherwise an unknown side leaves it unknown. */
function logic(e: Binary, scope: Scope, env: Env): Result {
  const l = truthful(evaluate(e.left, scope, env), e.left, scope, env, `\`${e.operator}\``)
  const r = truthful(evaluate(e.right, scope, env), e.right, scope, env, `\`${e.operator}\``)
  if (!l || !r) return faulty()
  const decides = e.operator === 'or'
  for (const side of [l, r])
    if (side.state === 'known' && side.value.kind === 'truth' && side.value.truth === decides)
      return known(truth(decides), 'written')
  return l.state === 'known' && r.state === 'known' ? known(truth(!decides), 'written') : join(l, r)
}

/** Beside `==` and `!=` with a word-valued name, a bare name is that word. */
function namedWord(e: Binary, scope: Scope, env: Env): Result | undefined {
  const [left, right] = [ungroup(e.left), ungroup(e.right)]
  for (const [path, other] of [
    [left, right],
    [right, left],
  ] as const) {
    if (path.kind !== 'path' || other.kind !== 'path' || other.names.length !== 1) continue
    const words = env.wordsOf(path, scope)
    const name = other.names[0]!
    if (!words || (words !== 'any' && !words.includes(name.text) && env.wordsOf(other, scope))) continue
    if (words === 'any' && env.wordsOf(other, scope) === 'any') continue
    if (words !== 'any' && !words.includes(name.text)) {
      const near = nearestNames(name.text, words)
      env.report(
        scope.home,
        name,
        'unknown_name',
        `\`${env.source(scope.home, path)}\` is one of ${words.join(', ')}; \`${name.text}\` is none of them.`,
        near.map(n => ({ title: `Write \`${n}\``, at: name, text: n })),
      )
      return faulty()
    }
    const value = evaluate(path, scope, env)
    if (value.state === 'unknown') return value
    const same = value.value.kind === 'word' && value.value.word === name.text
    return known(truth(same === (e.operator === '==')), 'written')
  }
  return undefined
}

/** What stands inside of parentheses. */
export const ungroup = (e: Expression): Expression => (e.kind === 'group' ? ungroup(e.inner) : e)

interface Func {
  readonly least: number
  readonly most: number
  readonly form: string
  readonly doc: string
  readonly compute: (args: readonly number[]) => number
}
const whole = (n: number): number => (nearly(n, Math.round(n)) ? Math.round(n) : n)

/** The functions of the language. `floor`, `ceil` and `round` allow 1e-9 of a step. */
export const FUNCTIONS: ReadonlyMap<string, Func> = new Map<string, Func>([
  ['min', { least: 1, most: 99, form: 'min(a, b, ...)', doc: 'The smallest of its values.', compute: a => Math.min(...a) }],
  ['max', { least: 1, most: 99, form: 'max(a, b, ...)', doc: 'The largest of its values.', compute: a => Math.max(...a) }],
  ['abs', { least: 1, most: 1, form: 'abs(value)', doc: 'The value without its sign.', compute: a => Math.abs(a[0]!) }],
  ['sqrt', { least: 1, most: 1, form: 'sqrt(value)', doc: 'The square root; of an area it is a length.', compute: a => Math.sqrt(a[0]!) }],
  ['floor', { least: 1, most: 2, form: 'floor(value, step)', doc: 'Down to a whole number of steps.', compute: a => Math.floor(whole(a[0]! / a[1]!)) * a[1]! }],
  ['ceil', { least: 1, most: 2, form: 'ceil(value, step)', doc: 'Up to a whole number of steps: `ceil(preload, 1 turn / holes)`.', compute: a => Math.ceil(whole(a[0]! / a[1]!)) * a[1]! }],
  ['round', { least: 1, most: 2, form: 'round(value, step)', doc: 'To the nearest whole number of steps.', compute: a => Math.round(whole(a[0]! / a[1]!)) * a[1]! }],
  ['clamp', { least: 3, most: 3, form: 'clamp(value, low, high)', doc: 'The value, kept between two others.', compute: a => Math.min(Math.max(a[0]!, a[1]!), a[2]!) }],
]) // biome-ignore format: a table

function call(e: Call, scope: Scope, env: Env): Result {
  const f = FUNCTIONS.get(e.name.text)
  const args = e.args.map(a => evaluate(a, scope, env))
  if (!f) {
    const near = nearestNames(e.name.text, FUNCTIONS.keys())
    env.report(
      scope.home,
      e.name,
      'unknown_name',
      `\`${e.name.text}\` is not a function; there are ${[...FUNCTIONS.keys()].join(', ')}.${near.length ? ` Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?` : ''}`,
      near.map(n => ({ title: `Write \`${n}\``, at: e.name, text: n })),
    )
    return faulty()
  }
  if (args.length < f.least || args.length > f.most) {
    env.report(
      scope.home,
      e,
      'wrong_type',
      `\`${e.name.text}\` is written \`${f.form}\`; found ${args.length} value${args.length === 1 ? '' : 's'}.`,
    )
    return faulty()
  }
  const checked = args.map((a, i) => numeric(a, e.args[i]!, scope, env, `\`${e.name.text}\``))
  if (checked.some(c => !c)) return faulty()
  let dimension = checked.map(c => dimensionOf(c!)).find(d => d !== undefined)
  for (const [i, c] of checked.entries()) {
    const d = dimensionOf(c!)
    if (d && dimension && !sameDimension(d, dimension)) {
      env.report(
        scope.home,
        e.args[i]!,
        'wrong_dimension',
        `The values of \`${e.name.text}\` must be of one kind; this is ${aDimension(d)}, the first is ${aDimension(dimension)}.`,
      )
      return faulty()
    }
  }
  if (e.name.text === 'sqrt' && dimension) {
    const root = squareRoot(dimension)
    if (!root) {
      env.report(
        scope.home,
        e,
        'wrong_dimension',
        `\`sqrt\` of ${aDimension(dimension)} is not a quantity that can be written.`,
      )
      return faulty()
    }
    dimension = root
  }
  const lacking = checked.filter(c => c?.state === 'unknown')
  if (lacking.length > 0) return lacking.reduce<Result>((a, b) => join(a, b!, dimension), lacking[0]!)
  const numbers = checked.map(c => ((c as { value: NumberValue }).value as NumberValue).si)
  if (['floor', 'ceil', 'round'].includes(e.name.text)) {
    if (numbers.length === 1) {
      if (!sameDimension(dimension!, DIMENSION.count)) {
        env.report(
          scope.home,
          e,
          'wrong_type',
          `\`${e.name.text}\` needs a step beside ${aDimension(dimension!)}: \`${f.form}\`.`,
        )
        return faulty(dimension)
      }
      numbers.push(1)
    }
    if (numbers[1]! <= 0) {
      env.report(scope.home, e.args[1] ?? e, 'value_range', 'The step must be above zero.')
      return faulty(dimension)
    }
  }
  if (e.name.text === 'sqrt' && numbers[0]! < 0) {
    env.report(
      scope.home,
      e,
      'value_range',
      `\`${env.source(scope.home, e.args[0]!)}\` is negative and has no square root.`,
    )
    return faulty(dimension)
  }
  return finite(f.compute(numbers), dimension!, scope.home, e, env)
}

/** A value in words for a message. */
export function showValue(v: Value, system: 'imperial' | 'metric'): string {
  if (v.kind === 'number') return showQuantity(v.si, v.dimension, { system }).text
  if (v.kind === 'text') return `"${v.text}"`
  if (v.kind === 'truth') return String(v.truth)
  if (v.kind === 'word') return v.word
  return `[${v.items.map(i => showValue(i, system)).join(', ')}]`
}
export { word }
