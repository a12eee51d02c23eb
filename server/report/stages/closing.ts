/** 7. Limits of travel; 8. the hood. */
import type { Door } from '../../model/index.ts'
import { type Html, html } from '../html.ts'
import { cautionBox, facts, length, measured, stage, table, tape, value } from '../parts.ts'

export function limits(door: Door): Html {
  const height = door.number('height')
  const operated = door.block('operator') && door.word('operator.drive') !== 'push_up'
  return stage(
    7,
    'Limits: stop positions',
    facts([
      ['Turns of the drum, closed to open', value(door, 'drum.turns')],
      door.block('operator') !== undefined && [
        'Turns of the operator, closed to open',
        value(door, 'operator.limit_turns_used'),
      ],
      door.number('operator.limit_turns') !== undefined && [
        'Turns that its limit switches can count',
        value(door, 'operator.limit_turns'),
      ],
    ]),
    table(
      ['Stop', 'Where', 'Measured'],
      [
        ['Closed', html`bottom bar on the floor along its whole width`, measured(undefined)],
        [
          'Open',
          html`bottom bar at the head${height !== undefined && `, ${tape(door, height)} above the floor`}`,
          measured(undefined),
        ],
      ],
    ),
    operated && cautionBox('power'),
  )
}

export function hood(door: Door): Html {
  const written = door.written('hood.supports')
  const supports = door.number(written ? 'hood.supports' : 'hood.supports_needed')
  const between = door.number('rails.between')
  const step = supports === undefined || between === undefined ? undefined : between / (supports + 1)
  const at =
    step === undefined || supports === 0 || supports! > 12
      ? undefined
      : Array.from({ length: supports! }, (_, i) => tape(door, step * (i + 1)))
  return stage(
    8,
    'Hood',
    facts([
      [
        'Supports between the brackets',
        html`<span class="open-first">${supports === undefined ? 'not known' : String(supports)}</span>${written && html` (needed by the span: ${value(door, 'hood.supports_needed')})`}`,
      ],
      at && ['From the inner edge of the left rail', at.join(' · ')],
      ['Largest length of hood between supports', length(door, 'limits.hood_span')],
      ['Hood clears the open coil', html`${length(door, 'drum.coil_diameter')} across`],
    ]),
  )
}
