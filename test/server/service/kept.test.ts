/** What a change does not touch is not worked out again, and openings are not put together for what is kept of them. */
import { expect, test, vi } from 'vitest'
import { editSource } from '../../../grammar/index.ts'
import { Unit } from '../../../server/model/index.ts'
import { Service } from '../../../server/service.ts'
import { DOCK, STOCK } from '../features/editor.ts'

const FILE = 'row.door'
const HEAD = `${STOCK}\n${DOCK.replace('use "stock.door"', '')}\n`
const copy = (i: number): string => `opening "Copy ${i}" like "Dock 3" {\n  width = 12ft ${(i % 9) + 1}in\n}\n\n`
const JOB = HEAD + Array.from({ length: 150 }, (_, i) => copy(i)).join('')

function opened(): Service {
  const service = new Service({ read: () => undefined, resolve: () => ({ ok: false, outside: true, message: '' }) })
  service.open(FILE, JOB)
  return service
}
/** @param from an offset */
const edit = (s: Service, from: number, to: number, text: string): void =>
  s.edit(FILE, [{ range: { start: s.position(FILE, from), end: s.position(FILE, to) }, text }])

const at = JOB.indexOf('width', JOB.indexOf('"Copy 70"'))
const ASKED: Readonly<Record<string, (s: Service) => unknown>> = {
  findings: s => s.findings(FILE),
  colours: s => s.semanticTokens(FILE),
  lenses: s => s.codeLenses(FILE),
  openings: s => s.openings(FILE),
  outline: s => s.outline(FILE),
  folding: s => s.folding(FILE),
  links: s => s.links(FILE),
  highlights: s => s.highlights(FILE, s.position(FILE, at)),
  mark: s => s.openingAt(FILE, s.position(FILE, at)),
}

test.each(Object.entries(ASKED))('after a key only its own opening is put together again: %s', (_, ask) => {
  const service = opened()
  for (const all of Object.values(ASKED)) all(service)
  edit(service, JOB.indexOf('12ft', at), JOB.indexOf('12ft', at) + 4, '11ft')
  const asked = new Set<Unit>()
  const { get } = Object.getOwnPropertyDescriptor(Unit.prototype, 'parts')!
  const spy = vi.spyOn(Unit.prototype, 'parts', 'get').mockImplementation(function (this: Unit) {
    if (!this.empty) asked.add(this)
    return get!.call(this)
  })
  const answer = ask(service)
  spy.mockRestore()
  expect(asked.size).toBeLessThanOrEqual(1)
  const fresh = new Service({ read: () => undefined, resolve: () => ({ ok: false, outside: true, message: '' }) })
  fresh.open(FILE, service.text(FILE)!)
  expect(JSON.stringify(answer)).toBe(JSON.stringify(ask(fresh)))
})

test('lines above move everything below, whatever is kept', () => {
  const service = opened()
  for (const all of Object.values(ASKED)) all(service)
  edit(service, JOB.indexOf('opening "Copy 0"'), JOB.indexOf('opening "Copy 0"'), '# one\n# two\n')
  const fresh = opened()
  fresh.open(FILE, service.text(FILE)!)
  for (const [name, ask] of Object.entries(ASKED))
    expect(JSON.stringify(ask(service)), name).toBe(JSON.stringify(ask(fresh)))
})

test('what an edit made on trial has changed is there again once it is taken back', () => {
  const { model } = opened()
  const { source } = model.files.get(FILE)!
  const before = model.units(FILE)
  const weight = /weight += \S+/.exec(JOB)!
  const end = weight.index + weight[0].length
  model.set(FILE, editSource(source, [{ start: end, end, text: '1' }]))
  expect(model.units(FILE).filter(u => before.includes(u)).length).toBeLessThan(20)
  model.set(FILE, source)
  expect(model.units(FILE).filter((u, i) => u !== before[i])).toEqual([])
})

test('the opening at a position is the one whose lines hold it', () => {
  const service = opened()
  const all = service.openings(FILE)
  for (let line = 0; line < 120; line++) {
    const wanted = all.find(o => o.line <= line && line <= o.endLine)?.mark
    expect(service.openingAt(FILE, { line, character: 0 }), `line ${line}`).toBe(wanted)
  }
})
