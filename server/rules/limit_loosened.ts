import type { Field } from '../../grammar/index.ts'
import { sizeLimit } from '../mechanics/index.ts'
import {
  type Door,
  type Evaluator,
  type FieldSource,
  type Fix,
  type Instance,
  type Item,
  LIMITS,
  type LimitSpec,
  origin,
  type Place,
  type Result,
  setField,
  showAs,
} from '../model/index.ts'
import { over, under } from './compare.ts'
import { type Report, rule } from './rule.ts'

/** A limit as it is written, with what it replaces. */
interface Written {
  readonly limits: Instance
  readonly evaluator: Evaluator
  readonly name: string
  readonly spec: LimitSpec
  readonly node: Field
  /** Where the value replaced is written; the default where it is not. */
  readonly before: FieldSource | undefined
  readonly replaced: Result | undefined
}

export default rule({
  id: 'limit_loosened',
  group: 'Language',
  severity: 'error',
  never: true,
  what: 'A limit that is looser than the one it overrides says why.',
  why: 'Whoever relies on the checks must be able to see where they were relaxed, and for what reason.',
  todo: 'Write the reason after `because`, or keep to the limit that is overridden.',
  source: 'the language',
  bad: 'limits { drum_sag = 0.05 in/ft }',
  good: 'limits { drum_sag = 0.05 in/ft because "deflection agreed with the structural engineer" }',
  check(door, report) {
    const limits = door.block('limits')
    for (const [name, source] of limits?.fields ?? []) {
      const spec = LIMITS.get(name)
      if (!limits || !spec || !source.node || reasoned(source.node)) continue
      const at = `limits.${name}`
      if (source.home.outside) {
        // one increment is only known in an opening, so a limit of the file is judged here where that is its default
        const undecided = spec.field.byDefault && 'compute' in spec.field.byDefault && spec.loosest === undefined
        if (!undecided || limits.under.has(name)) continue
      }
      const before = limits.under.get(name)
      const replaced =
        before || name !== 'opening_size' ? door.evaluator.fieldFrom(limits, name, before) : sizeDefault(door)
      const w = { limits, evaluator: door.evaluator, name, spec, node: source.node, before, replaced }
      const found = loosened(w, source.home.file)
      if (found && source.home.outside)
        report({
          ...found,
          at: door.header('opening'),
          related: [{ at: origin(source.home, source.node), message: 'the limit of the file' }, ...found.related!],
        })
      else if (found) report({ ...found, at, fixes: () => [keep(w, text => setField(door, at, text))] })
    }
  },
  checkSingle({ item, root, evaluator }, report, files) {
    if (root.spec.name !== 'limits') return
    const levels = files.limits(item.file)
    const further = levels.slice(levels.findIndex(l => l.node === item.node) + 1)
    for (const [name, source] of root.fields) {
      const spec = LIMITS.get(name)
      if (!spec || !source.node || reasoned(source.node)) continue
      const before = firstOf(further, name)
      const w = {
        limits: root,
        evaluator,
        name,
        spec,
        node: source.node,
        before,
        replaced: before ? evaluator.fieldFrom(root, name, before) : fileDefault(spec, root, evaluator),
      }
      const found = loosened(w, item.file)
      const place = origin(source.home, source.node.value)
      if (found) report({ ...found, at: place, fixes: () => [keep(w, text => [{ place, text }])] })
    }
  },
})

const reasoned = (node: Field): boolean => (node.because?.text?.value.trim() ?? '') !== ''

function firstOf(levels: readonly Item[], name: string): FieldSource | undefined {
  for (const level of levels)
    if (level.node.kind === 'block')
      for (const node of level.node.body)
        if (node.kind === 'field' && node.name.text === name)
          return { node, home: { file: level.file, chunk: level.chunk, outside: true } }
  return undefined
}

/** For a whole file: of a default in steps the loosest. */
function fileDefault(spec: LimitSpec, limits: Instance, evaluator: Evaluator): Result | undefined {
  if (spec.loosest !== undefined) return asResult(spec, spec.loosest, limits, evaluator)
  return spec.field.byDefault && 'compute' in spec.field.byDefault
    ? undefined
    : evaluator.fieldFrom(limits, spec.field.name, undefined)
}

/** The default of `opening_size` is another for the width and for the height: the stricter is what a looser one loosens. */
function sizeDefault(door: Door): Result | undefined {
  const steps = ['width', 'height']
    .map(side => door.number(side))
    .flatMap(size => (size === undefined ? [] : (sizeLimit(size) ?? [])))
  return steps.length
    ? asResult(LIMITS.get('opening_size')!, Math.min(...steps), door.block('limits')!, door.evaluator)
    : undefined
}

/** A number as a value of this limit. */
function asResult(spec: LimitSpec, si: number, limits: Instance, evaluator: Evaluator): Result | undefined {
  const like = evaluator.field(limits, spec.field.name)
  return like.state === 'known' && like.value.kind === 'number'
    ? { ...like, origin: 'default', value: { ...like.value, si } }
    : undefined
}

function loosened(w: Written, file: string): Report | undefined {
  const value = w.evaluator.field(w.limits, w.name)
  if (value.state === 'unknown' || w.replaced?.state !== 'known' || !looser(w.spec.sense, value, w.replaced))
    return undefined
  const system = w.evaluator.system
  const shown = w.spec.field.shown
  const home = w.before?.home
  const where = home
    ? `the ${showAs(w.replaced, shown, system)} ${home.file === file ? 'of this file' : `of ${home.file.slice(home.file.lastIndexOf('/') + 1)}`}`
    : `the usual ${showAs(w.replaced, shown, system)} (${w.spec.source})`
  const related: { at: Place; message: string }[] =
    w.before?.node && home ? [{ at: origin(home, w.before.node), message: 'the limit that it overrides' }] : []
  return {
    message: `\`${w.name}\` is set to ${showAs(value, shown, system)}, looser than ${where}, and no reason is given. Write why after \`because\`, or keep to what it overrides.`,
    at: related[0]?.at ?? '',
    related,
  }
}

type Known = Extract<Result, { state: 'known' }>

function looser(sense: LimitSpec['sense'], { value: a }: Known, { value: b }: Known): boolean {
  if (a.kind === 'number' && b.kind === 'number') return sense === 'most' ? over(a.si, b.si) : under(a.si, b.si)
  if (a.kind !== 'list' || b.kind !== 'list') return false
  const [low, high] = a.items.map(i => (i.kind === 'number' ? i.si : undefined))
  const [from, to] = b.items.map(i => (i.kind === 'number' ? i.si : undefined))
  return under(low, from) || over(high, to)
}

/** Writes the limit that is overridden, where that is a plain quantity. */
function keep(w: Written, edits: (text: string) => Fix['edits'] | undefined): Fix | undefined {
  const d = w.spec.field.byDefault
  const node = w.before?.node
  let text: string | undefined
  if (node && w.before?.home && ['quantity', 'list', 'unary'].includes(node.value.kind))
    text = w.before.home.chunk.text.slice(node.value.start, node.value.end)
  else if (!w.before && d && !('compute' in d)) text = d.text
  const list = text === undefined ? undefined : edits(text)
  return text !== undefined && list
    ? { title: `Write \`${w.name} = ${text}\`, the limit that it overrides`, safe: false, edits: list }
    : undefined
}
