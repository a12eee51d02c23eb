import { rule } from './rule.ts'

export default rule({
  id: 'use_outside',
  group: 'Language',
  severity: 'error',
  never: true,
  what: 'No file outside the workspace is used.',
  why: 'A job must come to the same numbers for everybody who has its folder, and must not read what lies beside it.',
  todo: 'Copy the file into the workspace and use it there.',
  source: 'the language',
  bad: `use "../../elsewhere/house.door"

job "HS-2207" {
  units = imperial
}

opening "Dock 3" {
  width = 12ft
  height = 11ft 6in
}
`,
  good: `use "stock/house.door"

job "HS-2207" {
  units = imperial
}

opening "Dock 3" {
  width = 12ft
  height = 11ft 6in
}
`,
})
