/** `like` and `use`: what is copied, what it means, and where its findings stand. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { HOUSE, OPENING, openingWith } from '../../support/opening.ts'

const like = (body: string, base = OPENING, files: Record<string, string> = {}) =>
  check(`${base}\nopening "Dock 4" like "Dock 3" {\n${body}\n}\n`, files)

describe('like', () => {
  test('copies expressions, evaluated again', () => {
    const d = like('width = 11ft').door('Dock 4')
    expect(d.show('rails.between')).toBe('11 ft 1 in')
    expect(d.show('height')).toBe('11 ft 6 in')
    expect(like('').findings).toEqual([])
  })

  test('what is written wins, field by field, however deep', () => {
    const d = like('curtain { engagement = 2 1/2in }').door('Dock 4')
    expect([d.show('curtain.engagement'), d.word('curtain.slat')]).toEqual(['2 1/2 in', 'flat_20'])
  })

  test('lets come along and can be overridden', () => {
    const base = openingWith('let gap = 1in\nrails { between = width + gap }')
    expect(like('let gap = 2in', base).door('Dock 4').show('rails.between')).toBe('12 ft 2 in')
    expect(like('', base).door('Dock 4').show('rails.between')).toBe('12 ft 1 in')
  })

  test('springs match by name; an unnamed one replaces all that were copied', () => {
    expect(
      like('spring long { coils = 150 }')
        .door('Dock 4')
        .springs.map(s => s.name),
    ).toEqual(['long', 'short'])
    expect(like('spring long { coils = 150 }').door('Dock 4').show('long.coils')).toBe('150')
    expect(like('spring third { wire = 1/2in }').door('Dock 4').springs).toHaveLength(3)
    const unnamed =
      'spring { wire = 1/2in; diameter = 4.9in; coils = 160 }\nspring { wire = 1/2in; diameter = 4.9in; coils = 150 }'
    expect(like(unnamed).door('Dock 4').springs).toHaveLength(2)
    // through a third opening as well
    const c = check(
      `${OPENING}\nopening "B" like "Dock 3" { ${unnamed.replace('\n', '; ')} }\nopening "C" like "B" {}\n`,
    )
    expect(c.door('C').springs.map(s => s.name)).toEqual([undefined, undefined])
  })

  test('`slat = x` and `slat { }` replace each other, `pipe` too', () => {
    const block = 'curtain { slat { pitch = 3in; thickness = 1in; weight = 2 lb/ft^2 } }'
    const d = like(block).door('Dock 4')
    expect([d.show('curtain.slat.pitch'), d.written('curtain.slat'), d.number('curtain.slat.gauge')]).toEqual([
      '3 in',
      false,
      undefined,
    ])
    const back = like('curtain { slat = flat_20 }', openingWith(block)).door('Dock 4')
    expect([back.show('curtain.slat.pitch'), back.show('curtain.slat.gauge')]).toEqual(['2 5/8 in', '20'])
    expect(
      like('curtain { slat { pitch = 4in } }', openingWith(block)).door('Dock 4').show('curtain.slat.thickness'),
    ).toBe('1 in')
    expect(like('drum { pipe { od = 8in; wall = 1/4in } }').door('Dock 4').show('drum.inside')).toBe('7 1/2 in')
    expect(like('drum { pipe = nps8_std }').door('Dock 4').show('drum.pipe.od')).toBe('8 5/8 in')
  })

  test('a gauge takes the place of a copied weight, from the stock and through a third opening as well', () => {
    const weight = (text: string, mark: string) => check(text).door(mark).show('curtain.slat.weight')
    const of = (lines: string) => `curtain { slat { ${lines} } }`
    const sizes = 'pitch = 3in; thickness = 1in; developed = 4in'
    const stock = `slat plain { ${sizes}; weight = 3 lb/ft^2 }\n`
    const twenty = weight(openingWith(of(`${sizes}; gauge = 20`)), 'Dock 3')
    expect(weight(stock + openingWith('curtain { slat like plain { gauge = 20 } }'), 'Dock 3')).toBe(twenty)
    expect(weight(stock + openingWith('curtain { slat like plain { } }'), 'Dock 3')).toBe('3 lb/ft^2')
    const chain = (b: string, c: string) =>
      `${openingWith(of(`${sizes}; gauge = 18`))}\nopening "B" like "Dock 3" { ${of(b)} }\nopening "C" like "B" { ${of(c)} }\n`
    expect(weight(chain('weight = 3 lb/ft^2', 'gauge = 20'), 'C')).toBe(twenty)
    expect(weight(chain('gauge = 20', ''), 'C')).toBe(twenty)
    expect(weight(chain('gauge = 20', 'weight = 3 lb/ft^2'), 'C')).toBe('3 lb/ft^2')
    // the gauge that is nearer counts even where it gives no weight; what it lacks is named
    const lacks = check(
      `${openingWith(of('pitch = 3in; thickness = 1in; weight = 3 lb/ft^2'))}\nopening "B" like "Dock 3" { ${of('gauge = 20')} }\n`,
    )
    expect(lacks.door('B').number('curtain.slat.weight')).toBeUndefined()
    const r = lacks.door('B').result('curtain.slat.weight')
    expect(r.state === 'unknown' && r.missing).toEqual(['curtain.slat.developed'])
  })

  test('what belongs to one site is not copied', () => {
    const base = openingWith(
      'survey { level = 1/4in }\ninstalled { increments = 15 }\ndelivery { rails = true }\nhandover { balanced = true }\nhood { supports = 1 }',
    )
    const d = like('', base).door('Dock 4')
    expect(
      ['survey.level', 'installed.increments', 'delivery.rails', 'handover.balanced', 'hood.supports'].map(p =>
        d.written(p),
      ),
    ).toEqual([false, false, false, false, true])
  })

  test('`require` comes along and is reported at the clause, with where it was written', () => {
    const c = like('headroom = 20in', openingWith('require headroom >= 21in because "sprinkler main"'))
    expect(c.one('requirement')).toMatchObject({ text: 'like "Dock 3"', opening: 'Dock 4' })
    expect(c.one('requirement').related).toMatchObject([{ text: 'require headroom >= 21in because "sprinkler main"' }])
  })

  test('a fault in a copied line stands at the clause too', () => {
    expect(
      like('', openingWith('headroom = 22'))
        .of('wrong_dimension')
        .map(f => f.text),
    ).toEqual(['22', 'like "Dock 3"'])
  })

  test('leading nowhere is one finding, with the nearest name', () => {
    const c = check(`${OPENING}\nopening "Dock 4" like "Dck 3" {}\n`)
    expect(c.findings.map(f => f.rule)).toEqual(['like_failed'])
    expect(c.fixed('like_failed').findings).toEqual([])
  })

  test('in a circle it is named whole, once', () => {
    const c = check(
      'job "1" {}\nopening "A" like "C" {}\nopening "B" like "A" {}\nopening "C" like "B" {}\nopening "D" like "C" {}\n',
    )
    expect(c.findings.map(f => f.rule)).toEqual(['circle'])
    expect(c.one('circle').message).toContain('"A" is like "C" is like "B" is like "A"')
    expect(check('job "1" {}\nopening "A" like "A" {}\n').one('circle').message).toContain('"A" is like "A"')
    expect(check('slat b like a {}\nslat a like b {}\n').of('circle')).toHaveLength(1)
  })
})

describe('stock', () => {
  test('is copied into springs and operators, what is written wins', () => {
    const stock =
      'spring heavy { wire = 1/2in; diameter = 4.9in; coils = 160; hand = right }\noperator chain_hoist { drive = hand_chain; ratio = 4; hand_wheel = 12in; holds = true }\n'
    const d = check(
      stock + openingWith('spring long like heavy { coils = 150 }\noperator like chain_hoist { ratio = 5 }'),
    ).door()
    expect([d.show('long.wire'), d.show('long.coils'), d.show('operator.ratio'), d.word('operator.drive')]).toEqual([
      '1/2 in',
      '150',
      '5',
      'hand_chain',
    ])
  })

  test('a stock block like another', () => {
    expect(
      check(`slat thick like flat_20 { thickness = 1in }\n${openingWith('curtain { slat = thick }')}`)
        .door()
        .show('curtain.slat.pitch'),
    ).toBe('2 5/8 in')
  })

  test('its names mean what they meant where it stands', () => {
    const text = `let p = 3in\nslat deep { pitch = p; thickness = 1in; weight = 2 lb/ft^2 }\n${openingWith('let p = 4in\ncurtain { slat = deep }')}`
    expect(check(text).door().show('curtain.slat.pitch')).toBe('3 in')
    // a name of the opening is none in the stock
    expect(
      check(
        `slat deep { pitch = width; thickness = 1in; weight = 2 lb/ft^2 }\n${openingWith('curtain { slat = deep }')}`,
      )
        .of('unknown_name')
        .map(f => f.text),
    ).toEqual(['width'])
  })

  test('its `require` is judged where it is used', () => {
    const text = (most: string) =>
      `operator hoist {\n  drive = hand_chain; ratio = 4; hand_wheel = 12in; holds = true\n  require torque_needed <= ${most} lbf*in because "rated so"\n}\n${openingWith('operator like hoist {}', ['operator'])}`
    expect(check(text('10')).one('requirement').text).toBe('hoist')
    expect(check(text('10000')).findings).toEqual([])
  })

  test('one that is not there is named', () => {
    expect(check(openingWith('spring long like haevy {}')).one('like_failed').message).toContain(
      'No spring named `haevy`',
    )
  })
})

describe('use', () => {
  const files = { 'stock/house.door': HOUSE }

  test('brings stock, limits and openings, through used files too', () => {
    const deep = { 'a.door': 'use "stock/house.door"\nlimits { hood_span = 6ft }\n', ...files }
    const c = check(`use "a.door"\n${openingWith('curtain { slat = flat_22 }')}`, deep)
    expect(c.of('unknown_name')).toEqual([])
    expect([c.door().show('curtain.slat.gauge'), c.door().show('limits.hood_span')]).toEqual(['22', '6 ft'])
  })

  test('but no `let`', () => {
    const c = check(`use "a.door"\n${openingWith('width = bay')}`, { 'a.door': 'let bay = 12ft\n' })
    expect(c.one('unknown_name').text).toBe('bay')
  })

  test('the nearest wins, of two used files the later', () => {
    const a = { 'a.door': 'limits { hood_span = 6ft }\n', 'b.door': 'limits { hood_span = 7ft }\n' }
    const span = (text: string) => check(text, a).door().show('limits.hood_span')
    expect(span(`use "a.door"\nuse "b.door"\n${OPENING}`)).toBe('7 ft')
    expect(span(`use "b.door"\nuse "a.door"\n${OPENING}`)).toBe('6 ft')
    expect(span(`use "a.door"\nlimits { hood_span = 5ft }\n${OPENING}`)).toBe('5 ft')
    expect(span(`use "a.door"\nlimits { hood_span = 5ft }\n${openingWith('limits { hood_span = 4ft }')}`)).toBe('4 ft')
  })

  test('an opening of a used file can be copied; its names keep their meaning, its findings stay there', () => {
    const master = `let gap = 1in\n${openingWith('headroom = 22\nrails { between = width + gap }')}`
    const c = check(
      'use "m.door"\njob "HS-2208" {}\nlet gap = 5in\nopening "Dock 9" like "Dock 3" { headroom = 22in }\n',
      { 'm.door': master },
    )
    expect(c.findings).toEqual([])
    expect(c.door().show('rails.between')).toBe('12 ft 1 in')
  })

  test('a name of the job means the job of the file that it was written in', () => {
    const master = openingWith('require job.revision == "B"').replace(
      'units = imperial',
      'units = imperial\n  revision = "B"',
    )
    expect(
      check('use "m.door"\njob "HS-2208" { revision = "A" }\nopening "Dock 9" like "Dock 3" {}\n', { 'm.door': master })
        .findings,
    ).toEqual([])
  })

  test('a missing file, one outside, and a circle', () => {
    expect(check('use "nothing.door"\n').findings.map(f => f.rule)).toEqual(['use_failed'])
    expect(check('use "../../x.door"\n').findings.map(f => f.rule)).toEqual(['use_outside'])
    const c = check('use "a.door"\n', { 'a.door': 'use "b.door"\n', 'b.door': 'use "job.door"\n' })
    expect(c.one('circle').message).toContain('"job.door" uses "a.door" uses "b.door" uses "job.door"')
    expect(check('use "job.door"\n').one('circle').message).toContain('"job.door" uses "job.door"')
  })
})

describe('unknown', () => {
  test('stays unknown and names the missing field', () => {
    const d = check(openingWith('', ['curtain.engagement'])).door()
    expect(d.result('drum.sag')).toMatchObject({ state: 'unknown', missing: ['curtain.engagement'] })
    expect(d.number('drum.turns')).toBeGreaterThan(0)
    expect(
      check(openingWith('', ['curtain.slat']))
        .door()
        .result('drum.turns'),
    ).toMatchObject({ missing: ['curtain.slat'] })
  })
})
