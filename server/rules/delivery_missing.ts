import { over } from './compare.ts'
import { DELIVERED, needsOperator } from './records.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'delivery_missing',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'What was ticked off at delivery is all there.',
  why: 'A door that is begun with a part missing is left hanging half done.',
  todo: 'Ask for what is missing before the work is begun.',
  source: 'the job: two rails, two brackets, and one or more of everything else that it has',
  about: 'delivery',
  bad: 'delivery { rails = 1; drum = true }',
  good: 'delivery { rails = 2; drum = true }',
  check(door, report) {
    for (const { name, words, count } of DELIVERED) {
      const path = `delivery.${name}`
      if (name === 'operator' && !needsOperator(door)) continue
      const there = door.number(path)
      const none = door.truth(path) === false || there === 0
      if (!none && !over(count, there)) continue
      const asked = count > 1 ? `; the job needs ${count}` : ''
      report({
        message: `${none ? `Nothing has come of ${words}` : `Of ${words} ${door.show(path)} has come`}${asked}. Ask for what is missing before the work is begun.`,
        at: path,
        limit: count > 1 ? `${count} or more` : 'has come',
      })
    }
  },
})
