/** 3. The rails, from the floor marks up. */
import type { Door } from '../../model/index.ts'
import { floorMarks } from '../drawings/marks.ts'
import { type Html, html } from '../html.ts'
import {
  besideJamb,
  cautionBox,
  facts,
  figure,
  length,
  limitText,
  measuredLength,
  stage,
  table,
  tape,
  tapeRounds,
  tapeStep,
  value,
} from '../parts.ts'

export function rails(door: Door, id: string): Html {
  const mark = door.number('rails.mark')
  const between = door.number('rails.between')
  const face = door.word('mount') !== 'between'
  const drawn = floorMarks(door, `${id}-marks`)
  const fasteners = door.number('rails.fasteners')
  const edge = door.number('rails.fastener_edge')
  const rail = door.number('rails.length')
  const real =
    fasteners === undefined || edge === undefined || rail === undefined
      ? undefined
      : (rail - 2 * edge) / (fasteners - 1)
  return stage(
    3,
    'Rails (guides)',
    drawn && figure(html`Each jamb 1 : ${drawn.scale}, the middle broken out.`, drawn.drawing),
    facts([
      [
        'Floor mark, from each jamb to the inner edge of its rail',
        html`<span class="open-first">${mark === undefined ? 'not known' : tape(door, Math.abs(mark))}</span>${mark !== undefined && ` ${besideJamb(mark)}`}`,
      ],
      ['Rail length', length(door, 'rails.length')],
      ['Mount', face ? 'on the face of the wall' : 'between the jambs'],
    ]),
    mark !== undefined &&
      tapeRounds(door, mark) &&
      html`<p>The mark is rounded to the nearest ${tapeStep(door)} (exact: ${value(door, 'rails.mark')}). Set out by the marks, then hold the spread.</p>`,
    html`<h4>Spread to hold between the inner edges</h4>`,
    table(
      ['', 'Hold', 'Measured'],
      [
        ...(['bottom', 'middle', 'top'] as const).map(at => [
          at,
          html`<strong class="open-first">${between === undefined ? 'not known' : tape(door, between)}</strong>`,
          measuredLength(door, `installed.between.${at}`),
        ]),
        ['left rail out of plumb', limitText(door, 'limits.rail_plumb'), measuredLength(door, 'installed.plumb.left')],
        [
          'right rail out of plumb',
          limitText(door, 'limits.rail_plumb'),
          measuredLength(door, 'installed.plumb.right'),
        ],
      ],
    ),
    html`<p>Each spread off the figure by ${limitText(door, 'limits.rail_spread')}; the three apart by ${limitText(door, 'limits.rail_parallel')}.</p>`,
    cautionBox('anchor'),
    html`<h4>Fasteners</h4>`,
    facts([
      [
        'In each rail',
        fasteners === undefined ? html`<span class="unknown">not known: no spacing is written</span>` : `${fasteners}`,
      ],
      ['First and last from the ends of the rail', length(door, 'rails.fastener_edge')],
      [
        'Spacing, evenly divided',
        real === undefined
          ? html`<span class="unknown">not known</span>`
          : html`${tape(door, real)} (not over ${length(door, 'rails.fastener_spacing')})`,
      ],
      door.number('rails.fastener_load') !== undefined && [
        'Mean wind load on one, straight out',
        html`${value(door, 'rails.fastener_load')}${door.number('rails.fastener_capacity') !== undefined && html` (capacity written: ${value(door, 'rails.fastener_capacity')})`}`,
      ],
    ]),
  )
}
