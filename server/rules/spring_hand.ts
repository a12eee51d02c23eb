import { setField, withCaution } from '../model/index.ts'
import { rule } from './rule.ts'
import { capital, springName } from './springs.ts'

export default rule({
  id: 'spring_hand',
  group: 'Drum and springs',
  severity: 'error',
  never: true,
  what: 'The hand of a spring closes its coil for the direction of winding and the end that its shaft end lies toward.',
  why: 'A spring that is wound against its hand opens up, jams in the drum and is destroyed.',
  todo: 'Order the spring in the hand that is needed, or turn it end for end with its shaft end toward the other side.',
  source: 'mechanics of a helix whose end is turned',
  caution: 'spring',
  bad: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 160
  hand     = left
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  good: `spring long {
  wire     = 1/2in
  diameter = 4.9in
  coils    = 160
  hand     = right
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  check(door, report) {
    for (const s of door.springs) {
      const hand = `${s.path}.hand`
      const written = door.word(hand)
      const needed = door.word(`${s.path}.hand_needed`)
      if (written === undefined ? door.written(hand) : needed === undefined || written === needed) continue
      const winding = door.word('adjuster.winding')
      const right = door.computedWord('adjuster.winding')
      // a winding that is wrong itself asks for the wrong hand: `winding_direction` comes first, and no hand is offered
      const wrongWay = winding !== undefined && right !== undefined && winding !== right
      const name = springName(door, s)
      const end = door.word(`${s.path}.shaft_end`)
      const because = `wound ${winding} with its shaft end toward the ${end}`
      const message =
        needed === undefined
          ? `No hand is written for ${name}, and which one it needs is not known before the adjuster's \`side\` is written. Write both before it is ordered.`
          : wrongWay
            ? `The hand of ${name} cannot be settled before the direction of winding is put right.`
            : written === undefined
              ? `No hand is written for ${name}: ${because}, it needs a ${needed}-hand helix.`
              : `${capital(name)} is a ${written}-hand helix; ${because}, it needs a ${needed}-hand one, or its coil opens up and is destroyed.`
      report({
        severity: written === undefined ? 'note' : undefined,
        at: written === undefined ? s.path : hand,
        message: withCaution(message, 'spring'),
        related: [
          ...(door.written('adjuster.winding') ? [{ at: 'adjuster.winding', message: `wound ${winding}` }] : []),
          ...(door.written('adjuster.side')
            ? [{ at: 'adjuster.side', message: `the adjuster is on the ${door.word('adjuster.side')}` }]
            : []),
          ...(door.written(`${s.path}.shaft_end`)
            ? [{ at: `${s.path}.shaft_end`, message: `the shaft end lies toward the ${end}` }]
            : []),
        ],
        fixes: () => {
          const edits = needed === undefined || wrongWay ? undefined : setField(door, hand, needed)
          return [edits && { title: `Write \`hand = ${needed}\``, safe: false, edits }]
        },
      })
    }
  },
})
