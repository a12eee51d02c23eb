import { expect, test } from 'vitest'
import { stateOf } from '../../client/state.ts'

const opening = { mark: 'Dock 3', line: 0, endLine: 9, errors: 0, warnings: 0, notes: 0, complete: true, missing: [] }

test('an opening says in words how it stands, with an icon of its own for each', () => {
  const icons = new Set<string>()
  const says = (part: object): string => {
    const state = stateOf({ ...opening, ...part })
    icons.add(state.icon)
    return state.text
  }
  expect(says({})).toBe('fine')
  expect(says({ errors: 1 })).toBe('1 error')
  expect(says({ warnings: 2 })).toBe('2 warnings')
  expect(says({ complete: false, missing: ['drum'] })).toBe('incomplete')
  expect(icons.size).toBe(4)
  expect(says({ errors: 2, warnings: 1, complete: false })).toBe('2 errors, 1 warning, incomplete')
  // notes are no reason to say that something is wrong
  expect(says({ notes: 3 })).toBe('fine')
})

test('the short form ends with how far it is out of balance', () => {
  expect(stateOf({ ...opening, worst: '228.9 lbf*in' }).short).toBe('out of balance by 228.9 lbf*in')
  expect(stateOf({ ...opening, errors: 1, worst: '228.9 lbf*in' }).short).toBe(
    '1 error, out of balance by 228.9 lbf*in',
  )
  expect(stateOf(opening).short).toBe('fine')
})
