import { over } from './compare.ts'
import { rule } from './rule.ts'

const RISING = 'survey.diagonal.rising'
const FALLING = 'survey.diagonal.falling'

export default rule({
  id: 'survey_square',
  group: 'Survey',
  severity: 'warning',
  what: 'The two diagonals of the opening differ by no more than the limit.',
  why: 'Where the diagonals differ the opening leans or its head is not level; rails set to its jambs would stand askew.',
  todo: 'Measure both diagonals again; then have the opening put right, or set the rails plumb and not to the jambs.',
  limit: 'opening_square',
  source: 'DIN 18202 table 2, from memory: to be checked; here for the difference of the diagonals',
  about: 'survey',
  bad: `survey {
  diagonal { rising = 16ft 7 3/8in; falling = 16ft 6 3/4in }
}
`,
  good: `survey {
  diagonal { rising = 16ft 7 3/8in; falling = 16ft 7 1/4in }
}
`,
  check(door, report) {
    const rising = door.number(RISING)
    const falling = door.number(FALLING)
    const limit = door.number('limits.opening_square')
    if (rising === undefined || falling === undefined) return
    const difference = Math.abs(rising - falling)
    if (!over(difference, limit)) return
    report({
      message: `The diagonals measure ${door.show(RISING)} (rising) and ${door.show(FALLING)} (falling): they differ by ${door.say(difference, 'limits.opening_square')}, and ${door.show('limits.opening_square')} is allowed for an opening of this size. Measure again; then have the opening put right, or set the rails plumb and not to the jambs.`,
      at: rising > falling ? RISING : FALLING,
      limit: `${door.show('limits.opening_square')} or less`,
      related: [
        rising > falling
          ? { at: FALLING, message: `the other diagonal is ${door.show(FALLING)}` }
          : { at: RISING, message: `the other diagonal is ${door.show(RISING)}` },
      ],
    })
  },
})
