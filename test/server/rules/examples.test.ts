/** Every rule's examples are run: the bad one gives its finding, the good one does not. */
import { describe, expect, test } from 'vitest'
import { RULES, ruleById } from '../../../server/rules/index.ts'
import { check } from '../../support/host.ts'
import { example, HOUSE, OPENING } from '../../support/opening.ts'

const FILES = { 'stock/house.door': HOUSE }
const language = new Set(RULES.filter(r => r.group === 'Language').map(r => r.id))

test('the opening that examples change is right in every respect', () => {
  expect(check(OPENING, FILES).summary()).toBe('')
})

test('ids are unique and found', () => {
  expect(new Set(RULES.map(r => r.id)).size).toBe(RULES.length)
  for (const r of RULES) expect(ruleById(r.id)).toBe(r)
})

describe.each(RULES)('$id', r => {
  test('its bad example gives the finding, with a message, and nothing that cannot be read', () => {
    const c = check(example(r.bad), FILES)
    expect(c.of(r.id).length, c.summary()).toBeGreaterThan(0)
    for (const f of c.of(r.id)) expect(f.message).toMatch(/\S{2,} .*[.!?]$/s)
    const strange = c.findings.filter(f => language.has(f.rule) && f.rule !== r.id && f.severity === 'error')
    expect(strange.map(f => `${f.rule} ${f.message}`)).toEqual([])
  })

  test('its good example does not', () => {
    const c = check(example(r.good), FILES)
    expect(c.of(r.id), c.summary()).toEqual([])
    const errors = c.findings.filter(f => language.has(f.rule) && f.severity === 'error')
    expect(errors.map(f => `${f.rule} ${f.message}`)).toEqual([])
  })

  test('it says what it checks, why, and what to do', () => {
    for (const text of [r.what, r.why, r.todo]) expect(text).toMatch(/^[A-Z`].{10,}\.$/s)
    expect(r.source).not.toBe('')
  })
})
