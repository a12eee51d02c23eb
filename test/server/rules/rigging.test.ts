/** Rules over slings and hood. Loads and counts are worked out again here by plain statics and geometry. */
import { describe, expect, test } from 'vitest'
import { CAUTIONS } from '../../../server/model/index.ts'
import { check } from '../../support/host.ts'
import { openingWith } from '../../support/opening.ts'

const rigging = (body: string, more = '') => check(openingWith(`rigging {\n${body}\n}\n${more}`))
const LBF = 4.4482216152605
const weight = rigging('').door().number('curtain.weight_total')! * 9.80665

describe('sling_spacing', () => {
  // slats of 12 ft 1 in + 2 x 2 3/4 in = 12 ft 6 1/2 in: two slings up to 6 ft 3 1/4 in on each
  test('as many as the length asks for pass, exactly too', () => {
    expect(rigging('slings = 2').of('sling_spacing')).toEqual([])
    expect(rigging('slings = 2', 'limits { sling_spacing = 6ft 3 1/4in }').of('sling_spacing')).toEqual([])
    const c = rigging('slings = 2', 'limits { sling_spacing = 6ft 3in }')
    expect(c.one('sling_spacing').message).toContain('6 ft 3 1/4 in of the curtain, which is 12 ft 6 1/2 in long')
    expect(c.one('sling_spacing').message.endsWith(CAUTIONS.curtain.short)).toBe(true)
    expect(c.fixed('sling_spacing').text).toContain('slings = 3')
    expect(c.fixed('sling_spacing').of('sling_spacing')).toEqual([])
  })

  test('one sling is never enough, however short the curtain', () => {
    const c = rigging('slings = 1', 'limits { sling_spacing = 20ft because "one lift" }')
    expect(c.one('sling_spacing').message).toContain('two slings the fewest')
    expect(c.fixed('sling_spacing').text).toContain('slings = 2')
  })
})

describe('sling_load', () => {
  const at = (share: number, angle = 90) =>
    rigging(`slings = 2\nsling_angle = ${angle}deg\nsling_capacity = ${((weight * share) / LBF).toFixed(12)} lbf`)

  test('exactly the capacity passes; hanging straight two slings share the weight', () => {
    expect(at(0.5).of('sling_load')).toEqual([])
    const f = at(0.49).one('sling_load')
    expect(f.severity).toBe('error')
    expect(f.message).toContain('drum, springs and unequal sharing come on top')
    expect(f.message.endsWith(CAUTIONS.curtain.short)).toBe(true)
  })

  test('at 45 degrees each carries 1 / (2 sin 45deg) = 0.7071 of it', () => {
    expect(at(0.7072, 45).of('sling_load')).toEqual([])
    expect(at(0.706, 45).of('sling_load').length).toBe(1)
  })

  test('the fixes: enough slings, or the angle at which these hold', () => {
    const c = at(0.6, 45)
    // 1 / (0.6 sin 45deg) = 2.36 slings; sin = 1 / 1.2, 56.4 degrees
    expect(c.fixed('sling_load', 'slings').text).toContain('slings = 3')
    expect(c.fixed('sling_load', 'slings').of('sling_load')).toEqual([])
    expect(c.fixed('sling_load', 'sling_angle').text).toContain('sling_angle = 57deg')
    expect(c.fixed('sling_load', 'sling_angle').of('sling_load')).toEqual([])
    // hanging straight already: no angle helps
    expect(
      at(0.4)
        .one('sling_load')
        .fixes.map(f => f.title),
    ).toEqual(['Write `slings = 3`'])
  })
})

describe('sling_angle and sling_angle_low', () => {
  const found = (angle: string) =>
    rigging(`sling_angle = ${angle}`)
      .findings.map(f => f.rule)
      .filter(r => r.startsWith('sling_angle'))
      .sort()

  test.each([
    ['90deg', []],
    ['45deg', []],
    ['44.9deg', ['sling_angle']],
    ['30deg', ['sling_angle']],
    ['29.9deg', ['sling_angle', 'sling_angle_low']],
  ])('%s: %j', (angle, rules) => {
    expect(found(angle)).toEqual(rules)
  })

  test('the low one is an error that cannot be allowed away; both end with the caution', () => {
    const c = rigging('sling_angle = 20deg\nallow sling_angle_low because "no room"')
    expect(c.one('sling_angle_low').severity).toBe('error')
    expect(c.one('sling_angle_low').accepted).toBeUndefined()
    expect(c.of('allow_refused').length).toBe(1)
    // 1 / sin 20deg = 2.924
    expect(c.one('sling_angle_low').message).toContain('2.924 times')
    for (const f of [...c.of('sling_angle'), ...c.of('sling_angle_low')])
      expect(f.message.endsWith(CAUTIONS.curtain.short)).toBe(true)
  })

  test('the fix writes the angle of the limit, and never less than 30 degrees', () => {
    const fixed = rigging('sling_angle = 20deg').fixed('sling_angle_low')
    expect(fixed.text).toContain('sling_angle = 45deg')
    expect([...fixed.of('sling_angle'), ...fixed.of('sling_angle_low')]).toEqual([])
    const loose = rigging('sling_angle = 10deg', 'limits { sling_angle = 20deg because "no room" }')
    expect(loose.fixed('sling_angle_low').text).toContain('sling_angle = 30deg')
    expect(loose.fixed('sling_angle_low').of('sling_angle_low')).toEqual([])
  })
})

describe('hood_supports', () => {
  const at = (between: string, supports: number) =>
    check(openingWith(`rails { between = ${between} }\nhood { supports = ${supports} }`)).of('hood_supports')

  test('12 ft without a support pass, 24 ft with one', () => {
    expect([...at('12ft', 0), ...at('24ft', 1)]).toEqual([])
    expect(at('12ft 1in', 0)[0]!.message).toContain('With 0 supports over 12 ft 1 in')
    expect(at('25ft', 1)[0]!.message).toContain('With 1 support over 25 ft the hood spans 12 ft 6 in')
  })

  test('the fix writes what is needed; nothing is said where nothing is written', () => {
    const c = check(openingWith('rails { between = 37ft }\nhood { supports = 1 }'))
    expect(c.fixed('hood_supports').text).toContain('supports = 3')
    expect(c.fixed('hood_supports').of('hood_supports')).toEqual([])
    expect(check(openingWith('rails { between = 37ft }')).of('hood_supports')).toEqual([])
  })
})
