import { rule } from './rule.ts'

export default rule({
  id: 'delivery_damage',
  group: 'Installed, delivery and handover',
  severity: 'error',
  what: 'No damage is written down at delivery.',
  why: 'A damaged part that is built in fails later, with somebody below it.',
  todo: 'Do not build it in; have it replaced or passed by its maker, then write what was done in a comment and empty the text.',
  source: 'the record of the delivery',
  about: 'delivery',
  bad: 'delivery { damage = "bottom bar bent" }',
  good: 'delivery { damage = "" }',
  check(door, report) {
    const damage = door.text('delivery.damage')?.trim()
    if (!damage) return
    report({
      message: `Damage is written down: "${damage}". Do not build the part in; have it replaced or passed by its maker, then empty this text.`,
      at: 'delivery.damage',
      limit: 'no damage',
    })
  },
})
