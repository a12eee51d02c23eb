import type { Field } from '../../grammar/index.ts'
import { type Evaluator, type Fix, type Instance, origin, showAs } from '../model/index.ts'
import { wholeLine } from './lines.ts'
import { type Report, rule } from './rule.ts'

export default rule({
  id: 'slat_weight',
  group: 'Rails and curtain',
  severity: 'warning',
  what: 'The weight of a slat is either written or worked out from its gauge, not both.',
  why: 'A written weight goes before the gauge. Whoever changes the gauge then changes nothing: curtain, springs and preload stay those of the old weight.',
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
    const found = slat && both(slat, door.evaluator)
    if (found) report({ ...found, at: 'curtain.slat.gauge' })
  },
  checkSingle({ root, evaluator }, report) {
    const found = root.spec.name === 'slat' ? both(root, evaluator) : undefined
    if (found) report(found)
  },
})

/**
 * A gauge written in the slat itself, with a weight beside it or copied. A gauge that is copied says nothing against a
 * weight that is written nearer; where both are copied, the slat that they come from has the finding.
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
  const copied = weight.home.via !== undefined
  const gaugeText = `\`${source(gauge.home.chunk.text, gauge.node)}\``
  const place = origin(gauge.home, gauge.node.value)
  return {
    message: `The slat weighs ${text}, since its \`weight\` is written${copied ? ' where it is copied from' : ''} and a written weight goes before the gauge. ${gaugeText}, ${given === undefined ? 'which gives no weight here' : `which would make it ${given}`}, changes nothing. ${copied ? 'Write the weight that is meant, and no gauge.' : 'Remove one of the two.'}`,
    at: place,
    related: [{ at: origin(weight.home, weight.node.value), message: `${text} is written here` }],
    fixes: () => [
      remove('gauge', `the weight stays ${text}`, gauge.home, gauge.node),
      given === undefined
        ? undefined
        : copied
          ? instead(given, gauge.home, gauge.node)
          : remove('weight', `the gauge makes it ${given}`, weight.home, weight.node),
    ],
  }
}

type Home = Parameters<typeof origin>[0]

const source = (text: string, node: Field): string => text.slice(node.start, node.value.end).replace(/\s+/g, ' ')

const remove = (name: string, what: string, home: Home, node: Field): Fix => ({
  title: `Remove \`${name}\`: ${what}`,
  safe: false,
  edits: [{ place: wholeLine(origin(home, node)), text: '' }],
})

const instead = (weight: string, home: Home, node: Field): Fix => ({
  title: `Write \`weight = ${weight}\` in place of the gauge that gives it`,
  safe: false,
  edits: [{ place: origin(home, node), text: `weight = ${weight}` }],
})
