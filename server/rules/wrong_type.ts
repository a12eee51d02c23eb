import { rule } from './rule.ts'

export default rule({
  id: 'wrong_type',
  group: 'Language',
  severity: 'error',
  what: 'A number, a text, a word or true/false stands where one is needed.',
  why: 'A value of the wrong kind cannot be used and leaves what depends on it unknown.',
  todo: 'Write the kind of value that the message names.',
  source: 'the language',
  bad: `job "HS-2207" {
  site = harbour_street
}
`,
  good: `job "HS-2207" {
  site = "Harbour Street cold store"
}
`,
})
