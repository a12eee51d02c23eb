import { rule } from './rule.ts'

export default rule({
  id: 'syntax',
  group: 'Language',
  severity: 'error',
  what: 'The text can be read: braces, quotes, operators and units stand where the language has them.',
  why: 'What cannot be read is not checked; a number that is read otherwise than it was meant is worse than none.',
  todo: 'Write what the message says was expected there; most slips come with a fix.',
  source: 'the language',
  bad: `width = 12ft-4in
`,
  good: `width = 12ft - 4in
`,
})
