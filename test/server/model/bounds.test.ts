/** What is listed and looked at has an end, and what is left out is said. */
import { expect, test } from 'vitest'
import { check } from '../../support/host.ts'

const job = 'job "HS-2207" { units = imperial }\n'

test('a thousand faults of one line are listed, in order, and it is said that there are more', () => {
  const found = check(`${job}${'$ '.repeat(1500)}\n`).of('syntax')
  expect(found).toHaveLength(1001)
  expect(found.at(-1)!.message).toContain('More than 1000 faults stand in this part of the file')
  expect(check(`${job}${'$ '.repeat(1000)}\n`).of('syntax')).toHaveLength(1000)
})

test('two hundred blocks of one line are looked at, and it is said that there are more', () => {
  const doors = (n: number) =>
    check(`${job}${Array.from({ length: n }, (_, i) => `opening "D${i}" { width = 10ft }`).join('; ')}\n`)
  expect(doors(200).doors).toHaveLength(200)
  expect(doors(200).of('syntax').length).toBe(0)
  expect(doors(201).doors).toHaveLength(200)
  expect(doors(201).one('syntax').message).toContain('More than 200 blocks stand in one line')
})
