/** The blocks of the later stages: hood, rigging, survey, installed record, delivery, handover. */
import * as m from '../../mechanics/index.ts'
import {
  atLeastZero,
  block,
  date,
  derivation,
  derived,
  field,
  positive,
  quantity,
  text,
  tick,
  truthful,
  words,
} from '../spec.ts'
import { WINDING } from './adjuster.ts'

const measured = (name: string, doc: string, example: string) => field(name, positive('length'), { doc, example })
const outOf = (name: string, doc: string, example: string) => field(name, atLeastZero('length'), { doc, example })

export const hood = block('hood', 'The hood over the coil.', {
  fields: [
    field('supports', quantity('count', { min: 0, max: 100, whole: true }), {
      doc: 'Supports between the brackets.',
      example: '1',
    }),
  ],
  derived: [
    derived('supports_needed', 'count', {
      doc: 'Supports that the span asks for.',
      formula: 'max(0, ceil(rails.between / limits.hood_span) - 1)',
      source: 'common practice, no source',
      reads: { between: 'rails.between', span: 'limits.hood_span' },
      compute: v => m.hoodSupports(v.between, v.span),
    }),
  ],
})

export const rigging = block('rigging', 'How the rolled curtain is slung when it is lifted.', {
  fields: [
    field('slings', quantity('count', { min: 1, max: 1000, whole: true }), {
      doc: 'Slings under the curtain.',
      example: '2',
      caution: 'curtain',
      byDefault: derivation({
        formula: 'slings_needed',
        source: 'common practice, no source',
        reads: { needed: 'slings_needed' },
        compute: v => v.needed,
      }),
    }),
    field('sling_capacity', positive('force'), {
      doc: 'Rated capacity of one sling, from its tag.',
      example: '1600 lbf',
      caution: 'curtain',
    }),
    field('sling_angle', quantity('angle', { above: 0, max: Math.PI / 2 }), {
      doc: 'Angle of the slings to the horizontal.',
      example: '60deg',
      shown: ['deg', 'deg'],
      byDefault: { text: '90deg', value: Math.PI / 2 },
      caution: 'curtain',
    }),
  ],
  derived: [
    derived('slings_needed', 'count', {
      doc: 'Slings that the length of the curtain asks for.',
      formula: 'max(2, ceil(curtain.slat_length / limits.sling_spacing))',
      source: 'common practice, no source',
      reads: { length: 'curtain.slat_length', spacing: 'limits.sling_spacing' },
      compute: v => m.slingsNeeded(v.length, v.spacing),
    }),
    derived('spacing', 'length', {
      doc: 'Length of curtain on each sling.',
      formula: 'curtain.slat_length / slings',
      source: 'geometry',
      reads: { length: 'curtain.slat_length', slings: 'slings' },
      compute: v => m.slingSpacing(v.length, v.slings),
    }),
    derived('load_each', 'force', {
      doc: 'Load in each sling: the curtain alone, shared equally. It leaves out the drum, the springs and unequal sharing.',
      formula: 'curtain.weight_total * g / (slings * sin(sling_angle))',
      source: "statics of a sling at an angle; rigging supplier's angle chart",
      caution: 'curtain',
      reads: { weight: 'curtain.weight_total', slings: 'slings', angle: 'sling_angle' },
      compute: v => m.slingLoad(v.weight, v.slings, v.angle),
    }),
  ],
})

export const survey = block(
  'survey',
  'What was measured in the opening before the door is made. Belongs to one opening and is not copied by `like`.',
  {
    blocks: [
      block('width', 'Width at three heights.', {
        fields: [
          measured('bottom', 'At the floor.', '12ft'),
          measured('middle', 'At half height.', '12ft 1/16in'),
          measured('top', 'At the head.', '11ft 11 3/4in'),
        ],
      }),
      block('height', 'Height at both jambs.', {
        fields: [
          measured('left', 'At the left jamb.', '11ft 6in'),
          measured('right', 'At the right jamb.', '11ft 6 1/8in'),
        ],
      }),
      block('diagonal', 'The two diagonals.', {
        fields: [
          measured('rising', 'From the lower left to the upper right corner.', '16ft 7 3/8in'),
          measured('falling', 'From the upper left to the lower right corner.', '16ft 7 1/4in'),
        ],
      }),
      block('plumb', 'How far each jamb is out of plumb over the height.', {
        fields: [outOf('left', 'The left jamb.', '1/8in'), outOf('right', 'The right jamb.', '1/8in')],
      }),
    ],
    fields: [
      outOf('level', 'How far the floor is out of level over the width.', '1/4in'),
      outOf('headroom', 'Free height above the head.', '22in'),
      outOf('side_room_left', 'Free width beside the left jamb, seen from the coil side.', '14in'),
      outOf('side_room_right', 'Free width beside the right jamb, seen from the coil side.', '9in'),
      field('by', text(), { doc: 'Who measured.', example: '"R. Field"' }),
      field('date', date(), { doc: 'When.', example: '"2026-03-02"' }),
    ],
  },
)

export const installed = block(
  'installed',
  'What was set on the day. Belongs to one opening and is not copied by `like`.',
  {
    blocks: [
      block('between', 'Clear width between the rails at three heights.', {
        fields: [
          measured('bottom', 'At the floor.', '12ft 1in'),
          measured('middle', 'At half height.', '12ft 1in'),
          measured('top', 'At the head.', '12ft 1in'),
        ],
      }),
      block('plumb', 'How far each rail is out of plumb over its length.', {
        fields: [outOf('left', 'The left rail.', '1/16in'), outOf('right', 'The right rail.', '1/16in')],
      }),
    ],
    fields: [
      outOf('drum_level', 'How far the drum is out of level over its span.', '1/16in'),
      field('increments', quantity('count', { min: 0, max: 100000 }), {
        doc: 'Increments wound on the adjuster, counted aloud and written down.',
        example: '14',
        caution: 'spring',
      }),
      field('wound', words(WINDING), {
        doc: 'The direction it was wound in, seen facing the adjuster from outside the door.',
        example: 'counterclockwise',
        caution: 'spring',
      }),
      field('chain_links', quantity('count', { min: 0, max: 100000 }), {
        doc: 'Links in the roller chain.',
        example: '104',
      }),
      field('by', text(), { doc: 'Who set it.', example: '"R. Field"' }),
      field('date', date(), { doc: 'When.', example: '"2026-03-20"' }),
    ],
  },
)

export const delivery = block(
  'delivery',
  'What has come, ticked off: a count, or true / false. Belongs to one opening and is not copied by `like`.',
  {
    fields: [
      ...Object.entries({
        rails: 'Rails.',
        brackets: 'Brackets.',
        drum: 'The drum with its springs.',
        curtain: 'The curtain.',
        operator: 'The operator.',
        hood: 'The hood.',
        hardware: 'Fasteners and small parts.',
        documents: 'Drawings and instructions.',
      }).map(([name, doc]) => field(name, tick(), { doc, example: 'true' })),
      field('damage', text(), {
        doc: 'Damage found; an empty text where there is none.',
        example: '"bottom bar bent"',
      }),
    ],
  },
)

export const handover = block(
  'handover',
  'What was tested and given before the door is handed over. Belongs to one opening and is not copied by `like`.',
  {
    fields: [
      field('balanced', truthful(), { doc: 'The door stays where it is left.', example: 'true', caution: 'spring' }),
      field('limits_set', truthful(), { doc: 'The stop positions are set and tried.', example: 'true' }),
      field('entrapment_tested', truthful(), {
        doc: 'The protection against being trapped was tried.',
        example: 'true',
        caution: 'power',
      }),
      field('guards_fitted', truthful(), { doc: 'Covers and guards are in place.', example: 'true' }),
      field('manual_given', truthful(), { doc: 'The owner has the manual.', example: 'true' }),
      field('cycles_counted', quantity('count', { min: 0 }), { doc: 'Cycles on the counter.', example: '12' }),
      field('date', date(), { doc: 'When it was handed over.', example: '"2026-03-21"' }),
      field('next_due', date(), { doc: 'When the next inspection is due.', example: '"2027-03-21"' }),
    ],
  },
)
