/** What changed between two versions, on one door of the Harbour Street cold store. */
import { describe, expect, it } from 'vitest'
import { type Comparison, compare, type OpeningChange, Service, type Version } from '../../../server/service.ts'
import { OPENING, openingWith } from '../../support/opening.ts'

function version(...texts: readonly string[]): Version {
  const service = new Service({ resolve: (_, path) => ({ ok: true, file: path }), read: () => undefined })
  texts.forEach((text, i) => void service.open(`job${i}.door`, text))
  return service.version(texts.map((_, i) => ({ file: `job${i}.door`, name: `job${i}.door` })))
}
const between = (before: string, after: string): Comparison => compare(version(before), version(after))
const only = (c: Comparison): OpeningChange => {
  expect(c.openings).toHaveLength(1)
  return c.openings[0]!
}
const rules = (list: readonly { rule: string }[]): string[] => list.map(f => f.rule)
/** The opening of the job alone, under another mark. */
const another = (mark: string, text = OPENING): string => text.slice(text.indexOf('opening "')).replace('Dock 3', mark)

describe('nothing changed', () => {
  it.each([
    ['the same text', OPENING],
    ['layout and comments', OPENING.replace(/ +=/g, ' =').replace('\nopening', '\n# moved down\n\n\nopening')],
    ['another way to write a quantity', OPENING.replace('= 12ft\n', '= 144in\n').replace('1 1/4in', '1.25 in')],
    ['another order of fields', OPENING.replace(/( {2}headroom .*\n)( {2}side_room_left .*\n)/, '$2$1')],
    ['a let in place of a number', OPENING.replace('  width           = 12ft', '  let bay = 12ft\n  width = bay')],
    [
      'a limit written as it was by default',
      OPENING.replace('  cycles', '  limits { dead_wraps = 1/2 turn }\n  cycles'),
    ],
  ])('%s', (_, text) => {
    expect(text === OPENING).toBe(_ === 'the same text')
    expect(between(OPENING, text)).toMatchObject({
      openings: [],
      others: [],
      unchanged: 1,
      summary: { fresh: 0, fixed: 0, values: 0 },
    })
  })
})

describe('values', () => {
  const heavier = only(
    between(OPENING, OPENING.replace('bottom_bar = 3 lb/ft', 'bottom_bar = 4 lb/ft because "wet floor"')),
  )
  const value = (path: string) => heavier.values.find(v => v.path === path)!

  it('tells decisions from what follows, with size, direction and reason', () => {
    expect(heavier.values.filter(v => v.kind === 'written').map(v => v.path)).toEqual(['curtain.bottom_bar'])
    expect(value('curtain.bottom_bar')).toMatchObject({
      direction: 'up',
      because: 'wet floor',
      before: { text: '3 lb/ft' },
      after: { text: '4 lb/ft' },
    })
    expect(value('curtain.bottom_bar').difference!.part).toBeCloseTo(1 / 3, 9)
    // own number: 1 lb/ft more over the 12 ft 6 1/2 in of the slat is 12.5417 lb
    expect(value('curtain.bottom_bar_weight').difference!.si / 0.45359237).toBeCloseTo(12.5417, 3)
    expect(value('curtain.bottom_bar_weight').difference!.text).toMatch(/^\+12\.54 lb$/)
  })

  it('puts the largest relative change first', () => {
    const derived = heavier.values.filter(v => v.kind === 'derived').map(v => v.weight)
    expect(derived).toEqual([...derived].sort((a, b) => b - a))
  })

  it('says down as well, and both sides in the units of the later version', () => {
    const c = only(
      between(OPENING, OPENING.replace('bottom_bar = 3 lb/ft', 'bottom_bar = 3 kg/m').replace('imperial', 'metric')),
    )
    const bar = c.values.find(v => v.path === 'curtain.bottom_bar')!
    // own number: 3 lb/ft is 4.464 kg/m
    expect(bar).toMatchObject({ direction: 'down', before: { text: '4.464 kg/m' }, after: { text: '3 kg/m' } })
  })

  it('has words and truths too, and what became unknown', () => {
    const c = only(
      between(
        OPENING,
        OPENING.replace('= hand_chain', '= crank')
          .replace('drop_guard = true', 'drop_guard = false')
          .replace('gauge     = 20\n', ''),
      ),
    )
    const of = (p: string) => c.values.find(v => v.path === p)!
    expect(of('operator.drive')).toMatchObject({
      before: { text: 'hand_chain' },
      after: { text: 'crank' },
      difference: undefined,
    })
    expect(of('drum.drop_guard')).toMatchObject({ before: { text: 'yes' }, after: { text: 'no' } })
    expect(of('curtain.weight')).toMatchObject({ after: undefined, kind: 'derived' })
  })

  it('lists a changed limit with its reason', () => {
    const c = only(
      between(OPENING, OPENING.replace('  cycles', '  limits { drum_sag = 0.05 in/ft because "agreed" }\n  cycles')),
    )
    expect(c.values.find(v => v.path === 'limits.drum_sag')).toMatchObject({ because: 'agreed', direction: 'up' })
    expect(c.margins.map(m => m.path)).toContain('drum.sag')
  })

  it('follows springs by their names, not by their places', () => {
    const swapped = OPENING.replace(/( {2}spring long \{[^}]*\}\n)( {2}spring short \{[^}]*\}\n)/, '$2$1')
    expect(swapped).not.toBe(OPENING)
    expect(between(OPENING, swapped).openings).toEqual([])
    const c = only(between(OPENING, swapped.replace('coils    = 160', 'coils    = 170')))
    expect(c.values.filter(v => v.kind === 'written').map(v => [v.path, v.before?.text, v.after?.text])).toEqual([
      ['spring[1].coils', '160', '170'],
    ])
  })
})

describe('margins', () => {
  it('before and after, and where one passes its limit', () => {
    const c = only(between(OPENING, OPENING.replace('headroom        = 22in', 'headroom        = 14in')))
    const m = c.margins.find(m => m.path === 'opening.headroom')!
    expect(m.rule).toBe('headroom')
    expect([m.before!.over, m.after!.over]).toEqual([false, true])
    expect(m.before!.room - m.after!.room).toBeCloseTo(8 * 0.0254, 9)
    expect(rules(c.findings.fresh)).toContain('headroom')
  })
})

describe('findings', () => {
  const odd = openingWith('adjuster { preload = 1.7 turns }')

  it('new, fixed and still there, wherever they stand', () => {
    const fresh = only(between(OPENING, odd))
    expect(fresh.findings.fresh[0]).toMatchObject({
      rule: 'preload_increment',
      severity: 'error',
      never: true,
      was: undefined,
    })
    const fixed = only(between(odd, OPENING))
    expect(rules(fixed.findings.fixed)).toContain('preload_increment')
    const still = only(between(odd, `\n\n\n${odd.replace('22in', '23in')}`))
    expect(rules(still.findings.still)).toContain('preload_increment')
    expect(still.findings.fresh).toEqual([])
  })

  it('counts new errors', () => {
    expect(between(OPENING, odd).summary).toMatchObject({ freshErrors: 1, fixed: 0 })
    expect(between(odd, OPENING).summary).toMatchObject({ fresh: 0, freshErrors: 0 })
  })

  it('tells what is accepted now, and what no longer is', () => {
    const shallow = OPENING.replace('depth   = 3 1/4in', 'depth   = 2 7/8in')
    const accepted = shallow.replace('  rails {\n', '  rails {\n    allow engagement_clearance because "short slats"\n')
    const now = only(between(shallow, accepted))
    expect(now.findings.accepted).toMatchObject([{ rule: 'engagement_clearance', accepted: 'short slats' }])
    expect(now.findings.fixed).toEqual([])
    const no = only(between(accepted, shallow))
    expect(no.findings.fresh).toMatchObject([{ rule: 'engagement_clearance', was: 'accepted' }])
  })

  it('those outside of openings by their file', () => {
    const c = between(OPENING, OPENING.replace('slat flat_20 {', 'slat flat_20 {\n  colour = 3'))
    expect(c.others).toMatchObject([{ file: 'job0.door', findings: { fresh: [{ rule: 'unknown_field' }] } }])
  })
})

describe('which opening is which', () => {
  it('one with another mark is renamed when its values are the same', () => {
    const c = only(between(OPENING, OPENING.replaceAll('Dock 3', 'North dock')))
    expect(c).toMatchObject({ kind: 'renamed', mark: 'North dock', was: 'Dock 3', values: [] })
  })

  it('and when they are nearly so', () => {
    const c = only(
      between(
        OPENING,
        OPENING.replaceAll('Dock 3', 'North dock').replace('gauge     = 20', 'gauge     = 18').replace('22in', '24in'),
      ),
    )
    expect(c).toMatchObject({ kind: 'renamed', was: 'Dock 3' })
    expect(c.values.find(v => v.path === 'opening.headroom')).toMatchObject({ direction: 'up' })
  })

  it('of several the most alike', () => {
    const two = OPENING + another('Dock 4').replace('12ft\n', '9ft\n').replace('11ft 6in', '8ft')
    const c = between(two, two.replaceAll('Dock 3', 'B').replaceAll('Dock 4', 'A').replace('22in', '23in'))
    expect(c.openings.map(o => [o.mark, o.was]).sort()).toEqual([
      ['A', 'Dock 4'],
      ['B', 'Dock 3'],
    ])
  })

  it('one of another kind is a new one', () => {
    const bare = 'job "HS-2207" { }\nopening "Hatch" { width = 4ft; height = 4ft }\n'
    expect(
      between(OPENING, bare)
        .openings.map(o => [o.kind, o.mark])
        .sort(),
    ).toEqual([
      ['added', 'Hatch'],
      ['removed', 'Dock 3'],
    ])
  })

  it('marks that stand in several files are kept apart', () => {
    const other = OPENING.replace('HS-2207', 'HS-2208').replace('22in', '30in')
    expect(compare(version(OPENING, other), version(OPENING, other)).openings).toEqual([])
    const c = compare(version(OPENING, other), version(OPENING, other.replace('30in', '31in')))
    expect(only(c)).toMatchObject({ file: 'job1.door', job: 'HS-2208' })
    // moved to other files: the number of the job tells
    expect(compare(version(OPENING, other), version(other, OPENING)).openings).toEqual([])
    // renumbered in its file: the file tells
    expect(compare(version(OPENING, other), version(OPENING.replace('2207', '2209'), other)).openings).toEqual([])
  })

  it('what stood against a door that is gone was not put right', () => {
    const odd = openingWith('adjuster { preload = 1.7 turns }')
    const c = between(odd + another('Dock 4'), OPENING.slice(0, OPENING.indexOf('opening "')) + another('Dock 4'))
    expect(c.openings).toMatchObject([{ kind: 'removed', findings: { fixed: [] } }])
  })
})

it('what matters most comes first', () => {
  const three = OPENING + another('Dock 4') + another('Dock 5')
  const parts = three.split('opening "')
  parts[1] = parts[1]!.replace('22in', '40in') // a value
  parts[2] = parts[2]!.replace('3 1/4in', '2 7/8in') // a warning
  parts[3] = parts[3]!.replace('1 7/8 turns', '1.7 turns') // an error that keeps people safe
  expect(between(three, parts.join('opening "')).openings.map(o => o.mark)).toEqual(['Dock 5', 'Dock 4', 'Dock 3'])
})
