import * as m from '../../mechanics/index.ts'
import {
  atLeastZero,
  block,
  derivation,
  derived,
  field,
  positive,
  quantity,
  stock,
  truthAt,
  truthful,
  wordAt,
  words,
} from '../spec.ts'
import { DEAD_LENGTH, turns } from './reads.ts'

export const slat = block('slat', 'One slat of the curtain: a stock item, or the fields written here.', {
  label: 'none',
  like: true,
  fields: [
    field('pitch', positive('length'), {
      doc: 'The height that one slat adds to the curtain.',
      example: '2.625in',
      required: true,
    }),
    field('thickness', atLeastZero('length'), {
      doc: 'What one wrap adds to the radius of the coil.',
      example: '0.875in',
      required: true,
    }),
    field('weight', positive('mass per area'), {
      doc: 'Weight of the curtain per area, without endlocks and bottom bar; from the gauge where it is not written.',
      example: '2.6 lb/ft^2',
      required: true,
      shown: ['lb/ft^2', 'kg/m^2'],
      derived: derivation({
        formula: 'sheet thickness * density * developed / pitch * skins + core',
        source:
          "sheet gauges: Machinery's Handbook, 31st ed., table 20; densities: Gere, table H-1 (stainless: from memory)",
        reads: {
          gauge: 'gauge',
          developed: 'developed',
          pitch: 'pitch',
          skins: 'skins',
          core: 'core',
          material: wordAt('material'),
        },
        compute: v => m.areaWeight(v.gauge, v.material as m.SheetMaterial, v.developed, v.pitch, v.skins, v.core),
        // a gauge that the material has no sheet of
        instead: 'weight',
      }),
    }),
    field('gauge', quantity('count', { min: 1, max: 40, whole: true }), {
      doc: "Sheet gauge number of the slat's strip. Written over a copied `weight`, it takes its place: the nearer line counts.",
      example: '20',
    }),
    field('developed', positive('length'), {
      doc: 'Width of the flat strip that one slat is rolled from.',
      example: '3.75in',
    }),
    field('skins', quantity('count', { min: 1, max: 2, whole: true }), {
      doc: 'Sheets of metal in the slat: 1, or 2 for an insulated slat.',
      example: '2',
      byDefault: { text: '1', value: 1 },
    }),
    field('core', atLeastZero('mass per area'), {
      doc: 'Weight of the insulation per area.',
      example: '0.2 lb/ft^2',
      shown: ['lb/ft^2', 'kg/m^2'],
      byDefault: { text: '0 lb/ft^2', value: 0 },
    }),
    field(
      'material',
      words({
        steel: 'carbon steel',
        galvanized: 'galvanized steel',
        stainless: 'stainless steel',
        aluminum: 'aluminum',
      }),
      { doc: 'What the slat is made of.', example: 'galvanized', byDefault: { text: 'steel', value: 'steel' } },
    ),
    field('inertia', positive('length^4'), {
      doc: 'Second moment of area of one slat about its bending axis.',
      example: '0.045 in^4',
      shown: ['in^4', 'mm^4'],
    }),
    field('section', positive('length^3'), {
      doc: 'Section modulus of one slat about its bending axis.',
      example: '0.08 in^3',
      shown: ['in^3', 'mm^3'],
    }),
    field('yield', positive('pressure'), {
      doc: "Yield strength of the slat's sheet.",
      example: '33 ksi',
      shown: ['ksi', 'MPa'],
    }),
  ],
})

const WIND_READS = {
  wind: 'opening.wind_pressure',
  between: 'rails.between',
  pitch: 'curtain.slat.pitch',
  windlocks: truthAt('windlocks'),
} as const

export const curtain = block('curtain', 'The curtain of slats with its bottom bar.', {
  required: true,
  fields: [
    field('slat', stock('slat'), {
      doc: 'The slat: the name of a stock item, or a block with its fields.',
      example: 'flat_20',
      required: true,
    }),
    field('engagement', atLeastZero('length'), {
      doc: 'How far each slat reaches into one rail.',
      example: '2 3/4in',
      required: true,
    }),
    field('bottom_bar', atLeastZero('mass per length'), {
      doc: 'Weight of the bottom bar per length.',
      example: '3 lb/ft',
      shown: ['lb/ft', 'kg/m'],
      byDefault: { text: '0 lb/ft', value: 0 },
    }),
    field('endlock', atLeastZero('mass'), {
      doc: 'Weight of one endlock.',
      example: '0.25 lb',
      byDefault: { text: '0 lb', value: 0 },
    }),
    field('endlock_every', quantity('count', { min: 1, whole: true }), {
      doc: 'Endlocks sit on every n-th slat, at both ends.',
      example: '2',
      byDefault: { text: '2', value: 2 },
    }),
    field('windlocks', truthful(), {
      doc: 'Whether slats are held in the rails by windlocks.',
      example: 'true',
      byDefault: { text: 'false', value: false },
      caution: 'anchor',
    }),
  ],
  blocks: [slat],
  derived: [
    derived('slat_length', 'length', {
      doc: 'Length of a slat.',
      formula: 'rails.between + 2 * engagement',
      source: 'geometry',
      reads: { between: 'rails.between', engagement: 'engagement' },
      compute: v => m.slatLength(v.between, v.engagement),
    }),
    derived('slat_count', 'count', {
      doc: 'Slats in the curtain, with those on the dead wraps.',
      formula: 'ceil((opening.height + drum.rise + length of the dead wraps) / pitch)',
      source: 'geometry',
      reads: { height: 'opening.height', rise: 'drum.rise', pitch: 'curtain.slat.pitch', ...DEAD_LENGTH },
      compute: v => m.slatCount(v.height + v.rise, deadLength(v), v.pitch),
    }),
    derived('weight_per_height', 'mass per length', {
      doc: 'Weight of the curtain per height, with its endlocks.',
      formula: 'slat.weight * slat_length + 2 * endlock / (endlock_every * pitch)',
      source: 'geometry',
      shown: ['lb/ft', 'kg/m'],
      reads: {
        weight: 'curtain.slat.weight',
        length: 'slat_length',
        endlock: 'endlock',
        every: 'endlock_every',
        pitch: 'curtain.slat.pitch',
      },
      compute: v => m.weightPerHeight(v.weight, v.length, v.endlock, v.every, v.pitch),
      caution: 'curtain',
    }),
    derived('bottom_bar_weight', 'mass', {
      doc: 'Weight of the bottom bar.',
      formula: 'bottom_bar * slat_length',
      source: 'geometry',
      reads: { bar: 'bottom_bar', length: 'slat_length' },
      compute: v => m.barWeight(v.bar, v.length),
    }),
    derived('weight', 'mass', {
      doc: 'All that hangs from the drum when the door is closed.',
      formula: 'weight_per_height * (opening.height + drum.rise) + bottom_bar_weight',
      source: 'geometry',
      reads: { per: 'weight_per_height', height: 'opening.height', rise: 'drum.rise', bar: 'bottom_bar_weight' },
      compute: v => m.hangingWeight(v.per, v.height + v.rise, v.bar),
      caution: 'curtain',
    }),
    derived('weight_total', 'mass', {
      doc: 'The whole curtain with its dead wraps: what is lifted, and what the drum carries.',
      formula: 'weight + weight_per_height * length of the dead wraps',
      source: 'geometry',
      reads: { weight: 'weight', per: 'weight_per_height', ...DEAD_LENGTH },
      compute: v => m.totalWeight(v.weight, v.per, deadLength(v)),
      caution: 'curtain',
    }),
    derived('bow', 'length', {
      doc: 'How far a slat bows in the wind, held at its ends only (without windlocks).',
      formula: '5 w L^4 / (384 E I), w = wind * pitch, L = rails.between',
      source: "simply supported beam under uniform load: Machinery's Handbook, 31st ed., table 1, case 1",
      reads: { ...WIND_READS, inertia: 'curtain.slat.inertia', material: wordAt('curtain.slat.material') },
      compute: v =>
        v.windlocks ? undefined : m.slatBow(v.wind, v.pitch, v.between, v.material as m.SheetMaterial, v.inertia),
    }),
    derived('slat_stress', 'pressure', {
      doc: 'Bending stress of a slat in the wind (without windlocks).',
      formula: '(w L^2 / 8) / section, w = wind * pitch, L = rails.between',
      source: "simply supported beam under uniform load: Machinery's Handbook, 31st ed., table 1, case 1",
      shown: ['ksi', 'MPa'],
      reads: { ...WIND_READS, section: 'curtain.slat.section' },
      compute: v => (v.windlocks ? undefined : m.slatStress(v.wind, v.pitch, v.between, v.section)),
    }),
    derived('draw_in', 'length', {
      doc: 'How far each end of a slat is drawn out of its rail as the slat bows.',
      formula: '4 bow^2 / (3 rails.between)',
      source: 'length of a flat parabola: Civil Engineering Formulas, ch. 10',
      reads: { bow: 'bow', between: 'rails.between' },
      compute: v => m.drawIn(v.bow, v.between),
    }),
    derived('engagement_left', 'length', {
      doc: 'How much of a slat is still in the rail in the wind.',
      formula: 'engagement - draw_in',
      source: 'geometry',
      reads: { engagement: 'engagement', draw: 'draw_in' },
      compute: v => v.engagement - v.draw,
    }),
  ],
})

function deadLength(v: { od: number; ring: number; thickness: number; dead: number }): number {
  return m.deadWrapLength(v.od, v.ring, v.thickness, turns(v.dead))
}
