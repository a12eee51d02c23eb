import { over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'survey_plumb',
  group: 'Survey',
  severity: 'warning',
  what: 'Neither jamb is further out of plumb over the height than is allowed for its wall.',
  why: 'Rails must stand plumb; on a jamb that does not they are packed out, and their fasteners hold less.',
  todo: 'Have the jamb put right, or pack the rail out along its whole length.',
  limit: 'jamb_plumb',
  source:
    'masonry TMS 602: 1/4 in in 10 ft, 3/8 in in 20 ft, never over 1/2 in; concrete ACI 117: 1 in; steel AISC 303: height/500; wood: none until set',
  about: 'survey',
  bad: `survey {
  plumb { left = 1/8in; right = 5/8in }
}
`,
  good: `survey {
  plumb { left = 1/8in; right = 1/4in }
}
`,
  check(door, report) {
    const limit = door.number('limits.jamb_plumb')
    for (const side of ['left', 'right']) {
      const path = `survey.plumb.${side}`
      const measured = door.number(path)
      if (!over(measured, limit)) continue
      report({
        message: `The ${side} jamb is ${door.show(path)} out of plumb over the height, ${door.say(measured - limit!, 'limits.jamb_plumb')} more than the ${door.show('limits.jamb_plumb')} allowed. Have it put right, or pack the rail out along its whole length so that it stands plumb.`,
        at: path,
        limit: `${door.show('limits.jamb_plumb')} or less`,
        related: door.written('wall') ? [{ at: 'wall', message: `the wall is ${door.show('wall')}` }] : [],
      })
    }
  },
})
