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
  truthful,
  wordAt,
  words,
} from '../spec.ts'
import { turns } from './reads.ts'

const chainWords = Object.fromEntries(
  Object.keys(m.CHAINS).map(name => [name, `roller chain ${name.slice(5)}, ASME B29.1`]),
)
const teeth = quantity('count', { min: 6, max: 200, whole: true })
const DRIVE = { drive: maybe('sprocket_drive'), drum: maybe('sprocket_drum') } as const
type Sprockets = { drive: number | undefined; drum: number | undefined }
function withRatio<V extends Sprockets>(of: (v: V, ratio: number) => number | undefined) {
  return (v: V): number | undefined => {
    const ratio = m.sprocketRatio(v.drive, v.drum)
    return ratio === undefined ? undefined : of(v, ratio)
  }
}
/** Of one sprocket alone there is no ratio: the other is what lacks. */
const otherSprocket = (v: Sprockets): string[] => {
  if ((v.drive === undefined) === (v.drum === undefined)) return []
  return [v.drive === undefined ? 'sprocket_drive' : 'sprocket_drum']
}
const CHAIN = { chain: wordAt('chain'), n1: 'sprocket_drive', n2: 'sprocket_drum', centers: 'centers' } as const
const pitch = (chain: string): number => m.CHAINS[chain as m.ChainName].pitch

export const operator = block(
  'operator',
  'What moves the door: by hand at the bottom bar, a hand chain, a crank or a motor.',
  {
    label: 'none',
    like: true,
    fields: [
      field(
        'drive',
        words({ push_up: 'by hand at the bottom bar', hand_chain: 'a hand chain', crank: 'a crank', motor: 'a motor' }),
        { doc: 'How the door is moved.', example: 'hand_chain', caution: 'power' },
      ),
      field('side', words({ left: 'at the left end', right: 'at the right end' }), {
        doc: 'The end of the drum that the operator is at, seen from the coil side; the one without the adjuster where it is not written.',
        example: 'left',
        byDefault: derivation({
          formula: 'the side without the adjuster',
          source: 'common practice, no source',
          reads: { adjuster: wordAt('adjuster.side') },
          compute: v => (v.adjuster === 'left' ? 'right' : 'left'),
        }),
      }),
      field('torque', positive('torque'), {
        doc: 'Rated output torque.',
        example: '900 lbf*in',
        shown: ['lbf*in', 'N*m'],
      }),
      field('speed', positive('speed of rotation'), { doc: 'Speed of the output shaft.', example: '28 rpm' }),
      field('power', positive('power'), { doc: 'Rated power.', example: '0.5 hp' }),
      field('ratio', positive('count'), {
        doc: 'The whole ratio from hand wheel or crank to drum, chain included.',
        example: '4',
      }),
      field('efficiency', quantity('count', { above: 0, max: 1 }), {
        doc: 'Share of the torque that reaches the drum.',
        example: '90%',
        shown: ['%', '%'],
        byDefault: { text: '90%', value: 0.9 },
      }),
      field('hand_wheel', positive('length'), {
        doc: 'Diameter of the hand wheel; for a crank twice the length of its arm.',
        example: '12in',
      }),
      field('sprocket_drive', teeth, { doc: 'Teeth of the sprocket on the operator.', example: '17' }),
      field('sprocket_drum', teeth, { doc: 'Teeth of the sprocket on the drum.', example: '48' }),
      field('chain', words(chainWords), { doc: 'The roller chain between them.', example: 'ansi_50' }),
      field('centers', positive('length'), {
        doc: 'Distance from sprocket centre to sprocket centre.',
        example: '16in',
      }),
      field('limit_turns', positive('angle'), {
        doc: 'Turns that the limit switches of the operator can count.',
        example: '24 turns',
      }),
      field('friction', atLeastZero('count'), {
        doc: 'Friction of the door, as a share of its torque when closed.',
        example: '5%',
        shown: ['%', '%'],
        byDefault: { text: '5%', value: 0.05 },
      }),
      field('holds', truthful(), {
        doc: 'Whether it holds the door where it is left: self-locking, or with a brake.',
        example: 'true',
      }),
    ],
    derived: [
      derived('torque_needed', 'torque', {
        doc: 'Torque at the drum that moves the door from its worst position.',
        formula: 'balance.worst + friction * balance.torque_closed',
        source: 'mechanics',
        shown: ['lbf*in', 'N*m'],
        reads: { worst: 'balance.worst', friction: 'friction', closed: 'balance.torque_closed' },
        compute: v => m.torqueNeeded(v.worst, v.friction, v.closed),
      }),
      derived('torque_available', 'torque', {
        doc: 'Torque of the operator at the drum.',
        formula: 'torque * (sprocket_drum / sprocket_drive) * efficiency',
        source: 'mechanics',
        shown: ['lbf*in', 'N*m'],
        reads: { torque: 'torque', efficiency: 'efficiency', ...DRIVE },
        compute: withRatio((v, ratio) => m.torqueAtDrum(v.torque, ratio, v.efficiency)),
        instead: otherSprocket,
      }),
      derived('power_needed', 'power', {
        doc: 'Power that moves the door from its worst position at this speed.',
        formula: 'torque_needed * speed * (sprocket_drive / sprocket_drum) / efficiency',
        source: 'mechanics',
        reads: { needed: 'torque_needed', speed: 'speed', efficiency: 'efficiency', ...DRIVE },
        compute: withRatio((v, ratio) => {
          const drum = m.drumSpeed(v.speed, ratio)
          return drum === undefined ? undefined : m.powerNeeded(v.needed, drum, v.efficiency)
        }),
        instead: otherSprocket,
      }),
      derived('door_speed', 'speed', {
        doc: 'Mean speed of the bottom bar.',
        formula: 'opening.height / drum.turns * speed * (sprocket_drive / sprocket_drum)',
        source: 'mechanics',
        shown: ['in/s', 'mm/s'],
        reads: { height: 'opening.height', turns: 'drum.turns', speed: 'speed', ...DRIVE },
        compute: withRatio((v, ratio) => {
          const drum = m.drumSpeed(v.speed, ratio)
          return drum === undefined ? undefined : m.doorSpeed(v.height, turns(v.turns), drum)
        }),
        instead: otherSprocket,
      }),
      derived('hand_pull', 'force', {
        doc: 'Pull on the hand chain, or force on the handle of the crank, at the worst position.',
        formula: 'torque_needed / (ratio * efficiency * hand_wheel / 2)',
        source: 'mechanics',
        reads: { needed: 'torque_needed', ratio: 'ratio', efficiency: 'efficiency', wheel: 'hand_wheel' },
        compute: v => m.handPull(v.needed, v.ratio, v.efficiency, v.wheel),
      }),
      derived('chain_pull', 'force', {
        doc: 'Pull in the roller chain at the worst position.',
        formula: 'torque_needed / (pitch diameter of the drum sprocket / 2)',
        source: 'ASME B29.1 geometry: pitch diameter = pitch / sin(180 deg / teeth)',
        reads: { needed: 'torque_needed', chain: CHAIN.chain, n2: CHAIN.n2 },
        compute: v => m.chainPull(v.needed, pitch(v.chain), v.n2),
      }),
      derived('chain_pitches', 'count', {
        doc: 'Length of the chain in pitches, exact.',
        formula: '2 C/p + (N1 + N2)/2 + (N2 - N1)^2 / (4 pi^2 C/p)',
        source: 'Shigley eq. 17-34; Mott, example 7-3',
        reads: CHAIN,
        compute: v => m.chainPitches(v.centers, pitch(v.chain), v.n1, v.n2),
      }),
      derived('chain_links', 'count', {
        doc: 'Length of the chain in whole links: the next even number, since an odd one needs an offset link.',
        formula: 'the smallest even whole number not below chain_pitches',
        source: 'ASME B29.1 practice',
        reads: { pitches: 'chain_pitches' },
        compute: v => m.nextEven(v.pitches),
      }),
      derived('centers_set', 'length', {
        doc: 'Centre distance at which that many links are tight.',
        formula: 'the chain length formula solved for C',
        source: 'Shigley eq. 17-35',
        shown: ['in', 'mm'],
        reads: { links: 'chain_links', chain: CHAIN.chain, n1: CHAIN.n1, n2: CHAIN.n2 },
        compute: v => m.centerDistance(v.links, pitch(v.chain), v.n1, v.n2),
      }),
      derived('limit_turns_used', 'angle', {
        doc: 'Turns of the operator from closed to open.',
        formula: 'drum.turns * sprocket_drum / sprocket_drive',
        source: 'mechanics',
        reads: { turns: 'drum.turns', ...DRIVE },
        compute: withRatio((v, ratio) => m.limitTurnsUsed(v.turns, ratio)),
        instead: otherSprocket,
      }),
    ],
  },
)
