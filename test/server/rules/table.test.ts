/** The rules as they are looked up: `doorwright rules` and `doorwright rules drum_sag`. */
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../server/model/cautions.ts'
import { RULES } from '../../../server/rules/index.ts'
import { explainRule, type RuleCard, ruleTable } from '../../../server/rules/table.ts'

const card = (id: string) => explainRule(id) as RuleCard

describe('the table', () => {
  test('has a row for every rule, in their order', () => {
    expect(ruleTable().map(r => r.id)).toEqual(RULES.map(r => r.id))
  })

  test('says how grave a finding is, whether it can be allowed away, and by which limit it is judged', () => {
    const row = (id: string) => ruleTable().find(r => r.id === id)!
    expect(row('drum_sag')).toMatchObject({ severity: 'warning', never: false, limit: 'drum_sag' })
    expect(row('spring_yield')).toMatchObject({ severity: 'error', never: true, limit: null })
    expect(row('spring_yield').source).toContain('Shigley')
    expect(row('spring_yield').what).toContain('yield strength')
  })
})

describe('one rule', () => {
  test('by its limit: the default as it is written, where it comes from, which way is looser', () => {
    expect(card('drum_sag')).toMatchObject({
      id: 'drum_sag',
      group: 'Drum and springs',
      limitDefault: '0.03 in/ft',
      looser: 'a larger value',
    })
    expect(card('headroom').looser).toBe('a smaller value')
    expect(card('door_speed').looser).toBe('a wider range')
    expect(card('drum_sag').limitSource).toContain('UFGS')
    expect(card('drum_sag').limitDoc).toBe('Sag of the drum per span.')
  })

  test('without a limit has none of these, and its caution in full where it can hurt someone', () => {
    const { limitDefault, looser, limitSource, limitDoc, caution } = card('spring_yield')
    expect([limitDefault, looser, limitSource, limitDoc]).toEqual([undefined, undefined, undefined, undefined])
    expect(caution).toEqual(CAUTIONS.spring.long)
    expect(card('circle').caution).toEqual([])
  })

  test('a default that is worked out is given by its formula', () => {
    expect(card('preload_balance').limitDefault).toBe('one increment')
  })

  test('misspelt: the one that was meant', () => {
    expect(explainRule('drum_sga')).toEqual({ near: ['drum_sag'] })
    expect(explainRule('zzzzzzzz')).toEqual({ near: [] })
  })
})
