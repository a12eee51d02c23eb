import type { Field } from '../../grammar/index.ts'
import { type Evaluator, type Fix, type Instance, origin, showAs } from '../model/index.ts'
import { wholeLine } from './lines.ts'
import { type Report, rule } from './rule.ts'

export default rule({
  id: 'slat_weight',
  group: 'Rails and curtain',
  severity: 'warning',
  what: 'The weight of a slat is either written or worked out from its gauge, not both in one place; a gauge over a copied weight gives one.',
  why: 'A written weight goes before a gauge beside it. Whoever changes the gauge then changes nothing: curtain, springs and preload stay those of the old weight.',
  todo: 'Remove the line that is not meant: `weight`, to have it from the gauge, or `gauge`.',
  source: 'the language: what is written goes before what is worked out',
  bad: `curtain {
  slat {
    pitch     = 2 5/8in
    thickness = 0.875in
    gauge     = 20
    developed = 3 3/4in
    weight    = 2.1 lb/ft^2
  }
}
`,
  good: `curtain {
  slat {
    pitch     = 2 5/8in
    thickness = 0.875in
    gauge     = 20
    developed = 3 3/4in
  }
}
`,
  check(door, report) {
    const slat = door.block('curtain.slat')
    const found = slat && (both(slat, door.evaluator) ?? lost(slat, door.evaluator))
    if (found) report({ ...found, at: 'curtain.slat.gauge' })
  },
  checkSingle({ root, evaluator }, report) {
    const found = root.spec.name === 'slat' ? (both(root, evaluator) ?? lost(root, evaluator)) : undefined
    if (found) report(found)
  },
})

/**
 * A gauge written in the slat itself with a weight beside it. Of a copied line and one that is written nearer the nearer
 * counts, so there is nothing to say; where both are copied, the slat that they come from has the finding.
 */
function both(slat: Instance, evaluator: Evaluator): Report | undefined {
  const gauge = slat.fields.get('gauge')
  const weight = slat.fields.get('weight')
  if (!gauge?.node || gauge.home.via || gauge.home.outside || !weight?.node) return undefined
  const used = evaluator.field(slat, 'weight')
  if (used.state === 'unknown' || evaluator.field(slat, 'gauge').state === 'unknown') return undefined
  const shown = slat.spec.fields.get('weight')!.shown
  const text = showAs(used, shown, evaluator.system)
  const follows = evaluator.computed(slat, 'weight')
  const given = follows.state === 'known' ? showAs(follows, shown, evaluator.system) : undefined
  const gaugeText = `\`${source(gauge.home.chunk.text, gauge.node)}\``
  const place = origin(gauge.home, gauge.node.value)
  return {
    message: `The slat weighs ${text}, since its \`weight\` is written and a written weight goes before the gauge. ${gaugeText}, ${given === undefined ? 'which gives no weight here' : `which would make it ${given}`}, changes nothing. Remove one of the two.`,
    at: place,
    related: [{ at: origin(weight.home, weight.node.value), message: `${text} is written here` }],
    fixes: () => [
      remove('gauge', `the weight stays ${text}`, gauge.home, gauge.node),
      given === undefined ? undefined : remove('weight', `the gauge makes it ${given}`, weight.home, weight.node),
    ],
  }
}

/** A gauge that has taken the place of a copied weight and gives none. */
function lost(slat: Instance, evaluator: Evaluator): Report | undefined {
  const gauge = slat.fields.get('gauge')
  const weight = slat.under.get('weight')
  if (!gauge?.node || gauge.home.via || gauge.home.outside || !weight?.node || slat.fields.has('weight'))
    return undefined
  const none = evaluator.field(slat, 'weight')
  const copied = evaluator.fieldFrom(slat, 'weight', weight)
  if (none.state === 'known' || none.faulty || copied.state === 'unknown') return undefined
  const text = showAs(copied, slat.spec.fields.get('weight')!.shown, evaluator.system)
  const lacks = none.missing.map(path => path.slice(path.lastIndexOf('.') + 1)).filter(name => name !== 'weight')
  const why =
    lacks.length > 0
      ? `without ${lacks.map(name => `\`${name}\``).join(' and ')} it gives none`
      : 'the table of this material has no such gauge'
  return {
    message: `\`${source(gauge.home.chunk.text, gauge.node)}\` takes the place of the weight that is copied, ${text}, but ${why}: the weight of the curtain is not known. Write ${lacks.length > 0 ? 'what is missing' : 'another gauge'}, or the weight that is meant in place of the gauge.`,
    at: origin(gauge.home, gauge.node.value),
    related: [{ at: origin(weight.home, weight.node.value), message: `${text} is written here` }],
    fixes: () => [remove('gauge', `the weight is ${text} again`, gauge.home, gauge.node)],
  }
}

type Home = Parameters<typeof origin>[0]

const source = (text: string, node: Field): string => text.slice(node.start, node.value.end).replace(/\s+/g, ' ')

const remove = (name: string, what: string, home: Home, node: Field): Fix => ({
  title: `Remove \`${name}\`: ${what}`,
  safe: false,
  edits: [{ place: wholeLine(origin(home, node)), text: '' }],
})
