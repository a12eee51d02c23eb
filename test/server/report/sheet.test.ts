/** The field sheet as whoever holds it reads it. Numbers beside "own" were worked out by hand from the job in job.ts. */
import { describe, expect, it } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { sheetName } from '../../../server/report/index.ts'
import { changed, FILE, JOB, readable, rowOf, serviceWith, sheetOf, stageOf } from './job.ts'

const sheet = sheetOf(JOB)
const door = serviceWith(JOB).doors(FILE)[0]!

describe('the sheet as a file', () => {
  it('stands by itself: nothing is fetched, nothing runs', () => {
    expect(sheet).toContain(
      `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    )
    expect(sheet).not.toMatch(/<(script|link|img|iframe|object|embed|image|use)\b/i)
    expect(sheet).not.toMatch(/@import|url\((?!#)/)
    expect(sheet).not.toMatch(/\son\w+=/)
    // the only address in it names what SVG is
    expect(
      [...sheet.matchAll(/https?:\/\/[^"' )]*/g)].map(m => m[0]).filter(a => a !== 'http://www.w3.org/2000/svg'),
    ).toEqual([])
  })

  it('is the same bytes every time, and carries the version', () => {
    expect(sheetOf(JOB)).toBe(sheet)
    expect(sheet).toContain('Doorwright 9.9.9')
  })

  it('has no id twice', () => {
    const two = sheetOf(`${JOB}\nopening "Dock 8" like "Dock 7" { }\n`)
    const ids = [...two.matchAll(/\sid="([^"]*)"/g)].map(m => m[1])
    expect(ids.length).toBeGreaterThan(6)
    expect(new Set(ids).size).toBe(ids.length)
    expect(readable(two)).toContain('Dock 8')
  })

  it('says at the head what it is of, and what it does not decide', () => {
    const head = readable(/<header class="job">[\s\S]*?<\/header>/.exec(sheet)![0])
    for (const word of [
      'HS-2290',
      'Harbour Street cold store',
      'Harbour Street Cold Storage',
      'A. Writer',
      '2026-03-09',
      'Dock 7',
    ])
      expect(head).toContain(word)
    expect(head).toContain('do not replace a qualified engineer')
    expect(head).toContain('Fire doors')
    expect(rowOf(sheet, 'Revision')).toEqual(['Revision', 'C'])
  })

  it('takes text from the job as text', () => {
    const evil = `</style><script>alert('x')</script>&amp;`
    const text = changed(
      ['"HS-2290"', `"${evil}"`],
      ['"Harbour Street cold store"', '"Kühlhaus Hafenstraße 冷蔵"'],
      ['"Dock 7"', `"${evil} 7"`],
      ['"bottom bar bent"', `"${evil}"`],
      ['"R. Field"', `"${evil}"`],
    )
    const out = sheetOf(text)
    expect(out).not.toContain('<script')
    expect(out.match(/<\/style>/g)).toHaveLength(1)
    expect(readable(out)).toContain(`Field sheet: ${evil}`)
    expect(readable(out)).toContain('Kühlhaus Hafenstraße 冷蔵')
    // in the foot of the page it is a text of the style sheet
    expect(/<style>[\s\S]*?<\/style>/.exec(out)![0]).not.toContain('alert(')
  })

  it('is made of any file, whole or not', () => {
    for (const text of [
      '',
      'job "X" { }',
      'opening',
      'opening "a" {',
      'opening "a" { width = 0in; height = 3ft }',
      JOB.slice(0, 1200),
      JOB.replaceAll('=', ''),
    ]) {
      const out = sheetOf(text)
      expect(out.endsWith('</html>\n')).toBe(true)
      expect(out).not.toMatch(/NaN|undefined|Infinity|\[object/)
    }
  })
})

describe('names of the file', () => {
  it.each([
    ['HS-2290', 'C', 'HS-2290-C.html'],
    ['HS-2290', undefined, 'HS-2290.html'],
    ['../../etc/x', 'a/b', 'etc-x-a-b.html'],
    ['Tür 7', undefined, 'Tür-7.html'],
    ['CON', undefined, 'job-CON.html'],
    ['///', '', 'sheet.html'],
  ])('%s, revision %s: %s', (number, revision, name) => {
    expect(sheetName(number, revision)).toBe(name)
  })
})

describe('the stages, in the order of the work', () => {
  it('are all there', () => {
    const titles = [...sheet.matchAll(/<span class="number">(\d)<\/span> ([A-Z]\w*)/g)].map(m => `${m[1]} ${m[2]}`)
    expect(titles).toEqual([
      '1 Delivery',
      '2 Survey',
      '3 Rails',
      '4 Drum',
      '5 Curtain',
      '6 Tension',
      '7 Limits',
      '8 Hood',
      '9 Handover',
    ])
  })

  it('1: ticks what came, and says what did not', () => {
    const s = stageOf(sheet, 1)
    const ticked = (name: string): boolean => {
      const row = [...s.matchAll(/<tr>[\s\S]*?<\/tr>/g)].map(m => m[0]).find(r => readable(r).includes(name))!
      return row.includes('aria-label="ticked"')
    }
    expect(ticked('Rails (guides)')).toBe(true)
    expect(ticked('Brackets')).toBe(false)
    expect(rowOf(s, 'Brackets')).toContain('1 of 2')
    expect(ticked('Drum (barrel)')).toBe(true)
    expect(ticked('Curtain')).toBe(false)
    expect(rowOf(s, 'Curtain')).toContain('MISSING')
    expect(ticked('Drawings and instructions')).toBe(false)
    expect(readable(s)).toContain('DAMAGE bottom bar bent')
    // own: (138 in - 2 x 6 in) / 24 in is 5.25: 6 spaces, 7 fasteners a side
    expect(rowOf(s, 'Rail fasteners')[1]).toBe('14')
    expect(rowOf(s, 'Curtain')[3]).toContain(`${door.show('curtain.slat_count')} slats`)
    expect(rowOf(s, 'Curtain')[3]).toContain(door.show('curtain.weight_total'))
  })

  it('2: puts the measured beside the written, with a verdict, and leaves blank what nobody measured', () => {
    const s = stageOf(sheet, 2)
    // DIN 18202 table 1: 16 mm to 6 m; 5/8 in is the sixteenth below
    expect(rowOf(s, 'Width, at the floor')).toEqual(['Width, at the floor', '12 ft', '12 ft', '± 5/8 in', 'within'])
    expect(rowOf(s, 'Width, at the head')).toEqual(['Width, at the head', '12 ft', '11 ft 11 in', '± 5/8 in', 'OUT'])
    expect(rowOf(s, 'Height, left jamb')).toEqual(['Height, left jamb', '11 ft 6 in', '', '± 5/8 in', ''])
    expect(rowOf(s, 'Difference of the diagonals').slice(2)).toEqual(['1/8 in', 'at most 7/16 in', 'within'])
    expect(readable(s)).toContain('Measured by R. Field on 2026-03-02')
  })

  it('2: never contradicts the findings', () => {
    const said = new Set(
      serviceWith(JOB)
        .findings(FILE)
        .map(f => f.rule),
    )
    expect(said.has('survey_width')).toBe(true)
    expect(said.has('survey_square')).toBe(false)
    expect(said.has('survey_plumb')).toBe(false)
  })

  it('2: shows a measurement finer than the tape, so that it never looks within when it is not', () => {
    const s = stageOf(sheetOf(changed(['plumb { left = 1/8in }', 'plumb { left = 25/64in }'])), 2)
    expect(rowOf(s, 'Out of plumb, left jamb').slice(2)).toEqual(['25/64 in', 'at most 3/8 in', 'OUT'])
  })

  it('3: gives the floor mark and the spread', () => {
    const s = stageOf(sheet, 3)
    // own: (12 ft 1 in - 12 ft) / 2
    expect(rowOf(s, 'Floor mark, from each jamb to the inner edge of its rail')[1]).toBe('1/2 in beyond the jamb')
    for (const at of ['bottom', 'middle', 'top']) expect(rowOf(s, at)).toEqual([at, '12 ft 1 in', ''])
    // own: 126 in in 6 spaces
    expect(rowOf(s, 'Spacing, evenly divided')[1]).toContain('1 ft 9 in')
  })

  it('3: to the nearest sixteenth, or millimetre, and says that it is rounded', () => {
    const odd = stageOf(sheetOf(changed(['between          = width + 1in', 'between          = width + 1.3in'])), 3)
    // own: 0.65 in is nearest 10/16
    expect(rowOf(odd, 'Floor mark, from each jamb to the inner edge of its rail')[1]).toBe('5/8 in beyond the jamb')
    expect(readable(odd)).toContain('rounded to the nearest 1/16 in (exact: 0.65 in)')
    const metric = stageOf(sheetOf(changed(['imperial', 'metric'], ['width + 1in', 'width + 25mm'])), 3)
    expect(rowOf(metric, 'Floor mark, from each jamb to the inner edge of its rail')[1]).toBe('13 mm beyond the jamb')
    expect(readable(metric)).toContain('exact: 12.5 mm')
  })

  it('4: centres the drum and breaks the chain at whole, even links', () => {
    const s = stageOf(sheet, 4)
    // own: (12 ft 8 in - 12 ft) / 2
    expect(rowOf(s, 'Bracket from each jamb, so that the drum is centred')[1]).toBe('4 in beyond the jamb')
    // own: 2 * 16.42/0.625 + 65/2 + 31^2 / (4 pi^2 * 26.272) = 85.97
    expect(rowOf(s, 'Break the chain at')[1]).toBe('86 links (whole and even; exact length 85.97 pitches)')
  })

  it('5: says what the sling load leaves out', () => {
    const s = stageOf(sheet, 5)
    expect(rowOf(s, 'Load in each sling')[1]).toBe(door.show('rigging.load_each'))
    expect(readable(s)).toContain('It leaves out the drum, the springs and unequal sharing')
    for (const line of CAUTIONS.curtain.long) expect(readable(s)).toContain(line)
  })

  it('5: gives no load where the slings hang too flat', () => {
    const s = stageOf(sheetOf(changed(['sling_angle    = 60deg', 'sling_angle    = 20deg'])), 5)
    expect(readable(s)).toContain('Do not lift.')
    expect(rowOf(s, 'Load in each sling')[1]).toBe('withheld: see above')
  })

  it('7 to 9: turns, stop positions, supports, life in years', () => {
    expect(rowOf(stageOf(sheet, 7), 'Turns of the operator, closed to open')[1]).toBe(
      door.show('operator.limit_turns_used'),
    )
    // own: one sheet of hood spans 12 ft; 12 ft 1 in needs one support in the middle
    expect(rowOf(stageOf(sheet, 8), 'From the inner edge of the left rail')[1]).toBe('6 ft 1/2 in')
    const s = stageOf(sheet, 9)
    // own: 20 a day are 7300 a year
    const row = rowOf(s, 'Spring “long”')
    expect(row[1]).toBe('about 610,000') // 607,241 to the two digits that it is known to
    expect(rowOf(s, 'Spring “short”')[1]).toBe('more than 1,000,000')
    expect(row[2]).toBe(`${Math.floor(door.number('spring[0].life')! / 7300)} years`)
    expect(rowOf(s, 'Spring “short”')[2]).toBe('more than 136 years')
    expect(readable(s)).toContain('that of music wire stands in')
  })

  it('lists open findings first, errors before the rest', () => {
    const list = /<section class="findings">[\s\S]*?<\/section>/.exec(sheet)![0]
    expect(sheet.indexOf(list)).toBeLessThan(sheet.indexOf('stage-1'))
    const order = [...list.matchAll(/<li class="(error|warning|note)">/g)].map(m =>
      ['error', 'warning', 'note'].indexOf(m[1]!),
    )
    expect(order.length).toBeGreaterThan(1)
    expect(order).toEqual([...order].sort())
    expect(readable(list)).toContain('delivery_damage, line')
  })

  it('keeps what was accepted, with its reason', () => {
    const out = readable(
      sheetOf(changed(['  curtain {\n', '  allow survey_width because "agreed <on site>"\n  curtain {\n'])),
    )
    expect(out).toContain('Accepted in the job')
    expect(out).toContain('Because: agreed <on site>')
  })
})
