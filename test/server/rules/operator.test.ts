/**
 * Rules over the operator. What is needed at the drum is taken from the opening (tested with the mechanics); everything
 * that follows from it is worked out again here.
 */
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const LBF = 4.4482216152605
const LBF_IN = LBF * 0.0254
const operator = (body: string, more = '') => check(openingWith(`operator {\n${body}\n}\n${more}`))
const needed = operator('').door().number('operator.torque_needed')!

describe.each([
  ['hand_chain_pull', 'hand_chain', 35],
  ['crank_force', 'crank', 20],
] as const)('%s', (id, drive, lbf) => {
  // pull = needed / (ratio x 0.9 x 6 in), solved for the ratio at the limit (UFGS-08331N)
  const exact = needed / (lbf * LBF * 0.9 * 6 * 0.0254)
  const at = (ratio: number) => operator(`drive = ${drive}\nratio = ${ratio.toFixed(12)}\nhand_wheel = 12in`)

  test('exactly at the limit passes', () => {
    expect(at(exact).of(id)).toEqual([])
    expect(at(exact * 0.999).one(id).severity).toBe('warning')
  })

  test('says the pull and the limit; the fix writes the ratio rounded up', () => {
    const c = at(exact / 2)
    expect(c.one(id).message).toContain(`${2 * lbf} lbf where the door is hardest to move`)
    const fixed = c.fixed(id)
    expect(fixed.door().number('operator.ratio')).toBeCloseTo(Math.ceil(exact * 10) / 10, 9)
    expect(fixed.of(id)).toEqual([])
  })

  test('another drive is not its matter', () => {
    expect(operator('drive = push_up\nratio = 1\nhand_wheel = 4in').of(id)).toEqual([])
  })
})

describe('operator_torque', () => {
  const motor = (si: number, more = '') =>
    operator(`drive = motor\nspeed = 16 rpm\ntorque = ${(si / LBF_IN).toFixed(9)} lbf*in`, more)

  test('exactly what is needed passes; less does not, and says by how much', () => {
    expect(motor(needed / 0.9).of('operator_torque')).toEqual([])
    const c = motor((needed - 100 * LBF_IN) / 0.9)
    const f = c.one('operator_torque')
    expect(f.severity).toBe('error')
    expect(f.message).toContain('it is 100 lbf*in short')
    expect(f.message.endsWith(CAUTIONS.power.short)).toBe(true)
  })

  test('the margin counts', () => {
    const limit = 'limits { operator_margin = 1.5 }'
    expect(motor((needed * 1.5) / 0.9, limit).of('operator_torque')).toEqual([])
    expect(motor((needed * 1.4) / 0.9, limit).one('operator_torque').message).toContain('1.5 times which is')
  })

  test('the fix writes the smallest sprocket on the drum that is enough', () => {
    const body = `drive = motor\nspeed = 16 rpm\ntorque = ${(needed / LBF_IN / 0.9 / 1.5).toFixed(9)} lbf*in\nsprocket_drive = 20\nsprocket_drum = 20`
    const fixed = operator(body).fixed('operator_torque')
    expect(fixed.text).toContain('sprocket_drum = 30\n') // 20 x 1.5
    expect(fixed.of('operator_torque')).toEqual([])
  })
})

describe('door_speed', () => {
  // mean speed = height / turns x rpm / 60, through the sprockets
  const perRpm =
    operator('').door().number('height')! / (operator('').door().number('drum.turns')! / (2 * Math.PI)) / 60
  const at = (speed: number, drive = 'motor') =>
    operator(
      `drive = ${drive}\ntorque = 900 lbf*in\nspeed = ${(speed / perRpm).toFixed(12)} rpm\nsprocket_drive = 40\nsprocket_drum = 40`,
    )

  test('both ends of the range pass (UFGS-08331N: 0.2 to 0.3 m/s), beyond them not', () => {
    expect([0.2, 0.25, 0.3].flatMap(v => at(v).of('door_speed'))).toEqual([])
    expect(at(0.199).one('door_speed').message).toContain('slower than the least')
    expect(at(0.301).one('door_speed').message).toContain('faster than the most')
  })

  test('the fix writes the nearest sprocket in the range', () => {
    // 40 x 0.45 / 0.3 = 60; 40 x 0.1 / 0.2 = 20
    expect(at(0.45).fixed('door_speed').text).toContain('sprocket_drum = 60\n')
    expect(at(0.45).fixed('door_speed').of('door_speed')).toEqual([])
    expect(at(0.1).fixed('door_speed').text).toContain('sprocket_drum = 20\n')
    expect(at(0.1).fixed('door_speed').of('door_speed')).toEqual([])
  })

  test('only a motor has a speed to hold', () => {
    expect(at(1, 'hand_chain').of('door_speed')).toEqual([])
  })
})

const CHAIN = 'sprocket_drive = 17\nsprocket_drum = 48\nchain = ansi_50'

describe('chain_even', () => {
  const at = (centers: string, more = '') => operator(`${CHAIN}\ncenters = ${centers}`, more)

  // By hand (Shigley eq. 17-34, 17-35): 5/8 in pitch, 17 and 48 teeth. C = 16.625 in: 53.2 + 32.5 + 24.342/26.6 = 86.615
  // pitches, so 88 links, tight at 0.15625 (55.5 + sqrt(55.5^2 - 194.74)) = 17.065 in.
  test('the centres of the job may be what they are: the count that is worked out is even', () => {
    for (const c of ['16 5/8in', '16 3/4in', '422mm']) expect(at(c).of('chain_even')).toEqual([])
    expect(at('16 5/8in').door().number('operator.chain_links')).toBe(88)
  })

  test('an odd count on site: the even one, and the centres it needs', () => {
    const c = at('16 5/8in', 'installed { chain_links = 87 }')
    expect(c.one('chain_even').message).toContain('set the centres to 17.07 in')
    const fixed = c.fixed('chain_even', 'centers')
    expect(fixed.text).toContain('centers = 17.065in')
    expect(fixed.door().number('operator.chain_links')).toBe(88)
    expect(at('422mm', 'installed { chain_links = 87 }').fixed('chain_even', 'centers').text).toContain(
      'centers = 433.4mm',
    )
  })

  test.each([
    ['88', 0],
    ['87', 1],
    ['87.5', 1],
    ['0', 0],
  ])('%s links counted on site: %i findings', (links, count) => {
    expect(at('16 3/4in', `installed { chain_links = ${links} }`).of('chain_even').length).toBe(count)
  })

  test('a counted number is put right once the chain is', () => {
    const c = at('16 3/4in', 'installed { chain_links = 87 }')
    expect(c.one('chain_even').message).toContain('87 links, an odd number')
    const fixed = c.fixed('chain_even', 'once the chain has 88 links')
    expect([...fixed.of('chain_even'), ...fixed.of('installed_chain')]).toEqual([])
    expect(operator('', 'installed { chain_links = 87 }').fixed('chain_even').text).toContain('chain_links = 88')
  })
})

describe('chain_strength', () => {
  // ASME B29.1 as tabulated: ansi_25 1/4 in, 780 lbf; ansi_35 3/8 in, 1760 lbf; ansi_40 1/2 in, 3125 lbf
  const pull = (pitch: number, teeth: number) => needed / ((pitch * 0.0254) / Math.sin(Math.PI / teeth) / 2)
  const times = (780 * LBF) / pull(0.25, 20)
  const at = (safety: number) =>
    operator(
      'sprocket_drive = 20\nsprocket_drum = 20\nchain = ansi_25\ncenters = 12in',
      `limits { chain_safety = ${safety.toFixed(12)} because "a test" }`,
    )

  test('exactly as many times as asked for passes', () => {
    expect(at(times).of('chain_strength')).toEqual([])
    expect(at(times * 1.001).one('chain_strength').severity).toBe('error')
  })

  test('the fix writes the weakest chain that holds', () => {
    const c = at(times * 1.001)
    expect(c.one('chain_strength').message).toContain('breaks at 780 lbf')
    // on as many teeth a larger pitch has less pull: ansi_41 (1500 lbf, 1/2 in) is the next by strength
    expect((1500 * LBF) / pull(0.5, 20)).toBeGreaterThan(times * 1.001)
    expect(c.fixed('chain_strength').text).toContain('chain = ansi_41\n')
    expect(c.fixed('chain_strength').of('chain_strength')).toEqual([])
  })
})

describe('sprocket_teeth', () => {
  test('17 pass; fewer are a note on the smaller one, and the fix keeps the ratio', () => {
    expect(operator('sprocket_drive = 17\nsprocket_drum = 17').of('sprocket_teeth')).toEqual([])
    const c = operator('sprocket_drive = 12\nsprocket_drum = 30')
    expect(c.one('sprocket_teeth').severity).toBe('note')
    expect(c.one('sprocket_teeth').text).toBe('12')
    const fixed = c.fixed('sprocket_teeth') // 30 x 17 / 12 = 42.5
    expect(fixed.text).toContain('sprocket_drive = 17\n')
    expect(fixed.text).toContain('sprocket_drum = 43\n')
    expect(fixed.of('sprocket_teeth')).toEqual([])
    expect(operator('sprocket_drive = 40\nsprocket_drum = 16').one('sprocket_teeth').text).toBe('16')
  })
})

describe('door_holds', () => {
  const door = operator('').door()
  const share = door.number('balance.worst')! / door.number('balance.torque_closed')!

  test('held by friction passes, exactly too; beyond it the operator has to hold', () => {
    expect(operator(`holds = false\nfriction = ${share.toFixed(14)}`).of('door_holds')).toEqual([])
    const f = operator(`holds = false\nfriction = ${(share * 0.99).toFixed(14)}`).one('door_holds')
    expect(f.severity).toBe('warning')
    expect(f.message).toContain(`out of balance by up to ${door.show('balance.worst')}`)
    expect(f.message.endsWith(CAUTIONS.curtain.short)).toBe(true)
  })

  test('not written: a note, and the fix writes it', () => {
    const c = check(openingWith('', ['operator.holds']))
    expect(c.one('door_holds').severity).toBe('note')
    expect(c.one('door_holds').message).toContain('Whether the hand chain holds it is not written')
    const fix = c.one('door_holds').fixes[0]!
    expect(fix.safe).toBe(false)
    expect(c.apply(fix).of('door_holds')).toEqual([])
  })

  test('a door that is pushed up by hand is not held by an operator', () => {
    expect(operator('drive = push_up\nholds = false').of('door_holds')).toEqual([])
  })
})

test('operator_side: at the end of the adjuster it is moved to the other', () => {
  expect(check(openingWith()).of('operator_side')).toEqual([])
  const c = operator('side = right')
  expect(c.one('operator_side').related.map(r => r.text)).toEqual(['right'])
  expect(c.fixed('operator_side').text).toContain('side = left')
  expect(c.fixed('operator_side').of('operator_side')).toEqual([])
})

test('limit_range: exactly the turns used pass; the fix writes a sprocket within them', () => {
  const turns = operator('').door().number('drum.turns')! / (2 * Math.PI)
  const at = (range: number) =>
    operator(
      `drive = motor\ntorque = 900 lbf*in\nspeed = 16 rpm\nsprocket_drive = 20\nsprocket_drum = 40\nlimit_turns = ${range.toFixed(12)} turns`,
    )
  expect(at(2 * turns).of('limit_range')).toEqual([])
  const c = at(1.5 * turns)
  expect(c.one('limit_range').severity).toBe('error')
  expect(c.one('limit_range').message.endsWith(CAUTIONS.power.short)).toBe(true)
  expect(c.fixed('limit_range').text).toContain('sprocket_drum = 30\n') // 40 x 1.5 / 2
  expect(c.fixed('limit_range').of('limit_range')).toEqual([])
})

describe('one sprocket alone', () => {
  const MOTOR = 'drive = motor\ntorque = 900 lbf*in\nspeed = 16 rpm\nlimit_turns = 1 turn'
  const FOLLOWS = ['torque_available', 'power_needed', 'door_speed', 'limit_turns_used']
  const known = (c: ReturnType<typeof check>) => FOLLOWS.filter(n => c.door().number(`operator.${n}`) !== undefined)

  test.each(['sprocket_drive = 17', 'sprocket_drum = 48'])('%s: the ratio is not guessed', line => {
    const c = operator(`${MOTOR}\n${line}`)
    expect(known(c)).toEqual([])
    for (const rule of ['operator_torque', 'door_speed', 'limit_range']) expect(c.of(rule), rule).toEqual([])
    const other = line.startsWith('sprocket_drum') ? 'sprocket_drive' : 'sprocket_drum'
    const missing = c.of('missing_field').find(f => f.message.startsWith(`\`${other}\` is missing`))!
    expect(missing.message).toContain('the ratio of the sprockets is not known')
    expect(missing.message).not.toContain('1:1')
  })

  test('none, or both, give it', () => {
    expect(known(operator(MOTOR))).toEqual(FOLLOWS)
    expect(known(operator(`${MOTOR}\nsprocket_drive = 17\nsprocket_drum = 48`))).toEqual(FOLLOWS)
    // with a chain written the sprockets are missed, and until then it says what is taken
    expect(operator(`${MOTOR}\nchain = ansi_50`).of('missing_field').map(f => f.message).join()).toContain('1:1') // biome-ignore format: one expression
  })
})
