/** What is done with the findings of all rules: their order, a rule that fails, what an `allow` may and may not accept. */
import { describe, expect, test } from 'vitest'
import { parseSource } from '../../../grammar/index.ts'
import { Model } from '../../../server/model/index.ts'
import { RULES } from '../../../server/rules/index.ts'
import type { Rule } from '../../../server/rules/rule.ts'
import { Runner } from '../../../server/rules/run.ts'
import { check } from '../../support/host.ts'
import { OPENING, openingWith } from '../../support/opening.ts'

const DEPTH = 'rails { depth = 2 7/8in }\n'
const at = (snippet: string) => check(openingWith(snippet))

describe('findings', () => {
  const bare = (id: string, of: Partial<Rule>): Rule => ({ ...RULES[0]!, id, ...of })
  const unit = () => {
    const model = new Model({ resolve: (_, path) => ({ ok: true, file: path }) })
    model.set('job', parseSource(OPENING))
    return { unit: model.units('job').find(u => u.doors.length > 0)!, files: model.files }
  }

  test('stand in the order of the text, at one place the shorter first, then by name', () => {
    const say = (id: string, path: string) => bare(id, { check: (_, report) => report({ at: path, message: id }) })
    const { unit: u, files } = unit()
    const rules = [
      say('z', 'width'),
      say('c', 'drum'),
      say('b', 'width'),
      say('a', 'width'),
      say('y', 'adjuster.holes'),
    ]
    const found = new Runner(rules, () => {}).findings(u, files)
    expect(found.map(f => f.rule)).toEqual(['a', 'b', 'z', 'c', 'y'])
  })

  test('a rule that fails is told by name and takes no other along', () => {
    const faults: string[] = []
    const fail = () => {
      throw new Error('broken')
    }
    const { unit: u, files } = unit()
    const rules = [bare('broken', { check: fail }), bare('whole', { check: (_, report) => report({ at: 'width', message: '' }) })] // biome-ignore format: one row
    const runner = new Runner(rules, (rule, error) => faults.push(`${rule}: ${(error as Error).message}`))
    expect(runner.findings(u, files).map(f => f.rule)).toEqual(['whole'])
    expect(faults).toEqual(['broken: broken'])
    // asked again, the same list, and nothing is run again
    expect(runner.findings(u, files)).toBe(runner.findings(u, files))
    expect(faults).toHaveLength(1)
  })

  test('fixes are worked out once, when they are asked for', () => {
    let asked = 0
    const fix = { title: 'Nothing', safe: false, edits: [] }
    const fixes = () => {
      asked++
      return [undefined, fix]
    }
    const rule = bare('x', { check: (_, report) => report({ at: 'width', message: '', fixes }) })
    const { unit: u, files } = unit()
    const [found] = new Runner([rule], () => {}).findings(u, files)
    expect(asked).toBe(0)
    expect([found!.fixes, found!.fixes]).toEqual([[fix], [fix]])
    expect(asked).toBe(1)
  })
})

describe('the source of a limit', () => {
  const source = (limits: string, files: Record<string, string> = {}) =>
    check(`${limits}${openingWith('width = 24ft\ndrum { pipe = nps6_sch10; span = 24ft 8in }')}`, files).one('drum_sag').limit!.source // biome-ignore format: one row

  test('is its own, this file, or the file it was set in, with the reason that was given', () => {
    expect(source('')).toContain('UFGS')
    expect(source('limits { drum_sag = 0.02 in/ft }\n')).toBe('set in this file')
    expect(source('limits { drum_sag = 0.02 in/ft because "low hood" }\n')).toBe('set in this file, because low hood')
    const house = { 'stock/house.door': 'limits { drum_sag = 0.02 in/ft because "house rule" }\n' }
    expect(source('use "stock/house.door"\n', house)).toBe('set in house.door, because house rule')
  })
})

describe('an `allow`', () => {
  test('with blanks for a reason accepts nothing, and says so', () => {
    const c = at(`${DEPTH}allow engagement_clearance because "  "`)
    expect(c.one('engagement_clearance').accepted).toBeUndefined()
    expect(c.one('allow_unused').message).toContain('has no reason')
  })

  test('accepts its own rule and no other', () => {
    const c = at(`${DEPTH}headroom = 14in\nallow headroom because "seen"`)
    expect([c.one('headroom').accepted, c.one('engagement_clearance').accepted]).toEqual(['seen', undefined])
    expect(c.of('allow_unused')).toEqual([])
  })

  test('inside and around: the reason of the one around stands, and neither has nothing to accept', () => {
    const c = at(
      `rails {\n depth = 2 7/8in\n allow engagement_clearance because "inside"\n}\nallow engagement_clearance because "outside"`,
    )
    expect(c.one('engagement_clearance').accepted).toBe('outside')
    expect(c.of('allow_unused')).toEqual([])
  })

  test('in the block around accepts what lies deeper, in a block of a like name nothing', () => {
    const slat = (allow: string) =>
      at(
        `wind = 20 psf\ncurtain {\n ${allow}\n slat { pitch = 2 5/8in; thickness = 0.875in; gauge = 20; developed = 3 3/4in; inertia = 0.04 in^4; section = 0.06 in^3; yield = 33 ksi }\n}`,
      ).one('slat_bow')
    expect(slat('allow slat_bow because "screened"').accepted).toBe('screened')
    const springs = at(
      'drum { drop_guard = false }\nspring long { wire = 1/2in; diameter = 4.9in; coils = 160; hand = right }\nspring short { wire = 0.4063in; diameter = 4.9in; coils = 140; hand = right\n allow spring_lost because "caught" }',
    )
    expect(springs.of('spring_lost').map(f => f.accepted)).toEqual([undefined, 'caught'])
  })

  test('outside of openings accepts nothing', () => {
    const c = check(`${openingWith(DEPTH)}allow engagement_clearance because "everywhere"\n`)
    expect(c.one('engagement_clearance').accepted).toBeUndefined()
    expect(c.one('allow_unused').message).toContain('stands inside the opening')
  })

  test.each([
    'slat x { pitch = 2in; thickness = 1in; weight = 2 lb/ft^2\nALLOW }',
    'operator x {\nALLOW }',
    'limits {\nALLOW }',
  ])('in a block outside of openings accepts nothing, whatever its rule is: %s', text => {
    for (const rule of ['headroom', 'no_such_rule'])
      expect(check(text.replace('ALLOW', `allow ${rule} because "x"\n`)).findings.map(f => f.rule)).toEqual([
        'allow_unused',
      ])
  })

  test('says why it is refused: of the language, or of what keeps people safe', () => {
    expect(at('allow wrong_dimension because "x"').one('allow_refused').message).toContain(
      'the text has to be put right',
    )
    expect(at('allow spring_yield because "x"').one('allow_refused').message).toContain('it keeps people safe')
  })
})
