import { withCaution } from '../model/index.ts'
import { bestText } from './preload.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'balance_preload_negative',
  group: 'Adjuster and balance',
  severity: 'error',
  never: true,
  what: 'The preload that balances the door best is not below zero.',
  why: 'Springs that are too stiff for the door would have to be wound backward to balance it: no preload that can be set does.',
  todo: 'Choose softer springs: more coils, a thinner wire, a larger diameter, or fewer springs.',
  source: 'mechanics',
  caution: 'spring',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 50
  hand     = right
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  good: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 160
  hand     = right
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  check(door, report) {
    const best = door.number('balance.preload')
    if (best === undefined || best >= -1e-9) return
    const ideal =
      door.number('balance.ideal_rate') === undefined
        ? ''
        : `; ${door.show('balance.ideal_rate')} would balance it best`
    report({
      at: door.springs[0]!.path,
      message: withCaution(
        `No preload balances this door with these springs: the best would be ${bestText(door)}, below zero. They are too stiff, ${door.show('balance.rate')} together${ideal}. Choose softer springs.`,
        'spring',
      ),
      limit: 'zero or more',
      related: door.springs.slice(1).map(s => ({ at: s.path, message: `its rate is ${door.show(`${s.path}.rate`)}` })),
    })
  },
})
