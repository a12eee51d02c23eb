import { rule } from './rule.ts'

export default rule({
  id: 'circle',
  group: 'Language',
  severity: 'error',
  what: 'No value depends on itself, and no more than 100 hang on one another in a row.',
  why: 'Values that need each other cannot be worked out.',
  todo: 'Give one of the values that the message names a value of its own.',
  source: 'the language',
  bad: `width = height
height = width
`,
  good: `width = 12ft
height = width - 6in
`,
})
