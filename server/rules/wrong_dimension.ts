import { rule } from './rule.ts'

export default rule({
  id: 'wrong_dimension',
  group: 'Language',
  severity: 'error',
  what: 'Quantities are of the kind that is needed where they stand, and only like is added to like or compared with it.',
  why: 'A bare 12 can be feet, inches or metres, and a weight is not a force: the door would be built to a guess.',
  todo: 'Write the unit, or put the quantity right.',
  source: 'the language',
  bad: `width = 12
`,
  good: `width = 12ft
`,
})
