/** Proposals for springs: each is written into the job and then has to hold by the ordinary rules and numbers. */
import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { applyEdits, Service } from '../../../server/service.ts'

const SAMPLES = join(import.meta.dirname, '../../../samples/harbour')
const host = {
  resolve: (from: string, path: string) => ({ ok: true as const, file: join(dirname(from), path) }),
  read: (file: string) => readFileSync(file, 'utf8'),
}

const bare = (text: string): string =>
  text.replace(/^ {2}spring[^{]*\{[\s\S]*?^ {2}\}\n/gm, '').replace(/^ *preload += .*\n/gm, '')

function open(text: string, name = 'job.door'): { service: Service; file: string } {
  const service = new Service(host)
  const file = join(SAMPLES, name)
  service.open(file, text)
  return { service, file }
}

function write(
  service: Service,
  file: string,
  edits: readonly { range: { start: never; end: never }; text: string }[] | readonly unknown[],
): void {
  const own = edits as readonly {
    range: { start: { line: number; character: number }; end: { line: number; character: number } }
    text: string
  }[]
  service.open(
    file,
    applyEdits(
      service.text(file)!,
      own.map(e => ({
        start: service.offset(file, e.range.start),
        end: service.offset(file, e.range.end),
        text: e.text,
      })),
    ),
  )
}

describe('springs for the doors of the samples', () => {
  for (const [name, mark] of [
    ['dock.door', 'Dock 3'],
    ['gate.door', 'Gate'],
    ['counter.door', 'Counter'],
    ['press_hall.door', 'Hall 1'],
    ['plant_hall.door', 'Plant 1'],
  ] as const)
    it(`${name}: the first proposal breaks no rule, and its numbers are those of the door`, () => {
      const { service, file } = open(bare(readFileSync(join(SAMPLES, name), 'utf8')))
      const began = performance.now()
      const sized = service.size(file, mark)
      expect(performance.now() - began).toBeLessThan(1000)
      if (!sized.ok) throw new Error(sized.reason)
      const first = sized.proposals[0]!
      expect(first.against).toEqual([])
      write(service, file, first.edits)
      const serious = service.findings(file).filter(f => f.opening === mark && f.severity !== 'note')
      expect(serious.map(f => `${f.rule}: ${f.message}`)).toEqual([])
      const door = service.doors(file).find(d => d.mark === mark)!
      const row = (label: string): string => first.rows.find(r => r[0] === label)![1]
      expect(door.complete).toBe(true)
      expect(Number.isInteger(Math.round(door.number('adjuster.increments')! * 1e9) / 1e9)).toBe(true)
      expect(row('worst out of balance')).toContain(door.show('balance.worst'))
      expect(row('weight of wire')).toBe(door.show('spring.weight'))
      expect(row('stress ratio')).toBe(`${(door.number('spring.stress_ratio')! * 100).toFixed(1)}%`)
      expect(door.number('spring.life')!).toBeGreaterThanOrEqual(door.number('limits.spring_cycles')!)
    })

  it('proposals are sorted, the best first', () => {
    const { service, file } = open(bare(readFileSync(join(SAMPLES, 'gate.door'), 'utf8')))
    const sized = service.size(file, 'Gate')
    if (!sized.ok) throw new Error(sized.reason)
    const good = sized.proposals.filter(p => p.against.length === 0).map(p => p.score)
    expect(good.length).toBeGreaterThan(2)
    expect(good).toEqual(good.toSorted((a, b) => a - b))
  })
})

describe('what a proposal is made of', () => {
  const gate = bare(readFileSync(join(SAMPLES, 'gate.door'), 'utf8'))

  it('without a pipe, proposes one that holds the sag', () => {
    const { service, file } = open(gate.replace(/^ *pipe += .*\n/m, ''))
    const sized = service.size(file, 'Gate')
    if (!sized.ok) throw new Error(sized.reason)
    write(service, file, sized.proposals[0]!.edits)
    const door = service.doors(file)[0]!
    expect(service.text(file)).toMatch(/pipe = nps\d/)
    expect(door.number('drum.sag')!).toBeLessThanOrEqual(door.number('drum.sag_limit')!)
  })

  it('takes its wire from the stock in reach, and nothing else', () => {
    const { service, file } = open(`spring house_wire {\n  wire = 0.331in\n  material = oil_tempered\n}\n${gate}`)
    const sized = service.size(file, 'Gate')
    if (!sized.ok) throw new Error(sized.reason)
    expect(sized.proposals.every(p => p.title.includes('(house_wire)'))).toBe(true)
    write(service, file, sized.proposals[0]!.edits)
    expect(service.text(file)).toContain('spring like house_wire {')
    expect(service.doors(file)[0]!.number('spring.wire')).toBeCloseTo(0.331 * 0.0254, 12)
  })

  it('takes a finished spring of the stock as it is', () => {
    const { service, file } = open(
      `spring gate_spring {\n  wire = 3/8in\n  diameter = 4 1/2in\n  coils = 120\n}\n${gate}`,
    )
    const sized = service.size(file, 'Gate')
    if (!sized.ok) throw new Error(sized.reason)
    write(service, file, sized.proposals[0]!.edits)
    const door = service.doors(file)[0]!
    expect([door.number('spring.coils'), door.number('spring.count')]).toEqual([120, 2])
  })

  it('counts on more cycles where the door is used more', () => {
    const life = (cycles: string): number => {
      const { service, file } = open(gate.replace('6/day', cycles))
      const sized = service.size(file, 'Gate')
      if (!sized.ok) throw new Error(sized.reason)
      write(service, file, sized.proposals[0]!.edits)
      return service.doors(file)[0]!.number('spring.life')!
    }
    expect(life('6/day')).toBeGreaterThanOrEqual(21_900)
    expect(life('100/day')).toBeGreaterThanOrEqual(365_000)
  })

  it('with no drop guard, one lost spring must leave little out of balance', () => {
    const { service, file } = open(gate.replace('drop_guard = true', 'drop_guard = false'))
    const sized = service.size(file, 'Gate')
    if (!sized.ok) {
      expect(sized.reason).toContain('within all limits')
      return
    }
    write(service, file, sized.proposals[0]!.edits)
    expect(service.doors(file)[0]!.number('spring.lost_force')!).toBeLessThanOrEqual(200)
  })

  it('says what has to be known first', () => {
    const { service, file } = open(gate.replace(/^ *holes += .*\n/m, '').replace(/^ *height += .*\n/m, ''))
    const sized = service.size(file, 'Gate')
    expect(sized).toEqual({ ok: false, reason: 'These have to be known first: opening.height, adjuster.holes.' })
  })

  it('an opening that is not there', () => {
    const { service, file } = open(gate)
    expect(service.size(file, 'Nowhere')).toEqual({ ok: false, reason: 'There is no opening "Nowhere" in this file.' })
  })

  it('writing a proposal changes nothing else and does not touch the file before it is written', () => {
    const { service, file } = open(gate)
    const before = service.text(file)
    service.size(file, 'Gate')
    expect(service.text(file)).toBe(before)
  })
})
