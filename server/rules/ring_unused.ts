import { setField } from '../model/index.ts'
import { over } from './compare.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'ring_unused',
  group: 'Drum and springs',
  severity: 'note',
  what: 'A `ring` is written for a curtain that is fixed straight to the pipe.',
  why: 'The ring adds to the radius that the curtain winds on, whichever way the curtain is fixed: turns, torque and preload all follow from it.',
  todo: 'Write `attach = rings` where there are rings; where there are none, remove `ring`.',
  source: 'geometry',
  bad: `drum {
  ring = 1in
}`,
  good: `drum {
  attach = rings
  ring   = 1in
}`,
  check(door, report) {
    if (!door.written('drum.ring') || door.word('drum.attach') !== 'direct' || !over(door.number('drum.ring'), 0))
      return
    report({
      at: 'drum.ring',
      message: `Rings of ${door.show('drum.ring')} are written, but the curtain is fixed straight to the pipe (\`attach = direct\`). The ${door.show('drum.ring')} counts all the same: write \`attach = rings\`, or remove \`ring\` where there are none.`,
      related: door.written('drum.attach') ? [{ at: 'drum.attach', message: 'fixed straight to the pipe' }] : [],
      fixes: () => {
        const edits = setField(door, 'drum.attach', 'rings')
        return [edits && { title: 'Write `attach = rings`', safe: false, edits }]
      },
    })
  },
})
