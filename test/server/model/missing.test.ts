/** What is told of what is missing or broken, and where a value comes from. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { OPENING, openingWith } from '../../support/opening.ts'

const at = (snippet: string, drop: readonly string[] = []) => check(openingWith(snippet, drop))

describe('a field that has to be there', () => {
  test('is asked for with an example and with what it would unlock: four of it by name', () => {
    const c = at('', ['width'])
    const found = c.one('missing_field')
    expect([found.text, found.block]).toEqual(['opening "Dock 3"', 'opening'])
    const [, waiting, more] = found.message.match(
      /^`width` is missing from `opening`: [a-z].*\. For example `width = .+`\. Without it these stay unknown: (.*) and (\d+) more\.$/,
    )!
    // all that is worked out and lacks it, in the order of the vocabulary
    const all = c.door().entries().filter(e => {
      const r = c.door().result(e.path)
      return e.derivedOnly && r.state === 'unknown' && r.missing.includes('opening.width')
    }) // biome-ignore format: one expression
    expect(waiting!.split(', ')).toEqual(all.slice(0, 4).map(e => e.path))
    expect(Number(more)).toBe(all.length - 4)
  })

  test('a block is asked for with the fields that it needs', () => {
    expect(at('', ['drum']).one('missing_field').message).toMatch(/^`Dock 3` has no `drum` yet; it needs `pipe`\. Without it these stay unknown: curtain\.slat_count, .* more\.$/) // biome-ignore format: one call
    expect(at('', ['spring', 'spring']).one('missing_field').message).toMatch(/^`Dock 3` has no `spring` yet; it needs `wire`, `diameter`, `coils`\. /) // biome-ignore format: one call
  })

  test('of a slat or pipe in the stock, at its header; a spring or operator may leave fields to its user', () => {
    const c = check(
      'job "1" {}\nslat a { pitch = 3in; weight = 2 lb/ft^2 }\npipe b { od = 4in }\nspring c { wire = 1/2in }\noperator d { }\n',
    )
    expect(c.findings.map(f => [f.rule, f.text])).toEqual([
      ['missing_field', 'slat'],
      ['missing_field', 'pipe'],
    ])
    expect(c.findings[0]!.message).toMatch(/^`thickness` is missing from this slat: [a-z].* For example `thickness = /)
    // one that is like another has what that has
    const a = 'slat a { pitch = 3in; thickness = 1in; weight = 2 lb/ft^2 }\n'
    expect(check(`${a}slat b like a { core = 0.2 lb/ft^2 }\n`).findings).toEqual([])
    expect(check('slat b like zzzz { gauge = 20 }\n').findings.map(f => f.rule)).toEqual(['like_failed'])
  })
})

describe('a slat whose weight does not follow from what is written', () => {
  const slat = (...fields: string[]): string => `slat { pitch = 2 5/8in; thickness = 0.875in; ${fields.join('; ')} }`
  const lacks = (...fields: string[]): (string | undefined)[] => {
    const inOpening = check(openingWith(`curtain { ${slat(...fields)} }`))
    const inStock = check(slat(...fields).replace('slat', 'slat x'))
    const named = [inOpening, inStock].map(c => c.of('missing_field').map(f => f.message.split(' is missing')[0]))
    expect(named[0]).toEqual(named[1])
    expect(inOpening.door().complete).toBe(named[0]!.length === 0)
    expect(inOpening.door().number('balance.worst') === undefined).toBe(named[0]!.length > 0)
    return named[0]!
  }

  test('lacks one field, by name: nothing that hangs on it goes unchecked in silence', () => {
    expect(lacks()).toEqual(['`weight`'])
    expect(lacks('gauge = 20')).toEqual(['`developed`'])
    expect(lacks('developed = 3 3/4in')).toEqual(['`gauge`'])
    expect(lacks('gauge = 20', 'developed = 3 3/4in')).toEqual([])
    expect(lacks('weight = 2 lb/ft^2')).toEqual([])
    // no sheet of that gauge is published
    expect(lacks('gauge = 40', 'developed = 3 3/4in')).toEqual(['`weight`'])
  })

  test('says what waits for it', () => {
    const { message } = check(openingWith(`curtain { ${slat()} }`)).one('missing_field')
    expect(message).toContain('Without it these stay unknown: curtain.weight_per_height, curtain.weight,')
  })

  test('has one finding where what is written for it cannot be read', () => {
    const c = check(openingWith(`curtain { ${slat('weight = 2 kg/kg')} }`))
    expect(c.findings.map(f => f.rule)).toEqual(['wrong_dimension'])
  })
})

test('whatever line is taken out, nothing that was known goes unknown in silence', () => {
  const lines = OPENING.split('\n')
  const known = (c: ReturnType<typeof check>): string[] =>
    c.door().entries().filter(e => e.derivedOnly && c.door().result(e.path).state === 'known').map(e => e.path) // biome-ignore format: one expression
  const all = known(check(OPENING))
  const lost = lines.flatMap((line, i) => {
    if (!line.includes(' = ')) return []
    const c = check(lines.filter((_, j) => j !== i).join('\n'))
    const now = new Set(known(c))
    const gone = all.filter(path => !now.has(path))
    return gone.length > 0 ? [{ line: line.trim(), silent: c.findings.length === 0 }] : []
  })
  expect(lost.length).toBeGreaterThan(15)
  expect(lost.filter(l => l.silent)).toEqual([])
})

describe('a requirement', () => {
  const message = (text: string, drop: readonly string[] = []) => at(`require ${text}`, drop).one('requirement').message

  test('that compares shows both sides; another one does not', () => {
    expect(message('width < 11ft')).toBe('Required here but not so: `width < 11ft`. Left: 12 ft; right: 11 ft.')
    expect(message('job.site == "x" because "y"')).toBe('Required here but not so: `job.site == "x"` (y). Left: "Harbour Street cold store"; right: "x".') // biome-ignore format: one call
    expect(message('operator.drive != hand_chain')).toBe('Required here but not so: `operator.drive != hand_chain`. Left: hand_chain; right: hand_chain.') // biome-ignore format: one call
    expect(message('operator.holds == false')).toContain('Left: true; right: false.')
    expect(message('[1, 2ft] == [1, 3ft]')).toContain('Left: [1, 2 ft]; right: [1, 3 ft].')
    expect(message('not (width > 11ft)')).toBe('Required here but not so: `not (width > 11ft)`.')
    expect(message('width > 11ft and width > 13ft')).toBe('Required here but not so: `width > 11ft and width > 13ft`.')
    expect(message('false')).toBe('Required here but not so: `false`.')
  })

  test('that is open says what is missing', () => {
    expect(message('headroom > 1ft because "duct"', ['headroom'])).toBe('Cannot be decided yet: `headroom > 1ft` (duct). Missing: opening.headroom.') // biome-ignore format: one call
    expect(message('headroom > 1ft or side_room_left > 1ft', ['headroom', 'side_room_left'])).toContain('Missing: opening.headroom, opening.side_room_left.') // biome-ignore format: one call
    expect(at('require width').one('wrong_type').message).toBe('`require` needs something that is true or false, a comparison say; `width` is neither.') // biome-ignore format: one call
  })

  test('at the top of a file stands for the file', () => {
    const c = check(`let bay = 12ft\nrequire bay > 13ft\n${OPENING}`)
    expect([c.one('requirement').text, c.one('requirement').opening]).toEqual(['require bay > 13ft', undefined])
  })

  test('in limits of the file is judged there, and not in every opening', () => {
    const c = check(`limits {\n  drum_sag = 0.02 in/ft\n  require drum_sag < 0.01 in/ft\n}\n${OPENING}`)
    expect([c.one('requirement').text, c.one('requirement').opening]).toEqual(['require drum_sag < 0.01 in/ft', undefined]) // biome-ignore format: one call
  })

  test('in the stock is open without a word, and judged where it is used', () => {
    const stock = 'operator hoist {\n  ratio = 4\n  require torque_needed < 1 lbf*in\n}\n'
    expect(check(`job "1" {}\n${stock}`).findings).toEqual([])
    expect(check(`${stock}slat a { pitch = 3in; thickness = 1in; gauge = 20; require pitch > 4in }\n`).of('requirement')).toHaveLength(1) // biome-ignore format: one call
  })
})

describe('where a value comes from', () => {
  test('what is written, what is worked out, what nobody wrote, and what the stock has', () => {
    const c = check(`limits { drum_sag = 0.02 in/ft }\n${OPENING}\nopening "B" like "Dock 3" {}\n`)
    const from = (path: string, mark = 'Dock 3') => {
      const r = c.door(mark).result(path)
      return r.state === 'known' ? r.origin : r.state
    }
    expect(
      ['width', 'rails.between', 'drum.turns', 'spring.rate', 'operator.efficiency', 'drum.pipe.od', 'curtain.slat', 'curtain.slat.pitch', 'limits.drum_sag', 'limits.push_force', 'wind'].map(p => from(p)),
    ).toEqual(['written', 'written', 'derived', 'derived', 'default', 'stock', 'written', 'stock', 'written', 'default', 'unknown']) // biome-ignore format: one call
    expect([from('width', 'B'), from('curtain.slat.pitch', 'B')]).toEqual(['written', 'stock'])
    const own = at('curtain { slat { pitch = 3in; thickness = 1in } }').door().result('curtain.slat.pitch')
    expect(own).toMatchObject({ state: 'known', origin: 'written' })
  })

  test('a default is of its kind', () => {
    const door = check(OPENING).door()
    expect(door.result('operator.efficiency')).toMatchObject({ value: { kind: 'number', si: 0.9 } })
    expect(door.result('limits.spring_index')).toMatchObject({
      value: { kind: 'list', items: [{ si: 4 }, { si: 16 }] },
    })
    expect(door.result('mount')).toMatchObject({ value: { kind: 'word', word: 'face' }, origin: 'default' })
    expect(door.truth('curtain.windlocks')).toBe(false)
  })

  test('what reads a faulty value is faulty too, and is not said to be missing', () => {
    const door = at('width = 12').door()
    for (const path of ['rails.between', 'opening.area', 'curtain.weight'])
      expect(door.result(path), path).toMatchObject({ state: 'unknown', missing: [], faulty: true })
  })

  test('of several springs all count, and one that is not known leaves all unknown', () => {
    const rate = (drop: string[]) => check(openingWith('', drop)).door().result('balance.rate')
    expect(rate([])).toMatchObject({ state: 'known' })
    expect(rate(['short.coils'])).toMatchObject({ state: 'unknown', missing: ['spring[1].coils'] })
    expect(rate(['spring', 'spring'])).toMatchObject({ state: 'unknown', missing: ['spring'] })
  })
})

describe('a value that a table does not have', () => {
  const missing = (snippet: string, path: string) => {
    const r = at(snippet).door().result(path)
    return r.state === 'unknown' ? r.missing : r.state
  }

  test('is missing by the field that would give it', () => {
    // a gauge and a wire that no table has
    expect(missing('curtain { slat { pitch = 3in; thickness = 1in; developed = 4in; gauge = 30 } }', 'curtain.slat.weight')).toEqual(['curtain.slat.weight']) // biome-ignore format: one call
    expect(missing('spring { wire = 3in; diameter = 20in; coils = 10; hand = right }', 'spring.strength')).toEqual(['spring[0].strength']) // biome-ignore format: one call
  })
})

describe('names of limits', () => {
  test('are not offered to who writes a bare name elsewhere', () => {
    expect(at('width = spring_clearance').one('unknown_name').message).toBe('No field, derived value or `let` is called `spring_clearance` here.') // biome-ignore format: one call
    expect(at('require limits.spring_clearance > 1ft').of('unknown_name')).toEqual([])
  })
})
