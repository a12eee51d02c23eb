import { CHAINS, type ChainName, chainPull } from '../mechanics/index.ts'
import { setField } from '../model/index.ts'
import { under } from './compare.ts'
import { withPower } from './drive.ts'
import { type Door, type Fix, rule } from './rule.ts'

export default rule({
  id: 'chain_strength',
  group: 'Operator',
  severity: 'error',
  what: 'The roller chain is as many times stronger than its pull as the limit asks for.',
  why: 'Where the chain parts nothing holds the door but its springs.',
  todo: 'Take a stronger chain, a larger sprocket on the drum, or springs that balance the door better.',
  limit: 'chain_safety',
  source: 'UFGS-08370 3.1.3; tensile strength ASME B29.1, as tabulated',
  about: 'operator',
  caution: 'power',
  bad: `operator {
  drive          = motor
  torque         = 900 lbf*in
  speed          = 18 rpm
  sprocket_drive = 11
  sprocket_drum  = 12
  chain          = ansi_25
  centers        = 16 3/4in
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
}
`,
  check(door, report) {
    const pull = door.number('operator.chain_pull')
    const chain = door.word('operator.chain') as ChainName | undefined
    const safety = door.number('limits.chain_safety')
    if (pull === undefined || pull === 0 || chain === undefined || safety === undefined) return
    const { tensile } = CHAINS[chain]
    if (!under(tensile / pull, safety)) return
    report({
      message: withPower(
        door,
        `The chain (\`${chain}\`) is pulled with ${door.show('operator.chain_pull')} and breaks at ${door.say(tensile, 'operator.chain_pull')}, ${door.say(tensile / pull, 'limits.chain_safety')} times that; ${door.show('limits.chain_safety')} times is asked for. Take a stronger chain or a larger sprocket on the drum.`,
      ),
      at: 'operator.chain',
      limit: `a tensile strength of ${door.show('limits.chain_safety')} times the pull or more`,
      related: [
        {
          at: 'operator.sprocket_drum',
          message: `the sprocket on the drum has ${door.show('operator.sprocket_drum')} teeth`,
        },
      ],
      fixes: () => [stronger(door, safety)],
    })
  },
})

/** The weakest chain that holds, on sprockets of as many teeth of its own pitch. */
function stronger(door: Door, safety: number): Fix | undefined {
  const torque = door.number('operator.torque_needed')
  const teeth = door.number('operator.sprocket_drum')
  if (torque === undefined || teeth === undefined) return undefined
  for (const [name, { pitch, tensile }] of Object.entries(CHAINS).sort(([, a], [, b]) => a.tensile - b.tensile)) {
    const pull = chainPull(torque, pitch, teeth)
    if (pull === undefined || under(tensile / pull, safety)) continue
    const edits = setField(door, 'operator.chain', name)
    return (
      edits && {
        title: `Write \`chain = ${name}\`: breaks at ${door.say(tensile / pull, 'limits.chain_safety')} times its pull`,
        safe: false,
        edits,
      }
    )
  }
  return undefined
}
