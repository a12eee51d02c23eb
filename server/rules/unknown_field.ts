import { rule } from './rule.ts'

export default rule({
  id: 'unknown_field',
  group: 'Language',
  severity: 'error',
  what: 'Every field is one of its block.',
  why: 'A field that is not known is passed over; its value counts nowhere.',
  todo: 'Choose one of the fields offered, or move the field to the block it belongs in.',
  source: 'the language',
  bad: `hieght = 11ft 6in
`,
  good: `height = 11ft 6in
`,
})
