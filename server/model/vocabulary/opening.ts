import { type Exposure, velocityPressure } from '../../mechanics/index.ts'
import { DIMENSION, sameDimension } from '../../units/index.ts'
import { atLeastZero, block, derived, field, maybe, positive, quantity, quantityAt, type Read, words } from '../spec.ts'

export const openingFields = [
  field('width', positive('length'), {
    doc: 'Clear width of the opening, jamb to jamb.',
    example: '12ft',
    required: true,
  }),
  field('height', positive('length'), {
    doc: 'Clear height of the opening, floor to head.',
    example: '11ft 6in',
    required: true,
  }),
  field(
    'wall',
    words({
      masonry: 'block or brick',
      concrete: 'cast or precast concrete',
      steel: 'steel frame',
      wood: 'timber frame',
    }),
    {
      doc: 'What the jambs are made of; the limits of the survey depend on it.',
      example: 'masonry',
      byDefault: { text: 'masonry', value: 'masonry' },
    },
  ),
  field('mount', words({ face: 'on the face of the wall', between: 'between the jambs' }), {
    doc: 'How the rails are fixed.',
    example: 'face',
    byDefault: { text: 'face', value: 'face' },
  }),
  field('coil_side', words({ inside: 'the coil is inside the building', outside: 'the coil is outside' }), {
    doc: 'The side of the wall that the coil is on. Left and right are always seen from this side.',
    example: 'inside',
    byDefault: { text: 'inside', value: 'inside' },
  }),
  field('headroom', atLeastZero('length'), { doc: 'Free height above the head of the opening.', example: '22in' }),
  field('side_room_left', atLeastZero('length'), {
    doc: 'Free width beside the left jamb, seen from the coil side.',
    example: '14in',
  }),
  field('side_room_right', atLeastZero('length'), {
    doc: 'Free width beside the right jamb, seen from the coil side.',
    example: '9in',
  }),
  field('wind', quantity(['pressure', 'speed'], { min: 0 }), {
    doc: "The design wind pressure, or a basic wind speed (then with `exposure` and `height_above_ground`). A design pressure is an engineer's to give.",
    example: '20 psf',
    shown: ['psf', 'Pa'],
    caution: 'anchor',
  }),
  field('exposure', words({ B: 'towns, woods', C: 'open country', D: 'flat shores' }), {
    doc: 'The exposure category of ASCE 7, where the wind is written as a speed.',
    example: 'C',
  }),
  field('height_above_ground', atLeastZero('length'), {
    doc: 'Height of the middle of the opening above the ground, where the wind is written as a speed.',
    example: '15ft',
  }),
  field('cycles', atLeastZero('count per time'), {
    doc: 'How often the door is opened and closed.',
    example: '20/day',
    shown: ['/day', '/day'],
  }),
]

export const openingDerived = [
  derived('area', 'area', {
    doc: 'Area of the opening.',
    formula: 'width * height',
    source: 'geometry',
    reads: { width: 'width', height: 'height' },
    compute: v => v.width * v.height,
  }),
  derived('wind_pressure', 'pressure', {
    doc: "The wind pressure that slats and rails are checked for: `wind` itself, or the velocity pressure of a basic wind speed. A design pressure is an engineer's to give. In exposure B it may be too small below 30 ft: the formula gives a Kz down to 0.57 there, where some editions of ASCE 7 ask for at least 0.70 for cladding (from memory).",
    formula: '0.613 Kz Kzt Kd V^2 with Kzt = 1 and Kd = 0.85 where `wind` is a speed (Pa, m/s)',
    source: 'ASCE 7-16 eq. 26.10-1; constants of Kz seen in ASCE 7-05',
    shown: ['psf', 'Pa'],
    reads: { wind: quantityAt('wind'), exposure: maybeWord('exposure'), height: maybe('height_above_ground') },
    compute: v => {
      if (sameDimension(v.wind.dimension, DIMENSION.pressure)) return v.wind.si
      if (v.exposure === undefined || v.height === undefined) return undefined
      return velocityPressure(v.wind.si, v.exposure as Exposure, v.height)
    },
    // a speed alone is no pressure
    instead: v => [
      ...(v.exposure === undefined ? ['exposure'] : []),
      ...(v.height === undefined ? ['height_above_ground'] : []),
    ],
    caution: 'anchor',
  }),
]

function maybeWord(path: string): Read<string | undefined> {
  return { path, as: 'word', optional: true, each: false }
}

export { block }
