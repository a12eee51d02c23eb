/** Characters that nobody sees. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const found = (text: string) => check(text).of('unseen_character')

describe('unseen_character', () => {
  // Unicode Standard Annex 9: RLO, PDI, LRM turn direction; Unicode Character Database: ZWSP, soft hyphen, BOM are
  // ignorable (both from memory)
  test.each([
    ['\u202e', 'U+202E', 'turns the direction'],
    ['\u2069', 'U+2069', 'turns the direction'],
    ['\u200e', 'U+200E', 'turns the direction'],
    ['\u200b', 'U+200B', 'nobody sees it'],
    ['\u00ad', 'U+00AD', 'nobody sees it'],
    ['\ufeff', 'U+FEFF', 'nobody sees it'],
    ['\u0007', 'U+0007', 'nobody sees it'],
  ])('%j in a text and in a comment', (char, code, what) => {
    const inText = found(`job "HS${char}-2207" { units = imperial }\n`)
    expect(inText.map(f => [f.text, f.severity])).toEqual([[char, 'warning']])
    expect(inText[0]!.message).toContain(code)
    expect(inText[0]!.message).toContain(`in this text: it ${what}`.replace('it nobody', 'nobody'))
    expect(found(`# by the plan${char}\njob "HS" { }\n`)[0]!.message).toContain('in this comment')
    expect(found(`## by the plan${char}\njob "HS" { }\n`)).toHaveLength(1)
  })

  test('signs put together of several characters, accents, tabs and line ends are seen', () => {
    expect(found('# \t👷‍♀️ é ü 門 ½\r\njob "HS 👨‍👩‍👧" { }\r\n')).toEqual([])
    expect(found(openingWith())).toEqual([])
  })

  test('a byte order mark at the start of a file is none', () => {
    expect(found('\ufeff# plan\njob "HS" { units = imperial }\n')).toEqual([])
  })

  test('its fix removes it', () => {
    const f = found('job "HS\u202e-2207" { units = imperial }\n')[0]!
    expect(f.fixes.map(x => x.title)).toEqual(['Remove it'])
  })
})
