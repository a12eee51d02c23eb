import { rule } from './rule.ts'
import { compareSizes } from './survey_sizes.ts'

export default rule({
  id: 'survey_width',
  group: 'Survey',
  severity: 'warning',
  what: 'The width measured at the floor, at half height and at the head is the written one, within the limit.',
  why: 'A door that is made for a width that is not there has to be cut or packed on site.',
  todo: 'Measure again; then have the opening put right, or write the job for what is there.',
  limit: 'opening_size',
  source: 'DIN 18202 table 1, raw reveals: 10 mm up to 1 m, 12 mm to 3 m, 16 mm to 6 m; beyond that none until set',
  about: 'survey',
  bad: `survey {
  width { bottom = 12ft; middle = 12ft 1/16in; top = 12ft 7/8in }
}
`,
  good: `survey {
  width { bottom = 12ft; middle = 12ft 1/16in; top = 11ft 11 3/4in }
}
`,
  check: (door, report) =>
    compareSizes(door, report, 'width', {
      bottom: 'at the floor (bottom)',
      middle: 'at half height (middle)',
      top: 'at the head (top)',
    }),
})
