import { rule } from './rule.ts'

export default rule({
  id: 'trade_word',
  group: 'Language',
  severity: 'note',
  what: 'The words of the language are used for the parts of the door.',
  why: 'One word for one part lets everybody find it again. The words of the trade are understood all the same.',
  todo: 'Apply the fix; it changes the word and nothing else.',
  source: 'the language',
  bad: `guides {
  depth = 3 1/4in
}
`,
  good: `rails {
  depth = 3 1/4in
}
`,
})
