/** Values that follow where nothing is written for them [own arithmetic]. */
import { expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const IN = 0.0254
const door = (snippet: string, drop: readonly string[] = []) => check(openingWith(snippet, drop)).door()

test('the drum spans from rail to rail and over both of them: 12 ft 1 in and twice 3 1/4 in', () => {
  expect(door('', ['drum.span']).number('drum.span')! / IN).toBeCloseTo(145 + 2 * 3.25, 9)
})

// DIN 18202 table 2, from memory: 8 mm over 1 m and up to 3 m, 12 mm up to 6 m
test.each([
  ['width = 2m\nheight = 4m', 0.012],
  ['width = 4m\nheight = 2m', 0.012],
  ['width = 2m\nheight = 3m', 0.008],
])('the longer side decides about the diagonals: %s', (size, limit) => {
  expect(door(size).number('limits.opening_square')).toBeCloseTo(limit, 12)
})

test.each(['stress_open', 'stress_closed'])(
  'of a line of two springs each has half of the moment that their rate gives: %s',
  name => {
    const stress = (count: number, rate: number) =>
      door(
        `spring { wire = 1/2in; diameter = 4.9in; coils = 160; count = ${count}; rate = ${rate} lbf*in/turn; hand = right }`,
      ).number(`spring.${name}`)!
    expect(stress(2, 300) / stress(1, 150)).toBeCloseTo(1, 9)
    expect(stress(1, 300) / stress(1, 150)).toBeCloseTo(2, 9)
  },
)
