import { rule } from './rule.ts'

export default rule({
  id: 'allow_refused',
  group: 'Language',
  severity: 'error',
  what: 'No `allow` names a rule that cannot be allowed away.',
  why: 'Some findings mean that the text cannot be read or that somebody can be hurt; no reason makes them right.',
  todo: 'Remove the line and put right what the rule finds.',
  source: 'the language',
  bad: `allow spring_yield because "the spring maker says so"
`,
  good: `width = 12ft
`,
})
