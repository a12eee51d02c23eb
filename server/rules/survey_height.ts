import { rule } from './rule.ts'
import { compareSizes } from './survey_sizes.ts'

export default rule({
  id: 'survey_height',
  group: 'Survey',
  severity: 'warning',
  what: 'The height measured at both jambs is the written one, within the limit.',
  why: 'With a height that is not there the curtain is too short to close the opening, or the stop positions are wrong.',
  todo: 'Measure again; then have the opening put right, or write the job for what is there.',
  limit: 'opening_size',
  source: 'DIN 18202 table 1, raw reveals: 10 mm up to 1 m, 12 mm to 3 m, 16 mm to 6 m; beyond that none until set',
  about: 'survey',
  bad: `survey {
  height { left = 11ft 6in; right = 11ft 5 1/4in }
}
`,
  good: `survey {
  height { left = 11ft 6in; right = 11ft 6 1/8in }
}
`,
  check: (door, report) =>
    compareSizes(door, report, 'height', { left: 'at the left jamb', right: 'at the right jamb' }),
})
