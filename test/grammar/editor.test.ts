import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { RESERVED } from '../../grammar/index.ts'

const read = (file: string) => JSON.parse(readFileSync(new URL(`../../grammar/${file}`, import.meta.url), 'utf8'))

interface Rule {
  readonly name?: string
  readonly match?: string
  readonly begin?: string
  readonly end?: string
  readonly include?: string
  readonly patterns?: readonly Rule[]
}

describe('the TextMate grammar', () => {
  const grammar = read('doorwright.tmLanguage.json') as { scopeName: string; repository: Record<string, Rule> } & Rule
  const rules = (rule: Rule): Rule[] => [rule, ...(rule.patterns ?? []).flatMap(rules)]
  const all = [grammar, ...Object.values(grammar.repository)].flatMap(rules)

  test('every pattern is a regular expression and every include is there', () => {
    expect(grammar.scopeName).toBe('source.doorwright')
    for (const rule of all) {
      for (const pattern of [rule.match, rule.begin, rule.end])
        if (pattern) expect(() => new RegExp(pattern)).not.toThrow()
      if (rule.include) expect(grammar.repository).toHaveProperty([rule.include.slice(1)])
    }
  })

  test('knows every reserved word', () => {
    const words = all
      .filter(rule => /keyword|boolean/.test(rule.name ?? ''))
      .map(rule => new RegExp(`^(?:${rule.match})$`))
    for (const word of RESERVED) expect([word, words.some(pattern => pattern.test(word))]).toEqual([word, true])
  })

  test.each([
    ['12ft', '12', 'ft'],
    ['4 1/2"', '4 1/2', '"'],
    ["12'", '12', "'"],
    ['320 lbf*in/turn', '320', 'lbf*in/turn'],
    ['20/day', '20', '/day'],
    ['3%', '3', '%'],
    ['flat_20', undefined, undefined],
    ['3 because', '3', undefined],
  ])('reads the quantity %s', (text, number, unit) => {
    const found = new RegExp(grammar.repository.quantity?.match ?? '').exec(text)
    expect([found?.[1], found?.[2] ?? found?.[3]]).toEqual([number, unit])
  })
})

describe('the language configuration', () => {
  const config = read('language-configuration.json')

  test('does not close `"`, which after a digit is an inch mark', () =>
    expect(config.autoClosingPairs.map((pair: { open: string }) => pair.open)).toEqual(['{', '[', '(']))

  test.each([
    ['opening "Dock 3" {', true],
    ['  curtain { # body', true],
    ['  a = max(', true],
    ['  width { bottom = 12ft }', false],
    ['  a = "x {"', false],
    ['# {', false],
    ['  a = 4"', false],
    ['  a { b = 4"', true],
  ])('indents after %j: %s', (line, more) =>
    expect(new RegExp(config.indentationRules.increaseIndentPattern).test(line)).toBe(more),
  )

  test.each([
    ['}', true],
    ['  )', true],
    ['  a = 1', false],
  ])('moves %j back: %s', (line, back) =>
    expect(new RegExp(config.indentationRules.decreaseIndentPattern).test(line)).toBe(back),
  )

  test('a description goes on in the next line, an empty one does not', () => {
    const before = new RegExp(config.onEnterRules[0].beforeText)
    expect(before.test('## Ground floor')).toBe(true)
    expect(before.test('## ')).toBe(false)
    expect(before.test('# comment')).toBe(false)
  })
})
