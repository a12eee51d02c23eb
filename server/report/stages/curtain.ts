/** 5. Lifting the curtain and hanging it. */
import type { Door } from '../../model/index.ts'
import type { SheetFinding } from '../findings.ts'
import { type Html, html } from '../html.ts'
import { cautionBox, facts, length, measured, stage, tape, value } from '../parts.ts'

/** Rules that forbid a lift as it is written. */
const LIFTING = new Set(['sling_angle_low', 'sling_load'])

export function curtain(door: Door, findings: readonly SheetFinding[]): Html {
  const slings = door.number('rigging.slings')
  const spacing = door.number('rigging.spacing')
  const at =
    slings === undefined || spacing === undefined || slings > 12
      ? undefined
      : Array.from({ length: slings }, (_, i) => tape(door, spacing * (i + 0.5)))
  const stops = findings.filter(f => f.severity === 'error' && f.accepted === undefined && LIFTING.has(f.rule))
  return stage(
    5,
    'Curtain: sling it, lift it, fix it to the drum',
    cautionBox('curtain'),
    stops.length > 0 &&
      html`<div class="stop keep"><b>Do not lift.</b>${stops.map(f => html`<p>${f.message}</p>`)}</div>`,
    facts([
      [
        'Curtain alone',
        html`<span class="open-first">${value(door, 'curtain.weight_total')}</span> (${value(door, 'curtain.slat_count')} slats, each ${length(door, 'curtain.slat_length')})`,
      ],
      [
        'Slings',
        html`<span class="open-first">${value(door, 'rigging.slings')}</span>${door.written('rigging.slings') && html` (needed by its length: ${value(door, 'rigging.slings_needed')})`}`,
      ],
      ['Length of curtain on each', length(door, 'rigging.spacing')],
      at && ['Slings from the left end', at.join(' · ')],
      ['Angle to the horizontal, not less', value(door, 'rigging.sling_angle')],
      [
        'Load in each sling',
        stops.length > 0
          ? html`<span class="unknown">withheld: see above</span>`
          : html`<span class="open-first">${value(door, 'rigging.load_each')}</span>`,
      ],
      [
        'Rated capacity of one, from its tag',
        measured(door.number('rigging.sling_capacity') === undefined ? undefined : door.show('rigging.sling_capacity')),
      ],
      [
        'Fix the curtain',
        door.word('drum.attach') === 'rings' ? 'to the rings on the drum' : 'to the pipe of the drum',
      ],
      ['It hangs from the side', door.word('drum.leaves') === 'room_side' ? 'AWAY FROM the wall' : 'TOWARD the wall'],
      ['Turns of curtain left on the drum when closed', value(door, 'drum.dead_wraps')],
    ]),
    html`<p>The load is that of the curtain alone, shared equally. It leaves out the drum, the springs and unequal sharing: choose slings and lifting gear with a margin for these.</p>`,
  )
}
