import { describe, expect, test } from 'vitest'
import { DOCK, dockWith, Editor, FILE, STOCK, syntaxOf } from './editor.ts'

const at = (line: string, instead: string): Editor => new Editor(dockWith(line, instead))

describe('where a statement starts', () => {
  test('what is required and missing comes first, what is written is left out', () => {
    const { labels } = at('  width    = 12ft', '  |')
    expect(labels[0]).toBe('width')
    expect(labels).not.toContain('height')
    expect(labels).not.toContain('curtain')
    expect(labels).toContain('wall')
    expect(labels).toContain('spring')
  })

  test('only what fits the block', () => {
    const { labels } = at('    span = 12ft 8in', '    |')
    expect(labels).toContain('ring')
    expect(labels).not.toContain('width')
    expect(labels).not.toContain('turns')
  })

  test('a required block comes with all it needs, to be filled in', () => {
    const text = new Editor('opening "A" {\n  width = 12ft\n  rai|\n}\n').accept('rails')
    expect(text).toBe('opening "A" {\n  width = 12ft\n  rails {\n    between = 0\n    depth = 0\n  }\n}\n')
  })

  test.each([
    ['gui', 'rails', 'guides'],
    ['barr', 'drum', 'barrel'],
  ])('the trade says %s... and gets %s', (typed, word, trade) => {
    const editor = new Editor(`opening "A" {\n  ${typed}|\n}\n`)
    const item = editor.item(`${word} (${trade})`)
    expect(item.filter).toBe(trade)
    expect(editor.accepted(item)).toContain(`  ${word} {\n`)
  })

  test('turns is preload', () => {
    expect(at('    preload = 1.7 turns', '    tur|').accept('preload (turns)')).toContain('    preload = 0\n')
  })

  test('what stands in for a value is found fault with until it is replaced', () => {
    const editor = new Editor('opening|')
    const filled = new Editor(editor.accept('opening'))
    const rules = filled.service.findings(FILE).map(f => f.rule)
    for (const field of ['width', 'height', 'engagement', 'between', 'depth', 'wire', 'diameter', 'coils', 'holes'])
      expect(
        filled.service
          .findings(FILE)
          .filter(
            f =>
              /wrong_dimension|unknown_name/.test(f.rule) &&
              filled.text.split('\n')[f.range.start.line]!.includes(`${field} =`),
          ),
        field,
      ).not.toEqual([])
    expect(rules.filter(r => r === 'unknown_name').length).toBeGreaterThanOrEqual(4)
    expect(filled.service.values(FILE)[0]!.complete).toBe(false)
  })

  test('a hand is never written unless somebody chooses it', () => {
    expect(at('    hand     = right', '    han|').item('hand').snippet).toMatch(/^hand = \$\{1\|choose,/)
  })

  test('at the top of a file', () => {
    expect(new Editor('|').labels).toEqual([
      'job',
      'opening',
      'slat',
      'pipe',
      'spring',
      'operator',
      'limits',
      'use',
      'let',
      'require',
    ])
    expect(new Editor(`${DOCK}|`).labels).not.toContain('job')
    expect(new Editor(`${DOCK}|`).accept('opening like')).toBe(`${DOCK}opening "Opening 2" like "Dock 3" {\n}`)
  })

  test('in the middle of a half-typed opening that nobody has closed', () => {
    const { labels } = new Editor('opening "A" {\n  width = \n  drum {\n    sp|\n')
    expect(labels).toContain('span')
    expect(labels[0]).toBe('pipe')
  })

  test.each([
    ['  wi|dth    = 12ft', 'wind', '  wind    = 12ft'],
    ['  width|    = 12ft', 'width', '  width    = 12ft'],
  ])('%s: a field that stands there has its name changed to %s and nothing else', (line, label, result) => {
    const editor = at('  width    = 12ft', line)
    expect(editor.accept(label)).toContain(`${result}\n`)
    expect(new Set(editor.items.map(i => i.kind))).toEqual(new Set(['field']))
  })

  test.each([
    ['  rails {', '  ra|ils {', 'hood', '  hood {\n    between'],
    ['  spring long {', '  spri|ng long {', 'spring', '  spring long {\n    wire'],
    ['opening "Dock 3" {', 'ope|ning "Dock 3" {', 'opening', 'opening "Dock 3" {\n  width'],
  ])('%s: a block that stands there has its name changed and nothing else', (line, typed, label, result) => {
    const editor = at(line, typed)
    expect(editor.accept(label)).toContain(result)
    expect(new Set(editor.items.map(i => i.kind))).toEqual(new Set(['block']))
  })

  test('a name that goes with what stands behind it only', () => {
    expect(at('  spring long {', '  spri|ng long {').labels).toEqual(['spring'])
    expect(at('  rails {', '  ra|ils {').labels).not.toContain('width')
    expect(at('    side    = right', '    all|ow rail_depth because "x"').labels).toEqual([])
    expect(new Editor('us|e "stock.door"\n').labels).toEqual([])
  })

  test('`allow` where there is something to accept', () => {
    expect(at('  width    = 12ft', '  |').labels).toContain('allow')
    expect(at('    side    = right', '    |').labels).toContain('allow')
    expect(at('  site = "Harbour Street cold store"', '  |').labels).not.toContain('allow')
    expect(new Editor('slat a {\n  |\n}\n').labels).not.toContain('allow')
  })

  test('names that are not taken', () => {
    const text = 'slat slat_1 {\n}\nlet name = 0\nopening "Opening 1" {\n}\nopening "Opening 3" {\n}\n|'
    const editor = new Editor(text)
    expect(editor.item('slat').insert).toMatch(/^slat slat_2 /)
    expect(editor.item('let').insert).toBe('let name_2 = 0')
    expect(editor.item('opening').insert).toMatch(/^opening "Opening 2" /)
    expect(editor.item('opening like').insert).toMatch(/^opening "Opening 4" like "Opening 1" /)
  })

  test('an opening with a quote and a backslash in its mark is copied by its mark', () => {
    const text = 'opening "A \\"b\\" c\\\\d, e" {\n}\n'
    const editor = new Editor(`${text}|`)
    expect(editor.item('opening like').insert).toContain(' like "A \\"b\\" c\\\\d, e" {')
    expect(new Editor(`${editor.accept('opening like')}`).service.findings(FILE).map(f => f.rule)).not.toContain(
      'like_failed',
    )
  })

  test('nothing in comments, texts and numbers', () => {
    expect(at('  width    = 12ft', '  # wid|').labels).toEqual([])
    expect(at('  site = "Harbour Street cold store"', '  site = "Har|"').labels).toEqual([])
    expect(at('  width    = 12ft', '  12|').labels).toEqual([])
  })
})

describe('values', () => {
  test('the words of the field, with what they mean', () => {
    const editor = at('  width    = 12ft', '  width = 12ft\n  mount = |')
    expect(editor.items.map(i => [i.label, i.detail])).toEqual([
      ['face', 'on the face of the wall (default)'],
      ['between', 'between the jambs'],
    ])
  })

  test('the hand that closes the coil comes first, and says why', () => {
    // adjuster right, curtain on the wall side: counterclockwise, so a right-hand coil (derived: the helix must close up)
    const [first] = at('    hand     = right', '    hand = |').items
    expect(first).toMatchObject({ label: 'right', preselect: true, detail: 'a right-hand helix, what this door needs' })
  })

  test('stock in reach, and the standard pipes', () => {
    expect(at('    slat       = flat_20', '    slat = |').labels).toEqual(['flat_20'])
    expect(at('    pipe = nps6_std', '    pipe = nps6_st|').accept('nps6_std')).toContain('    pipe = nps6_std\n')
  })

  test('the best preload, rounded up to a whole hole', () => {
    const editor = at('    preload = 1.7 turns', '    preload = |')
    const [first] = editor.items
    expect(first!.preselect).toBe(true)
    expect(first!.detail).toMatch(/^balances best at .* turns, rounded up to a whole increment$/)
    const set = new Editor(editor.accepted(first!))
    const increments = set.service.values(FILE)[0]!.values.find(v => v.path === 'adjuster.increments')!
    expect(Number.isInteger(Number(increments.si!.toFixed(9)))).toBe(true)
  })

  test('true and false', () => {
    expect(at('    span = 12ft 8in', '    drop_guard = |').labels).toEqual(['true', 'false'])
  })
})

describe('units', () => {
  test('those of the field, each with what the number comes to', () => {
    const editor = at('  width    = 12ft', '  width = 12|')
    // 1 ft = 304.8 mm exactly: NIST SP 811, appendix B (seen)
    expect(editor.item('in').detail).toBe('= 1 ft = 304.8 mm')
    expect(editor.labels).toEqual(['ft', 'in', 'yd', 'mm', 'm', 'cm'])
  })

  test('the units of the job come first', () => {
    const metric = new Editor(
      dockWith('  site = "Harbour Street cold store"', '  units = metric').replace('width    = 12ft', 'width = 12|'),
    )
    expect(metric.labels[0]).toBe('mm')
  })

  test.each([
    ['  width = 12|', 'ft', '  width = 12ft'],
    ['  width = 12 |', 'ft', '  width = 12ft'],
    ['  width = 12ft 4 1/2|', 'in', '  width = 12ft 4 1/2in'],
    ['  width = 12f|', 'ft', '  width = 12ft'],
    ['  cycles = 20/|', '/day', '  cycles = 20/day'],
    ['  wind = 20 p|', 'psf', '  wind = 20 psf'],
  ])('%s and then %s', (line, unit, result) => {
    expect(new Editor(`opening "A" {\n${line}\n}\n`).accept(unit)).toBe(`opening "A" {\n${result}\n}\n`)
  })

  test('a unit that has been begun is replaced whole', () => {
    expect(at('    coils    = 160', '    rate = 320 lbf*in/|').accept('lbf*in/turn')).toContain(
      '    rate = 320 lbf*in/turn\n',
    )
  })

  test.each([
    ['  width = 12|ft', 'in', '  width = 12in'],
    ['  width = 12 |ft', 'in', '  width = 12in'],
    ['  wind = 20 |psf because "x"', 'Pa', '  wind = 20 Pa because "x"'],
  ])('%s: a unit that stands there is replaced by %s', (line, unit, result) => {
    expect(new Editor(`opening "A" {\n${line}\n}\n`).accept(unit)).toBe(`opening "A" {\n${result}\n}\n`)
  })

  test('in front of inches only larger lengths', () => {
    expect(at('  width    = 12ft', '  width = 12f|t 4 1/2in').labels).toEqual(['ft', 'yd', 'm'])
  })

  test('nothing right behind a foot mark, where inches go on', () => {
    expect(at('  width    = 12ft', "  width = 12'|").labels).toEqual([])
  })

  test('behind feet only smaller lengths', () => {
    expect(at('  width    = 12ft', '  width = 12ft 4|').labels).not.toContain('ft')
  })

  test('the other side of a comparison says what is meant', () => {
    expect(at('    holes   = 8', '    require preload < 2|').labels).toEqual(['turns', 'deg', 'rad'])
  })
})

describe('expressions', () => {
  test('derived values of the right dimension come first, with their values', () => {
    const { items } = at('  adjuster {', '  require headroom >= |\n  adjuster {')
    const kinds = items.slice(0, 5).map(i => i.kind)
    expect(new Set(kinds)).toEqual(new Set(['derived']))
    expect(items.find(i => i.label === 'drum.coil_diameter')!.detail).toMatch(/^= 1 ft \d+ .* in$/)
    expect(items.map(i => i.label)).not.toContain('drum.turns')
  })

  test('behind a dot what the block has', () => {
    const editor = at('  adjuster {', '  require headroom >= drum.|\n  adjuster {')
    expect(editor.labels[0]).toBe('coil_diameter')
    expect(editor.accept('coil_diameter')).toContain('require headroom >= drum.coil_diameter\n')
  })

  test('a spring by its name, and nested blocks', () => {
    expect(at('  adjuster {', '  require long.|\n  adjuster {').labels).toContain('stress_ratio')
    expect(at('  adjuster {', '  require curtain.slat.|\n  adjuster {').labels).toContain('pitch')
  })

  test('a field never leads to itself', () => {
    expect(at('  width    = 12ft', '  width = |').labels).not.toContain('width')
  })

  test('nor behind a dot', () => {
    const { labels } = at('    depth   = 3 1/4in', '    depth = rails.|')
    expect(labels).toContain('between')
    expect(labels).not.toContain('depth')
  })

  test('what stands behind a name that is changed stays', () => {
    const called = at('  adjuster {', '  require ma|x(width, 1in) > 2in\n  adjuster {')
    expect(called.accept('min')).toContain('  require min(width, 1in) > 2in\n')
    expect(new Set(called.items.map(i => i.kind))).toEqual(new Set(['function']))
    const deeper = at('  adjuster {', '  require dr|um.span > 2in\n  adjuster {')
    expect(deeper.accept('rails')).toContain('  require rails.span > 2in\n')
    expect(new Set(deeper.items.map(i => i.kind))).toEqual(new Set(['block']))
    expect(at('  adjuster {', '  require curtain.sl|at.pitch > 2in\n  adjuster {').labels).toEqual(['slat']) // biome-ignore format: one call
  })

  test('a word and a name of the stock have no path', () => {
    expect(at('    hand     = right', '    hand = long.|').labels).toEqual([])
    expect(at('    slat       = flat_20', '    slat = curtain.|').labels).toEqual([])
  })

  test('names given by let', () => {
    expect(
      new Editor('let gap = 1/2in\nopening "A" {\n  let more = 1in\n  width = |\n}\n').labels.slice(0, 2).toSorted(),
    ).toEqual(['gap', 'more'])
    expect(new Editor('let gap = 1/2in\nlet wide = |\njob "1" { }\n').labels).toContain('gap')
  })
})

describe('names of other things', () => {
  test('rules: those with something to say here first, and none that cannot be allowed', () => {
    const editor = at('    side    = right', '    allow |')
    expect(editor.items[0]!.detail).toMatch(/^found here: /)
    expect(editor.labels).toContain('rail_depth')
    expect(editor.labels).not.toContain('preload_increment')
    expect(editor.labels).not.toContain('syntax')
    expect(editor.accept('rail_depth')).toContain('    allow rail_depth because ""\n')
  })

  test.each([
    ['use |', 'use "stock.door"'],
    ['use "|', 'use "stock.door"'],
    ['use "st|"', 'use "stock.door"'],
  ])('%s', (typed, result) => expect(new Editor(typed).accept('stock.door')).toBe(result))

  test.each([
    ['opening "Dock 4" like |', 'opening "Dock 4" like "Dock 3"'],
    ['opening "Dock 4" like "Do|', 'opening "Dock 4" like "Dock 3"'],
    ['opening "Dock 4" like "Do|" {\n}', 'opening "Dock 4" like "Dock 3" {\n}'],
  ])('%s', (typed, result) => expect(new Editor(`${DOCK}\n${typed}`).accept('"Dock 3"')).toBe(`${DOCK}\n${result}`))

  test('a brace behind a text that is not closed stays', () => {
    expect(new Editor(`${DOCK}\nopening "Dock 4" like "Do| {\n}\n`).accept('"Dock 3"')).toBe(
      `${DOCK}\nopening "Dock 4" like "Dock 3" {\n}\n`,
    )
  })

  test('nothing is like itself, nor like what is like it', () => {
    const text = `${DOCK}\nopening "Dock 4" like "Dock 3" {\n}\nopening "Dock 5" {\n}\n`
    expect(new Editor(text.replace('"Dock 3" {', '"Dock 3" like | {')).labels).toEqual(['"Dock 5"'])
    expect(new Editor(text.replace('"Dock 5" {', '"Dock 5" like | {')).labels).toEqual(['"Dock 3"', '"Dock 4"'])
    expect(new Editor('slat a {\n}\nslat b like a {\n}\nslat c like | {\n}\n').labels).toEqual(['a', 'b'])
    expect(new Editor('slat a like | {\n}\nslat b like a {\n}\n').labels).toEqual([])
  })

  test('a label that is changed is not taken for `like`', () => {
    expect(at('  spring long {', '  spring l|ong {').labels).toEqual([])
    expect(at('  spring long {', '  spring l| {').labels).toEqual(['like'])
    expect(at('  spring long {', '  spring long | like house_long {').labels).toEqual([])
  })

  test('a reason that stands there stays, and none is offered where the value goes on', () => {
    expect(at('    side    = right', '    allow | because "x"').accept('rail_depth')).toContain(
      '    allow rail_depth because "x"\n',
    )
    expect(at('  width    = 12ft', '  width = 12ft | because "x"').labels).not.toContain('because')
    expect(at('  width    = 12ft', '  width = height | + 1in').labels).not.toContain('because')
    expect(at('  width    = 12ft', '  width = height bec| "x"').accept('because')).toContain(
      '  width = height because "x"\n',
    )
    expect(at('  width    = 12ft', '  width = height |').accept('because')).toContain('  width = height because ""\n')
  })

  test('a spring like one of the stock', () => {
    expect(at('  spring long {', '  spring long like |{').labels).toEqual(['house_long'])
  })
})

describe('documentation', () => {
  test('comes when it is asked for', () => {
    const editor = at('    span = 12ft 8in', '    |')
    const item = editor.item('leaves')
    expect(item.documentation).toBeUndefined()
    expect(editor.service.resolveCompletion(JSON.parse(JSON.stringify(item))).documentation).toContain(
      '**Wound springs can maim or kill.**',
    )
  })

  test('of a stock item: its fields; of a derived value: its derivation', () => {
    const slat = at('    slat       = flat_20', '    slat = |')
    expect(slat.service.resolveCompletion(slat.item('flat_20')).documentation).toContain('pitch     = 2.625in')
    const coil = at('  adjuster {', '  require headroom >= |\n  adjuster {')
    expect(coil.service.resolveCompletion(coil.item('drum.coil_diameter')).documentation).toContain(
      'Formula: `2 (od/2 + ring',
    )
  })
})

test('whatever is taken, wherever it is taken, leaves a file that can be read', () => {
  const tails: Record<string, readonly string[]> = {
    '  width    = 12ft': [
      '  |',
      '  w|',
      '  width = |',
      '  width = 12|',
      '  width = height + |',
      '  require |',
      '  require width < |',
      '  let x = |',
      '  allow |',
      '  wall = |',
    ],
    '    slat       = flat_20': ['    |', '    slat = |', '    windlocks = |'],
    '    pipe = nps6_std': ['    |', '    pipe = |', '    modulus = 29000 |', '    dead_wraps = 1/2|'],
    '    hand     = right\n  }\n  adjuster': [
      '    |\n  }\n  adjuster',
      '    hand = |\n  }\n  adjuster',
      '    rate = |\n  }\n  adjuster',
    ],
    'job "HS-2207" {': [
      '|\njob "HS-2207" {',
      'use |\njob "HS-2207" {',
      'job "HS-2207" {\n  |',
      'job "HS-2207" {\n  units = |',
    ],
  }
  let taken = 0
  for (const [line, variants] of Object.entries(tails))
    for (const variant of variants) {
      const editor = at(line, variant)
      for (const item of editor.items) {
        // a path stops at a block until its value is named
        const after = editor.accepted(item)
        expect(syntaxOf(after), `${variant.trim()} and ${item.label}:\n${item.insert}`).toEqual([])
        taken++
      }
    }
  expect(taken).toBeGreaterThan(400)
})

test('no value is offered in place of a name that leads on', () => {
  const limits = (value: string): Editor => new Editor(`opening "A" {\n  limits {\n    drum_sag = ${value}\n  }\n}\n`)
  expect(limits('|').labels).toContain('0.03 in/ft')
  expect(limits('c|urtain').labels).toContain('0.03 in/ft')
  for (const value of ['c|urtain.slat.gauge', 'm|ax(1in/ft, 2in/ft)', '|']) {
    const { labels } = limits(value)
    expect(labels.includes('0.03 in/ft'), value).toBe(value === '|')
  }
  expect(at('  width    = 12ft', '  mount = d|rum.span').labels).not.toContain('face')
})

describe('what would go in a circle is not offered', () => {
  test('values that hang on the field itself, through others or through what is written', () => {
    for (const [line, typed, hang, free] of [
      ['  height   = 11ft 6in', '  height = |', ['drum.rise', 'curtain.weight'], ['width', 'rails.between']],
      ['  width    = 12ft', '  width = |', ['rails.between', 'curtain.weight', 'area'], ['height', 'headroom']],
      ['  width    = 12ft', '  width = 3ft + |', ['rails.between'], ['height']],
      ['    wire     = 1/2in', '    wire = |', ['outside_free', 'index'], ['diameter']],
    ] as const) {
      const { labels } = at(line, typed)
      for (const name of hang) expect(labels, `${typed} ${name}`).not.toContain(name)
      for (const name of free) expect(labels, `${typed} ${name}`).toContain(name)
    }
  })
})

test("other files are the host's to name", () => {
  expect(new Editor('use |', { 'job/stock.door': STOCK, 'job/limits.door': '' }).labels).toEqual([
    'stock.door',
    'limits.door',
  ])
})
