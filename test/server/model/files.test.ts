/** The files of a workspace: what each brings to the others, which is nearest, and what is kept when one changes. */
import { describe, expect, test } from 'vitest'
import { parseSource } from '../../../grammar/index.ts'
import { Files, type Host, keyOf, Model, nameOf } from '../../../server/model/index.ts'

/** Files by name; a path leads to the file of that name, `out...` leads out of the folder. */
const host = (more: Partial<Host> = {}): Host => ({
  resolve: (_, path) =>
    path.startsWith('out') ? { ok: false, outside: true, message: `${path} leads out.` } : { ok: true, file: path },
  ...more,
})
function files(texts: Readonly<Record<string, string>>, more: Partial<Host> = {}): Files {
  const out = new Files(host(more))
  for (const [name, text] of Object.entries(texts)) out.set(name, parseSource(text))
  return out
}
const uses = (...names: string[]) => names.map(n => `use "${n}"\n`).join('')
const slat = (name: string, gauge = 20) => `slat ${name} { pitch = 3in; thickness = 1in; gauge = ${gauge} }\n`

describe('reach', () => {
  const all = files({
    job: uses('a', 'b', 'gone', 'out'),
    a: uses('c'),
    b: uses('d', 'job'),
    c: uses('e'),
    d: uses('c'),
    e: '',
    alone: 'use\n',
  })
  const reach = (file: string) => all.reach(file).map(i => i.file)

  test('itself, then what it uses, the later first, then what those use; each once', () => {
    expect(reach('job')).toEqual(['job', 'b', 'a', 'd', 'c', 'e'])
    expect(reach('a')).toEqual(['a', 'c', 'e'])
    expect([reach('alone'), reach('gone')]).toEqual([['alone'], []])
    expect(all.reach('job')).toBe(all.reach('job'))
  })

  test('what it uses itself, there or not, but not what it may not', () => {
    expect(all.usedBy('job')).toEqual(['a', 'b', 'gone'])
    expect([all.usedBy('alone'), all.usedBy('nowhere')]).toEqual([[], []])
  })

  test('a circle is told from the used file back to the one that uses it', () => {
    expect(all.useCircle('job', 'b')).toEqual(['b', 'job'])
    expect(all.useCircle('job', 'a')).toBeUndefined()
    expect(all.useCircle('e', 'job')).toEqual(['job', 'a', 'c', 'e'])
    expect(all.useCircle('a', 'a')).toEqual(['a'])
  })

  test('it is another once a file is changed or deleted', () => {
    const some = files({ job: uses('a'), a: uses('b'), b: '' })
    expect(some.reach('job').map(i => i.file)).toEqual(['job', 'a', 'b'])
    some.set('a', parseSource(''))
    expect(some.reach('job').map(i => i.file)).toEqual(['job', 'a'])
    some.delete('a')
    expect(some.reach('job').map(i => i.file)).toEqual(['job'])
    expect([some.get('a'), [...some.all].map(i => i.file)]).toEqual([undefined, ['job', 'b']])
  })
})

describe('names', () => {
  const all = files({
    job: `${uses('a', 'b')}let x = 1\njob "1" {}\n${slat('own')}${slat('own')}opening "D" {}\nlimits { drum_sag = 0.03 in/ft }\n`,
    a: `${slat('own')}${slat('far')}let y = 1\njob "2" {}\npipe far { od = 4in; wall = 1in }\nlimits { drum_sag = 0.02 in/ft }\n`,
    b: `${slat('far')}opening "E" {}\nlimits { drum_sag = 0.01 in/ft }\nlimits { push_force = 9 lbf }\n`,
  })
  const where = (key: string, file = 'job') => all.item(file, key)?.file

  test('stock and openings are found in used files too, the nearest; the job and lets in the file alone', () => {
    expect([where('slat own'), where('slat far'), where('pipe far'), where('opening E')]).toEqual(['job', 'b', 'a', 'b']) // biome-ignore format: one list
    expect([where('job'), where('job', 'b'), where('let x'), where('let y'), where('let y', 'a')]).toEqual(['job', undefined, 'job', undefined, 'a']) // biome-ignore format: one list
    expect([where('slat none'), where('pipe own')]).toEqual([undefined, undefined])
  })

  test('of two with one name the first counts', () => {
    const first = all.item('job', 'slat own')!
    expect(
      all
        .get('job')!
        .source.chunks.flatMap(c => c.statements)
        .find(s => keyOf(s) === 'slat own'),
    ).toBe(first.node)
    expect(all.find('job', 'own slat own')).toBe(first.node)
    expect(all.find('job', 'own slat far')).toBeUndefined()
  })

  test('all of a kind that are in reach, each once', () => {
    const names = (kind: string, file = 'job') => all.names(file, kind).map(i => nameOf(i.node))
    expect([names('slat'), names('pipe'), names('opening'), names('let'), names('let', 'gone')]).toEqual([['own', 'far'], ['far'], ['D', 'E'], ['x'], []]) // biome-ignore format: one list
    expect(all.find('job', 'names slat')).toBe('own\nfar')
  })

  test('limits: the nearest first, of one file the later; then those of the house', () => {
    const by = (f: Files, file = 'job') => f.limits(file).map(i => [i.file, i.chunk.text.slice(i.node.start).match(/= (\S+)/)![1]]) // biome-ignore format: one expression
    const order = [['job', '0.03'], ['b', '9'], ['b', '0.01'], ['a', '0.02']] // biome-ignore format: one list
    expect(by(all)).toEqual(order)
    expect(all.limits('job')).toBe(all.limits('job'))
    const house = files({ job: 'limits { drum_sag = 0.03 in/ft }', home: 'limits { drum_sag = 0.02 in/ft }' }, { house: file => (file === 'job' ? 'home' : undefined) }) // biome-ignore format: one call
    expect([by(house), by(house, 'home')]).toEqual([[['job', '0.03'], ['home', '0.02']], [['home', '0.02']]]) // biome-ignore format: one list
    expect(by(files({ job: '' }, { house: () => 'gone' }))).toEqual([])
  })

  test('keys are for what can be called by a name', () => {
    const keys = parseSource('let x = 1\nlet\njob "1" {}\njob {}\nslat a {}\nslat {}\nopening "D" {}\nuse "x"\nrequire true').chunks.flatMap(c => c.statements).map(keyOf) // biome-ignore format: one expression
    expect(keys).toEqual(['let x', undefined, 'job', 'job', 'slat a', undefined, 'opening D', undefined, undefined])
  })
})

describe('what was looked up', () => {
  test('holds as long as the same is found', () => {
    const some = files({ job: uses('a'), a: slat('x') })
    const keys = ['slat x', 'limits', 'names slat', 'first opening', 'use a', 'own slat x', 'job']
    const seen = new Map(keys.map(key => [key, { file: 'job', key, found: some.find('job', key) }]))
    expect(some.holds(seen)).toBe(true)
    some.set('b', parseSource(slat('y')))
    expect(some.holds(seen)).toBe(true)
    some.set('a', parseSource(slat('x')))
    expect(some.holds(seen)).toBe(false)
    expect(some.find('job', 'use a')).toBe('a true ')
    expect([some.find('job', 'use gone'), some.find('job', 'use out')]).toEqual(['gone false ', 'out leads out.'])
    some.set('a', parseSource(uses('job')))
    expect(some.find('job', 'use a')).toBe('a true a job')
    expect(some.find('job', 'first opening')).toBeUndefined()
    some.set('job', parseSource('opening "D" {}\nopening "E" {}\n'))
    expect(some.find('job', 'first opening')).toBe('D')
  })
})

describe('a model over them', () => {
  test('what changes in one file changes what uses it, and nothing else; deleted, it is missed', () => {
    const model = new Model(host())
    const set = (file: string, text: string) => model.set(file, parseSource(text))
    const opening = (mark: string, slat: string) => `opening "${mark}" { width = 12ft; curtain { slat = ${slat} } }\n`
    set('job', `${uses('a')}job "1" {}\n${opening('D', 'x')}${opening('E', 'nothing')}`)
    set('a', slat('x'))
    const units = () => model.units('job')
    const [before, gauge] = [units(), () => units().flatMap(u => u.doors).find(d => d.mark === 'D')!.show('curtain.slat.gauge')] // biome-ignore format: one list
    expect([gauge(), units().flatMap(u => u.marks)]).toEqual(['20', ['D', 'E']])
    expect(units().every((u, i) => u === before[i])).toBe(true)
    expect(units().map(u => u.empty)).toEqual(before.map(u => u.doors.length + u.singles.length === 0))
    set('a', slat('x', 18))
    expect(gauge()).toBe('18')
    // E looked for the names of slats that are near to its own, and those are as they were
    expect(
      units()
        .filter((u, i) => u !== before[i])
        .flatMap(u => u.marks),
    ).toEqual(['D'])
    model.delete('a')
    expect([gauge(), model.units('a')]).toEqual(['not known', []])
    expect(
      units()
        .flatMap(u => u.findings)
        .map(f => f.rule)
        .filter(r => r === 'use_failed'),
    ).toHaveLength(1)
    // and what it was before holds again
    set('a', slat('x', 18))
    expect(gauge()).toBe('18')
  })

  test('units of what is shown: those of the job, whatever used files say, unless whoever runs it says otherwise', () => {
    const shown = (units: string, more: Partial<Host> = {}) => {
      const model = new Model(host(more))
      model.set('job', parseSource(`${uses('a')}job "1" { ${units} }\nopening "D" { width = 3m }\n`))
      model.set('a', parseSource('job "2" { units = metric }\n'))
      return model
        .units('job')
        .flatMap(u => u.doors)[0]!
        .show('width')
    }
    expect(shown('units = metric')).toBe('3000 mm')
    expect(shown('units = imperial')).toMatch(/^9 ft/)
    expect(shown('')).toMatch(/^9 ft/)
    expect(shown('units = nothing')).toMatch(/^9 ft/)
    expect(shown('units = metric', { units: 'imperial' })).toMatch(/^9 ft/)
    expect(shown('units = imperial', { units: 'metric' })).toBe('3000 mm')
  })

  test('openings without a job are told so at the first of them', () => {
    const model = new Model(host())
    model.set('job', parseSource('opening "D" {}\nopening "E" {}\n'))
    const told = () => model.units('job').flatMap(u => u.findings.filter(f => f.message.includes('no `job`')).map(() => u.marks[0])) // biome-ignore format: one expression
    expect(told()).toEqual(['D'])
    model.set('job', parseSource('job "1" {}\nopening "D" {}\n'))
    expect(told()).toEqual([])
    model.set('job', parseSource(`${uses('a')}opening "D" {}\n`))
    model.set('a', parseSource('job "1" {}\n'))
    expect(told()).toEqual(['D'])
  })

  test('more openings than are held let theirs go and are put together again, the same', () => {
    const model = new Model(host())
    const many = Array.from({ length: 150 }, (_, i) => `opening "D${i}" { width = ${i + 1}ft }\n`).join('')
    model.set('job', parseSource(`job "1" {}\n${many}`))
    const units = model.units('job').filter(u => u.marks.length > 0)
    const [first, last] = [units[0]!, units.at(-1)!]
    const held = last.doors[0]
    expect(last.doors[0]).toBe(held)
    expect([first.doors[0]!.show('width'), last.doors[0]!.show('width')]).toEqual(['1 ft', '150 ft'])
    for (const unit of units) expect(unit.doors).toHaveLength(1)
    expect(units.map(u => u.doors[0]!.mark)).toEqual(units.map((_, i) => `D${i}`))
    expect(model.units('job').filter(u => u.marks.length > 0)).toEqual(units)
  })
})
