import * as m from '../../mechanics/index.ts'
import {
  atLeastZero,
  block,
  derivation,
  derived,
  field,
  maybe,
  positive,
  quantity,
  truthAt,
  truthful,
  wordAt,
  words,
} from '../spec.ts'
import { BALANCED, door, turns } from './reads.ts'

type Material = m.WireMaterial
const ONE = { wire: 'wire', diameter: 'diameter', rate: 'rate', count: 'count' } as const
/** The twist with the door open is the preload; closed it is the preload and the turns of the drum. */
const TWIST = { preload: 'adjuster.preload', turns: 'drum.turns' } as const
const STRESSES = {
  open: 'stress_open',
  closed: 'stress_closed',
  strength: 'strength',
  material: wordAt('material'),
} as const

export const spring = block(
  'spring',
  'A torsion spring of round wire inside the drum. May be repeated, with or without a name; springs lie end to end and share one twist.',
  {
    label: 'optional name',
    repeatable: true,
    required: true,
    like: true,
    fields: [
      field('wire', positive('length'), {
        doc: 'Diameter of the wire.',
        example: '0.4063in',
        required: true,
        shown: ['in', 'mm'],
        caution: 'spring',
      }),
      field('diameter', positive('length'), {
        doc: 'Mean diameter of the coil: outside diameter less one wire.',
        example: '4.9in',
        required: true,
        shown: ['in', 'mm'],
      }),
      field('coils', positive('count'), { doc: 'Active coils.', example: '140', required: true }),
      field('dead_coils', atLeastZero('count'), {
        doc: 'Coils that only hold the ends; they count in the length alone.',
        example: '4',
        byDefault: { text: '0', value: 0 },
      }),
      field('count', quantity('count', { min: 1, max: 1000, whole: true }), {
        doc: 'How many such springs there are.',
        example: '2',
        byDefault: { text: '1', value: 1 },
      }),
      field(
        'material',
        words({
          music_wire: 'ASTM A228',
          oil_tempered: 'ASTM A229',
          hard_drawn: 'ASTM A227',
          chrome_vanadium: 'ASTM A232',
          chrome_silicon: 'ASTM A401',
        }),
        { doc: 'The wire.', example: 'oil_tempered', byDefault: { text: 'oil_tempered', value: 'oil_tempered' } },
      ),
      field('hand', words({ left: 'a left-hand helix', right: 'a right-hand helix' }), {
        doc: 'The hand of the helix. Loaded the wrong way a spring opens up and is destroyed.',
        example: 'right',
        caution: 'spring',
      }),
      field('shaft_end', words({ adjuster: 'toward the adjuster', drive: 'toward the drive' }), {
        doc: "The end of the door that the spring's shaft end lies toward.",
        example: 'adjuster',
        byDefault: { text: 'adjuster', value: 'adjuster' },
        caution: 'spring',
      }),
      field('coil_friction', truthful(), {
        doc: "Whether the rate is reckoned with the handbook's allowance for friction between coils.",
        example: 'true',
        byDefault: { text: 'false', value: false },
      }),
      field('rate', positive('torque per angle'), {
        doc: 'Rate of all `count` springs together; worked out where it is not written.',
        example: '320 lbf*in/turn',
        shown: ['lbf*in/turn', 'N*m/turn'],
        caution: 'spring',
        derived: derivation({
          formula: 'count * E d^4 / (64 D N) per radian; with `coil_friction` count * E d^4 / (10.8 D N) per turn',
          source: 'Shigley eq. 10-49 ff.; E 28.5e6 psi, chrome wires 29.5e6 psi: Shigley table 10-5',
          reads: {
            wire: 'wire',
            diameter: 'diameter',
            coils: 'coils',
            count: 'count',
            material: wordAt('material'),
            friction: truthAt('coil_friction'),
          },
          compute: v => v.count * m.springRate(v.wire, v.diameter, v.coils, v.material as Material, v.friction),
        }),
      }),
      field('strength', positive('pressure'), {
        doc: 'Tensile strength of the wire, from the mill certificate; from the published formula where it is not written.',
        example: '190 ksi',
        shown: ['ksi', 'MPa'],
        caution: 'spring',
        derived: derivation({
          formula: 'A / d^m inside the published diameter range of the material',
          source: 'Shigley table 10-4 (constants seen quoted; inch ranges from memory)',
          reads: { wire: 'wire', material: wordAt('material') },
          compute: v => m.tensileStrength(v.material as Material, v.wire),
          instead: 'strength',
        }),
      }),
      field('range_strength', positive('pressure'), {
        doc: "Range strength at `limits.spring_cycles`, from the spring maker's certified curve; from the published points where it is not written.",
        example: '110 ksi',
        shown: ['ksi', 'MPa'],
        caution: 'spring',
        derived: derivation({
          formula: 'f(cycles) * strength, f straight in log10 of the cycles through the published points, unpeened',
          source:
            'Jiang table 14.3 at 1e3; Shigley table 10-10 at 1e5 and 1e6. Oil-tempered and hard-drawn wire have no published column there: that of music wire stands in; chrome-silicon takes that of chrome-vanadium',
          reads: { strength: 'strength', cycles: 'limits.spring_cycles', material: wordAt('material') },
          compute: v => m.rangeStrength(v.material as Material, v.strength, v.cycles),
          instead: 'range_strength',
        }),
      }),
    ],
    derived: [
      derived('index', 'count', {
        doc: 'Spring index: mean coil diameter over wire.',
        formula: 'D / d',
        source: 'Shigley',
        reads: { wire: 'wire', diameter: 'diameter' },
        compute: v => m.springIndex(v.wire, v.diameter),
      }),
      derived('stress_open', 'pressure', {
        doc: 'Bending stress at the inside of the coil with the door open: the preload alone.',
        formula: 'Ki 32 M / (pi d^3), M = rate / count * preload, Ki = (4C^2 - C - 1) / (4C (C - 1))',
        source: 'Shigley eq. 10-43, 10-44',
        shown: ['ksi', 'MPa'],
        reads: { ...ONE, preload: 'adjuster.preload' },
        compute: v => m.springStress(v.wire, v.diameter, (v.rate / v.count) * v.preload),
        caution: 'spring',
      }),
      derived('stress_closed', 'pressure', {
        doc: 'Bending stress at the inside of the coil with the door closed: the preload and the turns of the drum.',
        formula: 'Ki 32 M / (pi d^3), M = rate / count * (preload + drum.turns), Ki = (4C^2 - C - 1) / (4C (C - 1))',
        source: 'Shigley eq. 10-43, 10-44',
        shown: ['ksi', 'MPa'],
        reads: { ...ONE, ...TWIST },
        compute: v => m.springStress(v.wire, v.diameter, (v.rate / v.count) * (v.preload + v.turns)),
        caution: 'spring',
      }),
      derived('stress_ratio', 'count', {
        doc: 'Stress with the door closed over the tensile strength.',
        formula: 'stress_closed / strength',
        source: 'mechanics',
        shown: ['%', '%'],
        reads: { stress: 'stress_closed', strength: 'strength' },
        compute: v => v.stress / v.strength,
        caution: 'spring',
      }),
      derived('fatigue_factor', 'count', {
        doc: "Factor of safety in fatigue at `limits.spring_cycles`; below 1 the spring is not expected to last them. A spring maker's certified curve is better than this.",
        formula: "Sa / sa by Gerber's line for torsion springs, amplitude and mean from stress_open and stress_closed",
        source: 'Shigley example 10-8 (c)',
        reads: { ...STRESSES, range: 'range_strength' },
        compute: v => m.fatigueFactor(v.open, v.closed, v.strength, v.range, v.material as Material),
        caution: 'spring',
      }),
      derived('life', 'count', {
        doc: 'Cycles at which the fatigue factor comes down to 1, between 1,000 and 1,000,000; outside them only the bound is known.',
        formula:
          'N with fatigue factor 1, range strength f(N) * strength; with a written range_strength only whether it is more or less than limits.spring_cycles',
        source: 'Shigley example 10-8 (c), table 10-10; Jiang table 14.3',
        reads: {
          ...STRESSES,
          // the published points give a life whatever number of cycles is asked for
          range: maybe('range_strength'),
          cycles: 'limits.spring_cycles',
          factor: maybe('fatigue_factor'),
        },
        compute: v => life(v),
        caution: 'spring',
      }),
      derived('length_free', 'length', {
        doc: 'Length of one spring, unwound.',
        formula: 'd (N + dead_coils + 1)',
        source: 'geometry of a close-wound coil',
        reads: { wire: 'wire', coils: 'coils', dead: 'dead_coils' },
        compute: v => m.lengthFree(v.wire, v.coils, v.dead),
      }),
      derived('length_wound', 'length', {
        doc: 'Length of one spring with the door closed: every turn of twist adds a coil.',
        formula: 'd (N + dead_coils + 1 + (preload + drum.turns) / 1 turn)',
        source: 'geometry of a close-wound coil',
        reads: { wire: 'wire', coils: 'coils', dead: 'dead_coils', ...TWIST },
        compute: v => m.lengthWound(v.wire, v.coils, v.dead, v.preload + v.turns),
      }),
      derived('inside_wound', 'length', {
        doc: 'Inside diameter with the door closed, when the coil is at its smallest.',
        formula: 'D N / (N + (preload + drum.turns) / 1 turn) - d',
        source: 'Shigley eq. 10-54',
        shown: ['in', 'mm'],
        reads: { wire: 'wire', diameter: 'diameter', coils: 'coils', ...TWIST },
        compute: v => m.insideWound(v.wire, v.diameter, v.coils, v.preload + v.turns),
      }),
      derived('outside_free', 'length', {
        doc: 'Outside diameter, unwound.',
        formula: 'D + d',
        source: 'geometry',
        shown: ['in', 'mm'],
        reads: { wire: 'wire', diameter: 'diameter' },
        compute: v => m.outsideFree(v.wire, v.diameter),
      }),
      derived('weight', 'mass', {
        doc: 'Weight of all `count` springs: active coils.',
        formula: '7850 kg/m^3 * pi/4 d^2 * pi D N * count',
        source: 'density of steel: Gere, table H-1',
        reads: { wire: 'wire', diameter: 'diameter', coils: 'coils', count: 'count' },
        compute: v => v.count * m.springWeight(v.wire, v.diameter, v.coils),
      }),
      derived('hand_needed', 'count', {
        doc: 'The hand that closes the coil for this direction of winding and this shaft end.',
        formula:
          'counterclockwise winding with the shaft end toward the adjuster: right; clockwise: left; shaft end toward the drive: the other',
        source: 'mechanics of a helix whose end is turned',
        words: { left: 'a left-hand helix', right: 'a right-hand helix' },
        reads: { winding: wordAt('adjuster.winding'), end: wordAt('shaft_end') },
        compute: v => m.handNeeded(v.winding as m.Winding, v.end as 'adjuster'),
        caution: 'spring',
      }),
      derived('lost_force', 'force', {
        doc: 'With one of the `count` springs gone: the largest force at the bottom bar that is left out of balance.',
        formula: 'largest (T - S) / R over the travel with balance.rate less rate / count',
        source: 'mechanics',
        reads: { ...BALANCED, own: 'rate', count: 'count' },
        compute: v => m.lostForce(door(v), v.rate * m.TURN, (v.own / v.count) * m.TURN, turns(v.preload)),
        caution: 'spring',
      }),
    ],
  },
)

function life(v: {
  open: number
  closed: number
  strength: number
  material: string
  range: number | undefined
  cycles: number
  factor: number | undefined
}) {
  const published = m.rangeStrength(v.material as Material, v.strength, v.cycles)
  const written = v.range !== undefined && !(Math.abs((published ?? 0) - v.range) <= 1e-9 * v.range)
  const l = m.springLife(v.open, v.closed, v.strength, v.material as Material)
  if (!l) return undefined
  if (!written || v.factor === undefined) return { si: l.cycles, bound: l.bound }
  // one certified point says on which side of it the life lies, and no more
  return { si: v.cycles, bound: v.factor >= 1 ? ('more' as const) : ('less' as const) }
}
