/** Rules over what was delivered, set on the day, handed over and is to be inspected. All records are invented. */
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const door = (snippet: string, drop: string[] = []) => check(openingWith(snippet, drop))
const installed = (body: string, more = '') => door(`installed {\n${body}\n}\n${more}`)

describe('rails and drum as installed', () => {
  test('installed_between: 1/8 in either way passes, each of the three by itself', () => {
    const at = (bottom: string, middle: string, top: string) =>
      installed(`between { bottom = ${bottom}; middle = ${middle}; top = ${top} }`).of('installed_between')
    expect(at('12ft 1 1/8in', '12ft 1in', '12ft 7/8in')).toEqual([])
    const found = at('12ft 1 3/16in', '12ft 1in', '12ft 13/16in')
    expect(found.map(f => f.text)).toEqual(['12ft 1 3/16in', '12ft 13/16in'])
    expect(found[0]!.message).toContain('at the floor, 3/16 in more than the 12 ft 1 in of the job')
    expect(found[1]!.message).toContain('at the head, 3/16 in less')
  })

  test('installed_parallel: largest against smallest', () => {
    const at = (bottom: string, top: string) =>
      installed(`between { bottom = ${bottom}; top = ${top} }`).of('installed_parallel')
    expect(at('12ft 15/16in', '12ft 1 1/16in')).toEqual([])
    expect(at('12ft 15/16in', '12ft 1 1/8in')[0]!.message).toContain('3/16 in out of parallel')
    expect(installed('between { top = 13ft }').of('installed_parallel')).toEqual([])
  })

  test('installed_plumb and installed_drum_level', () => {
    const at = (value: string) => installed(`plumb { left = ${value} }\ndrum_level = ${value}`)
    expect([...at('1/8in').of('installed_plumb'), ...at('1/8in').of('installed_drum_level')]).toEqual([])
    const c = at('3/16in')
    expect(c.one('installed_plumb').message).toContain('The left rail is 3/16 in out of plumb, 1/16 in more')
    expect(c.one('installed_drum_level').message).toContain('3/16 in out of level over its span, 1/16 in more')
    expect(c.one('installed_drum_level').message.endsWith(CAUTIONS.spring.short)).toBe(true)
  })
})

describe('installed_increments', () => {
  // the job: 1 7/8 turns on 8 holes, 15 increments
  test.each([
    ['15', 0],
    ['14', 1],
    ['16', 1],
    ['15.5', 1],
  ])('%s: %i findings', (text, count) => {
    expect(installed(`increments = ${text}`).of('installed_increments').length).toBe(count)
  })

  test('says both counts, and ends with the caution', () => {
    const f = installed('increments = 13').one('installed_increments')
    expect(f.severity).toBe('error')
    expect(f.message).toContain('13 increments are written down as wound; the job asks for 15')
    expect(f.message).toContain('2 more')
    expect(f.message.endsWith(CAUTIONS.spring.short)).toBe(true)
    expect(installed('increments = 15.5').one('installed_increments').message).toContain(
      'A wheel of 8 holes can only hold',
    )
    const noHoles = door('installed { increments = 15.5 }', ['adjuster.holes']).one('installed_increments')
    expect(noHoles.message).toContain('An adjuster wheel can only hold whole increments')
  })

  test('a preload between two increments is rounded up', () => {
    const preload = 'adjuster { preload = 1.8 turns }' // 14.4
    expect(installed('increments = 15', preload).of('installed_increments')).toEqual([])
    expect(installed('increments = 14', preload).of('installed_increments').length).toBe(1)
  })

  test('without a wheel only a part of an increment is found', () => {
    const at = (n: string) => door(`installed { increments = ${n} }`, ['adjuster.holes', 'adjuster.preload'])
    expect(at('9').of('installed_increments')).toEqual([])
    expect(at('9.5').of('installed_increments').length).toBe(1)
  })
})

describe('installed_direction', () => {
  // adjuster on the right, curtain on the wall side: counterclockwise; each change turns it round
  test.each([
    ['right', 'wall_side', 'counterclockwise'],
    ['left', 'wall_side', 'clockwise'],
    ['right', 'room_side', 'clockwise'],
    ['left', 'room_side', 'counterclockwise'],
  ])('adjuster %s, %s: %s', (side, leaves, right) => {
    const at = (wound: string) =>
      installed(`wound = ${wound}`, `adjuster { side = ${side} }\ndrum { leaves = ${leaves} }`)
    expect(at(right).of('installed_direction')).toEqual([])
    const f = at(right === 'clockwise' ? 'counterclockwise' : 'clockwise').one('installed_direction')
    expect(f.severity).toBe('error')
    expect(f.message).toContain(`has to be wound ${right}`)
    expect(f.message).toContain('can destroy the door')
    expect(f.message.endsWith(CAUTIONS.spring.short)).toBe(true)
  })

  test('a wrong direction written in the job does not make a wrongly wound door right', () => {
    const c = installed('wound = clockwise', 'adjuster { winding = clockwise }')
    expect(c.of('installed_direction').length).toBe(1)
    expect(installed('wound = counterclockwise', 'adjuster { winding = clockwise }').of('installed_direction')).toEqual(
      [],
    )
  })

  test('it cannot be allowed away', () => {
    const c = installed('wound = clockwise\nallow installed_direction because "as found"')
    expect(c.one('installed_direction').accepted).toBeUndefined()
    expect(c.of('allow_refused').length).toBe(1)
  })
})

test('installed_chain: as many links as the job asks for', () => {
  // 16 3/4 in, 5/8 in pitch, 17 and 48 teeth: 53.6 + 32.5 + 24.342/26.8 = 87.0 pitches and a little, 88 links
  const chain = 'operator {\nsprocket_drive = 17\nsprocket_drum = 48\nchain = ansi_50\ncenters = 16 3/4in\n}'
  expect(installed('chain_links = 88', chain).of('installed_chain')).toEqual([])
  const f = installed('chain_links = 84', chain).one('installed_chain')
  expect(f.message).toContain('84 links; the job asks for 88, 4 more')
  expect(installed('chain_links = 84').of('installed_chain')).toEqual([])
})

describe('delivery', () => {
  test.each([
    ['rails = 2; drum = true; hardware = 40', []],
    ['rails = true', []],
    ['rails = 1', ['1']],
    ['brackets = 0; curtain = false', ['0', 'false']],
    ['documents = 0', ['0']],
  ])('delivery_missing: %s', (body, texts) => {
    expect(
      door(`delivery { ${body} }`)
        .of('delivery_missing')
        .map(f => f.text),
    ).toEqual(texts)
  })

  test('what is missing is named; a door that is pushed up has no operator', () => {
    const c = door('delivery { rails = 1; operator = false }')
    expect(c.of('delivery_missing').map(f => f.message.split('.')[0])).toEqual([
      'Of the rails 1 has come; the job needs 2',
      'Nothing has come of the operator',
    ])
    expect(door('operator { drive = push_up }\ndelivery { operator = false }').of('delivery_missing')).toEqual([])
  })

  test('delivery_damage: any text is an error, an empty one is none', () => {
    expect(door('delivery { damage = "" }').of('delivery_damage')).toEqual([])
    expect(door('delivery { damage = "  " }').of('delivery_damage')).toEqual([])
    const f = door('delivery { damage = "bottom bar bent" }').one('delivery_damage')
    expect(f.severity).toBe('error')
    expect(f.message).toContain('"bottom bar bent"')
  })
})

const SURVEY = `survey {
  width { bottom = 12ft; middle = 12ft; top = 12ft }
  height { left = 11ft 6in; right = 11ft 6in }
  diagonal { rising = 16ft 7 3/8in; falling = 16ft 7 3/8in }
  plumb { left = 0in; right = 0in }
  level = 0in
  headroom = 22in
  side_room_left = 18in
  side_room_right = 12in
  by = "R. Field"
  date = "2026-03-02"
}
`
const DELIVERY = `delivery { rails = 2; brackets = 2; drum = true; curtain = true; operator = true; hood = true; hardware = true; documents = true }
`
const INSTALLED = `installed {
  between { bottom = 12ft 1in; middle = 12ft 1in; top = 12ft 1in }
  plumb { left = 0in; right = 0in }
  drum_level = 0in
  increments = 15
  wound = counterclockwise
  by = "R. Field"
  date = "2026-03-20"
}
`
const HANDOVER = `handover {
  balanced = true
  limits_set = true
  guards_fitted = true
  manual_given = true
  date = "2026-03-21"
  next_due = "2027-03-21"
}
`

describe('handover_open', () => {
  test('a new order has nothing open; nor has a finished one', () => {
    expect(door('').summary()).toBe('')
    expect(door(SURVEY + DELIVERY + INSTALLED + HANDOVER).summary()).toBe('')
  })

  test('a record that is begun lists its gaps, at its header', () => {
    const f = door('survey { width { bottom = 12ft }; height { left = 11ft 6in; right = 11ft 6in } }').one(
      'handover_open',
    )
    expect(f.severity).toBe('note')
    expect(f.text).toBe('survey')
    expect(f.message).toContain(
      'width (middle, top); diagonal; plumb; level; headroom; side room left; side room right',
    )
    expect(f.message).not.toContain('height')
  })

  test('each record by itself, and records not begun only once the handover is', () => {
    expect(
      door(`${SURVEY}delivery { }`)
        .of('handover_open')
        .map(f => f.text),
    ).toEqual(['delivery'])
    const f = door(SURVEY + INSTALLED + HANDOVER).one('handover_open')
    expect(f.message).toContain('Not begun yet: the delivery (`delivery`).')
  })

  test('a test that failed is still open; only a motor needs its protection against trapping tried', () => {
    const at = (more: string) =>
      door(SURVEY + DELIVERY + INSTALLED + HANDOVER.replace('balanced = true', 'balanced = false') + more)
    expect(at('').one('handover_open').message).toContain('before the handover: the balance tried.')
    expect(at('').one('handover_open').message.endsWith(CAUTIONS.spring.short)).toBe(true)
    const motor = 'operator {\ndrive = motor\ntorque = 900 lbf*in\nspeed = 16 rpm\n}'
    expect(at(motor).one('handover_open').message).toContain('the protection against being trapped tried')
  })
})

describe('inspection_due', () => {
  const at = (date: string, due?: string, limits = '') =>
    door(`handover { date = "${date}"${due === undefined ? '' : `; next_due = "${due}"`} }\n${limits}`)

  test.each([
    ['2026-03-21', '2027-03-21', 0],
    ['2026-03-21', '2027-03-22', 1],
    ['2026-03-21', '2026-09-21', 0],
    ['2027-03-21', '2028-03-21', 0], // 366 days, and still the year
    ['2028-02-29', '2029-02-28', 0],
    ['2028-02-29', '2029-03-01', 1],
    ['2026-12-31', '2027-12-31', 0],
    ['2026-03-21', '2026-03-20', 1], // before the handover
  ])('handed over %s, due %s: %i findings', (date, due, count) => {
    expect(at(date, due).of('inspection_due').length).toBe(count)
  })

  test('a missing date is asked for, and the fix writes it', () => {
    const c = at('2028-02-29')
    expect(c.one('inspection_due').severity).toBe('warning')
    expect(c.one('inspection_due').message).toContain('due by 2029-02-28')
    const fixed = c.fixed('inspection_due')
    expect(fixed.text).toContain('next_due = "2029-02-28"')
    expect(fixed.of('inspection_due')).toEqual([])
  })

  test('months and days of the job', () => {
    const due = (interval: string) => at('2026-08-31', undefined, `limits { inspection_interval = ${interval} }`)
    expect(due('6 month').one('inspection_due').message).toContain('due by 2027-02-28')
    expect(due('90 day').one('inspection_due').message).toContain('due by 2026-11-29') // 30 + 31 + 29
  })

  test('nothing handed over, nothing due', () => {
    expect(door('handover { next_due = "2030-01-01" }').of('inspection_due')).toEqual([])
  })
})
