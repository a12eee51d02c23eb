import { setField, withCaution } from '../model/index.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'winding_direction',
  group: 'Adjuster and balance',
  severity: 'error',
  never: true,
  what: "A written direction of winding agrees with the adjuster's side and with the side that the curtain leaves the drum from.",
  why: 'Springs that are wound in the wrong direction push the door down instead of up, and winding them can destroy the door.',
  todo: 'Write the direction that agrees, or check the side of the adjuster and the side that the curtain hangs from.',
  source: 'mechanics: the side that the curtain hangs from must rise',
  caution: 'spring',
  bad: `adjuster {
  side    = right
  winding = clockwise
}`,
  good: `adjuster {
  side    = right
  winding = counterclockwise
}`,
  check(door, report) {
    if (!door.written('adjuster.winding')) return
    const written = door.word('adjuster.winding')
    const needed = door.computedWord('adjuster.winding')
    if (written === undefined || needed === undefined || written === needed) return
    const side = door.word('adjuster.side')
    const leaves = door.word('drum.leaves') === 'room_side' ? 'away from the wall' : 'toward the wall'
    report({
      at: 'adjuster.winding',
      message: withCaution(
        `With the adjuster on the ${side} and the curtain hanging from the side of the drum ${leaves}, the springs are wound ${needed}, seen facing the adjuster from outside the door; \`${written}\` is written. Winding in the wrong direction can destroy the door.`,
        'spring',
      ),
      related: [
        { at: 'adjuster.side', message: `the adjuster is on the ${side}` },
        ...(door.written('drum.leaves')
          ? [{ at: 'drum.leaves', message: `the curtain hangs from the side ${leaves}` }]
          : []),
      ],
      fixes: () => {
        const edits = setField(door, 'adjuster.winding', needed)
        return [edits && { title: `Write \`winding = ${needed}\``, safe: false, edits }]
      },
    })
  },
})
