import * as m from '../../mechanics/index.ts'
import { block, derivation, derived, field, quantity, wordAt, words } from '../spec.ts'
import { radians } from './reads.ts'

export const WINDING = {
  clockwise: 'clockwise, seen facing the adjuster from outside the door',
  counterclockwise: 'counterclockwise, seen facing the adjuster from outside the door',
} as const

export const adjuster = block('adjuster', 'The wheel that the springs are wound with.', {
  required: true,
  fields: [
    field('side', words({ left: 'at the left end', right: 'at the right end' }), {
      doc: 'The end of the drum that the adjuster is at, seen from the coil side.',
      example: 'right',
    }),
    field('holes', quantity('count', { min: 1, max: 1000, whole: true }), {
      doc: 'Holes in the adjuster wheel: one turn is this many increments.',
      example: '8',
      required: true,
    }),
    field('preload', quantity('angle'), {
      doc: 'How far the springs are wound with the door fully open. Where it is not written, the preload that balances these springs best.',
      example: '1 3/4 turns',
      shown: ['turn', 'turn'],
      caution: 'spring',
      derived: derivation({
        formula: 'balance.preload',
        source: 'mechanics',
        reads: { best: 'balance.preload' },
        compute: v => v.best,
      }),
    }),
    field('winding', words(WINDING), {
      doc: 'The direction the adjuster is wound in, seen facing it from outside the door.',
      example: 'counterclockwise',
      caution: 'spring',
      derived: derivation({
        formula:
          'curtain leaves on the wall side: adjuster right, counterclockwise; left, clockwise; on the room side the other way round',
        source: 'mechanics: the side that the curtain hangs from must rise',
        reads: { side: wordAt('side'), leaves: wordAt('drum.leaves') },
        compute: v => m.windingFor(v.side as 'left', v.leaves as 'wall_side'),
      }),
    }),
  ],
  derived: [
    derived('increment', 'angle', {
      doc: 'The smallest step of the wheel.',
      formula: '1 turn / holes',
      source: 'geometry',
      shown: ['turn', 'turn'],
      reads: { holes: 'holes' },
      compute: v => radians(m.incrementTurns(v.holes)),
    }),
    derived('increments', 'count', {
      doc: 'The preload in steps of the wheel; it can only be set where this is a whole number.',
      formula: 'preload / increment',
      source: 'geometry',
      reads: { preload: 'preload', increment: 'increment' },
      compute: v => m.increments(v.preload, v.increment),
      caution: 'spring',
    }),
  ],
})
