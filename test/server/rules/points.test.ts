/** What a finding points at besides its own place, and what its fixes may do unasked; seen on the example of each rule. */
import { expect, test } from 'vitest'
import { RULES, ruleById } from '../../../server/rules/index.ts'
import { type Checked, check } from '../../support/host.ts'
import { example, HOUSE } from '../../support/opening.ts'

const FILES = { 'stock/house.door': HOUSE }
const found = (id: string, rules = [ruleById(id)!]): Checked => check(example(ruleById(id)!.bad), FILES, rules)

const SAFE = new Set([
  'Remove this `allow`',
  'Write `rails`',
  'Write 1 3/4 turns (14 increments of the 8-hole wheel), rounded up',
])

/** Rules whose example is put right by one fix, or by one of several; the others leave it to a person. */
const OFFERS: Readonly<Record<string, number>> = {
  syntax: 2, unknown_name: 1, unknown_block: 1, unknown_field: 1, unknown_unit: 1, wrong_dimension: 4, wrong_type: 1,
  derived_assigned: 1, like_failed: 1, allow_unused: 1, limit_loosened: 1, trade_word: 1, survey_between: 1,
  rails_between: 1, engagement_clearance: 2, rail_depth: 1, fastener_spacing: 1, fastener_load: 1, slat_weight: 2,
  slat_pull_out: 1, drum_sag: 1, dead_wraps: 1, ring_unused: 1, spring_hand: 1, shaft_stress: 1, preload_increment: 2,
  preload_balance: 2, preload_positive: 1, preload_missing: 1, winding_direction: 1, hand_chain_pull: 1, crank_force: 1,
  chain_even: 1, chain_strength: 1, sprocket_teeth: 1, door_holds: 1, operator_side: 1, limit_range: 1, sling_spacing: 1,
  unseen_character: 1, sling_load: 1, sling_angle: 1, sling_angle_low: 1, hood_supports: 1, inspection_due: 1,
} // biome-ignore format: a table

/** The other lines of the conflict, as they are written there; where a value is worked out, its block. */
const POINTS: Readonly<Record<string, readonly string[]>> = {
  duplicate: ['width'],
  survey_width: ['12ft'],
  survey_height: ['11ft 6in'],
  survey_square: ['16ft 6 3/4in'],
  survey_between: ['12ft 1/4in'],
  survey_headroom: ['drum', 'nps6_std'],
  survey_side_room: ['12in'],
  rails_between: ['12ft'],
  headroom: ['drum', 'nps6_std'],
  side_room: ['14in'],
  engagement_clearance: ['2 3/4in'],
  rail_depth: ['12ft'],
  fastener_load: ['20 psf', '24in'],
  slat_stress: ['20 psf', 'width + 1in'],
  slat_bow: ['20 psf', 'width + 1in'],
  slat_pull_out: ['20 psf', '3 1/4in'],
  drum_sag: ['24ft 8in'],
  spring_yield: ['1 7/8 turns'],
  spring_fatigue: ['1 7/8 turns'],
  service_life: ['200/day'],
  spring_index: ['0.3in'],
  spring_in_drum: ['nps6_std'],
  spring_on_shaft: ['4 1/8in', '4 1/8in'],
  spring_length: ['12ft 8in', '215', '140'],
  spring_hand: ['right'],
  spring_lost: ['false', 'false'],
  shaft_stress: ['1 7/8 turns'],
  rate_given: ['1/2in', '4.9in', '160'],
  preload_increment: ['8'],
  winding_direction: ['right'],
  balance_push: ['1 7/8 turns'],
  hand_chain_pull: ['10in'],
  crank_force: ['20in'],
  operator_torque: ['1 7/8 turns'],
  chain_strength: ['12'],
  door_holds: ['1 7/8 turns'],
  operator_side: ['right'],
  limit_range: ['drum'],
  sling_load: ['curtain'],
  hood_supports: ['width + 1in'],
  installed_between: ['width + 1in'],
  installed_parallel: ['12ft 15/16in'],
  installed_increments: ['1 7/8 turns'],
  installed_direction: ['right'],
  installed_chain: ['16 3/4in'],
  inspection_due: ['"2026-03-21"'],
}

test.each(Object.entries(POINTS))('%s points at %j too', (rule, texts) => {
  const related = found(rule)
    .of(rule)
    .flatMap(f => f.related)
  const first = (text: string) => text.split('\n')[0]!
  expect(related.filter(r => r.message !== 'written here').map(r => first(r.text))).toEqual(texts)
  for (const r of related) expect(r.message).not.toBe('')
})

/** How far it is out: the difference (or the ratio) of the two values that stand in the sentence [own arithmetic]. */
const FAR: Readonly<Record<string, string>> = {
  survey_width: 'is 12 ft 7/8 in, 7/8 in more than the 12 ft written',
  survey_height: 'is 11 ft 5 1/4 in, 3/4 in less than the 11 ft 6 in written',
  survey_square: '16 ft 7 3/8 in (rising) and 16 ft 6 3/4 in (falling): they differ by 5/8 in',
  survey_plumb: 'is 5/8 in out of plumb over the height, 1/4 in more than the 3/8 in allowed',
  survey_level: 'is 3/4 in out of level over the width, 1/4 in more than the 1/2 in allowed',
  survey_between: '12 ft 1/4 in at the head, 1/8 in more than the rails are apart (12 ft 1/8 in)',
  survey_side_room: 'is 9 in; 12 in is asked for, 3 in more',
  rails_between: 'are 11 ft 11 in apart, 1 in less than the opening is wide (12 ft)',
  side_room: 'side room of 12 in; 14 in is asked for, 2 in more',
  engagement_clearance: '2 7/8 in deep and the slats reach 2 3/4 in into it: 1/8 in of it stays free',
  // 75 mm = 2.9528 in
  rail_depth: 'are 2 3/4 in deep; for a clear width of 12 ft 2.953 in is usual, 0.2028 in more',
  // 750 mm = 29.5276 in
  fastener_spacing: '36 in apart; 29.53 in at most is asked for, 6.472 in less',
  fastener_load: 'carries 198.5 lbf; 150 lbf is allowed, 48.51 lbf less',
  // 33 / 1.67
  slat_stress: 'of 33 ksi over 1.67 allows 19.76 ksi',
  // 145 in / 120
  slat_bow: 'bow 1.809 in over 12 ft 1 in, 0.6007 in more than the 1.208 in that',
  slat_pull_out: 'drawn 0.1204 in out of its rail; of the 9/16 in in it only 0.4421 in stays in',
  spring_length: 'are 14 ft 2 3/8 in long; between the brackets there are 12 ft 8 in. That is 1 ft 6 3/8 in too much',
  // 0.9 of each
  spring_on_shaft: 'up to 4.233 in inside with the door closed, which takes a shaft of 3.81 in at most',
  rate_given: 'as 150 lbf*in/turn; wire, diameter, coils and count give 223.1 lbf*in/turn, a difference of 32.75%',
  rate_far: 'of 208.4 lbf*in/turn, 35.09% below the 321 lbf*in/turn',
  preload_increment: '1.7 turns is 13.6 increments of the 8-hole wheel: it lies between 13 and 14',
  preload_balance: 'of 2.5 turns is 0.7218 turns more than the best for this door with these springs, 1.778 turns',
  hand_chain_pull:
    'is 74.09 lbf where the door is hardest to move (333.4 lbf*in at the drum); 35 lbf is allowed, 39.09 lbf less',
  crank_force:
    'is 37.05 lbf where the door is hardest to move (333.4 lbf*in at the drum); 20 lbf is allowed, 17.05 lbf less',
  operator_torque:
    'brings 180 lbf*in to the drum, but the door needs 333.4 lbf*in from its worst position: it is 153.4 lbf*in short',
  door_speed: 'at 54.99 in/s in the mean, 43.18 in/s faster than the most of the range from 7.874 in/s to 11.81 in/s',
  chain_strength: 'with 690.4 lbf and breaks at 780 lbf, 1.13 times that; 5 times is asked for',
  limit_range: 'makes 10.63 turns, 0.629 turns more than its limit switches can count (10 turns)',
  sling_load: 'carries 210 lbf; its capacity is 150 lbf, 60.03 lbf less',
  // one of two that hang straight carries 210 lbf, 210.03 / sin 40deg
  sling_angle:
    'at 40 deg to the horizontal, 5 deg flatter than the 45 deg asked for. At this angle each carries 326.7 lbf',
  sling_angle_low: 'carries 2.366 times what it would carry hanging straight',
  installed_between: '12 ft 1 1/4 in was measured at half height, 1/4 in more than the 12 ft 1 in of the job',
  installed_parallel:
    '12 ft 15/16 in was measured at the floor and 12 ft 1 1/8 in at the head: they are 3/16 in out of parallel',
  installed_plumb: 'is 3/16 in out of plumb, 1/16 in more than the 1/8 in allowed',
  installed_drum_level: 'is 1/4 in out of level over its span, 1/8 in more than the 1/8 in allowed',
  installed_increments: '13 increments are written down as wound; the job asks for 15 (1.875 turns on 8 holes), 2 more',
  installed_chain: 'with 90 links; the job asks for 88, 2 fewer',
}

test.each(Object.entries(FAR))('%s says how far it is out', (rule, words) => {
  expect(found(rule).of(rule)[0]!.message).toContain(words)
})

test.each(RULES.map(r => r.id))('each fix of the example of %s takes its finding away', id => {
  const c = found(id, [...RULES])
  expect(c.of(id).flatMap(f => f.fixes)).toHaveLength(OFFERS[id] ?? 0)
  for (const fix of c.of(id).flatMap(f => f.fixes)) {
    const after = c.apply(fix)
    expect(after.of(id).length, `${fix.title}\n${after.summary()}`).toBe(c.of(id).length - 1)
    expect(after.findings.filter(f => f.rule === 'syntax')).toEqual([])
    // what is written without anybody looking is what cannot be meant otherwise
    expect(fix.safe, fix.title).toBe(SAFE.has(fix.title))
  }
})
