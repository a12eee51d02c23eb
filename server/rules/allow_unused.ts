import { rule } from './rule.ts'

export default rule({
  id: 'allow_unused',
  group: 'Language',
  severity: 'warning',
  what: 'Every `allow` accepts a finding that is there.',
  why: 'An `allow` that accepts nothing may one day hide something that nobody has looked at.',
  todo: 'Remove the line, or move it to the block whose finding it accepts.',
  source: 'the language',
  bad: `allow headroom because "checked on site with the inspector"
`,
  good: `width = 12ft
`,
})
