import { wholeUp } from '../mechanics/index.ts'
import { numbers, under } from './compare.ts'
import { drumSprocket, withPower } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'operator_torque',
  group: 'Operator',
  severity: 'error',
  what: 'The operator brings the torque to the drum that moves the door from its worst position, as many times over as the limit asks for.',
  why: 'An operator that is too weak stalls with the door half open, or burns out.',
  todo: 'Take a stronger operator, a larger sprocket on the drum, or springs that balance the door better.',
  limit: 'operator_margin',
  source: 'mechanics: torque out of balance and friction against the rated torque through sprockets and efficiency',
  about: 'operator',
  caution: 'power',
  bad: `operator {
  drive  = motor
  torque = 200 lbf*in
  speed  = 16 rpm
}
`,
  good: `operator {
  drive  = motor
  torque = 900 lbf*in
  speed  = 16 rpm
}
`,
  check(door, report) {
    const known = numbers(door, 'operator.torque_available', 'operator.torque_needed', 'limits.operator_margin')
    if (!known) return
    const [available, needed, margin] = known
    const asked = margin * needed
    if (!under(available, asked)) return
    const times =
      margin === 1
        ? ''
        : `, ${door.show('limits.operator_margin')} times which is ${door.say(asked, 'operator.torque_needed')}`
    report({
      message: withPower(
        door,
        `The operator brings ${door.show('operator.torque_available')} to the drum, but the door needs ${door.show('operator.torque_needed')} from its worst position${times}: it is ${door.say(asked - available, 'operator.torque_needed')} short. Take a stronger operator or a larger sprocket on the drum.`,
      ),
      at: 'operator.torque',
      limit: `${door.say(asked, 'operator.torque_needed')} or more at the drum`,
      related: [
        {
          at: door.written('adjuster.preload') ? 'adjuster.preload' : 'adjuster',
          message: `the door is ${door.show('balance.worst')} out of balance at the most`,
        },
      ],
      fixes: () => {
        const teeth = wholeUp(((door.number('operator.sprocket_drum') ?? 0) * asked) / available)
        return [drumSprocket(door, teeth, 'torque enough at the drum, and a slower door')]
      },
    })
  },
})
