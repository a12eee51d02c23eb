import { describe, expect, test } from 'vitest'
import { DOCK, dockWith, Editor, FILE, syntaxOf } from './editor.ts'

describe('the demo: a preload between two holes', () => {
  const editor = new Editor(dockWith('    preload = 1.7 turns', '    preload = 1.7| turns'))

  test('is underlined where it stands', () => {
    const found = editor.service.findings(FILE).find(f => f.rule === 'preload_increment')!
    expect(found.range).toEqual({
      start: { line: editor.cursor.line, character: 14 },
      end: { line: editor.cursor.line, character: 23 },
    })
  })

  test('one keystroke sets it to a whole increment', () => {
    const preferred = editor.actions.filter(a => a.preferred && a.findings?.every(f => f.rule === 'preload_increment'))
    expect(preferred).toHaveLength(1)
    const text = editor.applied(preferred[0]!.edits)
    expect(text).toBe(DOCK.replace('1.7 turns', '1 3/4 turns'))
    expect(new Editor(text).service.findings(FILE).map(f => f.rule)).not.toContain('preload_increment')
  })

  test('what mends two findings is offered once, for both', () => {
    const { actions } = new Editor(dockWith('preload = 1.7 turns', 'preload = 1.6 tu|rns'))
    const texts = actions.map(a => JSON.stringify(a.edits))
    expect(new Set(texts).size).toBe(texts.length)
    const best = actions.filter(a => a.title.startsWith('Write 2 1/8 turns'))
    expect(best.map(a => a.findings?.map(f => f.rule).sort())).toEqual([['preload_balance', 'preload_increment']])
    expect(best[0]!.preferred).toBe(true)
  })
})

describe('fixes of findings', () => {
  test('at the cursor, and not those of other lines', () => {
    const editor = new Editor(dockWith('  width    = 12ft', '  widht| = 12ft'))
    expect(editor.actions.flatMap(a => a.findings?.map(f => f.rule) ?? [])).toEqual(['unknown_field'])
    expect(editor.do('Write `width`')).toContain('  width = 12ft\n')
  })

  test('the only fix is preferred, one of several is not', () => {
    expect(new Editor(dockWith('  width    = 12ft', '  widht| = 12ft')).action('Write `width`').preferred).toBe(true)
    expect(new Editor(dockWith('  width    = 12ft', '  width = 12|')).actions.filter(a => a.preferred)).toEqual([])
  })

  test('a finding in a copied line is mended in the opening that copies', () => {
    const editor = new Editor(`${DOCK}\nopening "Dock 4" li|ke "Dock 3" {\n}\n`)
    const text = editor.do('1 3/4 turns')
    expect(text).toContain('opening "Dock 4" like "Dock 3" {\n  adjuster {\n    preload = 1 3/4 turns\n  }\n}\n')
  })

  test('all safe fixes of the file, only where they are asked for by name', () => {
    const text = dockWith('  drum {', '  barrel {')
    const editor = new Editor(text)
    const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
    expect(editor.service.codeActions(FILE, range).map(a => a.kind)).not.toContain('source.fixAll.doorwright')
    const [all] = editor.service.codeActions(FILE, range, ['source.fixAll'])
    expect(editor.applied(all!.edits)).toBe(DOCK.replace('1.7 turns', '1 3/4 turns'))
    expect(editor.text).toBe(text)
    expect(editor.service.codeActions(FILE, range, ['source']).map(a => a.kind)).toEqual(['source.fixAll.doorwright'])
  })

  test('only the kinds that were asked for', () => {
    const editor = new Editor(dockWith('    preload = 1.7 turns', '    preload = 1.7| turns'))
    const range = { start: editor.cursor, end: editor.cursor }
    expect(
      editor.service
        .codeActions(FILE, range, ['refactor'])
        .map(a => a.kind)
        .filter(k => k !== 'refactor.rewrite'),
    ).toEqual([])
    expect(new Set(editor.service.codeActions(FILE, range, ['quickfix']).map(a => a.kind))).toEqual(
      new Set(['quickfix']),
    )
  })
})

describe('allow', () => {
  const LOW = dockWith('    depth   = 3 1/4in', '    depth   = 2 7/8|in')

  test('is written into the block, with a reason to fill in', () => {
    const editor = new Editor(LOW)
    const action = editor.action('Allow `engagement_clearance`')
    expect(editor.applied(action.edits)).toContain(
      '    depth   = 2 7/8in\n    allow engagement_clearance because ""\n  }\n',
    )
    expect(action.snippet).toContain('because "$1"')
    expect(action.preferred).toBe(false)
  })

  test('with a reason the finding is accepted', () => {
    const text = new Editor(LOW).do('Allow `engagement_clearance`').replace('because ""', 'because "rails on site"')
    const found = new Editor(text).service.findings(FILE).find(f => f.rule === 'engagement_clearance')!
    expect(found.accepted).toBe('rails on site')
  })

  test('is not offered for what cannot be allowed', () => {
    const titles = new Editor(dockWith('    preload = 1.7 turns', '    preload = 1.7| turns')).actions.map(a => a.title)
    expect(titles.join()).not.toContain('Allow `preload_increment`')
    expect(new Editor(dockWith('  width    = 12ft', '  widht| = 12ft')).actions.map(a => a.title).join()).not.toContain(
      'Allow',
    )
  })
})

describe('conversion', () => {
  test.each([
    // 1 in = 25.4 mm, 1 lb = 0.45359237 kg: NIST SP 811, appendix B (seen)
    ['  width    = 12ft', '  width = 12f|t', 'exactly', '  width = 3657.6mm'],
    ['  width    = 12ft', '  width = 3810m|m', 'exactly', '  width = 12ft 6in'],
    ['  width    = 12ft', '  width = 3700m|m', 'nearest 1/16 in', '  width = 12ft 1 11/16in'],
    ['  width    = 12ft', '  width = 12ft 1/16i|n', 'nearest millimetre', '  width = 3659mm'],
    ['    bottom_bar = 3 lb/ft', '    endlock = 2 l|b', 'exactly', '    endlock = 0.90718474 kg'],
  ])('%s: %s, %s', (line, marked, how, result) => {
    const editor = new Editor(dockWith(line, marked))
    const action = editor.actions.find(a => a.title.startsWith('Convert') && a.title.includes(how))!
    expect(editor.applied(action.edits)).toContain(`${result}\n`)
  })

  test('there is nothing to convert in turns and counts', () => {
    const titles = (line: string, marked: string) => new Editor(dockWith(line, marked)).actions.map(a => a.title).join()
    expect(titles('    preload = 1.7 turns', '    preload = 1.7| turns')).not.toContain('Convert')
    expect(titles('    holes   = 8', '    holes = 8|')).not.toContain('Convert')
  })

  test('an exact conversion changes no value', () => {
    const si = (text: string) =>
      new Editor(text).service.values(FILE)[0]!.values.map(v => [v.path, v.si?.toPrecision(12)])
    const marked = dockWith('    engagement = 2 3/4in', '    engagement = 2 3/4|in')
    expect(si(new Editor(marked).do('exactly'))).toEqual(si(DOCK))
  })
})

describe('filling in', () => {
  test('what a block needs, with nothing that could be taken for a value', () => {
    const editor = new Editor('opening "A" {\n  width = 12ft\n  height = 8ft\n  dru|m {\n    span = 12ft\n  }\n}\n')
    const text = editor.do('Add what is missing')
    expect(text).toContain('  drum {\n    span = 12ft\n    pipe = choose\n  }\n')
    expect(new Editor(text).service.findings(FILE).map(f => f.rule)).toContain('unknown_name')
  })

  test('what an opening needs, blocks too', () => {
    const text = new Editor('open|ing "A" {\n}\n').do('Add what is missing')
    expect(syntaxOf(text)).toEqual([])
    for (const name of ['width', 'height', 'curtain', 'rails', 'drum', 'spring', 'adjuster'])
      expect(text).toMatch(new RegExp(`^ {2}${name} `, 'm'))
    expect(new Editor(text).service.values(FILE)[0]!.complete).toBe(false)
  })

  test('a field with its default', () => {
    const text = new Editor(dockWith('  drum {', '  dr|um {')).do('Write `attach = direct`')
    expect(text).toContain('    span = 12ft 8in\n    attach = direct\n  }\n')
  })
})
