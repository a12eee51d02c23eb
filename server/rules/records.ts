/** What the rules about the records of the later stages have in common: what each of them is made of. */
import type { Door } from '../model/index.ts'

/** The widths between the installed rails, with where they are measured. */
export const INSTALLED_BETWEEN = [
  ['installed.between.bottom', 'at the floor'],
  ['installed.between.middle', 'at half height'],
  ['installed.between.top', 'at the head'],
] as const

/** What is ticked off at delivery, and how many of it a job needs. */
export const DELIVERED = [
  { name: 'rails', words: 'the rails', count: 2 },
  { name: 'brackets', words: 'the brackets', count: 2 },
  { name: 'drum', words: 'the drum with its springs', count: 1 },
  { name: 'curtain', words: 'the curtain', count: 1 },
  { name: 'operator', words: 'the operator', count: 1 },
  { name: 'hood', words: 'the hood', count: 1 },
  { name: 'hardware', words: 'fasteners and small parts', count: 1 },
  { name: 'documents', words: 'drawings and instructions', count: 1 },
] as const

/** A door that is pushed up by hand has no operator. */
export const needsOperator = (door: Door): boolean => door.word('operator.drive') !== 'push_up'

/** The blocks that are written while the work goes on, in its order. */
export const RECORDS = ['survey', 'delivery', 'installed', 'handover'] as const
export type RecordName = (typeof RECORDS)[number]

/** Whether a record is begun: its block stands in the opening, empty or not. */
export const begun = (door: Door, record: RecordName): boolean => door.block(record)?.written !== undefined

/** What is still to be written into a record, in words; a handover item that is written but not true is still to be done. */
export function open(door: Door, record: RecordName): string[] {
  if (record === 'survey') return gaps(door, record, SURVEY)
  if (record === 'installed')
    return gaps(
      door,
      record,
      INSTALLED,
      name => door.springs.length > 0 || (name !== 'increments' && name !== 'wound'),
    ).filter(name => name !== 'chain links' || door.written('operator.chain'))
  if (record === 'delivery')
    return DELIVERED.filter(
      d => !door.written(`delivery.${d.name}`) && (d.name !== 'operator' || needsOperator(door)),
    ).map(d => d.words)
  const tests = Object.entries(HANDOVER).filter(([name]) => name !== 'entrapment_tested' || powered(door))
  return [
    ...tests.filter(([name]) => door.truth(`handover.${name}`) !== true).map(([, words]) => words),
    ...gaps(door, record, { '': ['date', 'next_due'] }),
  ]
}

const powered = (door: Door): boolean =>
  door.word('operator.drive') === undefined || door.word('operator.drive') === 'motor'

type Fields = Readonly<Record<string, readonly string[]>>
const SURVEY: Fields = {
  width: ['bottom', 'middle', 'top'],
  height: ['left', 'right'],
  diagonal: ['rising', 'falling'],
  plumb: ['left', 'right'],
  '': ['level', 'headroom', 'side_room_left', 'side_room_right', 'by', 'date'],
}
const INSTALLED: Fields = {
  between: ['bottom', 'middle', 'top'],
  plumb: ['left', 'right'],
  '': ['drum_level', 'increments', 'wound', 'chain_links', 'by', 'date'],
}
const HANDOVER: Readonly<Record<string, string>> = {
  balanced: 'the balance tried',
  limits_set: 'the stop positions set',
  entrapment_tested: 'the protection against being trapped tried',
  guards_fitted: 'the guards fitted',
  manual_given: 'the manual given',
}

/** `width (middle, top)`, `drum level`: the fields of a record that are not written. */
function gaps(door: Door, record: RecordName, fields: Fields, asked: (name: string) => boolean = () => true): string[] {
  return Object.entries(fields).flatMap(([block, names]) => {
    const at = block === '' ? record : `${record}.${block}`
    const missing = names.filter(name => asked(name) && !door.written(`${at}.${name}`)).map(words)
    if (block === '' || missing.length === 0) return missing
    return [missing.length === names.length ? words(block) : `${words(block)} (${missing.join(', ')})`]
  })
}

const words = (name: string): string => name.replaceAll('_', ' ')
