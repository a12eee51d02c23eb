/** 9. Handing the door over, and what whoever keeps it has to know. */
import type { Door } from '../../model/index.ts'
import { type Html, html } from '../html.ts'
import { facts, measured, plainWord, springName, stage, table, tick, value } from '../parts.ts'

const YEAR = 365 * 86400
const CHECKS = [
  ['balanced', 'The door stays where it is left, at every height'],
  ['limits_set', 'The stop positions are set and tried'],
  ['entrapment_tested', 'The protection against being trapped was tried'],
  ['guards_fitted', 'Covers and guards are in place'],
  ['manual_given', 'The owner has the manual and this sheet'],
] as const

export function handover(door: Door): Html {
  const cycles = door.number('handover.cycles_counted')
  return stage(
    9,
    'Handover and maintenance',
    table(
      ['', 'Tested and given', 'Remarks'],
      CHECKS.map(([name, what]) => {
        const said = door.truth(`handover.${name}`)
        return [
          tick(said === true),
          what,
          said === false ? html`<span class="out">NOT YET</span>` : html`<span class="line"></span>`,
        ]
      }),
      'ticks',
    ),
    facts([
      ['Cycles on the counter', measured(cycles === undefined ? undefined : door.show('handover.cycles_counted'))],
      ['Handed over on', measured(door.text('handover.date'))],
      [
        'Next inspection due',
        html`${measured(door.text('handover.next_due'))} (at the latest ${door.show('limits.inspection_interval')} after the last)`,
      ],
    ]),
    html`<div class="keep"><h4>Signatures</h4>${table(
      ['', 'Name', 'Signature', 'Date'],
      [
        ['Installed by', '', '', ''],
        ['Received by', '', '', ''],
      ],
      'signatures',
    )}</div>`,
    maintenance(door),
  )
}

function maintenance(door: Door): Html {
  const rate = door.number('cycles')
  return html`<div class="keep"><h4>Maintenance: how long the springs last</h4>${table(
    ['Spring', 'Expected life, cycles', rate === undefined ? 'Years' : html`Years at ${value(door, 'cycles')}`, 'Wire'],
    door.springs.map((s, i) => [
      springName(door, i),
      value(door, `${s.path}.life`),
      years(door, `${s.path}.life`, rate),
      plainWord(door.word(`${s.path}.material`) ?? ''),
    ]),
  )}${standIn(door)}<p>Worked out by a published method for torsion springs, not tested: a spring maker's certified curve is better than this. Springs, fixings and the curtain's fastening are to be looked at by trained door technicians at every inspection, and replaced before the life is used up.</p></div>`
}

/** How long that many cycles last; a bound stays one. */
function years(door: Door, path: string, rate: number | undefined): Html {
  const r = door.result(path)
  if (r.state !== 'known' || r.value.kind !== 'number' || !rate)
    return html`<span class="unknown">not known${!rate && ': cycles a day are not written'}</span>`
  const n = r.value.si / rate / YEAR
  return html`${r.value.bound !== undefined && `${r.value.bound} than `}${n < 10 ? n.toFixed(1) : String(Math.floor(n))} years`
}

/** Wires whose strength over many cycles is taken from another wire's published curve. */
function standIn(door: Door): Html | undefined {
  const used = new Set(
    door.springs.filter(s => !door.written(`${s.path}.range_strength`)).map(s => door.word(`${s.path}.material`)),
  )
  const say: string[] = []
  if (used.has('oil_tempered') || used.has('hard_drawn'))
    say.push(
      'Oil-tempered and hard-drawn wire have no published curve at 100,000 and 1,000,000 cycles; that of music wire stands in.',
    )
  if (used.has('chrome_silicon')) say.push('Chrome-silicon wire takes the curve of chrome-vanadium.')
  return say.length === 0 ? undefined : html`<p>${say.join(' ')}</p>`
}
