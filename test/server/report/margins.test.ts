/** The preview's margins and the rules never disagree: a margin is over exactly where its rule has a finding. */
import { describe, expect, test } from 'vitest'
import { margins } from '../../../server/report/margins.ts'
import { RULES } from '../../../server/rules/index.ts'
import { Service } from '../../../server/service.ts'
import { example, HOUSE, OPENING } from '../../support/opening.ts'

function look(text: string) {
  const service = new Service({
    resolve: (_, path) => ({ ok: true, file: path }),
    read: file => (file === 'stock/house.door' ? HOUSE : undefined),
  })
  service.open('job.door', text)
  const found = new Set(
    service
      .findings('job.door')
      .filter(f => f.accepted === undefined)
      .map(f => f.rule),
  )
  return { service, found, doors: service.doors('job.door') }
}

const all = margins(look(OPENING).doors[0]!)

test('an opening that is right has margins, and none is over', () => {
  expect(all.length).toBeGreaterThan(10)
  expect(all.filter(m => m.over)).toEqual([])
})

test('every margin names a rule that there is', () => {
  const ids = new Set(RULES.map(r => r.id))
  for (const m of all) expect(ids).toContain(m.rule)
})

test('margins in numbers', () => {
  const of = (path: string) => all.find(m => m.path === path)!
  // own number: groove 3 1/4 in less engagement 2 3/4 in is 1/2 in; 1/4 in is asked for
  expect(of('rails.clearance').room).toBeCloseTo(0.25 * 0.0254, 9)
  expect(of('rails.clearance').text).toBe('1/4 in left')
  // own number: the wire 1/2 in on a mean of 4.9 in is 9.8; the range 4 to 16 leaves 5.8 below and 6.2 above
  expect(of('spring[0].index').room).toBeCloseTo(5.8, 9)
})

/** The rules that any example shows a margin of: each has to show it in its own examples too. */
const withMargin = new Set(RULES.flatMap(r => look(example(r.good)).doors.flatMap(d => margins(d).map(m => m.rule))))

test.each(RULES.filter(r => withMargin.has(r.id)))('the bad example of $id shows its margin as over', r => {
  const shown = look(example(r.bad)).doors.flatMap(d => margins(d))
  expect(shown.some(m => m.rule === r.id && m.over)).toBe(true)
})

describe.each(RULES)('$id', r => {
  test.each(['bad', 'good'] as const)('%s example: over where the rule has a finding, and only there', kind => {
    const { found, doors } = look(example(r[kind]))
    const shown = doors.flatMap(d => margins(d))
    for (const rule of new Set(shown.map(m => m.rule)))
      expect(
        shown.some(m => m.rule === rule && m.over),
        `${rule}: ${[...found].join(', ')}`,
      ).toBe(found.has(rule))
  })
})

test('a preview escapes what stands in the job', () => {
  const { service } = look(OPENING.replaceAll('Dock 3', '<img src=x onerror=alert(1)>'))
  const made = service.preview('job.door', '<img src=x onerror=alert(1)>')!
  const markup = made.sections.map(s => s.html).join('')
  expect(markup).not.toContain('<img')
  expect(markup).not.toMatch(/ style=/)
})

test('an edit above the opening leaves the preview as it is', () => {
  const above = (n: number) => look('\n'.repeat(n) + OPENING).service.preview('job.door', 'Dock 3')!
  expect(above(5).line).toBe(above(0).line + 5)
  expect(above(5).sections).toEqual(above(0).sections)
})

test('the caution goes with the balance', () => {
  const { sections } = look(OPENING).service.preview('job.door', 'Dock 3')!
  expect(sections.find(s => s.id === 'balance')?.html).toMatch(/Trained door technicians only/)
})
