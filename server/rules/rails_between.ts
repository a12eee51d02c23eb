import { type Door, setField } from '../model/index.ts'
import { over, under } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'rails_between',
  group: 'Rails and curtain',
  severity: 'error',
  what: 'Rails on the face of the wall stand clear of the opening; rails between the jambs fit between them.',
  why: 'A rail that stands into the opening narrows it; two rails that need more than the opening has cannot be put in.',
  todo: 'Write `between` so that it goes with the width and the mount, or correct the mount.',
  source: 'geometry',
  bad: 'rails { between = width - 1in }',
  good: 'rails { between = width + 1in }',
  check(door, report) {
    const between = door.number('rails.between')
    const width = door.number('width')
    if (between === undefined || width === undefined) return
    const mount = door.word('mount')
    if (mount === 'face' && under(between, width))
      report({
        message: `The rails are ${door.show('rails.between')} apart, ${apart(door, width - between)} less than the opening is wide (${door.show('width')}): they would stand into it. Rails on the face of the wall need at least the width between them.`,
        at: 'rails.between',
        related: [openingIs(door)],
        fixes: () => [write(door, 'width')],
      })
    const depth = door.number('rails.depth')
    if (mount !== 'between' || depth === undefined) return
    const needed = between + 2 * depth
    if (over(needed, width))
      report({
        message: `Between the jambs the rails need ${apart(door, needed)} (${door.show('rails.between')} between them and twice their depth of ${door.show('rails.depth')}), ${apart(door, needed - width)} more than the opening has (${door.show('width')}). Make \`between\` smaller, or mount the rails on the face of the wall.`,
        at: 'rails.between',
        related: [openingIs(door), { at: 'rails.depth', message: `each rail is ${door.show('rails.depth')} deep` }],
        fixes: width > 2 * depth ? () => [write(door, 'width - 2 * depth')] : undefined,
      })
  },
})

const openingIs = (door: Door) => ({ at: 'width', message: `the opening is ${door.show('width')} wide` })

function write(door: Door, text: string) {
  const edits = setField(door, 'rails.between', text)
  return edits && { title: `Write \`between = ${text}\``, safe: false, edits }
}

const apart = (door: Door, si: number): string => door.say(si, 'rails.between')
