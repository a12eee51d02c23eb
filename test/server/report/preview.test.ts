/** The preview as its page shows it, and that it says the same as what stands near it. */
import { expect, test } from 'vitest'
import { preview } from '../../../server/report/preview.ts'
import { changed, FILE, readable, rowOf, serviceWith, sheetOf, stageOf } from './job.ts'

/** The job, with what its wires are made of written down: a life stands beside that. */
const JOB = changed(
  ['    coils    = 160\n', '    coils    = 160\n    material = oil_tempered\n'],
  ['    coils    = 140\n', '    coils    = 140\n    material = oil_tempered\n'],
)
const service = serviceWith(JOB)
const door = service.doors(FILE)[0]!
const END = { line: JOB.split('\n').length, character: 0 }
const hints = service.inlayHints(FILE, { start: { line: 0, character: 0 }, end: END }).map(h => h.label)
const section = (id: string): string => service.preview(FILE, 'Dock 7')!.sections.find(s => s.id === id)!.html

test('a message has its code as code, and whatever else it holds as text', () => {
  const finding = {
    rule: 'made_up',
    severity: 'warning',
    message: 'Write `hand = <right>` & not `left`, `b',
    accepted: undefined,
    line: 1,
    never: false,
    spot: { line: 0, character: 0 },
  } as const
  const [state] = preview(door, [finding], () => finding.spot)
  expect(state!.html).toContain('Write <code>hand = &lt;right&gt;</code> &amp; not <code>left</code>, `b')
})

test('a life is the same in the hint, the tables and the sheet', () => {
  // 607,241 and more than 1,000,000 worked out; 20 a day for 10 years are 73,000 asked for
  expect(hints).toEqual(expect.arrayContaining(['life about 610,000', 'life over 1,000,000']))
  const [long, short] = ['spring long', 'spring short']
  expect(rowOf(section('margins'), `${long}, life`).slice(1)).toEqual([
    'about 610,000',
    'at least 73,000',
    'about 530,000 left',
  ])
  expect(rowOf(section('margins'), `${short}, life`).slice(1)).toEqual([
    'more than 1,000,000',
    'at least 73,000',
    'more than 927,000 left',
  ])
  for (const life of ['about 610,000', 'more than 1,000,000']) {
    expect(readable(section('values'))).toContain(`life ${life} `)
    expect(readable(stageOf(sheetOf(JOB), 9))).toContain(life)
  }
  expect(readable(section('values') + section('margins') + sheetOf(JOB))).not.toMatch(/607241|1000000/)
})

test('what is out of balance has one name wherever it stands', () => {
  const said = `out of balance by ${door.show('balance.worst')}`
  expect(service.codeLenses(FILE)[0]!.title).toContain(said)
  expect(hints).toContain(said)
  expect(readable(section('balance'))).toContain(said)
  expect(readable(section('values'))).toContain(said)
  expect(readable(stageOf(sheetOf(JOB), 6)).toLowerCase()).toContain(`${said} at the most`)
})
