import { over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'survey_level',
  group: 'Survey',
  severity: 'warning',
  what: 'The floor is no further out of level over the width than the limit.',
  why: 'The bottom bar hangs level; on a floor that is not, it leaves a gap at one end.',
  todo: 'Have the floor put right, or ask for a bottom seal that takes up the difference.',
  limit: 'floor_level',
  source: 'ACI 117 (sills)',
  about: 'survey',
  bad: 'survey { level = 3/4in }',
  good: 'survey { level = 1/4in }',
  check(door, report) {
    const level = door.number('survey.level')
    const limit = door.number('limits.floor_level')
    if (!over(level, limit)) return
    report({
      message: `The floor is ${door.show('survey.level')} out of level over the width, ${door.say(level - limit!, 'limits.floor_level')} more than the ${door.show('limits.floor_level')} allowed. Have it put right, or ask for a bottom seal that takes up the difference.`,
      at: 'survey.level',
      limit: `${door.show('limits.floor_level')} or less`,
    })
  },
})
