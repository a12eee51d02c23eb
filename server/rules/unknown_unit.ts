import { rule } from './rule.ts'

export default rule({
  id: 'unknown_unit',
  group: 'Language',
  severity: 'error',
  what: 'Every unit is one of the language.',
  why: 'A quantity whose unit is not known has no value.',
  todo: 'Write the unit that the message offers; units are short and have no plural: `in`, `lb`, `psf`.',
  source: 'the language',
  bad: `width = 12feet
`,
  good: `width = 12ft
`,
})
