/** Changes that keep every value: what is offered, and the file afterwards. */
import { describe, expect, test } from 'vitest'
import { snapshot } from '../../../server/features/keeps.ts'
import { DOCK, dockWith, STOCK } from './editor.ts'
import { findingsOf, serviceOf, type Texts, Workspace } from './workspace.ts'

const offered = (w: Workspace, selected = '', only = ['refactor']) => {
  const from = w.cursor
  const at = w.service.offset(w.file, from)
  const to = w.service.position(w.file, at + selected.length)
  expect(w.texts[w.file]!.slice(at, at + selected.length)).toBe(selected)
  return w.service.codeActions(w.file, { start: from, end: to }, only)
}
const doing = (w: Workspace, title: string, selected = ''): Texts => {
  const all = offered(w, selected)
  const action = all.find(a => a.title.includes(title))
  if (!action) throw new Error(`no "${title}" among ${all.map(a => a.title).join('; ')}`)
  return w.applied(action.edits)
}
/** What every opening comes to, numbers to ten digits; not what its slat is called. */
const numbers = (texts: Texts): string[] => {
  const service = serviceOf(texts)
  for (const [f, t] of Object.entries(texts)) service.open(f, t)
  return Object.keys(texts).flatMap(f =>
    service.doors(f).flatMap(d =>
      [...snapshot(d)].filter(([path]) => path !== 'curtain.slat').map(([path, v]) => `${d.mark} ${path} ${v?.kind === 'number' ? v.si.toPrecision(10) : JSON.stringify(v)}`),
    ),
  ) // biome-ignore format: one list
}
const job = (text: string): Workspace => new Workspace({ 'dock.door': text, 'stock.door': STOCK })

describe('naming a part of an expression', () => {
  test('of a field: a line above', () => {
    const w = job(dockWith('between = width + 1in', 'between = |width + 1in'))
    const after = doing(w, 'Name this part', 'width + 1in')
    expect(after['dock.door']).toContain('    let between_part = width + 1in\n    between = between_part\n')
    expect(numbers(after)).toEqual(numbers(w.texts))
  })
  test('in a block on one line, and where the name is taken', () => {
    const w = job(
      dockWith(
        '  rails {\n    between = width + 1in\n    depth   = 3 1/4in\n  }',
        '  let between_part = 1in\n  rails { depth = 3 1/4in; between = width + |1in }',
      ),
    )
    expect(doing(w, 'Name this part', '1in')['dock.door']).toContain(
      'depth = 3 1/4in; let between_part_2 = 1in; between = width + between_part_2 }',
    )
  })
  test.each([
    ['pipe = nps6_std', 'pipe = |nps6_std', 'nps6_std'],
    ['hand     = right', 'hand     = |right', 'right'],
    ['between = width + 1in', 'between = width |+ 1in', '+ 1in'],
  ])('%s: nothing to name', (part, marked, selected) =>
    expect(offered(job(dockWith(part, marked)), selected, ['refactor.extract'])).toEqual([]),
  )
})

describe('a slat that is written out', () => {
  const INLINE = dockWith(
    '    slat       = flat_20\n',
    '    sl|at {\n      pitch     = 2.625in # as rolled\n      thickness = 0.875in\n      weight    = 2.6 lb/ft^2\n    }\n',
  )
  test('moves above the opening and its description', () => {
    const w = job(INLINE)
    const after = doing(w, 'this file')
    expect(after['dock.door']).toContain(`slat slat_dock_3 {
  pitch     = 2.625in # as rolled
  thickness = 0.875in
  weight    = 2.6 lb/ft^2
}

## Ground-floor dock, daily traffic
opening "Dock 3" {`)
    expect(after['dock.door']).toContain('    slat = slat_dock_3\n')
    expect(numbers(after)).toEqual(numbers(w.texts))
    expect(findingsOf(after)).toEqual(findingsOf(w.texts))
  })
  test('moves to the end of the stock file', () => {
    const w = job(INLINE)
    const after = doing(w, 'stock.door')
    expect(after['stock.door']).toMatch(/hand_wheel = 12in }\n\nslat slat_dock_3 \{\n {2}pitch/)
    expect(numbers(after)).toEqual(numbers(w.texts))
  })
  test.each([
    ['}\n\n## Ground', '}\n\nslat slat_dock_3 {'],
    ['}\n## Ground', '}\n\nslat slat_dock_3 {'],
  ])('%j: with one line free before it', (before, after) =>
    expect(doing(job(INLINE.replace('}\n\n## Ground', before)), 'this file')['dock.door']).toContain(after),
  )
  test.each(['', '\n', '\n\n'])('with one line free before it in a stock file that ends in %j', end => {
    const w = new Workspace({ 'dock.door': INLINE, 'stock.door': STOCK.trimEnd() + end })
    expect(doing(w, 'stock.door')['stock.door']).toContain('= 12in }\n\nslat slat_dock_3 {')
  })
  test("stays where one of its values is the opening's", () =>
    expect(offered(job(INLINE.replace('2.625in', 'headroom / 8')), '', ['refactor.extract'])).toEqual([]))
})

describe('like another opening', () => {
  const TWIN = DOCK.slice(DOCK.indexOf('opening "Dock 3"')).replace('"Dock 3"', '"Do|ck 4"')
  test('what comes along by itself goes; what differs stays', () => {
    const w = job(
      DOCK +
        TWIN.replace('headroom = 24in', 'headroom = 26in # lower beam').replace('coils    = 140', 'coils    = 150'),
    )
    const after = doing(w, 'as like "Dock 3"')
    expect(after['dock.door']!.slice(DOCK.length)).toBe(`opening "Dock 4" like "Dock 3" {
  headroom = 26in # lower beam

  spring short {
    coils    = 150
  }
}
`)
    expect(numbers(after)).toEqual(numbers(w.texts))
  })
  test('not where something would come along that is not here', () =>
    expect(
      offered(job(DOCK + TWIN.replace('  cycles   = 20/day\n', '')))
        .map(a => a.title)
        .join(),
    ).not.toContain('as like'))
  test('nor for the first', () =>
    expect(
      offered(job(dockWith('"Dock 3"', '"Do|ck 3"')))
        .map(a => a.title)
        .join(),
    ).not.toContain('as like'))
})

describe('the other system', () => {
  test('every quantity of the file, and the units of the job; no value changes', () => {
    const w = job(dockWith('job "HS-2207"', 'j|ob "HS-2207"'))
    const after = doing(w, 'in metric units')
    expect(after['dock.door']).toContain('units = metric')
    expect(after['dock.door']).toContain('wire     = 12.7mm')
    expect(after['dock.door']).not.toMatch(/\d(ft|in)\b/)
    const eight = (texts: Texts) => numbers(texts).map(l => l.replace(/\d(e[+-]\d+)?$/, '$1'))
    expect(eight(after)).toEqual(eight(w.texts))
    expect(findingsOf(after)).toEqual(findingsOf(w.texts))
  })
})
