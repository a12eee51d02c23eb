/** 1. What has to come, with boxes to tick: follows from the job. */
import { CHAINS, type ChainName } from '../../mechanics/index.ts'
import type { Door } from '../../model/index.ts'
import { type Html, html, type Part } from '../html.ts'
import { length, measured, plainWord, springName, stage, table, tape, tick, value } from '../parts.ts'

type Line = readonly [count: Part, what: Part, detail: Part]

/** What `delivery` says of a part: ticked where all of it came. */
function came(door: Door, name: string, needed: number | undefined): readonly [ticked: boolean, note: Html] {
  const truth = door.truth(`delivery.${name}`)
  const count = door.number(`delivery.${name}`)
  if (truth === false) return [false, html`<span class="out">MISSING</span>`]
  if (truth) return [true, html`came`]
  if (count === undefined) return [false, html``]
  if (needed !== undefined && count < needed) return [false, html`<span class="out">${count} of ${needed}</span>`]
  return [true, html`${count} came`]
}

export function delivery(door: Door): Html {
  const rows: Part[][] = []
  const part = (name: string, needed: number | undefined, lines: readonly Line[]): void => {
    const [ticked, note] = came(door, name, needed)
    lines.forEach(([count, what, detail], i) => {
      rows.push([tick(ticked), count, html`<strong>${what}</strong>`, detail, i === 0 ? note : ''])
    })
  }
  const adjuster = door.word('adjuster.side')
  part('rails', 2, [
    ['2', 'Rails (guides)', html`${length(door, 'rails.length')} long, groove ${length(door, 'rails.depth')} deep`],
  ])
  part('brackets', 2, [
    [
      '2',
      'Brackets',
      html`one each end; adjuster end ${adjuster ?? html`<span class="unknown">side not known</span>`}`,
    ],
  ])
  part('drum', undefined, [
    [
      '1',
      'Drum (barrel)',
      html`pipe ${pipe(door)}, span ${length(door, 'drum.span')}, pipe weight ${value(door, 'drum.weight')}`,
    ],
    ...door.springs.map((s, i): Line => {
      const end = door.word(`${s.path}.shaft_end`)
      return [
        door.show(`${s.path}.count`),
        springName(door, i),
        html`wire ${value(door, `${s.path}.wire`)}, mean diameter ${value(door, `${s.path}.diameter`)}, ${value(door, `${s.path}.coils`)} coils, ${plainWord(door.word(`${s.path}.material`) ?? '')}, hand ${value(door, `${s.path}.hand`)}${end !== undefined && `, shaft end toward the ${end}`}`,
      ]
    }),
    ['1', 'Adjuster wheel', html`${value(door, 'adjuster.holes')} holes; two winding bars that fit it, and its pin`],
  ])
  part('curtain', undefined, [
    [
      '1',
      'Curtain',
      html`${value(door, 'curtain.slat_count')} slats, ${length(door, 'curtain.slat_length')} long; ${value(door, 'curtain.weight_total')} with its bottom bar`,
    ],
  ])
  if (door.block('operator')) part('operator', undefined, operatorLines(door))
  part('hood', undefined, [
    [
      '1',
      'Hood',
      html`over a span of ${length(door, 'drum.span')}, coil ${length(door, 'drum.coil_diameter')} across; supports: ${door.written('hood.supports') ? value(door, 'hood.supports') : value(door, 'hood.supports_needed')}`,
    ],
  ])
  const fasteners = door.number('rails.fasteners')
  part('hardware', fasteners === undefined ? undefined : 2 * fasteners, [
    [
      fasteners === undefined ? html`<span class="line"></span>` : String(2 * fasteners),
      'Rail fasteners',
      fasteners === undefined
        ? 'how many: not known before their spacing is written'
        : html`${fasteners} a side; those of the brackets and the hood are not counted here`,
    ],
  ])
  part('documents', undefined, [['', 'Drawings and instructions', 'of the door, the operator and the fasteners']])
  const damage = door.text('delivery.damage')
  return stage(
    1,
    'Delivery: tick off what has come',
    table(['', 'No.', 'Part', 'Which', 'Came'], rows, 'ticks parts'),
    html`<p>Damage found: ${damage === undefined ? html`<span class="line long"></span>` : damage === '' ? measured('none') : html`<span class="out">DAMAGE</span> ${measured(damage)}`}</p>`,
  )
}

function pipe(door: Door): Html {
  const name = door.word('drum.pipe')
  return html`${name !== undefined && `${name}: `}${value(door, 'drum.pipe.od')} outside, wall ${value(door, 'drum.pipe.wall')}`
}

function operatorLines(door: Door): Line[] {
  const drive = door.word('operator.drive')
  const rated = [
    door.number('operator.torque') !== undefined && `${door.show('operator.torque')}`,
    door.number('operator.speed') !== undefined && `${door.show('operator.speed')}`,
    door.number('operator.power') !== undefined && `${door.show('operator.power')}`,
    door.number('operator.ratio') !== undefined && `ratio ${door.show('operator.ratio')}`,
    door.number('operator.hand_wheel') !== undefined && `hand wheel ${tape(door, door.number('operator.hand_wheel')!)}`,
  ].filter(x => x !== false)
  const out: Line[] = [
    [
      '1',
      'Operator',
      html`${drive === undefined ? 'drive not written' : plainWord(drive)}, ${door.word('operator.side') ?? 'side not known'} end${rated.length > 0 && `; ${rated.join(', ')}`}`,
    ],
  ]
  const chain = door.word('operator.chain')
  if (chain !== undefined)
    out.push([
      '1',
      'Roller chain',
      html`${plainChain(chain)}, ${value(door, 'operator.chain_links')} links, with a connecting link`,
    ])
  if (door.number('operator.sprocket_drum') !== undefined || door.number('operator.sprocket_drive') !== undefined)
    out.push([
      '2',
      'Sprockets',
      html`${value(door, 'operator.sprocket_drive')} teeth on the operator, ${value(door, 'operator.sprocket_drum')} on the drum`,
    ])
  return out
}

export const plainChain = (chain: string): string =>
  chain in CHAINS ? `ANSI ${(chain as ChainName).slice(5)}` : plainWord(chain)
