import * as m from '../../mechanics/index.ts'
import {
  atLeastZero,
  block,
  derivation,
  derived,
  each,
  field,
  positive,
  quantity,
  stock,
  truthful,
  words,
} from '../spec.ts'
import { radians, turns } from './reads.ts'

export const pipe = block('pipe', 'The pipe of the drum: a standard pipe by name, or its outside diameter and wall.', {
  like: true,
  fields: [
    field('od', positive('length'), {
      doc: 'Outside diameter.',
      example: '6.625in',
      required: true,
      shown: ['in', 'mm'],
    }),
    field('wall', positive('length'), {
      doc: 'Wall thickness.',
      example: '0.280in',
      required: true,
      shown: ['in', 'mm'],
    }),
  ],
})

export const drum = block('drum', 'The drum (barrel) that the curtain winds on, with the springs inside.', {
  required: true,
  fields: [
    field('pipe', stock('pipe'), {
      doc: 'The pipe: a standard pipe (`nps6_std`), a stock item, or a block with `od` and `wall`.',
      example: 'nps6_std',
      required: true,
    }),
    field('span', positive('length'), {
      doc: 'Length of the drum between its brackets.',
      example: '12ft 8in',
      byDefault: derivation({
        formula: 'rails.between + 2 * rails.depth',
        source: 'geometry',
        reads: { between: 'rails.between', depth: 'rails.depth' },
        compute: v => v.between + 2 * v.depth,
      }),
    }),
    field(
      'attach',
      words({ direct: 'the curtain is fixed to the pipe', rings: 'the curtain is fixed to rings on the pipe' }),
      {
        doc: 'How the curtain is fixed to the drum.',
        example: 'rings',
        byDefault: { text: 'direct', value: 'direct' },
      },
    ),
    field('ring', atLeastZero('length'), {
      doc: 'Length that the rings add to the radius of the pipe.',
      example: '1 1/2in',
      byDefault: { text: '0in', value: 0 },
    }),
    field('drop_guard', truthful(), { doc: 'Whether a device catches the door when a spring fails.', example: 'true' }),
    field('dead_wraps', atLeastZero('angle'), {
      doc: 'Turns of curtain that stay on the drum when the door is closed.',
      example: '1/2 turn',
      byDefault: { text: '1/2 turn', value: Math.PI },
    }),
    field('rise', atLeastZero('length'), {
      doc: "Height of the drum's axis above the head of the opening.",
      example: '8in',
      byDefault: derivation({
        formula: 'coil_diameter / 2',
        source: 'geometry',
        reads: { coil: 'coil_diameter' },
        compute: v => v.coil / 2,
      }),
    }),
    field('shaft', positive('length'), {
      doc: 'Diameter of the rod or tube through the springs.',
      example: '1 1/4in',
      shown: ['in', 'mm'],
    }),
    field(
      'leaves',
      words({
        wall_side: 'the curtain hangs from the side of the drum toward the wall',
        room_side: 'the curtain hangs from the side of the drum away from the wall',
      }),
      {
        doc: 'The side of the drum that the curtain hangs from. The direction of winding depends on it.',
        example: 'wall_side',
        byDefault: { text: 'wall_side', value: 'wall_side' },
        caution: 'spring',
      },
    ),
    field('modulus', positive('pressure'), {
      doc: 'Modulus of elasticity of the pipe.',
      example: '29000 ksi',
      shown: ['ksi', 'MPa'],
      byDefault: { text: '29000 ksi', value: m.MODULUS.steel },
    }),
  ],
  blocks: [pipe],
  derived: [
    derived('turns', 'angle', {
      doc: 'Turns of the drum from closed to open.',
      formula:
        '(-a + sqrt(a^2 + t h / pi)) / t with a = od/2 + ring + t (1/2 + dead_wraps), t = slat thickness, h = opening.height',
      source: "Archimedean spiral of the curtain's centre line, curtain length 2 pi (a n + t n^2 / 2)",
      reads: {
        od: 'drum.pipe.od',
        ring: 'ring',
        thickness: 'curtain.slat.thickness',
        dead: 'dead_wraps',
        height: 'opening.height',
      },
      compute: v => radians(m.coilTurns(m.coilStart(v.od, v.ring, v.thickness, turns(v.dead)), v.thickness, v.height)),
    }),
    derived('coil_diameter', 'length', {
      doc: 'Outside diameter of the coil with the door open.',
      formula: '2 (od/2 + ring + t (dead_wraps + turns + 1))',
      source: 'geometry of the spiral',
      reads: {
        od: 'drum.pipe.od',
        ring: 'ring',
        thickness: 'curtain.slat.thickness',
        dead: 'dead_wraps',
        turns: 'turns',
      },
      compute: v => m.coilDiameter(v.od, v.ring, v.thickness, turns(v.dead), turns(v.turns)),
    }),
    derived('weight', 'mass', {
      doc: 'Weight of the pipe over its span.',
      formula: 'area of the pipe * 7850 kg/m^3 * span',
      source: 'density of steel: Gere, table H-1',
      reads: { od: 'drum.pipe.od', wall: 'drum.pipe.wall', span: 'span' },
      compute: v => m.pipeWeight(v.od, v.wall, v.span),
    }),
    derived('sag', 'length', {
      doc: 'How far the drum sags in the middle under the curtain, its own weight and the springs.',
      formula:
        '5 w L^4 / (384 E I), w = g (curtain.weight_total + weight + springs) / span, I = pi/64 (od^4 - inside^4)',
      source: "simply supported beam under uniform load: Machinery's Handbook, 31st ed., table 1, case 1",
      shown: ['in', 'mm'],
      reads: {
        curtain: 'curtain.weight_total',
        own: 'weight',
        springs: each('spring.weight'),
        span: 'span',
        od: 'drum.pipe.od',
        wall: 'drum.pipe.wall',
        modulus: 'modulus',
      },
      compute: v =>
        m.drumSag(v.curtain + v.own + v.springs.reduce((a, b) => a + b, 0), v.span, v.od, v.wall, v.modulus),
    }),
    derived('sag_limit', 'length', {
      doc: 'The sag that the limit allows over this span.',
      formula: 'limits.drum_sag * span',
      source: 'UFGS 08 33 23 wording, from memory',
      shown: ['in', 'mm'],
      reads: { limit: 'limits.drum_sag', span: 'span' },
      compute: v => v.limit * v.span,
    }),
    derived('inside', 'length', {
      doc: 'Inside diameter of the pipe.',
      formula: 'od - 2 * wall',
      source: 'geometry',
      shown: ['in', 'mm'],
      reads: { od: 'drum.pipe.od', wall: 'drum.pipe.wall' },
      compute: v => m.pipeInside(v.od, v.wall),
    }),
  ],
})
export { quantity }
