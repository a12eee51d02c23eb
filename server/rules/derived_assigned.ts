import { rule } from './rule.ts'

export default rule({
  id: 'derived_assigned',
  group: 'Language',
  severity: 'error',
  what: 'Nothing is written for a value that follows from others.',
  why: 'A written number would hide the one that follows from the job.',
  todo: 'Remove the line; to hold the value to a limit write a `require`.',
  source: 'the language',
  bad: `drum { sag = 0.1in }
`,
  good: `require drum.sag <= 0.4in
`,
})
