/** 4. The drum, level and centred, and the operator with its chain. */
import { CHAINS, type ChainName } from '../../mechanics/index.ts'
import type { Door } from '../../model/index.ts'
import { section } from '../drawings/section.ts'
import { type Html, html } from '../html.ts'
import {
  besideJamb,
  cautionBox,
  facts,
  figure,
  length,
  limitText,
  measured,
  measuredLength,
  plainWord,
  type Row,
  stage,
  table,
  tape,
  value,
} from '../parts.ts'
import { plainChain } from './delivery.ts'

export function drum(door: Door, id: string): Html {
  const span = door.number('drum.span')
  const width = door.number('width')
  const height = door.number('height')
  const rise = door.number('drum.rise')
  const overhang = span === undefined || width === undefined ? undefined : (span - width) / 2
  const drawn = section(door, `${id}-section`)
  return stage(
    4,
    'Drum (barrel) and operator',
    drawn &&
      figure(
        html`Seen facing the ${door.word('adjuster.side') ?? 'right'} end${door.word('adjuster.side') !== undefined && ', where the adjuster is'}. 1 : ${drawn.scale} where printed at full size. How far the drum stands from the wall follows from the brackets and is drawn only roughly.`,
        drawn.drawing,
      ),
    facts([
      ['Span between the brackets', html`<span class="open-first">${length(door, 'drum.span')}</span>`],
      [
        'Bracket from each jamb, so that the drum is centred',
        overhang === undefined
          ? html`<span class="unknown">not known</span>`
          : `${tape(door, Math.abs(overhang))} ${besideJamb(overhang)}`,
      ],
      [
        'Drum axis above the floor',
        height === undefined || rise === undefined
          ? html`<span class="unknown">not known</span>`
          : html`${tape(door, height + rise)} (${tape(door, rise)} above the head)`,
      ],
      [
        'The curtain hangs from the side',
        html`${door.word('drum.leaves') === 'room_side' ? 'AWAY FROM the wall' : 'TOWARD the wall'}`,
      ],
      [
        'Curtain fixed',
        door.word('drum.attach') === 'rings'
          ? html`to rings (${value(door, 'drum.ring')} on the radius)`
          : 'to the pipe',
      ],
      ['Weight of the pipe', value(door, 'drum.weight')],
    ]),
    table(
      ['', 'Limit', 'Measured'],
      [
        [
          'Drum out of level over its span',
          limitText(door, 'limits.drum_level'),
          measuredLength(door, 'installed.drum_level'),
        ],
        [
          'Left bracket from the jamb',
          overhang === undefined ? '' : tape(door, Math.abs(overhang)),
          measured(undefined),
        ],
        [
          'Right bracket from the jamb',
          overhang === undefined ? '' : tape(door, Math.abs(overhang)),
          measured(undefined),
        ],
      ],
    ),
    cautionBox('welding'),
    operator(door),
  )
}

function operator(door: Door): Html | undefined {
  if (!door.block('operator')) return html`<p>No operator is written in the job.</p>`
  const drive = door.word('operator.drive')
  const chain = door.word('operator.chain')
  const rows: (Row | false)[] = [
    [
      'Drive',
      html`${drive === undefined ? html`<span class="unknown">not written</span>` : plainWord(drive)}, ${door.word('operator.side') ?? 'side not known'} end`,
    ],
    door.number('operator.sprocket_drum') !== undefined && [
      'Sprockets, in line to a straight edge',
      html`${value(door, 'operator.sprocket_drive')} teeth on the operator, ${value(door, 'operator.sprocket_drum')} on the drum`,
    ],
    chain !== undefined && [
      'Chain',
      html`${plainChain(chain)}, pitch ${chain in CHAINS ? door.say(CHAINS[chain as ChainName].pitch, 'drum.pipe.wall') : ''}`,
    ],
    chain !== undefined && [
      'Break the chain at',
      html`<span class="open-first">${value(door, 'operator.chain_links')} links</span> (whole and even; exact length ${value(door, 'operator.chain_pitches')} pitches)`,
    ],
    chain !== undefined && ['Centre distance, written', length(door, 'operator.centers')],
    chain !== undefined && [
      'Centre distance at which it is tight',
      html`${value(door, 'operator.centers_set')} (${length(door, 'operator.centers_set')})`,
    ],
    chain !== undefined && [
      'Links fitted',
      measured(door.number('installed.chain_links') === undefined ? undefined : door.show('installed.chain_links')),
    ],
    door.number('operator.hand_pull') !== undefined && [
      drive === 'crank' ? 'Force on the handle, worst position' : 'Pull on the hand chain, worst position',
      value(door, 'operator.hand_pull'),
    ],
    door.number('operator.door_speed') !== undefined && ['Speed of the door', value(door, 'operator.door_speed')],
  ]
  return html`<h4>Operator</h4>${facts(rows)}${drive !== 'push_up' && cautionBox('power')}`
}
