import { rule } from './rule.ts'

export default rule({
  id: 'requirement',
  group: 'Language',
  severity: 'error',
  what: 'Every `require` of the author holds.',
  why: 'Somebody wrote it because the job is not right without it.',
  todo: 'Change the job until it holds, or the requirement where it asks too much.',
  source: 'the language',
  bad: `require headroom >= drum.coil_diameter + 1ft because "sprinkler main"
`,
  good: `require headroom >= drum.coil_diameter + 3in because "sprinkler main"
`,
})
