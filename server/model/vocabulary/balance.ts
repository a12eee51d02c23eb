import * as m from '../../mechanics/index.ts'
import { block, derived } from '../spec.ts'
import { ALL_RATES, BALANCED, DOOR, door, radians, turns } from './reads.ts'

const TORQUE = ['lbf*in', 'N*m'] as const
const RATE = ['lbf*in/turn', 'N*m/turn'] as const
const ASKS = 'T(n) = g (weight_per_height (H0 - l(n)) + bottom_bar_weight) R(n), n turns from closed'
const SOURCE = "mechanics: moment of what hangs about the drum's axis"
const MINIMAX = 'mechanics: the preload that makes the largest |T - S| smallest, exact (ends and roots of a quadratic)'
const CHEBYSHEV = "mechanics: Chebyshev's best line through a concave curve"

export const balance = block('balance', 'How the springs hold the door: all of it follows from the rest.', {
  derived: [
    derived('torque_closed', 'torque', {
      doc: 'The torque the door asks for when it is closed, just off the floor.',
      formula: `T(0), ${ASKS}`,
      source: SOURCE,
      shown: TORQUE,
      reads: DOOR,
      compute: v => m.doorTorque(door(v), 0),
      caution: 'spring',
    }),
    derived('torque_open', 'torque', {
      doc: 'The torque the door asks for when it is open.',
      formula: `T(drum.turns), ${ASKS}`,
      source: SOURCE,
      shown: TORQUE,
      reads: DOOR,
      compute: v => m.doorTorque(door(v), turns(v.turns)),
      caution: 'spring',
    }),
    derived('rate', 'torque per angle', {
      doc: 'Rate of all springs together.',
      formula: 'sum of spring.rate',
      source: 'springs that share one twist add up: Bhandari, example 10.18',
      shown: RATE,
      reads: { rates: ALL_RATES },
      compute: v => v.rates.reduce((a, b) => a + b, 0),
      caution: 'spring',
    }),
    derived('preload', 'angle', {
      doc: 'The preload that balances this door best with these springs.',
      formula: '(max g + min g) / 2 over the travel, g(n) = T(n) / rate + n - turns',
      source: MINIMAX,
      shown: ['turn', 'turn'],
      reads: { ...DOOR, rate: 'rate' },
      compute: v => radians(m.bestPreload(door(v), v.rate * m.TURN)),
      caution: 'spring',
    }),
    derived('worst', 'torque', {
      doc: 'The largest torque out of balance over the travel, with the preload in use.',
      formula: 'largest |T(n) - S(n)|, S(n) = rate * (preload + turns - n)',
      source: MINIMAX,
      shown: TORQUE,
      reads: BALANCED,
      compute: v => m.worstTorque(door(v), v.rate * m.TURN, turns(v.preload)).torque,
      caution: 'spring',
    }),
    derived('worst_at', 'length', {
      doc: 'Height of the bottom bar where the door is furthest out of balance.',
      formula: 'l(n) at the largest |T(n) - S(n)|; of two equal ones the lower',
      source: MINIMAX,
      reads: BALANCED,
      compute: v => m.worstTorque(door(v), v.rate * m.TURN, turns(v.preload)).height,
    }),
    derived('raise_force', 'force', {
      doc: 'The largest force at the bottom bar that raising the door takes, without friction.',
      formula: 'largest (T - S) / R over the travel, at least 0',
      source: 'mechanics',
      reads: BALANCED,
      compute: v => m.raiseForce(door(v), v.rate * m.TURN, turns(v.preload)),
      caution: 'spring',
    }),
    derived('lower_force', 'force', {
      doc: 'The largest force at the bottom bar that lowering the door takes, without friction.',
      formula: 'largest (S - T) / R over the travel, at least 0',
      source: 'mechanics',
      reads: BALANCED,
      compute: v => m.lowerForce(door(v), v.rate * m.TURN, turns(v.preload)),
      caution: 'spring',
    }),
    derived('ideal_rate', 'torque per angle', {
      doc: 'The rate that would balance this door best of all.',
      formula: '(T(0) - T(turns)) / turns',
      source: CHEBYSHEV,
      shown: RATE,
      reads: DOOR,
      compute: v => perRadian(m.idealLine(door(v))?.rate),
    }),
    derived('ideal_preload', 'angle', {
      doc: 'The preload that goes with the ideal rate.',
      formula: 'the line of Chebyshev at the open end, over ideal_rate',
      source: CHEBYSHEV,
      shown: ['turn', 'turn'],
      reads: DOOR,
      compute: v => radians(m.idealLine(door(v))?.preload),
    }),
    derived('ideal_worst', 'torque', {
      doc: 'The torque that even ideal springs leave out of balance.',
      formula: 'half the largest distance between T and its chord',
      source: CHEBYSHEV,
      shown: TORQUE,
      reads: DOOR,
      compute: v => m.idealLine(door(v))?.worst,
    }),
  ],
})

const perRadian = (perTurn: number | undefined): number | undefined =>
  perTurn === undefined ? undefined : perTurn / m.TURN
