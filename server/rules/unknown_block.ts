import { rule } from './rule.ts'

export default rule({
  id: 'unknown_block',
  group: 'Language',
  severity: 'error',
  what: 'Every block is one of the language and stands where it may.',
  why: 'A block that is not known is passed over, with all that is written in it.',
  todo: 'Choose one of the blocks offered, or move the block to where it belongs.',
  source: 'the language',
  bad: `crutain { windlocks = true }
`,
  good: `curtain { windlocks = false }
`,
})
