/**
 * Rules over drum and springs. The opening is invented; limits at which a rule turns are worked out here from the door's
 * values, and formulas written out beside the check.
 */
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const IN = 0.0254
const KSI = 6894757.293168361
const TURN = 2 * Math.PI

const opening = (snippet: string, drop: readonly string[] = []) => check(openingWith(snippet, drop))
/** One spring in place of the two, with fields changed or added. */
const springText = (fields: Readonly<Record<string, string>> = {}, label = '') => {
  const all = { wire: '1/2in', diameter: '4.9in', coils: '110', hand: 'right', ...fields }
  const lines = Object.entries(all).filter(([, v]) => v !== '').map(([k, v]) => `  ${k} = ${v}\n`) // biome-ignore format: one row
  return `spring ${label}{\n${lines.join('')}}\n`
}
const spring = (fields: Readonly<Record<string, string>> = {}, more = '') => opening(springText(fields) + more)

describe('drum_sag', () => {
  const wide = (drum: string, more = '') => opening(`width = 24ft\ndrum {\n ${drum}\n span = 24ft 8in\n}\n${more}`)

  test('says the sag, the span and what is allowed', () => {
    const c = wide('pipe = nps6_sch10')
    const f = c.one('drum_sag')
    expect(f.text).toBe('nps6_sch10')
    expect(f.message).toContain(c.door().show('drum.sag'))
    expect(f.message).toContain('24 ft 8 in')
    // UFGS wording, from memory: 0.03 in per ft, x 24.667 ft = 0.74 in
    expect(f.message).toContain('0.74 in')
    expect(f.limit?.text).toContain('0.03 in/ft')
  })

  test('exactly at the limit passes', () => {
    const door = wide('pipe = nps6_sch10').door()
    const limit = (n: number) =>
      wide('pipe = nps6_sch10', `limits { drum_sag = ${n.toFixed(14)} because "flat slats" }`).of('drum_sag')
    const ratio = door.number('drum.sag')! / door.number('drum.span')!
    expect(limit(ratio)).toEqual([])
    expect(limit(ratio * 0.999)).toHaveLength(1)
  })

  test('the fix writes the lightest standard pipe that holds it and takes the springs', () => {
    const c = wide('pipe = nps6_sch10')
    const fixed = c.fixed('drum_sag')
    const name = /pipe = (\w+)/.exec(fixed.text)![1]!
    expect(fixed.of('drum_sag')).toEqual([])
    expect(fixed.of('spring_in_drum')).toEqual([])
    // every lighter pipe by ASME B36.10M (OD and wall of a selection, in): sags too much, or is too narrow for the springs
    const weight = (od: number, wall: number) => wall * (od - wall)
    const chosen = fixed.door()
    const mine = weight(chosen.number('drum.pipe.od')! / IN, chosen.number('drum.pipe.wall')! / IN)
    for (const [od, wall, pipe] of [
      [6.625, 0.134, 'nps6_sch10'],
      [5.563, 0.134, 'nps5_sch10'],
      [6.625, 0.28, 'nps6_std'],
      [8.625, 0.148, 'nps8_sch10'],
      [8.625, 0.322, 'nps8_std'],
    ] as const) {
      if (weight(od, wall) >= mine * 0.999) continue
      const lighter = wide(`pipe = ${pipe}`)
      expect([pipe, lighter.of('drum_sag').length + lighter.of('spring_in_drum').length]).not.toEqual([pipe, 0])
    }
    expect(name).toBe('nps8_sch10')
  })

  test('a pipe that is stiff enough but too narrow for the springs is passed over', () => {
    // the springs need 9.5 + 0.5 + 0.125 = 10.125 in inside: an 8 in pipe holds the sag, a 10 in one takes them too
    const c = check(
      openingWith(
        `width = 24ft\ndrum {\n pipe { od = 10.75in; wall = 0.03in }\n span = 24ft 8in\n}\n${springText({ diameter: '9.5in' })}`,
        ['drum.pipe'],
      ),
    )
    expect(c.of('spring_in_drum')).toEqual([])
    const fixed = c.fixed('drum_sag')
    expect(fixed.text).toContain('pipe = nps10_sch10\n')
    expect(fixed.of('drum_sag')).toEqual([])
    expect(fixed.of('spring_in_drum')).toEqual([])
  })

  test('a pipe written as a block is replaced whole', () => {
    const c = check(
      openingWith('width = 24ft\ndrum {\n pipe { od = 6 5/8in; wall = 1/8in }\n span = 24ft 8in\n}', ['drum.pipe']),
    )
    expect(c.one('drum_sag').text).toBe('6 5/8in')
    const fixed = c.fixed('drum_sag')
    expect(fixed.text).not.toContain('pipe {')
    expect(fixed.of('drum_sag')).toEqual([])
    expect(fixed.of('duplicate')).toEqual([])
  })
})

describe('dead_wraps and ring_unused', () => {
  test('half a turn passes, less does not', () => {
    expect(opening('drum { dead_wraps = 1/2 turn }').of('dead_wraps')).toEqual([])
    expect(opening('drum { dead_wraps = 180deg }').of('dead_wraps')).toEqual([])
    const c = opening('drum { dead_wraps = 0.4 turns }')
    expect(c.one('dead_wraps').message).toContain('0.4 turns')
    expect(c.one('dead_wraps').message).toContain('0.5 turns or more')
    expect(c.fixed('dead_wraps').of('dead_wraps')).toEqual([])
  })

  test('a stricter limit asks for more than the default', () => {
    const c = opening('limits { dead_wraps = 1 turn }')
    expect(c.one('dead_wraps').text).toBe('drum')
    expect(c.fixed('dead_wraps').text).toContain('dead_wraps = 1 turn\n')
  })

  test('a ring that is not used is a note', () => {
    const c = opening('drum { ring = 1in }')
    expect(c.one('ring_unused').severity).toBe('note')
    expect(c.fixed('ring_unused').of('ring_unused')).toEqual([])
    expect(opening('drum { ring = 1in; attach = rings }').of('ring_unused')).toEqual([])
    expect(opening('drum { ring = 0in }').of('ring_unused')).toEqual([])
  })
})

describe('stress, fatigue and life', () => {
  test('yield: exactly at it passes', () => {
    const stress = spring().door().number('spring.stress_closed')!
    // Shigley eq. 10-57, seen: oil-tempered wire yields at 0.87 of its tensile strength
    const at = (factor: number) => spring({ strength: `${((stress / 0.87 / KSI) * factor).toFixed(12)} ksi` })
    expect(at(1).of('spring_yield')).toEqual([])
    const f = at(0.99).one('spring_yield')
    expect(f.severity).toBe('error')
    expect(f.text).toBe('1/2in')
    expect(f.message).toContain(at(0.99).door().show('spring.stress_closed'))
    expect(f.message.endsWith(CAUTIONS.spring.short)).toBe(true)
    expect(at(0.99).of('spring_fatigue')).toEqual([])
  })

  test('fatigue: a certified range strength decides', () => {
    const soft = { coils: '150', range_strength: '50 ksi' }
    const f = spring(soft).one('spring_fatigue')
    expect(f.message).toContain('at 10,000 cycles')
    expect(f.message).toContain(spring(soft).door().show('spring.fatigue_factor'))
    expect(spring({ ...soft, range_strength: '130 ksi' }).of('spring_fatigue')).toEqual([])
  })

  test('each spring by itself, at its own line and under its own name', () => {
    const c = opening(springText({ coils: '110' }, 'long ') + springText({ coils: '105' }, 'short '))
    expect(c.of('spring_yield').map(f => f.block)).toEqual(['spring[0]', 'spring[1]'])
    expect(c.of('spring_yield')[1]!.message).toMatch(/^Spring `short` is/)
  })

  describe('service_life', () => {
    const years = (perYear: number, fields: Readonly<Record<string, string>>) =>
      opening(`cycles = ${perYear}/year\n${springText({ coils: '150', ...fields })}`)

    test('a reckoned life at the limit', () => {
      const life = Math.floor(years(1, {}).door().number('spring.life')!)
      expect(life).toBeGreaterThan(1000)
      const at = (cycles: number) =>
        opening(
          `cycles = ${cycles}/year\nlimits { service_years = 1 year because "trial" }\n${springText({ coils: '150' })}`,
        )
      expect(at(life).of('service_life')).toEqual([])
      const f = at(life + 1).one('service_life')
      expect(f.severity).toBe('note')
      expect(f.message).toContain((life + 1).toLocaleString('en-US'))
    })

    test('`more than` passes where it is enough, and is silent where it cannot decide', () => {
      const long = { coils: '300' }
      expect(years(1, long).door().show('spring.life')).toBe('more than 1000000')
      expect(years(100_000, long).of('service_life')).toEqual([])
      expect(years(200_000, long).of('service_life')).toEqual([])
    })

    test('`less than` fails at and beyond its bound, and is silent below it', () => {
      const weak = { coils: '60' }
      expect(years(1, weak).door().show('spring.life')).toBe('less than 1000')
      expect(years(7300, weak).one('service_life').message).toContain('less than 1,000')
      expect(years(100, weak).of('service_life')).toHaveLength(1)
      expect(years(99, weak).of('service_life')).toEqual([])
    })

    test('silent without cycles', () => {
      expect(check(openingWith(springText({ coils: '60' }), ['cycles'])).of('service_life')).toEqual([])
    })
  })
})

describe('sizes', () => {
  // Shigley table 10-4, ranges from memory: oil-tempered 0.020 to 0.5 in, music wire to 0.256 in
  test.each([
    ['oil_tempered', '1/2in', 0],
    ['oil_tempered', '0.5001in', 1],
    ['music_wire', '0.256in', 0],
    ['music_wire', '0.257in', 1],
    ['music_wire', '0.003in', 1],
  ])('%s of %s: %i', (material, wire, count) => {
    const c = spring({ material, wire })
    expect(c.of('spring_wire_range')).toHaveLength(count)
    if (count) expect(c.one('spring_wire_range').message).toContain(`${material} wire`)
    expect(spring({ material, wire, strength: '160 ksi' }).of('spring_wire_range')).toEqual([])
  })

  test.each([
    ['2in', 0], // index 4
    ['1.99in', 1],
    ['8in', 0], // index 16
    ['8.01in', 1],
  ])('index of 1/2 in wire at %s', (diameter, count) => {
    const c = spring({ diameter })
    expect(c.of('spring_index')).toHaveLength(count)
    if (count) expect(c.one('spring_index').message).toContain('4 to 16')
  })

  test('index by a limit of the job', () => {
    expect(spring({}, 'limits { spring_index = [10, 12] }').one('spring_index').message).toContain(
      'below the range 10 to 12',
    )
  })

  test('the spring in the drum: exactly the clearance passes', () => {
    // nps6_std is 6.625 - 2 x 0.280 = 6.065 in inside (ASME B36.10M, cross-checked); less 1/8 in and the wire: 5.44 in
    expect(spring({ diameter: '5.44in' }).of('spring_in_drum')).toEqual([])
    const f = spring({ diameter: '5.45in' }).one('spring_in_drum')
    expect(f.message).toContain('5.95 in')
    expect(f.message).toContain('6.065 in')
    expect(f.limit?.text).toContain('1/8 in')
    expect(f.related.map(r => r.text)).toEqual(['nps6_std'])
  })

  test('the spring on its shaft: 0.9 of the wound inside passes', () => {
    const inside = spring().door().number('spring.inside_wound')! / IN
    const shaft = (d: number) => spring({}, `drum { shaft = ${d.toFixed(13)}in }`)
    expect(shaft(0.9 * inside).of('spring_on_shaft')).toEqual([])
    const f = shaft(0.91 * inside).one('spring_on_shaft')
    expect(f.text).toBe('4.9in')
    expect(f.message).toContain(
      shaft(0.91 * inside)
        .door()
        .show('drum.shaft'),
    )
    expect(spring({}, 'limits { shaft_ratio = 0.2 }').of('spring_on_shaft')).toHaveLength(1)
  })

  test('the lengths of all springs together, wound', () => {
    // d (N + 1 + twist) for each: own arithmetic
    const twist = (opening('').door().number('adjuster.preload')! + opening('').door().number('drum.turns')!) / TURN
    const two = 2 * 0.5 * (120 + 3 + 1 + twist) + 0.4063 * (40 + 1 + twist)
    const springs =
      springText({ coils: '120', dead_coils: '3', count: '2' }) + springText({ wire: '0.4063in', coils: '40' })
    const c = (span: number) => opening(`${springs}drum { span = ${span.toFixed(10)}in }`)
    expect(c(two).of('spring_length')).toEqual([])
    const f = c(two - 0.5).one('spring_length')
    expect(f.text).toBe('120')
    expect(f.message).toContain('1/2 in too much')
    expect(f.related.map(r => r.text)).toEqual([`${(two - 0.5).toFixed(10)}in`, '120', '40'])
  })

  test('one length that is not known keeps it silent', () => {
    expect(opening(springText({ coils: '400' }) + springText({ coils: '' })).of('spring_length')).toEqual([])
  })
})

describe('spring_hand', () => {
  // a right-hand helix closes when the end nearest to you is turned counterclockwise (mechanics)
  test.each([
    ['right', 'adjuster', 'right'],
    ['left', 'adjuster', 'left'],
    ['right', 'drive', 'left'],
    ['left', 'drive', 'right'],
  ])('adjuster on the %s, shaft end toward the %s: %s', (side, end, wanted) => {
    const other = wanted === 'left' ? 'right' : 'left'
    const hand = (h: string) => opening(`${springText({ hand: h, shaft_end: end })}adjuster { side = ${side} }`)
    expect(hand(wanted).of('spring_hand')).toEqual([])
    const c = hand(other)
    expect(c.one('spring_hand')).toMatchObject({ severity: 'error', text: other })
    expect(c.one('spring_hand').message).toContain(`needs a ${wanted}-hand`)
    expect(c.fixed('spring_hand').of('spring_hand')).toEqual([])
    const none = hand('')
    expect(none.one('spring_hand')).toMatchObject({ severity: 'note', text: 'spring' })
    expect(none.one('spring_hand').message).toContain(`${wanted}-hand`)
    expect(none.fixed('spring_hand').text).toContain(`hand = ${wanted}\n`)
    expect(none.fixed('spring_hand').of('spring_hand')).toEqual([])
  })

  test('where the winding itself is wrong no hand is offered', () => {
    const c = opening(`${springText({ hand: 'right' })}adjuster { winding = clockwise }`)
    expect(c.one('spring_hand').fixes).toEqual([])
    expect(c.fixed('winding_direction').of('spring_hand')).toEqual([])
  })

  test('a hand without a side is taken as it is; neither of them is a note', () => {
    expect(check(openingWith(springText(), ['adjuster.side'])).of('spring_hand')).toEqual([])
    const none = check(openingWith(springText({ hand: '' }), ['adjuster.side']))
    expect(none.one('spring_hand').severity).toBe('note')
    expect(none.one('spring_hand').fixes).toEqual([])
  })

  test('a copied hand is put right in the copy', () => {
    const c = check(
      `${openingWith(springText({ hand: 'right' }, 'long '))}\nopening "Dock 4" like "Dock 3" {\n  adjuster { side = left }\n}\n`,
    )
    const f = c.one('spring_hand')
    expect(f).toMatchObject({ opening: 'Dock 4', text: 'like "Dock 3"' })
    expect(f.related[0]).toMatchObject({ text: 'right', message: 'written here' })
    const fixed = c.fixed('spring_hand')
    expect(fixed.of('spring_hand')).toEqual([])
    expect(fixed.text).toContain('spring long {')
    expect(fixed.door('Dock 3').word('spring.hand')).toBe('right')
  })
})

describe('spring_lost', () => {
  const guard = (text: string, more = '') =>
    check(openingWith(`${text ? `drum { drop_guard = ${text} }` : ''}\n${more}`, text ? [] : ['drum.drop_guard']))

  test('a guard, none, and nothing said', () => {
    expect(guard('true').of('spring_lost')).toEqual([])
    expect(
      guard('false')
        .of('spring_lost')
        .map(f => f.severity),
    ).toEqual(['warning', 'warning'])
    expect(
      guard('')
        .of('spring_lost')
        .map(f => f.severity),
    ).toEqual(['note', 'note'])
    expect(guard('false').of('spring_lost')[0]!.message).toContain(guard('false').door().show('spring.lost_force'))
  })

  test('exactly at the limit passes', () => {
    const most = Math.max(...[0, 1].map(i => guard('false').door().number(`spring[${i}].lost_force`)!))
    const limit = (n: number) => guard('false', `limits { lost_spring_force = ${n.toFixed(10)} N because "trial" }`)
    expect(limit(most).of('spring_lost')).toEqual([])
    expect(limit(most * 0.999).of('spring_lost')).toHaveLength(1)
  })

  test('one of several', () => {
    const c = check(openingWith(`${springText({ count: '2', coils: '220' })}drum { drop_guard = false }`))
    expect(c.one('spring_lost').message).toContain('one of the 2 of the spring gone')
  })
})

describe('shaft_stress', () => {
  test('16 T / (pi d^3) of all springs, door closed, at the limit', () => {
    const door = opening('').door()
    const torque = door.number('balance.rate')! * (door.number('adjuster.preload')! + door.number('drum.turns')!)
    const d = Math.cbrt((16 * torque) / (Math.PI * 18 * KSI)) / IN
    const shaft = (inches: number) => opening(`drum { shaft = ${inches.toFixed(13)}in }`)
    expect(shaft(d).of('shaft_stress')).toEqual([])
    const c = shaft(d * 0.99)
    expect(c.one('shaft_stress').message).toContain(c.door().say(torque, 'balance.worst'))
    expect(c.one('shaft_stress').message).toContain('18 ksi')
    const fixed = c.fixed('shaft_stress')
    expect(fixed.of('shaft_stress')).toEqual([])
    expect(fixed.door().number('drum.shaft')! / IN - d).toBeLessThan(1 / 16)
  })
})

describe('rate_given', () => {
  // Shigley: k = E d^4 / (64 D N), E = 28.5e6 psi: own arithmetic in lbf*in/turn
  const computed = (28.5e6 * 0.5 ** 4 * TURN) / (64 * 4.9 * 110)
  const rate = (r: number) => spring({ rate: `${r.toFixed(10)} lbf*in/turn` })

  test('ten percent either way passes', () => {
    expect(rate(computed * 1.1).of('rate_given')).toEqual([])
    expect(rate(computed * 0.9).of('rate_given')).toEqual([])
    expect(rate(computed * 1.11).one('rate_given').message).toContain('11%')
    expect(rate(computed * 0.89).one('rate_given').message).toContain(
      rate(computed).door().say(rate(1).door().computed('spring.rate')!, 'spring.rate'),
    )
  })

  test('of all `count` together; silent where it is not written or not all is known', () => {
    expect(spring({ rate: `${2 * computed} lbf*in/turn`, count: '2' }).of('rate_given')).toEqual([])
    expect(spring({ rate: `${computed} lbf*in/turn`, count: '2' }).one('rate_given').message).toContain('50%')
    expect(spring().of('rate_given')).toEqual([])
    expect(spring({ rate: '1 lbf*in/turn', coils: '' }).of('rate_given')).toEqual([])
  })
})

test('nothing known, nothing said', () => {
  const own = check('job "1" {}\nopening "A" {\n spring {\n }\n}\n').findings.filter(
    f => f.rule.startsWith('spring_') && f.rule !== 'spring_hand',
  )
  expect(own).toEqual([])
})
