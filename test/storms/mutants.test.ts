/** Every sample with each token deleted, doubled, swapped or cut through: all verbs bear it, and every fix helps. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { applyEdits, format, formatRange, parseSource } from '../../grammar/index.ts'
import type { LocatedFinding, Service } from '../../server/service.ts'
import { findingsOf, shape } from '../grammar/marks.ts'
import {
  AT_FILE,
  AT_PLACE,
  added,
  anyMutant,
  appliedAll,
  errorsOf,
  expectSame,
  LONG,
  type Mutant,
  mutants,
  names,
  PATIENCE,
  REPORTS,
  randomOf,
  runs,
  SEED,
  samples,
  serviceOf,
  some,
  stateOf,
  withText,
} from './support.ts'

/** What is wrong with the text, as far as no value comes into it. A value that a fix brings to light may be wrong too. */
const OF_TEXT = new Set(['syntax', 'duplicate', 'unknown_name', 'unknown_field', 'unknown_unit', 'unknown_block'])
const random = randomOf(SEED)
const all = [...mutants()]

/** Runs over some mutants, and names those that something failed on. */
function forSome(most: number, look: (m: Mutant) => void): void {
  const failed: string[] = []
  for (const m of some(all, most))
    try {
      look(m)
    } catch (error) {
      failed.push(`${m.how}: ${(error as Error).message}`)
      if (failed.length >= 50) break
    }
  if (failed.length > 0) throw new Error(`SEED=${SEED}\n${failed.join('\n')}`)
}

test(
  'every mutant has all verbs of a file, the same when asked twice, and its text is left alone',
  () => {
    forSome(60, ({ file, text }) => {
      const s = serviceOf(withText(file, text), [file])
      const first = stateOf(s, file, { ...AT_FILE, ...REPORTS })
      expectSame(stateOf(s, file, { ...AT_FILE, ...REPORTS }), first)
      expect(s.text(file)).toBe(text)
    })
  },
  PATIENCE,
)

test(
  'what was asked before changes no answer',
  () => {
    const verbs = Object.entries({ ...AT_FILE, ...REPORTS })
    forSome(40, ({ file, text }) => {
      const first = serviceOf(withText(file, text), [file])
      // places before files, and the other way round
      const place = first.position(file, random(text.length + 1))
      for (const verb of Object.values(AT_PLACE)) verb(first, file, place)
      const got = stateOf(first, file, Object.fromEntries(verbs.toReversed()))
      expectSame(got, stateOf(serviceOf(withText(file, text), [file]), file, Object.fromEntries(verbs)))
    })
  },
  PATIENCE,
)

test(
  'every mutant has all verbs of a place',
  () => {
    forSome(60, ({ file, text }) => {
      const s = serviceOf(withText(file, text), [file])
      for (let i = 0; i < 3; i++) {
        const place = s.position(file, random(text.length + 1))
        for (const verb of Object.values(AT_PLACE)) verb(s, file, place)
      }
      expect(s.text(file)).toBe(text)
    })
  },
  PATIENCE,
)

const count = (found: readonly LocatedFinding[], rules: ReadonlySet<string>): number =>
  found.filter(f => rules.has(f.rule)).length
const SYNTAX = new Set(['syntax'])

/** What is wrong with the fixes of a text; nothing for good ones. */
function judged({ file, text }: Mutant, s: Service): string[] {
  const before = s.findings(file)
  const unsound = s.unsound(file).length
  const errors = errorsOf(s, [file])
  const out: string[] = []
  for (const f of before)
    for (const fix of f.fixes()) {
      const say = (what: string): void => void out.push(`${f.rule}: ${f.message} | ${fix.title}: ${what}`)
      const after = serviceOf(appliedAll(withText(file, text), fix.edits), [file])
      const found = after.findings(file)
      const more = added(errors, errorsOf(after, [file]))
      if (after.unsound(file).length > unsound) say('can be read less well')
      // a brace too many among those that are missing may hide the rest of them
      const hidden = f.message.includes('never closed')
      if (f.rule === 'syntax' && !hidden && count(found, SYNTAX) >= count(before, SYNTAX)) say('mends nothing')
      // on a line that cannot be read as it was meant, what stands behind a value may be anything
      if (unsound === 0 && count(found, OF_TEXT) > count(before, OF_TEXT))
        say(`the text has another fault: ${more.join(' ')}`)
      if (fix.safe && more.length > 0) say(`said to be safe: ${more.join(' ')}`)
      const same = (x: LocatedFinding): boolean =>
        x.rule === f.rule && x.message === f.message && x.opening === f.opening
      if (fix.safe && found.filter(same).length >= before.filter(same).length) say('mends nothing')
    }
  return out
}

test(
  'every fix of every finding of a mutant leaves a file that parses no worse and has no new error',
  () => {
    let fixes = 0
    forSome(120, m => {
      const s = serviceOf(withText(m.file, m.text), [m.file])
      fixes += s.findings(m.file).reduce((n, f) => n + f.fixes().length, 0)
      const bad = judged(m, s)
      if (bad.length > 0) throw new Error(bad.join('\n  '))
    })
    expect(fixes).toBeGreaterThan(100)
    if (LONG) console.log(`${fixes} fixes of ${all.length} mutants`)
  },
  PATIENCE,
)

test(
  'all that is safe at once: no new error, nothing safe left over, and once more changes nothing',
  () => {
    forSome(60, ({ file, text }) => {
      const s = serviceOf(withText(file, text), [file])
      const { text: mended } = s.fixAll(file)
      const after = serviceOf(withText(file, mended), [file])
      expect(added(errorsOf(s, [file]), errorsOf(after, [file]))).toEqual([])
      expect(after.unsound(file).length).toBeLessThanOrEqual(s.unsound(file).length)
      expect(after.fixAll(file)).toEqual({ text: mended, applied: [] })
    })
  },
  PATIENCE,
)

test(
  'what an action other than a fix writes can be read, and breaks nothing',
  () => {
    forSome(60, ({ file, text }) => {
      const s = serviceOf(withText(file, text), [file])
      const [from, to] = [random(text.length + 1), random(30)]
      const range = { start: s.position(file, from), end: s.position(file, from + to) }
      const before = errorsOf(s, [file])
      for (const a of s.codeActions(file, range, ['refactor'])) {
        const after = serviceOf(appliedAll(withText(file, text), a.edits), [file])
        expect(after.unsound(file).length, a.title).toBeLessThanOrEqual(s.unsound(file).length)
        // one that rounds says by how much, and what that breaks is seen at once
        if (!/, the nearest /.test(a.title)) expect(added(before, errorsOf(after, [file])), a.title).toEqual([])
      }
    })
  },
  PATIENCE,
)

test(
  'layout of several mutations keeps the meaning, is done in one go, and is the same as edits',
  () =>
    fc.assert(
      fc.property(anyMutant, ({ text }) => {
        const once = format(text).text
        expect(format(once).text).toBe(once)
        expect(shape(once)).toBe(shape(text))
        expect(findingsOf(once).map(f => f.message)).toEqual(findingsOf(text).map(f => f.message))
        expect(applyEdits(text, formatRange(parseSource(text)))).toBe(once)
      }),
      { numRuns: runs(200) },
    ),
  PATIENCE,
)

test(
  'layout changes no value and finds nothing else',
  () => {
    forSome(60, ({ file, text }) => {
      const said = (t: string): unknown => {
        const s = serviceOf(withText(file, t), [file])
        // a message quotes what stands there, blanks and all
        const plain = (message: string): string => message.replace(/`[^`]*`/g, quoted => quoted.replaceAll(' ', ''))
        return [s.findings(file).map(f => [f.rule, f.severity, plain(f.message)]), s.values(file).map(v => v.values)]
      }
      expect(said(format(text).text)).toEqual(said(text))
    })
  },
  PATIENCE,
)

test(
  'every prefix of every sample has all verbs, and gives the same typed as opened',
  () => {
    for (const file of names) {
      const text = samples[file]!
      const typed = serviceOf(withText(file, ''), [file])
      const stops = new Set(
        some(
          [...text].map((_, i) => i + 1),
          6,
          SEED + text.length,
        ),
      )
      for (let i = 0; i < text.length; i++) {
        const at = typed.position(file, i)
        typed.edit(file, [{ range: { start: at, end: at }, text: text[i]! }])
        if (!stops.has(i + 1)) continue
        const prefix = text.slice(0, i + 1)
        const fresh = serviceOf(withText(file, prefix), [file])
        expectSame(stateOf(typed, file), stateOf(fresh, file), `${file} up to ${i + 1} (SEED=${SEED})`)
        const end = typed.position(file, prefix.length)
        for (const verb of Object.values(AT_PLACE)) verb(typed, file, end)
      }
    }
  },
  PATIENCE,
)
