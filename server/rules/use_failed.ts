import { rule } from './rule.ts'

export default rule({
  id: 'use_failed',
  group: 'Language',
  severity: 'error',
  what: 'Every file that is used can be read.',
  why: 'Without it the stock, limits and openings that it holds are missing here.',
  todo: 'Check the path, which is relative to this file, or remove the line.',
  source: 'the language',
  bad: `use "stock/hosue.door"

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
