import { wholeDown, wholeUp } from '../mechanics/index.ts'
import { over, under } from './compare.ts'
import { drumSprocket, withPower } from './drive.ts'
import { type Door, type Fix, rule } from './rule.ts'

export default rule({
  id: 'door_speed',
  group: 'Operator',
  severity: 'warning',
  what: 'A motor moves the door at a mean speed inside the range of the limit.',
  why: 'A door that is too fast hits what is in its way before anybody can stop it; one that is too slow is left open.',
  todo: 'Change the sprockets, or take an operator of another speed.',
  limit: 'door_speed',
  source: 'UFGS-08331N 2.4.2',
  about: 'operator',
  caution: 'power',
  bad: `operator {
  drive  = motor
  torque = 900 lbf*in
  speed  = 90 rpm
}
`,
  good: `operator {
  drive  = motor
  torque = 900 lbf*in
  speed  = 16 rpm
}
`,
  check(door, report) {
    if (door.word('operator.drive') !== 'motor') return
    const speed = door.number('operator.door_speed')
    const limits = door.range('limits.door_speed')
    if (speed === undefined || !limits) return
    const [low, high] = limits
    const fast = over(speed, high)
    if (!fast && !under(speed, low)) return
    const limit = fast ? high : low
    const by = `${door.say(Math.abs(speed - limit), 'operator.door_speed')} ${fast ? 'faster than the most' : 'slower than the least'}`
    report({
      message: withPower(
        door,
        `The motor moves the door at ${door.show('operator.door_speed')} in the mean, ${by} of the range from ${door.show('limits.door_speed')}. ${fast ? 'Take a larger sprocket on the drum or a slower operator.' : 'Take a smaller sprocket on the drum or a faster operator.'}`,
      ),
      at: 'operator.speed',
      limit: `from ${door.show('limits.door_speed')}`,
      related: door.written('operator.sprocket_drum')
        ? [
            {
              at: 'operator.sprocket_drum',
              message: `the sprocket on the drum has ${door.show('operator.sprocket_drum')} teeth`,
            },
          ]
        : [],
      fixes: () => [otherSprocket(door, speed, low, high)],
    })
  },
})

/** The nearest sprocket on the drum with which the speed is in the range; too narrow a range may have none. */
function otherSprocket(door: Door, speed: number, low: number, high: number): Fix | undefined {
  const now = door.number('operator.sprocket_drum') ?? 0
  const teeth = over(speed, high) ? wholeUp((now * speed) / high) : wholeDown((now * speed) / low)
  const then = (speed * now) / teeth
  if (over(then, high) || under(then, low)) return undefined
  return drumSprocket(door, teeth, `${door.say(then, 'operator.door_speed')}`)
}
