import { rule } from './rule.ts'

export default rule({
  id: 'unknown_name',
  group: 'Language',
  severity: 'error',
  what: 'Every name leads to a value, a word, a stock item or a rule.',
  why: 'A misspelt name leaves everything that depends on it unknown.',
  todo: 'Choose one of the names offered, or write the field, `let` or stock block that it should lead to.',
  source: 'the language',
  bad: `let bay = 12ft
width = bya
`,
  good: `let bay = 12ft
width = bay
`,
})
