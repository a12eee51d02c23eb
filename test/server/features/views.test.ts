/** What stands beside the text and follows typing, as a person sees it. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parseSource } from '../../../grammar/index.ts'
import { movedFiles } from '../../../server/features/moved_files.ts'
import { selections } from '../../../server/features/selection.ts'
import { type Range, TOKEN_MODIFIERS, TOKEN_TYPES } from '../../../server/service.ts'
import { DOCK, dockWith, STOCK } from './editor.ts'
import { Workspace } from './workspace.ts'

const job = (text: string): Workspace => new Workspace({ 'dock.door': text, 'stock.door': STOCK })

describe('growing selection', () => {
  test('name, expression, statement, inside, block, ... file', () => {
    const w = job(dockWith('width + 1in', 'wid|th + 1in'))
    const said = w.service.selectionRanges(w.file, [w.cursor])[0]!.map(r => w.slice(w.file, r))
    expect(said.slice(0, 3)).toEqual(['width', 'width + 1in', 'between = width + 1in'])
    expect(said[3]).toMatch(/^between = [^{}]*1\/4in$/)
    expect(said).toContain(said.find(s => s.startsWith('rails {') && s.endsWith('}')))
    expect(said.at(-1)).toBe(w.texts['dock.door'])
  })
  test('the words of a text before its quotes', () => {
    const w = job(dockWith('"Harbour Street', '"Harbour St|reet'))
    const said = w.service.selectionRanges(w.file, [w.cursor])[0]!.map(r => w.slice(w.file, r))
    expect(said.slice(0, 2)).toEqual(['Harbour Street cold store', '"Harbour Street cold store"'])
  })
  test('each holds the one before, in any text', () =>
    fc.assert(
      fc.property(fc.string(), fc.nat(), fc.nat(), (noise, at, cut) => {
        const text = DOCK.slice(0, cut % DOCK.length) + noise + DOCK.slice(cut % DOCK.length)
        const source = parseSource(text)
        const chunk = source.chunks[at % source.chunks.length]!
        const all = selections(chunk, at % (chunk.text.length + 1))
        all.slice(1).forEach((s, i) => {
          expect(s.start <= all[i]!.start && s.end >= all[i]!.end).toBe(true)
          expect(s.end - s.start).toBeGreaterThan(all[i]!.end - all[i]!.start)
        })
      }),
    ))
})

test('the path of a `use` is a link to its file', () => {
  const w = job(DOCK)
  const all = w.service.links(w.file)
  expect(all.map(l => [w.slice(w.file, l.range), l.file])).toEqual([['stock.door', 'stock.door']])
})

describe('colours', () => {
  /** The words of a file, read from the numbers that the protocol has for them. */
  const wordsOf = (w: Workspace, file: string, range?: Range) => {
    const data = [...w.service.semanticTokens(file, range)]
    let [line, character] = [0, 0]
    return Array.from({ length: data.length / 5 }, (_, i) => {
      const [lines, columns, length, type, bits] = data.slice(5 * i, 5 * i + 5) as [
        number,
        number,
        number,
        number,
        number,
      ]
      character = lines === 0 ? character + columns : columns
      line += lines
      return {
        line,
        character,
        length,
        type: TOKEN_TYPES[type],
        modifiers: TOKEN_MODIFIERS.filter((_, b) => bits & (1 << b)),
      }
    })
  }
  /** The words of a line with what they are. */
  const coloured = (text: string, line: string) => {
    const w = job(text)
    const n = w.texts['dock.door']!.split('\n').findIndex(l => l.includes(line))
    return wordsOf(w, w.file)
      .filter(t => t.line === n)
      .map(
        t =>
          `${w.texts['dock.door']!.split('\n')[n]!.slice(t.character, t.character + t.length)} ${[t.type, ...t.modifiers].join('.')}`,
      )
  }
  test.each([
    ['opening "Dock 3"', ['opening class', '"Dock 3" string.declaration']],
    ['slat       =', ['slat property.declaration', '= operator', 'flat_20 namespace']],
    ['pipe =', ['pipe property.declaration', '= operator', 'nps6_std namespace.defaultLibrary']],
    ['spring long', ['spring class', 'long namespace.declaration']],
    ['hand     =', ['hand property.declaration', '= operator', 'right enumMember']],
    ['between =', ['between property.declaration', '= operator', 'width property', '+ operator', '1 number']],
    ['## Ground', ['## Ground-floor dock, daily traffic comment.documentation']],
  ])('%s', (line, words) => expect(coloured(DOCK, line)).toEqual(words))
  test('a let, a worked-out value, a function, a block in a path', () => {
    const text = dockWith('  adjuster {', '  let gap = 1in\n  require max(gap, drum.sag) > 1in\n  adjuster {')
    expect(coloured(text, 'let gap')).toEqual([
      'let keyword',
      'gap variable.declaration.readonly',
      '= operator',
      '1 number',
    ])
    expect(coloured(text, 'require')).toEqual([
      'require keyword', 'max function.defaultLibrary', 'gap variable.readonly', 'drum namespace', 'sag property.readonly', '> operator', '1 number',
    ]) // biome-ignore format: one list
  })
  test('part of a file: the same, from there on', () => {
    const w = job(DOCK)
    const all = wordsOf(w, w.file)
    const range = { start: { line: 8, character: 0 }, end: { line: 12, character: 0 } }
    const part = wordsOf(w, w.file, range)
    expect(part.length).toBeGreaterThan(10)
    expect(all).toEqual(expect.arrayContaining(part))
  })
  test('in order and apart, in any text', () =>
    fc.assert(
      fc.property(fc.string(), fc.nat(), (noise, cut) => {
        const w = new Workspace(
          {
            'dock.door': DOCK.slice(0, cut % DOCK.length) + noise + DOCK.slice(cut % DOCK.length),
            'stock.door': STOCK,
          },
          [],
          'dock.door',
        )
        const all = wordsOf(w, 'dock.door')
        all.slice(1).forEach((t, i) => {
          const before = all[i]!
          expect(t.line > before.line || t.character >= before.character + before.length).toBe(true)
        })
      }),
      { numRuns: 50 },
    ))
})

describe('signature', () => {
  const shown = (marked: string) => {
    const w = job(dockWith('width + 1in', marked))
    const s = w.service.signature(w.file, w.cursor)
    return s && `${s.label} @${s.parameters[s.active] ? s.label.slice(...s.parameters[s.active]!) : ''}`
  }
  test.each([
    ['clamp(|', 'clamp(value, low, high) @value'],
    ['clamp(width, 1in|, 2in)', 'clamp(value, low, high) @low'],
    ['clamp(min(1in, 2in), (1in + 2in) * (2), |', 'clamp(value, low, high) @high'],
    ['clamp(min(1in, |2in), 3in)', 'min(a, b, ...) @b'],
    ['max(1in, 2in, 3in, 4in, |', 'max(a, b, ...) @...'],
    ['round((|', 'round(value, step) @value'],
  ])('%s', (marked, label) => expect(shown(marked)).toBe(label))
  test.each(['max(1in, 2in)|', 'ma|x(1in)', '(|1in)', 'holes(|', '"max(|"'])('%s: none', marked =>
    expect(shown(marked)).toBeUndefined(),
  )
})

describe('lenses', () => {
  test('how each opening stands, and what can be done with it', () => {
    const w = job(DOCK)
    const state = w.service.openings(w.file)[0]!
    const all = w.service.codeLenses(w.file)
    expect(all.map(l => l.line)).toEqual([7, 7, 7, 7])
    expect(all[0]!.title).toContain(`out of balance by ${state.worst}, ${state.errors} error`)
    expect(all.map(l => l.command)).toEqual([
      'doorwright.preview',
      'doorwright.preview',
      'doorwright.sizeSprings',
      'doorwright.sheet',
    ])
    expect(all.slice(1).map(l => l.title)).toEqual(['Preview', 'Size springs', 'Field sheet'])
  })
  test('where the balance is not known it says so', () =>
    expect(job('opening "A" { width = 1ft }').service.codeLenses('dock.door')[0]!.title).toContain(
      'balance not known yet',
    ))
})

describe('while typing', () => {
  const typed = (marked: string, char: string) => {
    const w = new Workspace({ 'a.door': marked })
    return w.applied(w.service.formatOnType('a.door', w.cursor, char))['a.door']
  }
  test('the brace that closes a block lays it out', () =>
    expect(typed('opening "A" {\nwidth=1ft\n   height = 2ft\n}|\nlet  a=1\n', '}')).toBe(
      'opening "A" {\n  width  = 1ft\n  height = 2ft\n}\nlet  a=1\n',
    ))
  test('a line end lays out the line before, and leaves the one of the cursor', () =>
    expect(typed('opening "A" {\n  width=1ft\n    |\n}\n', '\n')).toBe('opening "A" {\n  width = 1ft\n    \n}\n'))
  test('what cannot be read stays', () =>
    expect(typed('opening "A" {\nwidth= = 1ft\n}|\n', '}')).toBe('opening "A" {\nwidth= = 1ft\n}\n'))
  test('inside of a text nothing happens', () =>
    expect(typed('job "1" { site="a }|" }\n', '}')).toBe('job "1" { site="a }" }\n'))
})

describe('files that move', () => {
  const texts = {
    'jobs/a.door': 'use "../stock/house.door"\nuse "b.door"\n',
    'jobs/b.door': 'slat x { }\n',
    'stock/house.door': 'slat y { }\n',
  }
  const moved = (from: string, to: string) => {
    const w = new Workspace(texts)
    return w.applied(w.service.moved([{ from, to }]))
  }
  test('the used one', () =>
    expect(moved('stock/house.door', 'stock/old/house.door')['jobs/a.door']).toBe(
      'use "../stock/old/house.door"\nuse "b.door"\n',
    ))
  test('the one that uses', () =>
    expect(moved('jobs/a.door', 'a.door')['jobs/a.door']).toBe('use "stock/house.door"\nuse "jobs/b.door"\n'))
  test('a folder: what moves together still finds itself', () =>
    expect(moved('jobs', 'work/new')['jobs/a.door']).toBe('use "../../stock/house.door"\nuse "b.door"\n'))
  test('another folder of a like name stays', () => expect(moved('job', 'x')).toEqual(texts))
  test('nothing to another disk', () => {
    const w = new Workspace(texts)
    w.service.workspace()
    expect(movedFiles([{ from: 'stock', to: 'D:\\stock' }], Object.keys(texts), w.service.model.files)).toEqual([])
  })
})

test('names of the workspace by what they start with, hold, or have letters of', () => {
  const w = job(DOCK)
  const found = (q: string) => w.service.workspaceSymbols(q).map(s => `${s.kind} ${s.name} ${s.file}`)
  expect(found('dock')).toEqual(['opening Dock 3 dock.door'])
  expect(found('LONG')).toEqual(['stock house_long stock.door'])
  expect(found('ft2')).toEqual(['stock flat_20 stock.door'])
  expect(found('')).toHaveLength(5)
  expect(found('zz')).toEqual([])
})

describe('from value to value', () => {
  const at = (marked: string) => {
    const w = job(marked)
    return { w, value: w.service.valueAt(w.file, w.cursor)! }
  }
  test('what reads a field: formulas and expressions', () => {
    const { w, value } = at(dockWith('width    = 12ft', 'wid|th    = 12ft'))
    expect(value).toMatchObject({ path: 'opening.width', owner: 'Dock 3', text: '12 ft', written: true })
    const users = w.service.usedBy(value.data)
    expect(users.map(c => c.value.path)).toEqual(expect.arrayContaining(['opening.area', 'rails.between']))
    const between = users.find(c => c.value.path === 'rails.between')!
    expect(between.places.map(w.said)).toEqual(['dock.door: between = [width] + 1in'])
  })
  test('what a field and a worked-out value read', () => {
    const { w, value } = at(dockWith('between = width', 'bet|ween = width'))
    expect(w.service.feeds(value.data).map(c => c.value.path)).toEqual(['opening.width'])
    const inc = at(dockWith('  adjuster {', '  require adjuster.incr|ement > 1deg\n  adjuster {'))
    expect(inc.w.service.feeds(inc.value.data).map(c => `${c.value.path} ${c.value.text}`)).toEqual([
      'adjuster.holes 8',
    ])
  })
  test('a let on the way is looked through', () => {
    const { w, value } = at(dockWith('between = width + 1in', 'let w = width\n    betw|een = w + 1in'))
    expect(w.service.feeds(value.data).map(c => c.value.path)).toEqual(['opening.width'])
  })
  test('both ways agree for every value', () => {
    const { w, value } = at(dockWith('width    = 12ft', 'wid|th    = 12ft'))
    const all = w.service.values(w.file)[0]!.values.map(v => v.path)
    let pairs = 0
    for (const path of all)
      for (const c of w.service.feeds({ ...value.data, path })) {
        pairs++
        expect(w.service.usedBy(c.value.data).map(x => x.value.path)).toContain(path)
      }
    expect(pairs).toBeGreaterThan(100)
  })
  test('nothing at a word or a let', () =>
    expect(at(dockWith('hand     = right', 'hand     = ri|ght')).value).toBeUndefined())
})
