import { type Door, setField, withCaution } from '../model/index.ts'
import { numbers, over } from './compare.ts'
import { lengthText } from './lengths.ts'
import { rule } from './rule.ts'
import { windSaid } from './wind.ts'

export default rule({
  id: 'fastener_load',
  group: 'Rails and curtain',
  severity: 'error',
  what: 'In the wind no fastener of a rail on the face of the wall carries more than its allowable tension.',
  why: 'A rail that is pulled off the wall lets the whole curtain go.',
  todo: "Space the fasteners closer or take stronger ones; the wall and its anchors are an engineer's to judge.",
  source:
    'mechanics: mean direct tension, half of the wind on the curtain shared by the fasteners of one rail, without prying',
  caution: 'anchor',
  bad: `wind = 20 psf
rails {
  fastener_spacing  = 24in
  fastener_capacity = 150 lbf
}
`,
  good: `wind = 20 psf
rails {
  fastener_spacing  = 24in
  fastener_capacity = 900 lbf
}
`,
  check(door, report) {
    if (door.number('wind_pressure') === undefined) return
    const capacity = door.number('rails.fastener_capacity')
    const begun = door.written('rails.fastener_spacing') || door.written('rails.fastener_capacity')
    if (begun && door.word('mount') === 'between')
      report({
        message: withCaution(
          `Rails between the jambs load their fasteners across, not along: what they carry in the wind is not worked out here and an engineer must decide it.`,
          'anchor',
        ),
        at: door.written('rails.fastener_capacity') ? 'rails.fastener_capacity' : 'rails.fastener_spacing',
        severity: 'note',
      })
    const load = door.number('rails.fastener_load')
    if (!over(load, capacity)) return
    report({
      message: withCaution(
        `In a wind of ${door.show('wind_pressure')} each of the ${door.show('rails.fasteners')} fasteners of a rail carries ${door.show('rails.fastener_load')}; ${door.show('rails.fastener_capacity')} is allowed, ${door.say(load - capacity!, 'rails.fastener_load')} less.${windSaid(door)} Space them closer or take stronger ones.`,
        'anchor',
      ),
      at: 'rails.fastener_capacity',
      limit: `${door.show('rails.fastener_capacity')} or less`,
      related: [
        { at: 'wind', message: `the wind is ${door.show('wind')}` },
        {
          at: 'rails.fastener_spacing',
          message: `${door.show('rails.fastener_spacing')} apart there are ${door.show('rails.fasteners')} in a rail`,
        },
      ],
      fixes: () => [closer(door, load, capacity!)],
    })
  },
})

/** The spacing at which there are enough of them. */
function closer(door: Door, load: number, capacity: number) {
  const known = numbers(door, 'rails.fasteners', 'rails.length', 'rails.fastener_edge')
  if (!known || capacity <= 0) return undefined
  const [count, length, edge] = known
  const needed = Math.ceil((load * count) / capacity - 1e-9)
  const text = lengthText(door, 'rails.fastener_spacing', (length - 2 * edge) / (needed - 1), 'down')
  // a spacing that rounds to nothing is no answer
  if (text === undefined || text.startsWith('0') || text.startsWith('-')) return undefined
  const edits = setField(door, 'rails.fastener_spacing', text)
  return edits && { title: `Write \`fastener_spacing = ${text}\`: ${needed} fasteners in a rail`, safe: false, edits }
}
