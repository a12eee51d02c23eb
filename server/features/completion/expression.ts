/** Names in expressions, and what stands behind a dot. */
import { parseSource } from '../../../grammar/index.ts'
import {
  type Door,
  dimensionOfEntry,
  type Entry,
  type Evaluator,
  evaluate,
  FUNCTIONS,
  type Instance,
  number,
  pathOf,
  showAs,
} from '../../model/index.ts'
import { type Dimension, sameDimension } from '../../units/index.ts'
import { scopeOf } from '../at.ts'
import { blockAtPath, letsInScope, reachable } from '../scope.ts'
import { type Cursor, image } from './context.ts'
import { type Item, plainText, sortKey } from './item.ts'

const GROUP = { derived: 1, field: 2, let: 0, block: 3, func: 4, other: 5 } as const

/** What an operand here should be, seen from what is written before it; none where anything fits. */
export function expected(c: Cursor, field: readonly Dimension[]): readonly Dimension[] {
  const text = c.at.chunk.text
  const start = c.head.findIndex(t => ['=', 'require'].includes(image(c, t)))
  const operand = c.head.slice(start + 1)
  let from = 0
  let op = -1
  operand.forEach((t, i) => {
    const word = image(c, t)
    if (['and', 'or', 'not', '(', ',', '['].includes(word)) [from, op] = [i + 1, -1]
    else if (['<', '<=', '>', '>=', '==', '!='].includes(word)) op = i
    else if ((word === '+' || word === '-') && op < 0 && i > from) op = i
  })
  const last = image(
    c,
    operand.findLast(t => t.kind === 'operator'),
  )
  if (last === '*' || last === '/') return []
  if (op < 0)
    return image(c, c.head[0]) === 'require' || operand.length > from + 1
      ? field.slice(0, operand.length > from + 1 ? 0 : undefined)
      : field
  const left = operand.slice(from, op)
  if (left.length === 0 || !c.at.evaluator) return field
  const d = dimensionOfText(text.slice(left[0]!.start, left.at(-1)!.end), c, c.at.evaluator)
  return d ? [d] : field
}

function dimensionOfText(text: string, c: Cursor, evaluator: Evaluator): Dimension | undefined {
  const chunk = parseSource(`let x = ${text}\n`).chunks[0]
  const node = chunk?.statements[0]
  if (!chunk || node?.kind !== 'let') return undefined
  const home = { file: c.at.file, chunk }
  const r = evaluator.quietly(() => evaluate(node.value, { instance: c.at.instance, home }, evaluator))
  return r.state === 'unknown' ? r.dimension : r.value.kind === 'number' ? r.value.dimension : undefined
}

const fits = (d: Dimension | undefined, wanted: readonly Dimension[]): boolean =>
  d !== undefined && wanted.some(w => sameDimension(w, d))

/** Everything that may stand here by name, what fits first. */
export function expressionItems(c: Cursor, wanted: readonly Dimension[], not?: string): Item[] {
  const { evaluator, door } = c.at
  const scope = scopeOf(c.at)
  const lets = letsInScope(scope, c.world.files)
  // what stands behind a name that is changed stays
  if (c.typed !== '' && c.follows === '(') return functionItems(c, 0)
  if (goesDeeper(c)) return blockItems(c, door?.root.blocks ?? [], 0)
  const out: Item[] = []
  let place = 0
  const hangs = hangingOn(door, not)
  for (const name of lets)
    out.push({ label: name, kind: 'let', insert: name, sort: sortKey(GROUP.let, place++), span: c.word })
  if (evaluator)
    for (const { path, entry, dimension } of reachable(door, scope, evaluator, lets)) {
      if (entry.path === not) continue
      const right = wanted.length === 0 || fits(dimension, wanted)
      // what hangs on this very field would go in a circle
      if (hangs(entry)) continue
      if (!right && (entry.instance.spec.name === 'limits' || path.includes('.'))) continue
      const group = !right
        ? GROUP.other
        : entry.instance.spec.name === 'limits'
          ? GROUP.other
          : entry.derivedOnly
            ? GROUP.derived
            : GROUP.field
      out.push({
        label: path,
        kind: entry.derivedOnly ? 'derived' : 'field',
        detail: valueText(entry.instance, entry.spec.name, evaluator),
        insert: path,
        sort: sortKey(group, place++),
        span: c.word,
        doc: `value ${entry.path}`,
      })
    }
  const blocks = blockItems(c, door?.root.blocks ?? [], place).filter(b => !out.some(o => o.label === b.label))
  return [...out, ...blocks, ...functionItems(c, place + blocks.length)]
}

/** Whether a value becomes another one, or known at all, where a field has another value. */
function hangingOn(door: Door | undefined, field: string | undefined): (entry: Entry) => boolean {
  const entry = field === undefined ? undefined : door?.entry(field)
  const dimension = entry && dimensionOfEntry(entry.spec)
  if (!door || !entry || !dimension) return () => false
  const other = door.with({ [entry.path]: number(2 * (door.number(entry.path) ?? 0) + 1, dimension) })
  return ({ path }) => door.number(path) !== other.number(path)
}

/** Whether the name under the cursor leads to something behind a dot, so that only a block can stand in its place. */
const goesDeeper = (c: Cursor): boolean => c.typed !== '' && c.follows === '.'

const blockItems = (c: Cursor, blocks: readonly Instance[], place: number): Item[] =>
  blocks.map((b, i) => ({
    label: b.name ?? b.spec.name,
    kind: 'block',
    insert: b.name ?? b.spec.name,
    sort: sortKey(GROUP.block, place + i),
    span: c.word,
    doc: `block ${b.spec.name}`,
  }))

function functionItems(c: Cursor, place: number): Item[] {
  return [...FUNCTIONS].map(([name, f], i) => {
    const args = f.form
      .slice(name.length + 1, -1)
      .replace(', ...', '')
      .split(', ')
    const snippet = c.follows === '(' ? name : `${name}(${args.map((_, n) => `\${${n + 1}:0}`).join(', ')})`
    return {
      label: name,
      kind: 'function',
      detail: f.form,
      insert: plainText(snippet),
      snippet,
      sort: sortKey(GROUP.func, place + i),
      span: c.word,
      doc: `function ${name}`,
    }
  })
}

function valueText(instance: Instance, name: string, evaluator: Evaluator): string | undefined {
  const r = evaluator.field(instance, name)
  const spec = instance.spec.fields.get(name) ?? instance.spec.derived.get(name)
  return r.state === 'known' ? `= ${showAs(r, spec?.shown, evaluator.system)}` : 'not known yet'
}

/** `drum.` or `curtain.slat.pi` at the end of the line. */
export function pathBefore(line: string): readonly string[] | undefined {
  const m = line.match(/(?<![\w.])([A-Za-z_]\w*(?:\.[A-Za-z_]\w*)*)\.\w*$/)
  return m?.[1]?.split('.')
}

export function memberItems(c: Cursor, names: readonly string[], wanted: readonly Dimension[], not?: string): Item[] {
  const { evaluator } = c.at
  const at = evaluator && blockAtPath(names, scopeOf(c.at), evaluator)
  if (!at) return []
  if (goesDeeper(c)) return blockItems(c, at.blocks, 0)
  const out: Item[] = []
  let place = 0
  for (const spec of [...at.spec.derived.values(), ...at.spec.fields.values()]) {
    if (pathOf(at, spec.name) === not) continue
    const derived = at.spec.derived.has(spec.name)
    const right = wanted.length === 0 || fits(dimensionOfEntry(spec), wanted)
    out.push({
      label: spec.name,
      kind: derived ? 'derived' : 'field',
      detail: valueText(at, spec.name, evaluator),
      insert: spec.name,
      sort: sortKey(!right ? GROUP.other : derived ? GROUP.derived : GROUP.field, place++),
      span: c.word,
      doc: `value ${pathOf(at, spec.name)}`,
    })
  }
  return [...out, ...blockItems(c, at.blocks, place)]
}
