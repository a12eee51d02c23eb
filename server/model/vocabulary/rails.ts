import * as m from '../../mechanics/index.ts'
import { atLeastZero, block, derivation, derived, field, positive, truthAt, wordAt } from '../spec.ts'

export const rails = block('rails', 'The two rails (guides) that the curtain runs in.', {
  required: true,
  fields: [
    field('between', positive('length'), {
      doc: 'Clear width between the innermost edges of the two rails.',
      example: '12ft 1in',
      required: true,
    }),
    field('depth', positive('length'), {
      doc: 'Depth of the groove that the slats run in.',
      example: '3 1/4in',
      required: true,
    }),
    field('length', positive('length'), {
      doc: 'Length of a rail.',
      example: '11ft 6in',
      byDefault: derivation({
        formula: 'opening.height',
        source: 'geometry',
        reads: { height: 'opening.height' },
        compute: v => v.height,
      }),
    }),
    field('fastener_spacing', positive('length'), {
      doc: 'Distance from fastener to fastener along a rail.',
      example: '24in',
      caution: 'anchor',
    }),
    field('fastener_edge', atLeastZero('length'), {
      doc: 'Distance from the end of a rail to its first fastener.',
      example: '6in',
      byDefault: { text: '6in', value: 0.1524 },
    }),
    field('fastener_capacity', positive('force'), {
      doc: "Allowable tension of one fastener in this wall, from its maker's approval or an engineer.",
      example: '900 lbf',
      caution: 'anchor',
    }),
  ],
  derived: [
    derived('mark', 'length', {
      doc: 'Floor mark: from each jamb to the inner edge of its rail.',
      formula: '(between - opening.width) / 2',
      source: 'geometry',
      reads: { between: 'between', width: 'opening.width' },
      compute: v => m.railMark(v.between, v.width),
    }),
    derived('clearance', 'length', {
      doc: 'Free depth between the end of a slat and the bottom of the groove.',
      formula: 'depth - curtain.engagement',
      source: 'geometry',
      reads: { depth: 'depth', engagement: 'curtain.engagement' },
      compute: v => v.depth - v.engagement,
    }),
    derived('fasteners', 'count', {
      doc: 'Fasteners in one rail.',
      formula: 'max(2, ceil((length - 2 * fastener_edge) / fastener_spacing) + 1)',
      source: 'geometry',
      reads: { length: 'length', edge: 'fastener_edge', spacing: 'fastener_spacing' },
      compute: v => m.fastenerCount(v.length, v.edge, v.spacing),
    }),
    derived('fastener_load', 'force', {
      doc: 'Mean direct tension on one fastener from the wind, for a rail on the face of the wall, without prying. Between the jambs (shear) and with windlocks (the curtain pulls) an engineer must decide.',
      formula: 'wind * between * opening.height / 2 / fasteners',
      source: 'mechanics',
      reads: {
        wind: 'opening.wind_pressure',
        between: 'between',
        height: 'opening.height',
        fasteners: 'fasteners',
        mount: wordAt('opening.mount'),
        windlocks: truthAt('curtain.windlocks'),
      },
      compute: v =>
        v.mount !== 'face' || v.windlocks ? undefined : m.fastenerLoad(v.wind, v.between, v.height, v.fasteners),
      caution: 'anchor',
    }),
  ],
})
