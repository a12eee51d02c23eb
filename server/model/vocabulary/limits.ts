/**
 * Every limit that can be set, with its default. `sense` says what is looser: for `most` a larger value, for `least` a
 * smaller one, for `within` a wider range. Where the default comes in steps it is worked out from the opening.
 */
import * as m from '../../mechanics/index.ts'
import type { DimensionName } from '../../units/index.ts'
import { block, derivation, type FieldSpec, field, positive, quantity, range, type Shown, wordAt } from '../spec.ts'

export interface LimitSpec {
  readonly field: FieldSpec
  readonly sense: 'most' | 'least' | 'within'
  /** The loosest of the default's steps, where it comes in steps. */
  readonly loosest?: number
  readonly source: string
}

const IN = 0.0254
const FT = 0.3048
const LBF = 4.4482216152605
const YEAR = 365 * 86400
const INCH: Shown = ['in', 'mm']
const table = new Map<string, LimitSpec>()

function limit(
  name: string,
  dimension: DimensionName,
  sense: LimitSpec['sense'],
  doc: string,
  example: string,
  source: string,
  byDefault: FieldSpec['byDefault'] | readonly [text: string, si: number] | undefined,
  more: { shown?: Shown; loosest?: number } = {},
): void {
  const given = Array.isArray(byDefault)
    ? { text: byDefault[0] as string, value: byDefault[1] as number }
    : (byDefault as FieldSpec['byDefault'])
  table.set(name, {
    sense,
    source,
    loosest: more.loosest,
    field: field(
      name,
      dimension === 'count' || dimension === 'angle' ? quantity(dimension, { min: 0 }) : positive(dimension),
      { doc, example, byDefault: given, shown: more.shown },
    ),
  })
}

// Survey
limit(
  'opening_size',
  'length',
  'most',
  'Largest difference between a measured width or height and the written one.',
  '1/2in',
  'DIN 18202 table 1, raw reveals: 10 mm up to 1 m, 12 mm to 3 m, 16 mm to 6 m',
  undefined,
  { shown: INCH, loosest: 0.016 },
)
limit(
  'opening_square',
  'length',
  'most',
  'Largest difference between the two diagonals.',
  '3/8in',
  'DIN 18202 table 2, from memory: 3, 6, 8, 12, 16 mm over 0.5, 1, 3, 6, 15 m',
  derivation({
    formula: 'by steps of the longer side',
    source: 'DIN 18202 table 2, from memory',
    reads: { width: 'opening.width', height: 'opening.height' },
    compute: v => m.squareLimit(Math.max(v.width, v.height)),
  }),
  { shown: INCH, loosest: 0.016 },
)
limit(
  'jamb_plumb',
  'length',
  'most',
  'How far a jamb may be out of plumb over the height.',
  '1/4in',
  'masonry TMS 602: 1/4 in in 10 ft, 3/8 in in 20 ft, never over 1/2 in; concrete ACI 117: 1 in; steel AISC 303: height/500; wood: none until set',
  derivation({
    formula: 'by wall and height',
    source: 'TMS 602, ACI 117, AISC 303',
    reads: { wall: wordAt('opening.wall'), height: 'opening.height' },
    compute: v => m.plumbLimit(v.wall as 'masonry', v.height),
  }),
  { shown: INCH, loosest: IN },
)
limit(
  'floor_level',
  'length',
  'most',
  'How far the floor may be out of level over the width.',
  '1/2in',
  'ACI 117 (sills)',
  ['1/2in', m.FLOOR_LEVEL_LIMIT],
  { shown: INCH },
)
// Rails and curtain
limit(
  'headroom_clearance',
  'length',
  'least',
  'Free height to keep above the open coil.',
  '1in',
  'common practice, no source',
  ['1in', IN],
  { shown: INCH },
)
limit(
  'side_room_adjuster',
  'length',
  'least',
  'Side room that the adjuster end needs.',
  '6in',
  'house limit: none until set',
  undefined,
  { shown: INCH },
)
limit(
  'side_room_drive',
  'length',
  'least',
  'Side room that the drive end needs.',
  '12in',
  'house limit: none until set',
  undefined,
  { shown: INCH },
)
limit(
  'slat_clearance',
  'length',
  'least',
  'Free depth to keep between the end of a slat and the bottom of the groove.',
  '1/4in',
  'common practice, no source',
  ['1/4in', 0.25 * IN],
  { shown: INCH },
)
limit(
  'rail_depth',
  'length',
  'least',
  'Depth of rail to have for the clear width.',
  '75mm',
  'IS 6248 family, seen quoted (65 mm from memory: to be checked): 60 mm up to 3.5 m clear width, 75 mm above',
  derivation({
    formula: 'by steps of the clear width',
    source: 'IS 6248 family, seen quoted',
    reads: { width: 'opening.width' },
    compute: v => m.railDepthLimit(v.width),
  }),
  { shown: INCH, loosest: 0.06 },
)
limit(
  'fastener_spacing',
  'length',
  'most',
  'Largest spacing of rail fasteners.',
  '24in',
  'IS 6248 family, seen quoted',
  ['750mm', 0.75],
  { shown: INCH },
)
limit(
  'bending_safety',
  'count',
  'least',
  'Yield of a slat over its stress in the wind, at least.',
  '1.67',
  'AISI S100 / AISC 360 allowable bending, from memory',
  ['1.67', 1.67],
)
limit(
  'slat_bow',
  'count',
  'most',
  'Bow of a slat over the width between the rails, at most.',
  '1/120',
  "a public owner's specification for rolling doors; UFGS-08342 has the same for hangar doors",
  ['1/120', 1 / 120],
)
limit(
  'engagement_left',
  'length',
  'least',
  'Engagement to keep in the wind.',
  '1/2in',
  'common practice, no source',
  ['1/2in', 0.5 * IN],
  { shown: INCH },
)
// Drum and springs
limit(
  'drum_sag',
  'count',
  'most',
  'Sag of the drum per span.',
  '0.03 in/ft',
  'UFGS 08 33 23 wording, from memory',
  ['0.03 in/ft', (0.03 * IN) / FT],
  { shown: ['in/ft', 'mm/m'] },
)
limit(
  'dead_wraps',
  'angle',
  'least',
  'Turns of curtain that stay on the drum when closed, at least.',
  '1/2 turn',
  "EN 12604:2017 4.3.4: with less the curtain's fixing counts as a point of failure",
  ['1/2 turn', Math.PI],
  { shown: ['turn', 'turn'] },
)
limit('spring_cycles', 'count', 'least', 'Cycles that springs are to last.', '10000', 'trade convention, from memory', [
  '10000',
  10_000,
])
limit(
  'service_years',
  'time',
  'least',
  'Years that springs are to last at `cycles`.',
  '10 year',
  'common practice, no source',
  ['10 year', 10 * YEAR],
  { shown: ['year', 'year'] },
)
limit(
  'spring_clearance',
  'length',
  'least',
  'Diameter to keep free between spring and drum.',
  '1/8in',
  'common practice, no source',
  ['1/8in', 0.125 * IN],
  { shown: INCH },
)
limit(
  'shaft_ratio',
  'count',
  'most',
  'Shaft over the inside of the wound spring, at most.',
  '0.9',
  "spring-maker's practice, from memory",
  ['0.9', 0.9],
)
limit(
  'lost_spring_force',
  'force',
  'most',
  'Out of balance at the bottom bar with one spring gone, at most.',
  '200 N',
  'EN 12604 as stated by a trade federation',
  ['200 N', 200],
)
limit(
  'shaft_stress',
  'pressure',
  'most',
  'Shear stress of the shaft under the whole spring torque, at most.',
  '18 ksi',
  'common practice, no source',
  ['18 ksi', 18_000 * 6894.757293168361],
  { shown: ['ksi', 'MPa'] },
)
limit(
  'rate_difference',
  'count',
  'most',
  'Difference of a written rate from the computed one, at most.',
  '10%',
  'common practice, no source',
  ['10%', 0.1],
  { shown: ['%', '%'] },
)
// Adjuster and balance
limit(
  'preload_difference',
  'angle',
  'most',
  'Difference of the preload from the best one, at most.',
  '1/8 turn',
  'common practice, no source: one increment',
  derivation({
    formula: 'one increment',
    source: 'common practice, no source',
    reads: { increment: 'adjuster.increment' },
    compute: v => v.increment,
  }),
  { shown: ['turn', 'turn'] },
)
limit(
  'push_force',
  'force',
  'most',
  'Force to raise or lower a door by hand, at most.',
  '25 lbf',
  'common US specification wording, from memory (EN 12604, from memory: 260 N industrial, 150 N garage)',
  ['25 lbf', 25 * LBF],
)
limit(
  'rate_difference_ideal',
  'count',
  'most',
  'Difference of the rate from the ideal one, at most.',
  '25%',
  'mechanics',
  ['25%', 0.25],
  { shown: ['%', '%'] },
)
// Operator
limit('hand_chain_pull', 'force', 'most', 'Pull on a hand chain, at most.', '35 lbf', 'UFGS-08331N 2.3.2', [
  '35 lbf',
  35 * LBF,
])
limit('crank_force', 'force', 'most', 'Force on a crank, at most.', '20 lbf', 'UFGS-08331N 2.3.3', ['20 lbf', 20 * LBF])
limit(
  'operator_margin',
  'count',
  'least',
  'Torque available at the drum over the torque needed, at least.',
  '1',
  'mechanics',
  ['1', 1],
)
limit(
  'chain_safety',
  'count',
  'least',
  'Tensile strength of the roller chain over its pull, at least.',
  '5',
  'UFGS-08370 3.1.3',
  ['5', 5],
)
limit(
  'sprocket_teeth',
  'count',
  'least',
  'Teeth of the smaller sprocket, at least.',
  '17',
  'Shigley, chain drives, from memory',
  ['17', 17],
)
// Rigging and hood
limit(
  'sling_spacing',
  'length',
  'most',
  'Length of curtain on one sling, at most.',
  '10ft',
  'common practice, no source',
  ['10ft', 10 * FT],
)
limit(
  'sling_angle',
  'angle',
  'least',
  'Angle of a sling to the horizontal, at least.',
  '45deg',
  'public site-safety plan',
  ['45deg', Math.PI / 4],
  { shown: ['deg', 'deg'] },
)
limit(
  'hood_span',
  'length',
  'most',
  'Length of hood between supports, at most.',
  '12ft',
  'common practice, no source',
  ['12ft', 12 * FT],
)
// Installed, maintenance
limit(
  'rail_spread',
  'length',
  'most',
  'Difference of the installed width between the rails from the job, at most.',
  '1/8in',
  'common practice: no neutral published value',
  ['1/8in', 0.125 * IN],
  { shown: INCH },
)
limit(
  'rail_parallel',
  'length',
  'most',
  'Difference between the largest and smallest installed width, at most.',
  '1/8in',
  'common practice, no source',
  ['1/8in', 0.125 * IN],
  { shown: INCH },
)
limit(
  'rail_plumb',
  'length',
  'most',
  'How far a rail may be out of plumb.',
  '1/8in',
  'common practice, no source',
  ['1/8in', 0.125 * IN],
  { shown: INCH },
)
limit(
  'drum_level',
  'length',
  'most',
  'How far the drum may be out of level over its span.',
  '1/8in',
  'common practice, no source',
  ['1/8in', 0.125 * IN],
  { shown: INCH },
)
limit(
  'inspection_interval',
  'time',
  'most',
  'Time from one inspection to the next, at most.',
  '1 year',
  'ASR A1.7',
  ['1 year', YEAR],
  { shown: ['month', 'month'] },
)

for (const [name, dimension, doc, example, source, low, high] of [
  [
    'spring_index',
    'count',
    'Spring index: mean diameter over wire, from and to.',
    '[4, 16]',
    'common practice, no source',
    4,
    16,
  ],
  [
    'door_speed',
    'speed',
    'Mean speed of a motor door, from and to.',
    '[0.2 m/s, 0.3 m/s]',
    'UFGS-08331N 2.4.2',
    0.2,
    0.3,
  ],
] as const)
  table.set(name, {
    sense: 'within',
    source,
    field: field(name, range(dimension), {
      doc,
      example,
      byDefault: { text: example, value: [low, high] },
      shown: dimension === 'speed' ? ['in/s', 'mm/s'] : undefined,
    }),
  })

/** All limits by name. */
export const LIMITS: ReadonlyMap<string, LimitSpec> = table

export const limits = block(
  'limits',
  'Limits of the rules: stricter, or with `because` looser. At file level for all openings of the file, inside an opening for that one; the nearest wins.',
  {
    fields: [...table.values()].map(l => l.field),
  },
)
