import { type Door, setField } from '../model/index.ts'
import { rule } from './rule.ts'

const DUE = 'handover.next_due'
const DATE = 'handover.date'
const DAY = 86_400
const MONTH = (365 * DAY) / 12

export default rule({
  id: 'inspection_due',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'The next inspection is written down, and due within the interval of the limit after the handover.',
  why: 'Springs, anchors and safety devices wear where nobody sees it; a door without a date for it is not inspected.',
  todo: 'Write the date of the next inspection. Whether it has passed by now is for whoever reads the file to see.',
  limit: 'inspection_interval',
  source: 'ASR A1.7: at least once a year',
  about: 'handover',
  bad: 'handover { date = "2026-03-21"; next_due = "2028-03-21" }',
  good: 'handover { date = "2026-03-21"; next_due = "2027-03-21" }',
  check(door, report) {
    const date = door.text(DATE)
    const due = door.text(DUE)
    const interval = door.number('limits.inspection_interval')
    if (date === undefined || interval === undefined || (due === undefined && door.written(DUE))) return
    const latest = after(date, interval)
    if (latest === undefined) return
    const common = {
      limit: `${door.show('limits.inspection_interval')} or less after the handover`,
      related: [{ at: DATE, message: `handed over on ${date}` }],
      fixes: () => [write(door, latest)],
    }
    if (due === undefined)
      report({
        ...common,
        message: `The door was handed over on ${date}, but no next inspection is written down. It is due by ${latest}, ${door.show('limits.inspection_interval')} later.`,
        at: DATE,
      })
    // dates written as year-month-day compare as texts do
    else if (due > latest)
      report({
        ...common,
        message: `The next inspection is written down for ${due}; after the handover on ${date} it is due by ${latest}, ${door.show('limits.inspection_interval')} later. Write that date or an earlier one.`,
        at: DUE,
      })
    else if (due < date)
      report({
        ...common,
        message: `The next inspection is written down for ${due}, before the handover on ${date}. Write a date after it, ${latest} at the latest.`,
        at: DUE,
      })
  },
})

/**
 * The date an interval later: so many calendar months where it is whole months (the same day a year later, leap year or
 * not; the last day of the month where it has no such day), else so many days.
 * @param seconds the interval
 */
function after(date: string, seconds: number): string | undefined {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number]
  const months = seconds / MONTH
  const whole = Math.round(months)
  if (Math.abs(months - whole) > 1e-9 * Math.max(1, whole))
    return iso(Date.UTC(year, month - 1, day) + Math.floor(seconds / DAY + 1e-9) * DAY * 1000)
  const last = new Date(Date.UTC(year, month + whole, 0)).getUTCDate()
  return iso(Date.UTC(year, month - 1 + whole, Math.min(day, last)))
}

/** Undefined beyond the years that are written with four digits. */
function iso(time: number): string | undefined {
  const date = new Date(time)
  return Number.isNaN(time) || date.getUTCFullYear() > 9999 ? undefined : date.toISOString().slice(0, 10)
}

function write(door: Door, date: string) {
  const edits = setField(door, DUE, `"${date}"`)
  return edits && { title: `Write \`next_due = "${date}"\``, safe: false, edits }
}
