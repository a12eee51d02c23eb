import { rule } from './rule.ts'

export default rule({
  id: 'duplicate',
  group: 'Language',
  severity: 'error',
  what: 'No field, block or name is given twice in one place.',
  why: 'Of two values only the first one counts; whoever reads the other one is misled.',
  todo: 'Remove or rename one of the two.',
  source: 'the language',
  bad: `width = 12ft
width = 12ft 1in
`,
  good: `width = 12ft
`,
})
