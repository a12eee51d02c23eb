import { rule } from './rule.ts'

export default rule({
  id: 'like_failed',
  group: 'Language',
  severity: 'error',
  what: 'What is copied with `like` is there to be copied.',
  why: 'Without it every field that should have been copied is missing.',
  todo: 'Correct the name, write the block that it names, or `use` the file that has it.',
  source: 'the language',
  bad: `job "HS-2207" {
  units = imperial
}

opening "Dock 3" {
  width = 12ft
  height = 11ft 6in
}

opening "Dock 4" like "Dok 3" {
  width = 11ft
}
`,
  good: `job "HS-2207" {
  units = imperial
}

opening "Dock 3" {
  width = 12ft
  height = 11ft 6in
}

opening "Dock 4" like "Dock 3" {
  width = 11ft
}
`,
})
