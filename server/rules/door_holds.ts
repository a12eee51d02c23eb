import { setField, withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import { DRIVES } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'door_holds',
  group: 'Operator',
  severity: 'warning',
  what: 'Where the springs leave more out of balance than the friction holds, the operator holds the door where it is left.',
  why: 'A door that does not stay where it is released falls or runs up by itself.',
  todo: 'Take an operator that locks itself or has a brake and write `holds = true`, or springs that balance the door better.',
  source: 'EN 12604:2017 4.3.3: a leaf stays where it is released',
  about: 'operator',
  caution: 'curtain',
  bad: `operator {
  drive = hand_chain
  holds = false
}
`,
  good: `operator {
  drive = hand_chain
  holds = true
}
`,
  check(door, report) {
    const drive = DRIVES[door.word('operator.drive') ?? '']
    if (drive === undefined) return
    const worst = door.number('balance.worst')
    const closed = door.number('balance.torque_closed')
    const friction = door.number('operator.friction')
    if (closed === undefined || friction === undefined) return
    const held = friction * closed
    if (!over(worst, held)) return
    const holds = door.truth('operator.holds')
    if (holds === true || (holds === undefined && door.written('operator.holds'))) return
    const out = `The springs leave the door out of balance by up to ${door.show('balance.worst')}, with the bottom bar at ${door.show('balance.worst_at')}; its friction holds ${door.say(held, 'balance.worst')}.`
    const message =
      holds === false
        ? `${out} The ${drive} does not hold it either (\`holds = false\`): it would not stay where it is left. Take one that locks itself or has a brake, or balance the door better.`
        : `${out} Whether the ${drive} holds it is not written. Write \`holds = true\` if it locks itself or has a brake, else take one that does.`
    report({
      message: withCaution(message, 'curtain'),
      at: door.written('operator.holds') ? 'operator.holds' : 'operator.drive',
      severity: holds === undefined ? 'note' : 'warning',
      limit: `${door.say(held, 'balance.worst')} or less out of balance, or an operator that holds`,
      related: door.written('adjuster.preload')
        ? [{ at: 'adjuster.preload', message: `the preload is ${door.show('adjuster.preload')}` }]
        : [],
      fixes: () => {
        const edits = setField(door, 'operator.holds', 'true')
        return [
          edits && { title: `Write \`holds = true\`, if the ${drive} locks itself or has a brake`, safe: false, edits },
        ]
      },
    })
  },
})
