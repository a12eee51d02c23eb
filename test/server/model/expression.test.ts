/** What expressions come to, seen by what a `require` of them says: comparisons at the border, and where there is no answer. */
import { expect, test } from 'vitest'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const required = (condition: string) => check(openingWith(`require ${condition} because "asked for"`))

// the width is 12 ft
test.each([
  ['width > 12ft', false],
  ['width >= 12ft', true],
  ['width < 12ft', false],
  ['width <= 12ft', true],
  ['width == 12ft', true],
  ['width != 12ft', false],
  ['width > 11ft', true],
  ['width >= 11ft', true],
  ['width < 11ft', false],
  ['width <= 11ft', false],
  ['width == 11ft', false],
  ['width != 11ft', true],
  ['width < 13ft', true],
  ['width >= 13ft', false],
  // what went through metres is the same size still
  ['width == 3657.6mm', true],
  ['width > 3657.6mm', false],
  ['operator.drive == hand_chain', true],
  ['operator.drive != hand_chain', false],
  ['operator.drive == crank', false],
  ['operator.drive != crank', true],
  ['width / 2 + 6ft == width', true],
  ['width - 2ft == 10ft', true],
  ['sqrt(width * width) == width', true],
  ['sqrt(0) == 0', true],
  ['min(width, 11ft) == 11ft', true],
  ['max(width, 11ft) == width', true],
])('%s: %s', (condition, holds) => {
  const c = required(condition)
  expect(c.of('requirement').length, c.summary()).toBe(holds ? 0 : 1)
  expect(c.findings.filter(f => f.rule !== 'requirement')).toEqual([])
})

test.each([
  ['sqrt(0 - 1) > 0'],
  ['width / 0 > 0 in'],
  ['min() > 0'],
  ['sqrt(4, 9) > 0'],
  ['width > operator.drive'],
  ['width + 1 > 0ft'],
])('%s has no answer: one finding says so, at it, and the requirement is not called broken', condition => {
  const c = required(condition)
  expect(c.of('requirement')).toEqual([])
  expect(
    c.findings.map(f => f.severity),
    c.summary(),
  ).toEqual(['error'])
  expect(condition).toContain(c.findings[0]!.text)
})
