import { withCaution } from '../model/index.ts'
import { begun, open, RECORDS, type RecordName } from './records.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'handover_open',
  group: 'Installed, delivery and handover',
  severity: 'note',
  what: 'What is still to be measured, ticked off, tested or written down in a record that is begun.',
  why: 'What is not measured is not checked, and what is not written down nobody knows in a year.',
  todo: 'Do it and write it down. Records that nobody has begun are not asked for before the handover is.',
  source: 'the stages of the job',
  caution: 'spring',
  bad: 'handover { balanced = true; limits_set = true }',
  good: `survey {
  width    { bottom = 12ft; middle = 12ft 1/16in; top = 12ft }
  height   { left = 11ft 6in; right = 11ft 6in }
  diagonal { rising = 16ft 7 3/8in; falling = 16ft 7 3/8in }
  plumb    { left = 1/8in; right = 1/8in }
  level           = 1/4in
  headroom        = 22in
  side_room_left  = 18in
  side_room_right = 12in
  by   = "R. Field"
  date = "2026-03-02"
}
`,
  check(door, report) {
    const handover = begun(door, 'handover')
    for (const record of RECORDS) {
      const there = begun(door, record)
      if (!there) continue
      const items = open(door, record)
      // at the handover all the earlier stages lie behind
      const others = handover && record === 'handover' ? RECORDS.filter(r => !begun(door, r)).map(r => NAMES[r]) : []
      if (items.length === 0 && others.length === 0) continue
      const parts = [
        items.length > 0 ? `${TODO[record]}: ${items.join('; ')}.` : '',
        others.length > 0 ? `Not begun yet: ${others.join(', ')}.` : '',
      ]
      const message = `${parts.filter(p => p !== '').join(' ')} Do it and write it down.`
      report({ message: items.some(i => SPRINGS.has(i)) ? withCaution(message, 'spring') : message, at: record })
    }
  },
})

const TODO: Readonly<Record<RecordName, string>> = {
  survey: 'Still to be measured or written down in the survey',
  delivery: 'Still to be ticked off at delivery',
  installed: 'Still to be measured or written down as installed',
  handover: 'Still to be done before the handover',
}
const NAMES: Readonly<Record<RecordName, string>> = {
  survey: 'the survey (`survey`)',
  delivery: 'the delivery (`delivery`)',
  installed: 'what was installed (`installed`)',
  handover: 'the handover (`handover`)',
}
/** What is done on wound springs. */
const SPRINGS = new Set(['increments', 'wound', 'the balance tried'])
