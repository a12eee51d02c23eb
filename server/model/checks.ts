/** What is to be said of an opening or block once it is put together: what is required of it, and what is missing. */
import type { Require } from '../../grammar/index.ts'
import type { Door } from './door.ts'
import type { Evaluator } from './evaluate.ts'
import { evaluate as evaluateExpression, showValue } from './expression.ts'
import type { Finding } from './finding.ts'
import { type Instance, origin, placeOf, type Written } from './instance.ts'
import { pathOf } from './paths.ts'

/** Evaluates all that is written in an opening or block, so that every fault in it is found. */
export function everything(root: Instance, evaluator: Evaluator, report: (f: Finding) => void): void {
  const visit = (at: Instance): void => {
    for (const name of at.fields.keys()) evaluator.field(at, name)
    for (const written of at.lets.values()) evaluator.value({ kind: 'let', written, instance: at })
    // what stands in limits outside was judged there; what came with a stock item is judged here
    for (const r of at.requires) if (!r.home.outside || r.home.via) requirement(r, at, evaluator, report)
    for (const b of at.blocks) visit(b)
  }
  visit(root)
}

export function requirement(
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

/**
 * Which required fields a block lacks, by full path. One that follows from others is not missing where these are there;
 * where a single one of them is not, that one is what is missing.
 */
export function lacking(at: Instance, evaluator: Evaluator): string[] {
  const out = new Set<string>()
  for (const f of at.spec.fields.values()) {
    if (!f.required || at.fields.has(f.name)) continue
    if (!f.derived) out.add(pathOf(at, f.name))
    else {
      const r = evaluator.field(at, f.name)
      if (r.state === 'known' || r.faulty) continue
      for (const path of r.missing.length === 1 ? r.missing : [pathOf(at, f.name)]) out.add(path)
    }
  }
  return [...out]
}

/** `missing_field` for what the opening needs to be complete. */
export function missingFields(door: Door, report: (f: Finding) => void): void {
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
  // what follows from others waits for these
  const asked = door.result(path)
  const lacks = [path, ...(asked.state === 'unknown' ? asked.missing : [])]
  for (const e of door.entries()) {
    if (!e.derivedOnly) continue
    const r = door.evaluator.field(e.instance, e.spec.name)
    if (r.state === 'unknown' && r.missing.some(m => lacks.includes(m) || m.startsWith(`${path}.`)))
      waiting.push(e.path)
  }
  if (waiting.length === 0) return ''
  const more = waiting.length > 4 ? ` and ${waiting.length - 4} more` : ''
  return `Without it these stay unknown: ${waiting.slice(0, 4).join(', ')}${more}.`
}

export function missingIn(root: Instance, evaluator: Evaluator, report: (f: Finding) => void): void {
  if (!root.written || root.broken) return
  for (const path of lacking(root, evaluator)) {
    const f = root.spec.fields.get(path.slice(path.lastIndexOf('.') + 1))!
    report({
      rule: 'missing_field',
      message: `\`${f.name}\` is missing from this ${root.spec.name}: ${lower(f.doc)} For example \`${f.name} = ${f.example}\`.`,
      place: placeOf(root.written.home, root.written.node.name),
    })
  }
}
