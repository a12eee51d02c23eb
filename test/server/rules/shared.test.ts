/** What several rules share, and the borders of what they offer. */
import { describe, expect, test } from 'vitest'
import type { Place } from '../../../server/model/index.ts'
import { numbers, over, under } from '../../../server/rules/compare.ts'
import { drumSprocket, possible, withPower, writeAll } from '../../../server/rules/drive.ts'
import { RULES } from '../../../server/rules/index.ts'
import { lengthText } from '../../../server/rules/lengths.ts'
import { wholeLine } from '../../../server/rules/lines.ts'
import { open } from '../../../server/rules/records.ts'
import { writeAngle, writeSlings } from '../../../server/rules/slings.ts'
import { explainRule } from '../../../server/rules/table.ts'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const at = (snippet: string, drop: readonly string[] = []) => check(openingWith(snippet, drop))
const door = (snippet = '', drop: readonly string[] = []) => at(snippet, drop).door()

describe('comparing', () => {
  test('at the limit, a hair beyond it, and where one of the two is not known', () => {
    expect([over(2, 1), over(1, 1), over(1, 2), over(1 + 1e-10, 1), over(1 + 1e-8, 1)]).toEqual([true, false, false, false, true]) // biome-ignore format: one list
    expect([under(1, 2), under(1, 1), under(2, 1), under(1, 1 + 1e-10), under(1, 1 + 1e-8)]).toEqual([true, false, false, false, true]) // biome-ignore format: one list
    for (const compare of [over, under])
      expect([compare(undefined, 1), compare(1, undefined), compare(undefined, undefined)]).toEqual([false, false, false]) // biome-ignore format: one list
  })

  test('several numbers are known together or not at all', () => {
    expect(numbers(door(), 'adjuster.holes', 'operator.ratio')).toEqual([8, 4])
    expect(numbers(door(), 'adjuster.holes', 'wind', 'operator.ratio')).toBeUndefined()
    expect(numbers(door(), 'operator.drive')).toBeUndefined()
    expect(numbers(door('operator { friction = 0% }'), 'operator.friction')).toEqual([0])
  })
})

describe('a line that is taken out', () => {
  /** The text after `x = 1` is taken out of it. */
  const without = (text: string) => {
    const { start, end } = wholeLine({ file: '', chunk: { text } as Place['chunk'], start: text.indexOf('x'), end: text.indexOf('1') + 1 }) // biome-ignore format: one call
    return text.slice(0, start) + text.slice(end)
  }

  test.each([
    ['x = 1', ''],
    ['  x = 1  ', ''],
    ['\tx = 1\t', ''],
    ['a = 2\nx = 1', 'a = 2\n'],
    ['a = 2\n  x = 1 \t\nb = 3', 'a = 2\nb = 3'],
    ['a = 2\r\n  x = 1\r\nb = 3', 'a = 2\r\nb = 3'],
    ['a = 2\rx = 1\rb = 3', 'a = 2\rb = 3'],
    ['x = 1\nb = 3', 'b = 3'],
    ['x = 1; b = 3', 'b = 3'],
    ['x = 1;b = 3', 'b = 3'],
    ['x = 1 \t;  b = 3; c = 4', 'b = 3; c = 4'],
    ['a = 2; x = 1; b = 3', 'a = 2; b = 3'],
    ['a = 2; x = 1', 'a = 2'],
    ['a = 2;x = 1', 'a = 2'],
    ['a = 2 \t; \tx = 1\n', 'a = 2\n'],
    ['a { x = 1 }', 'a {  }'],
    ['a { x = 1 }; b = 3', 'a {  }; b = 3'],
    ['b = 3; a { x = 1 }', 'b = 3; a {  }'],
  ])('%j', (text, rest) => void expect(without(text)).toBe(rest))
})

describe('lengths', () => {
  test('are written as the author writes that field, rounded to a sixteenth or a millimetre', () => {
    const written = (depth: string) => door(`rails { depth = ${depth} }`)
    const text = (depth: string, rounding: 'up' | 'down') => lengthText(written(depth), 'rails.depth', 0.1, rounding)
    // 100 mm is 3.937 in
    expect([text('3 1/4in', 'up'), text('3 1/4in', 'down'), text('80mm', 'up'), text('8cm', 'up'), text('0.3ft', 'up'), text('0.1yd', 'up')]).toEqual(['3 15/16in', '3 7/8in', '100mm', '100mm', '3 15/16in', '3 15/16in']) // biome-ignore format: one list
    // worked out, or not written: as the job
    expect([text('width / 40', 'up'), lengthText(door(), 'drum.ring', 0.1, 'up')]).toEqual(['3 15/16in', '3 15/16in'])
    expect(lengthText(check(openingWith().replace('imperial', 'metric')).door(), 'drum.ring', 0.1004, 'up')).toBe('101mm') // biome-ignore format: one call
  })
})

describe('drives', () => {
  test('the caution about power comes with a motor, or where it is not known that there is none', () => {
    const said = (snippet: string, drop: string[] = []) => withPower(door(snippet, drop), 'x') !== 'x'
    expect([said(''), said('operator { drive = crank }'), said('operator { drive = push_up }')]).toEqual([false, false, false]) // biome-ignore format: one list
    expect([said('operator { drive = motor }'), said('', ['operator']), said('', ['operator.drive'])]).toEqual([true, true, true]) // biome-ignore format: one list
  })

  test('teeth of a sprocket: 6 to 200, and whole', () => {
    expect([5, 6, 200, 201, 12.5, Number.NaN, Number.POSITIVE_INFINITY].map(possible)).toEqual([false, true, true, false, false, false, false]) // biome-ignore format: one list
  })

  test('a sprocket is written where both are written already', () => {
    const title = (fields: string, teeth = 48) => drumSprocket(door(`operator { ${fields} }`), teeth, 'x')?.title
    expect(title('sprocket_drive = 17; sprocket_drum = 48')).toBe('Write `sprocket_drum = 48`: x')
    expect(title('sprocket_drive = 17; sprocket_drum = 48', 5)).toBeUndefined()
    expect(title('sprocket_drive = 17')).toBeUndefined()
    expect(title('sprocket_drum = 48')).toBeUndefined()
    expect(title('')).toBeUndefined()
  })

  test('several values are written together or not at all', () => {
    expect(writeAll(door(), { 'operator.ratio': '3', 'operator.holds': 'false' })).toHaveLength(2)
    expect(writeAll(door(), { 'operator.ratio': '3', 'nowhere.holds': 'false' })).toBeUndefined()
    expect(writeAll(door(), {})).toEqual([])
  })
})

describe('slings', () => {
  const rigged = door('rigging { slings = 2; sling_angle = 40deg }')

  test('from one to a thousand', () => {
    const title = (count: number | undefined) => writeSlings(rigged, count)?.title
    expect([title(undefined), title(0), title(1), title(1000), title(1001)]).toEqual([undefined, undefined, 'Write `slings = 1`', 'Write `slings = 1000`', undefined]) // biome-ignore format: one list
  })

  test('at whole degrees above none and up to a right angle', () => {
    const title = (degrees: number) => writeAngle(rigged, (degrees * Math.PI) / 180)?.title.match(/\d+deg/)?.[0]
    expect([title(-1), title(0), title(0.1), title(45), title(45.1), title(90), title(90.1)]).toEqual([undefined, undefined, '1deg', '45deg', '46deg', '90deg', undefined]) // biome-ignore format: one list
    expect(writeAngle(rigged, Number.NaN)).toBeUndefined()
  })
})

describe('what is open in a record', () => {
  const gaps = (record: Parameters<typeof open>[1], snippet = '', drop: string[] = []) => open(door(snippet, drop), record) // biome-ignore format: one call

  test('as installed: nothing of springs where there are none, the chain only where there is one', () => {
    const all = ['between', 'plumb', 'drum level', 'increments', 'wound', 'by', 'date']
    expect(gaps('installed')).toEqual(all)
    expect(gaps('installed', '', ['spring', 'spring'])).toEqual(all.filter(n => n !== 'increments' && n !== 'wound'))
    expect(gaps('installed', 'operator { chain = ansi_50 }')).toEqual([...all.slice(0, 5), 'chain links', 'by', 'date'])
    expect(gaps('installed', 'installed { between { top = 12ft }; plumb { left = 0in; right = 0in }; wound = clockwise }')).toEqual(['between (bottom, middle)', 'drum level', 'increments', 'by', 'date']) // biome-ignore format: one call
  })

  test('at delivery: an operator, unless the door is pushed up', () => {
    const words = ['the rails', 'the brackets', 'the drum with its springs', 'the curtain', 'the operator', 'the hood', 'fasteners and small parts', 'drawings and instructions'] // biome-ignore format: one list
    expect(gaps('delivery')).toEqual(words)
    expect(gaps('delivery', '', ['operator'])).toEqual(words)
    expect(gaps('delivery', 'operator { drive = push_up }')).toEqual(words.filter(w => w !== 'the operator'))
    expect(gaps('delivery', 'delivery { rails = 2; hood = false }')).toEqual(words.filter(w => w !== 'the rails' && w !== 'the hood')) // biome-ignore format: one call
  })

  test('at the handover: what was not tried or failed, and both dates', () => {
    const tests = ['the balance tried', 'the stop positions set', 'the guards fitted', 'the manual given']
    expect(gaps('handover')).toEqual([...tests, 'date', 'next due'])
    expect(gaps('handover', 'handover { balanced = true; limits_set = false; date = "2026-03-21" }')).toEqual([...tests.slice(1), 'next due']) // biome-ignore format: one call
    const powered = [...tests.slice(0, 2), 'the protection against being trapped tried', ...tests.slice(2)]
    expect(gaps('handover', 'operator { drive = motor }')).toEqual([...powered, 'date', 'next due'])
    expect(gaps('handover', '', ['operator'])).toEqual([...powered, 'date', 'next due'])
  })

  test('the sentence has only what there is to say', () => {
    const said = (snippet: string, record: string) =>
      at(snippet)
        .of('handover_open')
        .find(f => f.text === record)!.message
    expect(said('survey { }', 'survey')).toMatch(/^Still to be measured or written down in the survey: width; .*; date\. Do it and write it down\.$/) // biome-ignore format: one call
    expect(said('handover { }', 'handover')).toMatch(/^Still to be done before the handover: .*; next due\. Not begun yet: the survey \(`survey`\), the delivery \(`delivery`\), what was installed \(`installed`\)\. Do it and write it down\. /) // biome-ignore format: one call
    const done = 'handover { balanced = true; limits_set = true; guards_fitted = true; manual_given = true; date = "2026-03-21"; next_due = "2027-03-21" }' // biome-ignore format: one text
    expect(said(done, 'handover')).toMatch(/^Not begun yet: the survey/)
    expect(said(done, 'handover')).toMatch(/Do it and write it down\.$/)
  })
})

describe('a rule that is looked up by a part of its name', () => {
  const near = (id: string) => (explainRule(id) as { near: readonly string[] }).near
  const having = (part: string) => RULES.map(r => r.id).filter(id => id.includes(part))

  test('those of which it is a part, six at most, whatever stands between its words', () => {
    expect(near('limit')).toEqual(having('limit'))
    expect(near('spring')).toEqual(having('spring').slice(0, 6))
    expect(having('spring').length).toBeGreaterThan(6)
    expect(near('Survey..  Side')).toEqual(['survey_side_room'])
    expect(near('between')).toEqual(having('between'))
  })

  test('one that is spelt alike goes before; two letters are too few, three are not', () => {
    expect(near('sling_angel')).toEqual(['sling_angle'])
    expect(near('in')).toEqual([])
    expect(near('sag')).toEqual(['drum_sag'])
  })
})

describe('limits in words', () => {
  test('of two steps the stricter is what a looser limit loosens', () => {
    // DIN 18202 table 1: 12 mm up to 3 m, 16 mm up to 6 m
    const limit = (mm: number) => at(`width = 9ft\nlimits { opening_size = ${mm}mm }`).of('limit_loosened').length
    expect([limit(12), limit(13)]).toEqual([0, 1])
  })

  test('of this file, by name, or of the house', () => {
    const c = check(
      `limits { drum_sag = 0.02 in/ft; push_force = 10 lbf }\n${openingWith('limits { drum_sag = 0.04 in/ft }')}`,
    )
    expect(c.one('limit_loosened').message).toContain('looser than the 0.02 in/ft of this file, and no reason is given')
    expect(c.one('limit_loosened').fixes.map(f => [f.title, f.safe])).toEqual([
      ['Write `drum_sag = 0.02 in/ft`, the limit that it overrides', false],
    ])
    expect(c.one('limit_loosened').related.map(r => [r.text, r.message])).toEqual([
      ['drum_sag = 0.02 in/ft', 'the limit that it overrides'],
    ])
  })

  test('of two blocks of limits the later counts, and is judged against the earlier', () => {
    const two = (first: string, second: string) =>
      check(`limits { ${first} }\nlimits { ${second} }\n${openingWith()}`).of('limit_loosened').map(f => f.text) // biome-ignore format: one call
    expect(two('drum_sag = 0.01 in/ft', 'drum_sag = 0.02 in/ft')).toEqual(['0.02 in/ft'])
    expect(two('drum_sag = 0.02 in/ft', 'drum_sag = 0.01 in/ft')).toEqual([])
    expect(two('push_force = 1 lbf', 'drum_sag = 0.02 in/ft')).toEqual([])
    expect(two('spring_index = [5, 12]', 'spring_index = [4, 12]')).toEqual(['[4, 12]'])
  })

  test('a value that is worked out is not offered', () => {
    const c = check(`limits { drum_sag = 2 * 0.01 in/ft }\n${openingWith('limits { drum_sag = 0.04 in/ft }')}`)
    expect(c.one('limit_loosened').fixes).toEqual([])
  })
})

describe('what a missing field is wanted for', () => {
  const message = (snippet: string, name: string, drop: string[] = []) =>
    at(snippet, drop)
      .of('missing_field')
      .find(f => f.message.startsWith(`\`${name}\``))?.message

  test('by the drive', () => {
    expect(message('operator { drive = crank }', 'ratio', ['operator'])).toMatch(/`drive = crank` is written\. .*Without it the force on the crank is not known \(`crank_force`\)\.$/) // biome-ignore format: one call
    expect(message('operator { drive = hand_chain }', 'ratio', ['operator'])).toMatch(/Without it the pull on the hand chain is not known \(`hand_chain_pull`\)\.$/) // biome-ignore format: one call
  })

  test('by the chain, which is named without its block; it stands at the operator', () => {
    const c = at('operator { chain = ansi_50 }').of('missing_field')[0]!
    expect([c.message.includes(' `chain` is written. '), c.text]).toEqual([true, 'operator'])
    expect(message('operator { chain = ansi_50 }', 'centers')).toContain('`centers` is missing from `operator`: ')
    expect(message('operator { chain = ansi_50 }', 'sprocket_drive')).toContain('the ratio of the sprockets is taken as 1:1') // biome-ignore format: one call
  })

  test('by the wind: where no slat is named, the slat as a whole is', () => {
    const asked = (snippet: string, drop: string[] = []) => message(`wind = 20 psf\n${snippet}`, 'inertia', drop) !== undefined // biome-ignore format: one call
    expect([asked(''), asked('', ['curtain.slat']), asked('curtain { slat { pitch = 3in } }', ['curtain.slat'])]).toEqual([true, false, true]) // biome-ignore format: one list
    expect(asked('curtain { windlocks = true }')).toBe(false)
    expect(message('wind = width', 'exposure')).toBeUndefined()
  })

  test('by the fasteners, unless windlocks pull at them', () => {
    expect(message('rails { fastener_spacing = 24in }', 'fastener_capacity')).toBeDefined()
    expect(message('rails { fastener_spacing = 24in }\ncurtain { windlocks = true }', 'fastener_capacity')).toBeUndefined() // biome-ignore format: one call
  })
})

describe('at the border', () => {
  test('rails between the jambs: no fix where nothing would be left between them', () => {
    const rails = (depth: string) => at(`mount = between\nrails { depth = ${depth}; between = 12ft }\ncurtain { engagement = 2in }`).one('rails_between') // biome-ignore format: one call
    expect(rails('3in').fixes.map(f => f.title)).toEqual(['Write `between = width - 2 * depth`'])
    expect(rails('3in').message).toContain('6 in more than the opening has (12 ft)')
    expect(rails('6ft').fixes).toEqual([])
  })

  test('windlocks point at the wind where it is written', () => {
    const related = (snippet: string) => at(snippet).one('windlock_pull').related.map(r => r.message) // biome-ignore format: one call
    expect(related('wind = 20 psf\ncurtain { windlocks = true }')).toEqual(['the wind is 20 psf'])
    expect(related('curtain { windlocks = true }')).toEqual([])
    expect(at('').of('windlock_pull')).toEqual([])
  })

  test('a pressure given as one is not said to be worked out', () => {
    const slat = 'curtain { slat { pitch = 2 5/8in; thickness = 0.875in; gauge = 20; developed = 3 3/4in; inertia = 0.08 in^4; section = 0.04 in^3; yield = 33 ksi } }' // biome-ignore format: one text
    expect(at(`wind = 20 psf\n${slat}`).one('slat_stress').message).not.toContain('basic wind speed')
    expect(at(`wind = 120 mph\nexposure = C\nheight_above_ground = 15ft\n${slat}`).one('slat_stress').message).toContain('basic wind speed') // biome-ignore format: one call
  })

  test('a drum that sags points at what is written of it', () => {
    const bad = 'width = 24ft\ndrum { pipe = nps6_sch10 }'
    expect(
      at(`${bad}\ndrum { span = 24ft 8in }`)
        .one('drum_sag')
        .related.map(r => r.text),
    ).toEqual(['24ft 8in'])
    expect(at(bad, ['drum.span']).one('drum_sag').related).toEqual([])
  })

  test('springs that are too stiff: the others are named with their rates', () => {
    const stiff = 'spring a { wire = 5/8in; diameter = 4.9in; coils = 60; hand = right }\nspring b { wire = 5/8in; diameter = 4.9in; coils = 60; hand = right }\n' // biome-ignore format: one text
    for (const rule of ['balance_preload_negative', 'rate_far']) {
      const found = at(stiff).one(rule)
      expect([found.text, found.related.map(r => r.text)], rule).toEqual(['spring a', ['spring b']])
    }
  })

  test('a tiny preload is still one, none at all is none', () => {
    const found = (preload: string) => at(`adjuster { preload = ${preload} }`).of('preload_positive').length
    expect([found('0 turns'), found('-1 turns'), found('0.01 turns')]).toEqual([1, 1, 0])
  })

  test('without a wheel the best preload is offered to a thousandth of a turn, for a person to round', () => {
    const [fix] = at('', ['adjuster.preload', 'adjuster.holes']).one('preload_missing').fixes
    expect([fix!.title.replace(/[\d.]+/, 'n'), fix!.safe]).toEqual([
      'Write n turns, the best for these springs; to be rounded up once the holes of the wheel are known',
      false,
    ])
    expect(at('', ['adjuster.preload']).one('preload_missing').fixes.map(f => f.title)[0]).toContain('of the 8-hole wheel') // biome-ignore format: one call
  })

  test('one increment is one', () => {
    const few = at('', ['adjuster.preload'])
    expect(few.one('preload_missing').fixes[0]!.title).toMatch(/\(\d+ increments of the 8-hole wheel\)/)
    const one = at('adjuster { holes = 2; preload = 0.4 turns }').one('preload_increment').fixes[0]!
    expect(one.title).toContain('(1 increment of the 2-hole wheel)')
  })

  test('below nothing a preload is not rounded up', () => {
    const found = at('adjuster { preload = -0.7 turns }').one('preload_increment')
    expect(found.message).not.toContain('Rounding up')
    expect(found.fixes.map(f => f.safe)).not.toContain(true)
    expect(at('adjuster { preload = 1.7 turns }').one('preload_increment').message).toContain('Rounding up, here to 14')
  })

  test('slings at the angle that just holds them', () => {
    const titles = (capacity: string) =>
      at(`rigging { slings = 2; sling_angle = 60deg; sling_capacity = ${capacity} }`)
        .one('sling_load')
        .fixes.map(f => f.title)
    // hanging straight each of two carries half of the curtain
    const half = door('rigging { slings = 2; sling_angle = 90deg }').number('rigging.load_each')! / 4.4482216152605
    expect(titles(`${half * 1.01} lbf`).some(t => t.includes('sling_angle'))).toBe(true)
    expect(titles(`${half * 0.99} lbf`).some(t => t.includes('sling_angle'))).toBe(false)
  })

  test('a yield strength and its safety: none asked for, the strength itself', () => {
    const slat = (safety: string) => at(`wind = 2000 psf\nlimits { bending_safety = ${safety} because "test" }\ncurtain { slat { pitch = 2 5/8in; thickness = 0.875in; gauge = 20; developed = 3 3/4in; inertia = 0.08 in^4; section = 0.04 in^3; yield = 33 ksi } }`) // biome-ignore format: one call
    expect(slat('1').one('slat_stress').message).toContain('over 1 allows 33 ksi')
    expect(slat('2').one('slat_stress').message).toContain('over 2 allows 16.5 ksi')
  })
})
