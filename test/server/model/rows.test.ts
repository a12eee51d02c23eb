/** Rows without end: values that hang on values, openings copied from openings. Bounded, and said where they begin. */
import { describe, expect, test } from 'vitest'
import { check } from '../../support/host.ts'

const job = 'job "HS-2207" { units = imperial }\n'
const lets = (n: number, value = (i: number) => `a${i + 1}`): string =>
  `${Array.from({ length: n }, (_, i) => `let a${i} = ${value(i)}`).join('\n')}\nlet a${n} = 10ft\n`

describe('rows', () => {
  test('ninety values in a row are worked out; thousands are refused where they are asked for', () => {
    const width = (n: number) => check(`${job}${lets(n)}opening "Dock 3" {\n  width = a0\n}\n`)
    expect(width(90).door().number('opening.width')).toBeCloseTo(3.048, 12)
    expect(width(90).of('circle')).toEqual([])
    const long = width(5000)
    expect(long.door().number('opening.width')).toBeUndefined()
    expect(long.of('circle').map(f => f.text)).toContain('width = a0')
    expect(long.of('circle')[0]!.message).toContain('More than 100 values hang on one another in a row')
  })

  test('brackets in every one of them are no way around it', () => {
    const inside = lets(5000, i => `${'('.repeat(40)}a${i + 1}${')'.repeat(40)}`)
    expect(check(`${job}opening "Dock 3" {\n${inside}width = a0\n}\n`).of('circle').length).toBeGreaterThan(0)
  })

  test('fifty copies in a row hold; of the next it is said, and nothing of it is guessed', () => {
    const copies = (n: number) =>
      check(
        `${job}opening "D0" { width = 10ft }\n${Array.from({ length: n }, (_, i) => `opening "D${i + 1}" like "D${i}" { }`).join('\n')}\n`,
      )
    expect(copies(49).of('like_failed')).toEqual([])
    expect(copies(49).door('D49').number('opening.width')).toBeCloseTo(3.048, 12)
    const long = copies(60)
    expect(long.of('like_failed').length).toBe(10)
    expect(long.of('like_failed')[0]).toMatchObject({ text: 'like "D50"' })
  })

  test('an opening that is like itself is not offered itself', () => {
    const c = check(`${job}opening "Dock 17" like "Dock 1" { }\n`)
    expect(c.one('like_failed').fixes.map(f => f.title)).toEqual([])
  })
})
