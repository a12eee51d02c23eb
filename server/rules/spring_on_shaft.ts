import { over } from './compare.ts'
import { rule } from './rule.ts'
import { capital, springName } from './springs.ts'

export default rule({
  id: 'spring_on_shaft',
  group: 'Drum and springs',
  severity: 'error',
  what: 'A spring still turns freely on the shaft when it is wound up and at its smallest.',
  why: 'A spring closes up as it is wound; one that grips the shaft breaks there, or pulls the shaft along.',
  todo: 'Choose a thinner shaft, or a spring of larger diameter.',
  limit: 'shaft_ratio',
  source: "spring-maker's practice, from memory",
  caution: 'spring',
  bad: `drum {
  shaft = 4 1/8in
}`,
  good: `drum {
  shaft = 1 1/4in
}`,
  check(door, report) {
    const shaft = door.number('drum.shaft')
    const ratio = door.number('limits.shaft_ratio')
    if (shaft === undefined || ratio === undefined) return
    for (const s of door.springs) {
      const inside = door.number(`${s.path}.inside_wound`)
      if (inside === undefined || !over(shaft, ratio * inside)) continue
      const most = door.say(Math.max(0, ratio * inside), 'drum.shaft')
      report({
        at: `${s.path}.diameter`,
        message: `${capital(springName(door, s))} closes up to ${door.show(`${s.path}.inside_wound`)} inside with the door closed, which takes a shaft of ${most} at most; the shaft is ${door.show('drum.shaft')}. Choose a thinner shaft or a larger diameter.`,
        limit: `${door.show('limits.shaft_ratio')} of the inside of the wound spring`,
        related: [{ at: 'drum.shaft', message: `the shaft is ${door.show('drum.shaft')}` }],
      })
    }
  },
})
