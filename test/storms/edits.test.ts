/** Storms of edits: whatever was typed, pasted, asked and taken back in between, what counts in the end is the text. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Service } from '../../server/service.ts'
import { piece } from '../grammar/generate.ts'
import {
  AT_FILE,
  AT_PLACE,
  expectSame,
  names,
  PATIENCE,
  REPORTS,
  runs,
  samples,
  serviceOf,
  stateOf,
  typed,
} from './support.ts'

/** What is put in: what people type, what they paste, and what only a broken editor would send. */
const put = fc.oneof(
  piece,
  fc.constantFrom('', '\n', '\r\n', '\r', '\ufeff', '\ud83d', '\ude00', '😀', '\0', '\u2028', '}\n', '{', '"', '\t'),
  fc.string({ unit: 'binary', maxLength: 6 }),
  fc.tuple(fc.constantFrom(...names), fc.nat(3000), fc.nat(200)).map(([f, at, n]) => samples[f]!.slice(at, at + n)),
)
const position = fc.record({
  line: fc.oneof({ weight: 9, arbitrary: fc.nat(70) }, { weight: 1, arbitrary: fc.constantFrom(1e6, 2 ** 31 - 1) }),
  character: fc.oneof(
    { weight: 9, arbitrary: fc.nat(30) },
    { weight: 1, arbitrary: fc.constantFrom(1e6, 2 ** 31 - 1) },
  ),
})
/** A change of a range; `far` is how many lines and columns lie between its ends. */
const change = fc.oneof(
  { weight: 12, arbitrary: fc.record({ from: position, far: fc.tuple(fc.nat(2), fc.nat(12)), text: put }) },
  { weight: 2, arbitrary: fc.record({ from: position, far: fc.constant([0, 0] as [number, number]), text: put }) },
  // the ends the wrong way round, as no client should send them
  { weight: 1, arbitrary: fc.record({ from: position, far: fc.constant([-1, -2] as [number, number]), text: put }) },
)
type Change = typeof change extends fc.Arbitrary<infer T> ? T : never
const rangeOf = ({ from, far: [lines, columns], text }: Change) => ({
  range: {
    start: from,
    end: { line: Math.max(0, from.line + lines), character: Math.max(0, from.character + columns) },
  },
  text,
})
const whole = fc.constantFrom(...names).map(f => ({ text: samples[f]! }))
const edits = fc.oneof(
  { weight: 12, arbitrary: fc.array(change.map(rangeOf), { minLength: 1, maxLength: 4 }) },
  { weight: 1, arbitrary: fc.array(fc.oneof(change.map(rangeOf), whole), { minLength: 1, maxLength: 3 }) },
)

const VERBS = Object.values({ ...AT_FILE, ...AT_PLACE, ...REPORTS })

interface Step {
  readonly file: string
  readonly edit?: readonly { readonly range?: ReturnType<typeof rangeOf>['range']; readonly text: string }[]
  readonly ask?: readonly [verb: number, at: { line: number; character: number }]
  readonly close?: boolean
}
const FILES = ['harbour/dock.door', 'harbour/stock/house.door', 'mistakes/narrow_rails.door']
const file = fc.constantFrom(...FILES)
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ file, edit: edits }) },
  { weight: 4, arbitrary: fc.record({ file, ask: fc.tuple(fc.nat(VERBS.length - 1), position) }) },
  { weight: 1, arbitrary: fc.record({ file, close: fc.constant(true) }) },
)
/** How the lines end when it starts. */
const start = fc
  .constantFrom('\n', '\r\n', '\r')
  .chain(end => fc.constantFrom('', '\ufeff').map(mark => ({ end, mark })))

test(
  'after any storm every file stands as in a fresh service',
  () => {
    let cases = 0
    fc.assert(
      fc.property(start, fc.array(step, { minLength: 1, maxLength: 14 }), ({ end, mark }, steps) => {
        const disk = Object.fromEntries(Object.entries(samples).map(([f, t]) => [f, mark + t.replaceAll('\n', end)]))
        const stormy = serviceOf(disk, FILES)
        const shown = new Map(FILES.map(f => [f, disk[f]!]))
        for (const s of steps) {
          if (s.close) {
            // closed, and opened again as it is on the disk
            stormy.close(s.file)
            stormy.open(s.file, disk[s.file]!)
            shown.set(s.file, disk[s.file]!)
          }
          if (s.ask) VERBS[s.ask[0]]!(stormy, s.file, s.ask[1])
          if (s.edit) {
            stormy.edit(s.file, s.edit)
            shown.set(s.file, typed(shown.get(s.file)!, s.edit))
          }
        }
        const texts = Object.fromEntries(FILES.map(f => [f, shown.get(f)!]))
        for (const f of FILES) expectSame({ text: stormy.text(f)! }, { text: texts[f]! }, f)
        const fresh = serviceOf({ ...disk, ...texts }, FILES)
        for (const f of FILES) expectSame(stateOf(stormy, f), stateOf(fresh, f), f)
        expectSame(stateOf(stormy, FILES[0]!, REPORTS), stateOf(fresh, FILES[0]!, REPORTS))
        cases++
      }),
      { numRuns: runs(40) },
    )
    expect(cases).toBeGreaterThan(0)
  },
  PATIENCE,
)

test(
  'after any storm every verb answers at any place as in a fresh service',
  () =>
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), fc.nat(10_000), (steps, at) => {
        const stormy = serviceOf(samples, FILES)
        for (const s of steps) {
          if (s.ask) VERBS[s.ask[0]]!(stormy, s.file, s.ask[1])
          if (s.edit) stormy.edit(s.file, s.edit)
        }
        const texts = Object.fromEntries(FILES.map(f => [f, stormy.text(f)!]))
        const fresh = serviceOf({ ...samples, ...texts }, FILES)
        const said = (s: Service): Record<string, string> =>
          Object.assign(
            {},
            ...FILES.map(f => {
              const place = s.position(f, at % (texts[f]!.length + 1))
              return stateOf(
                s,
                f,
                Object.fromEntries(Object.entries(AT_PLACE).map(([n, v]) => [`${f} ${n}`, () => v(s, f, place)])),
              )
            }),
          )
        expectSame(said(stormy), said(fresh))
      }),
      { numRuns: runs(25) },
    ),
  PATIENCE,
)
