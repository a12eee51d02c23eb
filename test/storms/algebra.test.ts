/** The laws of sums and products, for quantities of any units, asked for in the language itself. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { DIMENSION, sameDimension, UNITS, unitOf, unitsFor, writeExact } from '../../server/units/index.ts'
import { PATIENCE, runs, serviceOf } from './support.ts'

const FILE = 'laws.door'

/** What an opening says of requirements that are all to hold: nothing, where they do. */
function broken(laws: readonly string[]): string[] {
  const text = `job "HS-1" {}\nopening "Law" {\n${laws.map(l => `  require ${l}\n`).join('')}}\n`
  return serviceOf({ [FILE]: text }, [FILE])
    .findings(FILE)
    .filter(f => f.rule !== 'missing_field')
    .map(f => `${f.rule}: ${f.message}`)
}

/** Every unit and common unit expression, by dimension. */
const GROUPS = Object.values(DIMENSION).map(d => [
  ...new Set([...unitsFor(d), ...[...UNITS.values()].filter(u => sameDimension(u.dimension, d)).map(u => u.name)]),
])
const numbers = fc.oneof(
  fc.integer({ min: 1, max: 999 }).map(String),
  fc.tuple(fc.nat(99), fc.integer({ min: 1, max: 999 })).map(([a, b]) => `${a}.${String(b).padStart(3, '0')}`),
  fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 63 })).map(([a, b]) => `${a} ${b}/64`),
)
const quantityIn = (units: readonly string[]): fc.Arbitrary<string> =>
  // a fraction and a unit that starts with `/` cannot stand side by side
  fc
    .tuple(numbers, fc.constantFrom(...units))
    .map(([n, u]) => (u.startsWith('/') ? `${n.split(' ')[0]}${u}` : `${n} ${u}`))
const like = fc.constantFrom(...GROUPS)
const three = like.chain(u => fc.tuple(quantityIn(u), quantityIn(u), quantityIn(u)))
const any = like.chain(quantityIn)

/** What comes to more than a number may have is refused, and no law is broken by it. */
function hold(laws: readonly string[]): void {
  const found = broken(laws)
  fc.pre(!found.some(f => f.includes('too large to work with')))
  expect(found).toEqual([])
}

test(
  'sums: in any order, in any grouping, taken away again',
  () =>
    fc.assert(
      fc.property(three, ([a, b, c]) => {
        const laws = [
          `${a} + ${b} == ${b} + ${a}`,
          `(${a} + ${b}) + ${c} == ${a} + (${b} + ${c})`,
          `(${a} + ${b}) - ${b} <= ${a} * 1.000001 + ${b} / 1000000`,
          `${a} - ${b} == -(${b} - ${a})`,
          `${a} + ${a} == 2 * ${a}`,
          `${a} == ${a} and not (${a} != ${a}) and ${a} <= ${a} and ${a} >= ${a} and not (${a} < ${a})`,
          `${a} < ${a} + ${a} and ${a} + ${a} > ${a}`,
          `min(${a}, ${b}) + max(${a}, ${b}) == ${a} + ${b}`,
          `min(${a}, min(${b}, ${c})) == min(min(${c}, ${a}), ${b})`,
          `abs(${a} - ${b}) == max(${a}, ${b}) - min(${a}, ${b})`,
        ]
        hold(laws)
      }),
      { numRuns: runs(60) },
    ),
  PATIENCE,
)

test(
  'products of any kinds: in any order, in any grouping, over sums, divided again',
  () =>
    fc.assert(
      fc.property(any, any, three, (a, b, [x, y, z]) => {
        const laws = [
          `${a} * ${b} == ${b} * ${a}`,
          `(${a} * ${b}) * ${x} == ${a} * (${b} * ${x})`,
          `${a} * (${x} + ${y} + ${z}) == ${a} * ${x} + ${a} * ${y} + ${a} * ${z}`,
          `${a} * ${b} / ${b} == ${a}`,
          `${a} / ${b} == 1 / (${b} / ${a})`,
          `${x} / ${y} * (${y} / ${z}) == ${x} / ${z}`,
          `${a} ^ 2 == ${a} * ${a}`,
          `${a} ^ 3 / ${a} == ${a} ^ 2`,
          `${a} ^ 0 == 1`,
          `sqrt(${a} ^ 2) == ${a}`,
          `-${a} * -${b} == ${a} * ${b}`,
        ]
        hold(laws)
      }),
      { numRuns: runs(60) },
    ),
  PATIENCE,
)

test(
  'what is of two kinds is neither added nor compared, whatever the units',
  () =>
    fc.assert(
      fc.property(any, any, fc.constantFrom('+', '-', '<', '>=', '=='), (a, b, operator) => {
        const [d, e] = [a, b].map(q => unitOf(/(?: |(?=\/[a-z]))([^\d. ][^ ]*)$/.exec(q)?.[1] ?? '')!.dimension)
        fc.pre(!sameDimension(d!, e!))
        const law = '+-'.includes(operator) ? `${a} ${operator} ${b} == ${a}` : `${a} ${operator} ${b}`
        expect(broken([law]).map(f => f.split(':')[0])).toEqual(['wrong_dimension'])
      }),
      { numRuns: runs(60) },
    ),
  PATIENCE,
)

test(
  'an amount written in any other unit of its kind, and back, is the same amount',
  () =>
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), n => {
        const laws = GROUPS.flatMap(units =>
          units.flatMap(from => {
            const { factor, dimension } = unitOf(from)!
            const written = writeExact(n * factor, dimension, from)!
            return units.map(to => `${writeExact(n * factor, dimension, to)!} == ${written}`)
          }),
        )
        hold(laws)
      }),
      { numRuns: runs(5) },
    ),
  PATIENCE,
)
