/** 6. Winding the springs: whole increments, the right way, or no number at all. */
import type { Door } from '../../model/index.ts'
import { balanceChart } from '../drawings/chart.ts'
import { wheel } from '../drawings/wheel.ts'
import { doNotWind, type SheetFinding } from '../findings.ts'
import { coded, type Html, html } from '../html.ts'
import { cautionBox, figure, measured, plainWord, springName, stage, table, value } from '../parts.ts'

export function tension(door: Door, findings: readonly SheetFinding[]): Html {
  const reasons = doNotWind(door, findings)
  return stage(
    6,
    'Tension: wind the springs with the door FULLY OPEN',
    cautionBox('spring'),
    reasons.length > 0 ? stopped(reasons) : [openErrors(findings), settable(door)],
    hands(door),
    record(door),
    reasons.length === 0 && chart(door),
  )
}

const stopped = (reasons: readonly string[]): Html =>
  html`<div class="stop"><b>Do not wind: this door has no number to wind yet.</b><ul>${reasons.map(r => html`<li>${coded(r)}</li>`)}</ul><p>Have the job put right and print the sheet again. Nothing on this sheet may be used to wind the springs.</p></div>`

function settable(door: Door): Html {
  const count = Math.round(door.number('adjuster.increments')!)
  const holes = Math.round(door.number('adjuster.holes')!)
  const winding = door.word('adjuster.winding') as 'clockwise' | 'counterclockwise'
  const side = door.word('adjuster.side')
  return html`${already(door)}<div class="wind keep" data-increments="${count}"><div><div class="count">${count}</div><div class="unit">whole increment${count === 1 ? '' : 's'} of the ${holes}-hole wheel</div><div>= ${turnsOf(count, holes)} of the adjuster</div><div class="way">${winding.toUpperCase()}</div><div>seen facing the adjuster from outside the door. The adjuster is at the <strong>${side}</strong> end, as seen from the coil side.</div></div>${figure('As you see the wheel, facing it.', wheel(holes, winding))}</div>
<ol class="keep"><li>Door <strong>fully open</strong>, and secured so that it cannot come down.</li><li>Hand and shaft end of every spring checked against the table below.</li><li>Wind ${count} whole increment${count === 1 ? '' : 's'}, <strong>${winding}</strong>. Count each one aloud and mark it down. Pin the wheel before a bar is let go.</li><li>Write what was wound in the record below, before the door is let down.</li></ol>`
}

/** Errors that do not touch the winding itself still have to be settled before anybody winds. */
function openErrors(findings: readonly SheetFinding[]): Html | undefined {
  const open = findings.filter(f => f.severity === 'error' && f.accepted === undefined).length
  if (open === 0) return undefined
  return html`<p class="open-first">${open === 1 ? '1 error is' : `${open} errors are`} open for this opening: see its first page, and settle ${open === 1 ? 'it' : 'them'} before anything is wound.</p>`
}

/** The record says that the springs are wound: the figure is the whole of it, and not to be wound once more. */
function already(door: Door): Html | undefined {
  const wound = door.number('installed.increments')
  if (wound === undefined || wound <= 0) return undefined
  return html`<p class="stop keep"><b>Wound already.</b> The record below says that ${door.show('installed.increments')} are wound. The figure is the whole amount: do not wind it again.</p>`
}

/** `1 3/4 turns`: exact, in the holes of the wheel. */
function turnsOf(count: number, holes: number): string {
  const whole = Math.floor(count / holes)
  let [top, bottom] = [count % holes, holes]
  for (let a = top, b = bottom; b !== 0; [a, b] = [b, a % b]) if (a % b === 0) [top, bottom] = [top / b, bottom / b]
  const text = top === 0 ? String(whole) : `${whole > 0 ? `${whole} ` : ''}${top}/${bottom}`
  return `${text} ${(top === 0 && whole === 1) || (whole === 0 && top > 0) ? 'turn' : 'turns'}`
}

function hands(door: Door): Html {
  // which hand a spring needs is not settled while the direction itself is wrong
  const settled = door.word('adjuster.winding') === door.computedWord('adjuster.winding')
  return html`<h4>Before a bar goes in: is every spring the right hand, the right way round?</h4>${table(
    ['Spring', 'Hand written', 'Hand needed', 'Shaft end toward', 'Seen on site'],
    door.springs.map((s, i) => {
      const needed = settled ? door.word(`${s.path}.hand_needed`) : undefined
      const hand = door.word(`${s.path}.hand`)
      return [
        springName(door, i),
        hand ?? html`<span class="unknown">not written</span>`,
        needed === undefined
          ? html`<span class="unknown">not known</span>`
          : hand !== undefined && hand !== needed
            ? html`<span class="out">${needed.toUpperCase()}</span>`
            : needed,
        plainWord(door.word(`${s.path}.shaft_end`) ?? ''),
        measured(undefined),
      ]
    }),
  )}`
}

function record(door: Door): Html {
  const wound = door.number('installed.increments') === undefined ? undefined : door.show('installed.increments')
  return html`<div class="keep"><h4>Record of the day</h4>${table(
    ['Increments wound', 'Direction, facing the adjuster', 'By', 'Date'],
    [
      [
        measured(wound),
        measured(door.word('installed.wound')),
        measured(door.text('installed.by')),
        measured(door.text('installed.date')),
      ],
    ],
  )}</div>`
}

function chart(door: Door): Html | undefined {
  const drawn = balanceChart(door)
  return (
    drawn &&
    html`${figure(html`Solid: what the door asks for. Dashed: what the springs give. Out of balance by ${value(door, 'balance.worst')} at the most, with the bottom bar at ${value(door, 'balance.worst_at')}. At the bottom bar, without friction: up to ${value(door, 'balance.raise_force')} to raise, ${value(door, 'balance.lower_force')} to lower.`, drawn)}`
  )
}
