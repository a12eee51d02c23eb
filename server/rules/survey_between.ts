import { type Door, setField } from '../model/index.ts'
import { over, under } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'

const SPOTS = { bottom: 'at the floor', middle: 'at half height', top: 'at the head' } as const

export default rule({
  id: 'survey_between',
  group: 'Survey',
  severity: 'error',
  what: 'The rails still go with the opening as it was measured: on the face of the wall clear of its widest place, between the jambs into its narrowest.',
  why: 'Rails that were drawn for the written width stand into an opening that is wider, or cannot be put into one that is narrower.',
  todo: 'Write `between` so that it goes with the measured widths.',
  source: 'geometry',
  about: 'survey',
  bad: `rails { between = 12ft 1/8in }
survey {
  width { bottom = 12ft; middle = 12ft 1/16in; top = 12ft 1/4in }
}
`,
  good: `rails { between = 12ft 1in }
survey {
  width { bottom = 12ft; middle = 12ft 1/16in; top = 12ft 1/4in }
}
`,
  check(door, report) {
    const between = door.number('rails.between')
    const measured = widths(door).sort((a, b) => a.si - b.si)
    const narrow = measured[0]
    const wide = measured.at(-1)
    if (between === undefined || !narrow || !wide) return
    const at = 'rails.between'
    if (door.word('mount') === 'face' && under(between, wide.si))
      report({
        message: `The opening measures ${door.show(wide.path)} ${wide.where}, ${door.say(wide.si - between, 'limits.opening_size')} more than the rails are apart (${door.show(at)}): on the face of the wall they would stand into it. Write at least ${door.show(wide.path)}, and look at everything that follows from it.`,
        at,
        limit: `${door.show(wide.path)} or more`,
        related: [{ at: wide.path, message: `measured ${door.show(wide.path)}` }],
        fixes: () => [write(door, wide.si, 'up')],
      })
    const depth = door.number('rails.depth')
    if (door.word('mount') !== 'between' || depth === undefined) return
    const needed = between + 2 * depth
    if (!over(needed, narrow.si)) return
    const room = narrow.si - 2 * depth
    const most = room > 0 ? `Write at most ${door.say(room, at)} for \`between\`` : 'Take rails of less depth'
    report({
      message: `The opening measures ${door.show(narrow.path)} ${narrow.where}, ${door.say(needed - narrow.si, 'limits.opening_size')} less than the ${door.say(needed, at)} that the rails need between the jambs (${door.show(at)} between them and twice their depth of ${door.show('rails.depth')}). ${most}, and look at everything that follows from it.`,
      at,
      related: [
        { at: narrow.path, message: `measured ${door.show(narrow.path)}` },
        { at: 'rails.depth', message: `each rail is ${door.show('rails.depth')} deep` },
      ],
      fixes: () => [room > 0.001 ? write(door, room, 'down') : undefined],
    })
  },
})

function widths(door: Door): { path: string; where: string; si: number }[] {
  return Object.entries(SPOTS).flatMap(([name, where]) => {
    const path = `survey.width.${name}`
    const si = door.number(path)
    return si === undefined ? [] : [{ path, where, si }]
  })
}

function write(door: Door, si: number, rounding: 'up' | 'down') {
  const text = lengthText(door, 'rails.between', si, rounding)
  const edits = text === undefined ? undefined : setField(door, 'rails.between', text)
  return edits && { title: `Write \`between = ${text}\``, safe: false, edits }
}
