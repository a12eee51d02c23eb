import { wholeDown } from '../mechanics/index.ts'
import { over } from './compare.ts'
import { drumSprocket, withPower } from './drive.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'limit_range',
  group: 'Operator',
  severity: 'error',
  what: 'From closed to open the operator makes no more turns than its limit switches can count.',
  why: 'Past the range of its limit switches the operator does not stop by itself: it drives the door into the floor or the head.',
  todo: 'Take an operator with a longer range, or a smaller sprocket on the drum.',
  source: 'mechanics: turns of the drum through the sprockets',
  about: 'operator',
  caution: 'power',
  bad: `operator {
  drive          = motor
  torque         = 900 lbf*in
  speed          = 45 rpm
  sprocket_drive = 17
  sprocket_drum  = 48
  chain          = ansi_50
  centers        = 16 3/4in
  limit_turns    = 10 turns
}
`,
  good: `operator {
  drive          = motor
  torque         = 900 lbf*in
  speed          = 45 rpm
  sprocket_drive = 17
  sprocket_drum  = 48
  chain          = ansi_50
  centers        = 16 3/4in
  limit_turns    = 24 turns
}
`,
  check(door, report) {
    const used = door.number('operator.limit_turns_used')
    const range = door.number('operator.limit_turns')
    if (!over(used, range)) return
    report({
      message: withPower(
        door,
        `From closed to open the operator makes ${door.say(used, TURNS)}, ${door.say(used - range!, TURNS)} more than its limit switches can count (${door.say(range!, TURNS)}): it would not stop by itself. Take an operator with a longer range or a smaller sprocket on the drum.`,
      ),
      at: 'operator.limit_turns',
      limit: `${door.say(range!, TURNS)} or less`,
      related: [{ at: 'drum', message: `the drum makes ${door.say(door.number('drum.turns') ?? 0, TURNS)}` }],
      fixes: () => [
        drumSprocket(
          door,
          wholeDown(((door.number('operator.sprocket_drum') ?? 0) * range!) / used),
          'turns enough, but less torque at the drum and a faster door',
        ),
      ],
    })
  },
})

/** Shown as the turns of the drum are. */
const TURNS = 'drum.turns'
