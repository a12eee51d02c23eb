import { rule } from './rule.ts'

export default rule({
  id: 'value_range',
  group: 'Language',
  severity: 'error',
  what: 'Every value is one that can be: no negative width, no wheel without holes, nothing divided by zero.',
  why: 'A value that cannot be would carry on into every number that follows from it.',
  todo: 'Write a value inside the range that the message gives.',
  source: 'the language',
  bad: `adjuster { holes = 0 }
`,
  good: `adjuster { holes = 8 }
`,
})
