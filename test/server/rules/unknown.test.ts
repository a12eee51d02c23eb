/** A rule that asks for what is not known says nothing that rests on it: no `undefined` and no `NaN` reaches a reader. */
import { expect, test } from 'vitest'
import type { Door } from '../../../server/model/index.ts'
import { RULES } from '../../../server/rules/index.ts'
import type { Report, Rule } from '../../../server/rules/rule.ts'
import { check } from '../../support/host.ts'
import { example, HOUSE, openingWith } from '../../support/opening.ts'

const ASKS = new Set(['number', 'word', 'truth', 'computedWord', 'result'])
/** What is known wherever something else is that the rule asks for: it is made of these. */
const IMPLIED: Readonly<Record<string, readonly string[]>> = {
  spring_hand: ['adjuster.side', 'adjuster.winding', 'spring[0].shaft_end'],
  preload_increment: ['adjuster.increment', 'adjuster.holes'],
  winding_direction: ['adjuster.side'],
}
const UNKNOWN = { state: 'unknown', missing: [] }

/** The openings of all examples, and ones of which much is not written. */
const DOORS = [
  ...RULES.flatMap(r => [r.bad, r.good].map(example)),
  openingWith('', ['operator']),
  'opening "A" {}',
].flatMap(text => check(text, { 'stock/house.door': HOUSE }, []).doors)

/** The door, but that one path is not known; every path asked for is told. */
function without(door: Door, path: string | undefined, asked: (path: string) => void): Door {
  return new Proxy(door, {
    get(target, key) {
      const value = Reflect.get(target, key, target)
      if (typeof value !== 'function') return value
      if (typeof key !== 'string' || !ASKS.has(key)) return value.bind(target)
      return (at: string) => {
        asked(at)
        if (at !== path) return value.call(target, at)
        return key === 'result' ? UNKNOWN : undefined
      }
    },
  })
}

/** All that a reader would see of the reports of a rule. */
function said(rule: Rule, door: Door): string[] {
  const reports: Report[] = []
  rule.check!(door, r => reports.push(r), { wouldBreak: () => [] })
  return reports.flatMap(r => [
    r.message,
    r.limit ?? '',
    ...(r.related ?? []).map(x => x.message),
    ...(r.fixes?.() ?? []).flatMap(f => (f ? [f.title, ...f.edits.map(e => e.text)] : [])),
  ])
}

test.each(RULES.filter(r => r.check).map(r => [r.id, r] as const))('%s', (_, rule) => {
  for (const text of [rule.bad, rule.good])
    for (const door of check(example(text), { 'stock/house.door': HOUSE }, [rule]).doors) {
      const asked = new Set<string>()
      said(
        rule,
        without(door, undefined, path => asked.add(path)),
      )
      for (const path of [...asked].filter(p => !IMPLIED[rule.id]?.includes(p)))
        for (const line of said(
          rule,
          without(door, path, () => {}),
        ))
          expect(line, `without ${path}`).not.toMatch(/undefined|NaN|Infinity/)
    }
})

test.each(RULES.filter(r => r.about).map(r => [r.id, r] as const))(
  '%s: about a block that is not written',
  (_, rule) => {
    const doors = DOORS.filter(d => !d.block(rule.about!)?.written)
    expect(doors.length).toBeGreaterThan(5)
    // asked all the same: it is not called only because it has nothing to say
    expect(doors.flatMap(d => said(rule, d))).toEqual([])
  },
)
