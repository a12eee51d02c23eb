import { rule } from './rule.ts'

export default rule({
  id: 'unseen_character',
  group: 'Language',
  severity: 'warning',
  what: 'No text and no comment holds a character that cannot be seen.',
  why: 'Two marks that look alike can differ by it, and one that turns the direction of writing shows another number than the one that counts.',
  todo: 'Remove it. It comes along when text is pasted from a mail or a web page.',
  source: 'Unicode Technical Report 36, section 2.5 on text that turns its direction (from memory)',
  bad: `require headroom >= 12in because "the \u202esprinkler main"
`,
  good: `require headroom >= 12in because "the sprinkler main"
`,
})
