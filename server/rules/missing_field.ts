import type { Door } from '../model/index.ts'
import { DIMENSION, sameDimension } from '../units/index.ts'
import { rule } from './rule.ts'

interface Need {
  readonly path: string
  /** What was written that asks for it. */
  readonly because: string
  /** What stays undecided without it. */
  readonly unlocks: string
}

/**
 * The fields of an opening that are needed because of what is written in it already. What every opening needs is found
 * where openings are put together.
 */
export default rule({
  id: 'missing_field',
  group: 'Language',
  severity: 'warning',
  what: 'The fields that an opening needs are there, and those that its written drive, wind, fasteners or hand of a spring need.',
  why: 'What is not written is not guessed: all that depends on it stays unknown and is not checked.',
  todo: 'Write the field; the message gives an example and says what it is for.',
  source: 'the language',
  bad: `operator {
  drive = motor
  speed = 28 rpm
}
`,
  good: `operator {
  drive  = motor
  torque = 900 lbf*in
  speed  = 28 rpm
}
`,
  check(door, report) {
    for (const { path, because, unlocks } of needs(door)) {
      if (door.written(path)) continue
      const entry = door.entry(path)
      if (!entry || !('takes' in entry.spec)) continue
      const { name, doc, example } = entry.spec
      const block = path.includes('.') ? path.slice(0, path.lastIndexOf('.')) : 'opening'
      report({
        message: `\`${name}\` is missing from \`${entry.instance.spec.name}\`: ${doc} ${because} Write, for example, \`${name} = ${example}\`. Without it ${unlocks}.`,
        at: block,
      })
    }
  },
})

function* needs(door: Door): Generator<Need> {
  // without the block nothing of it is written
  if (door.block('operator')) {
    yield* drive(door)
    yield* chain(door)
  }
  yield* wind(door)
  yield* fasteners(door)
  yield* winding(door)
}

function* drive(door: Door): Generator<Need> {
  const kind = door.word('operator.drive')
  const because = `\`drive = ${kind}\` is written.`
  if (kind === 'motor') {
    yield {
      path: 'operator.torque',
      because,
      unlocks: 'it is not known whether the motor moves the door (`operator_torque`)',
    }
    yield {
      path: 'operator.speed',
      because,
      unlocks: 'the speed of the door and the power it takes are not known (`door_speed`)',
    }
  } else if (kind === 'hand_chain' || kind === 'crank') {
    const unlocks =
      kind === 'crank'
        ? 'the force on the crank is not known (`crank_force`)'
        : 'the pull on the hand chain is not known (`hand_chain_pull`)'
    yield { path: 'operator.ratio', because, unlocks }
    yield { path: 'operator.hand_wheel', because, unlocks }
  }
}

const SPROCKETS = ['operator.sprocket_drive', 'operator.sprocket_drum']

const chainNeeds = (ratio: string): Readonly<Record<string, string>> => ({
  'operator.chain': 'the pull in the chain and its length are not known (`chain_strength`)',
  'operator.sprocket_drive': `${ratio} and the length of the chain is not known`,
  'operator.sprocket_drum': `${ratio} and the pull in the chain is not known (\`chain_strength\`)`,
  'operator.centers': 'the length of the chain is not known (`chain_links`)',
})

function* chain(door: Door): Generator<Need> {
  const needs = chainNeeds(
    SPROCKETS.some(path => door.written(path))
      ? 'the ratio of the sprockets is not known, and with it torque and turns at the drum and the speed of the door,'
      : 'the ratio of the sprockets is taken as 1:1',
  )
  const begun = Object.keys(needs).find(path => door.written(path))
  if (!begun) return
  const because = `\`${begun.slice('operator.'.length)}\` is written.`
  for (const [path, unlocks] of Object.entries(needs)) yield { path, because, unlocks }
}

function* wind(door: Door): Generator<Need> {
  if (!door.written('wind')) return
  const because = '`wind` is written.'
  const r = door.result('wind')
  const dimension = r.state === 'unknown' ? r.dimension : r.value.kind === 'number' ? r.value.dimension : undefined
  if (dimension && sameDimension(dimension, DIMENSION.speed)) {
    const speed = '`wind` is written as a speed.'
    yield { path: 'exposure', because: speed, unlocks: 'the wind pressure is not known' }
    yield { path: 'height_above_ground', because: speed, unlocks: 'the wind pressure is not known' }
  }
  // held by windlocks a curtain is no row of beams: an engineer decides, and these fields would decide nothing
  if (door.truth('curtain.windlocks') !== false) return
  // a slat that nobody has named yet is missing as a whole
  if (!door.written('curtain.slat') && !door.block('curtain.slat')?.written) return
  yield {
    path: 'curtain.slat.inertia',
    because,
    unlocks: 'the bow of the slats, and whether they stay in the rails, are not known (`slat_bow`, `slat_pull_out`)',
  }
  yield { path: 'curtain.slat.section', because, unlocks: 'the stress in the slats is not known (`slat_stress`)' }
  yield {
    path: 'curtain.slat.yield',
    because,
    unlocks: 'the stress in the slats has nothing to be compared with (`slat_stress`)',
  }
}

function* fasteners(door: Door): Generator<Need> {
  const capacity = door.written('rails.fastener_capacity')
  if (capacity === door.written('rails.fastener_spacing')) return
  // in shear, or pulled by windlocks, an engineer decides
  if (door.word('mount') === 'between' || door.truth('curtain.windlocks') === true) return
  const unlocks = 'it is not known whether the fasteners hold the rails in the wind (`fastener_load`)'
  if (capacity) yield { path: 'rails.fastener_spacing', because: '`fastener_capacity` is written.', unlocks }
  else yield { path: 'rails.fastener_capacity', because: '`fastener_spacing` is written.', unlocks }
}

/** Which hand a spring needs hangs on the end that it is wound at. */
function* winding(door: Door): Generator<Need> {
  // an adjuster that nobody has written yet is missing as a whole
  if (door.written('adjuster.side') || !door.block('adjuster')?.written) return
  const waits = door.springs.some(s => {
    const needed = door.result(`${s.path}.hand_needed`)
    return door.written(`${s.path}.hand`) && needed.state === 'unknown' && needed.missing.includes('adjuster.side')
  })
  if (waits)
    yield {
      path: 'adjuster.side',
      because: '`hand` is written for a spring.',
      unlocks: 'it is not known whether the springs are of the hand that closes their coils (`spring_hand`)',
    }
}
