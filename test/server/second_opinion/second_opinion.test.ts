/** Random jobs, written as text in all sorts of units, against the computation made apart from the program. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Service } from '../../../server/service.ts'
import { compute } from './compute.ts'
import type { Job } from './file.ts'
import { job } from './jobs.ts'
import { BLOCKS } from './names.ts'
import { SI } from './write.ts'

const RUNS = Number(process.env.DOORWRIGHT_RUNS ?? 300)
const SEED = Number(process.env.DOORWRIGHT_SEED ?? (process.env.CI ? 2207 : Date.now() % 2 ** 31))

/** What the language has against a file, besides what is only missing or not used. */
const LANGUAGE = new Set([
  'syntax', 'unknown_name', 'unknown_block', 'unknown_field', 'unknown_unit', 'wrong_dimension', 'wrong_type', 'value_range',
  'duplicate', 'circle', 'derived_assigned', 'use_failed', 'use_outside', 'like_failed', 'requirement', 'allow_unused',
  'allow_refused', 'limit_loosened', 'trade_word',
]) // biome-ignore format: a list

function served(files: Job['files']): Service {
  const service = new Service({
    resolve: (_, path) => ({ ok: true, file: path }),
    read: file => files[file],
    fault: (where, error) => {
      throw new Error(where, { cause: error })
    },
  })
  service.open('job.door', files['job.door']!)
  return service
}

const shown = (files: Job['files']): string =>
  Object.entries(files)
    .map(([name, text]) => `--- ${name}\n${text}`)
    .join('')

/** The paths of all derived values of an opening, with one spring. */
const derivedNames = Object.entries(BLOCKS).flatMap(([block, [fields, derived]]) => {
  const given = Object.entries(fields).flatMap(([name, [, d]]) =>
    d === 'given or derived' ? [name.replace('*', '')] : [],
  )
  const at = { spring: 'spring[]', slat: 'curtain.slat' }[block] ?? block
  return [...derived.map(d => d.split(':')[0]!), ...given].map(name => `${at}.${name}`)
})
type Seen = Map<string, { known: number; unknown: number }>

/** Everything in which the program and the second computation differ, one a line. */
function differences(j: Job, seen: Seen): string[] {
  const lines: string[] = []
  const count = (key: string, what: 'known' | 'unknown'): void => {
    if (!seen.has(key)) seen.set(key, { known: 0, unknown: 0 })
    seen.get(key)![what]++
  }
  const service = served(j.files)
  for (const f of service.findings('job.door')) if (LANGUAGE.has(f.rule)) lines.push(`finding ${f.rule} ${f.message}`)
  const openings = service.values('job.door')
  if (openings.map(o => o.mark).join() !== j.openings.map(o => o.mark).join()) lines.push('other openings')
  for (const opening of j.openings) {
    const values = new Map(openings.find(o => o.mark === opening.mark)?.values.map(v => [v.path, v]))
    const say = (path: string, what: string): void => {
      lines.push(`${opening.mark} ${path} ${what}`)
    }
    const opinion = compute(opening.given)
    for (const [path, second] of opinion) {
      const first = values.get(path)
      count(path.replace(/\d/, ''), second ? 'known' : 'unknown')
      if (path.endsWith('.life') && second) count(`life ${second.bound ?? 'none'}`, 'known')
      if (!second || !first) {
        if (second || first) say(path, `unknown: program ${first?.si ?? first?.value}, second ${second?.value}`)
        continue
      }
      const from = opening.written.get(path)?.origin ?? second.origin
      if (first.origin !== from) say(path, `origin: program ${first.origin}, second ${from}`)
      if (typeof second.value === 'string') {
        if (first.value !== second.value) say(path, `word: program ${first.value}, second ${second.value}`)
        continue
      }
      if (first.bound !== second.bound)
        say(path, `bound: program ${first.bound} ${first.si}, second ${second.bound} ${second.value}`)
      const si = second.value * SI[second.unit]
      const scale = Math.max(Math.abs(si), Math.abs((second.scale ?? 0) * SI[second.unit]) * 1e-3, 1e-12)
      const off = Math.abs(first.si! - si) / scale
      if (!(off <= tolerance(path))) say(path, `value: program ${first.si}, second ${si}, off ${off.toExponential(2)}`)
    }
    for (const [path, { written, value, origin }] of opening.written) {
      const first = values.get(path)
      if (value === 'round up') continue
      if (value === undefined || !first) {
        if (value !== undefined || first) say(path, `written, unknown: program ${first?.value}, second ${value}`)
        continue
      }
      if (first.origin !== origin) say(path, `written, origin: program ${first.origin}, second ${origin}`)
      if (typeof value !== 'number') {
        if (first.value !== value) say(path, `written: program ${first.value}, second ${value}`)
      } else if (!(Math.abs(first.si! - value * SI[written.unit]) <= 1e-10 * Math.abs(first.si!)))
        say(path, `written: program ${first.si}, second ${value * SI[written.unit]}`)
    }
    for (const path of values.keys())
      if (derivedNames.includes(path.replace(/\d/, '')) && !opinion.has(path)) say(path, 'only in the program')
  }
  return lines
}

/** Where the place of a maximum, not its height, is looked for, half the digits are lost. */
const tolerance = (path: string): number => (path.endsWith('worst_at') ? 1e-3 : 1e-6)

describe('a second opinion', () => {
  it(`on ${RUNS} random jobs agrees to one part in a million`, () => {
    console.log(`second opinion: ${RUNS} jobs, seed ${SEED} (DOORWRIGHT_RUNS, DOORWRIGHT_SEED)`)
    const seen: Seen = new Map()
    fc.assert(
      fc.property(fc.gen(), g => {
        const j = job(g)
        const found = differences(j, seen)
        if (found.length > 0) throw new Error(`${found.join('\n')}\n${shown(j.files)}`)
      }),
      { numRuns: RUNS, seed: SEED, endOnFailure: true },
    )
    const compared = [...seen.values()].reduce((sum, n) => sum + n.known + n.unknown, 0)
    console.log(`second opinion: ${compared} values compared`)
    expect(compared).toBeGreaterThan(RUNS * 40)
    // a draw in which everything is unknown, or nothing ever is, would prove little; of a small one that says nothing
    if (RUNS < 100) return
    const often = [...seen].filter(([, n]) => n.known > RUNS / 20).map(([path]) => path)
    expect(derivedNames.filter(name => !often.includes(name))).toEqual([])
    const sometimes = [...seen].filter(([, n]) => n.unknown > 0).map(([path]) => path)
    expect(derivedNames.filter(name => !sometimes.includes(name)).length).toBeLessThan(5)
    for (const bound of ['more', 'less', 'none'])
      expect(seen.get(`life ${bound}`)?.known ?? 0, bound).toBeGreaterThan(5)
  }, 3_600_000)

  it(`a door in inches and pounds and the same in millimetres and kilograms, ${RUNS} times, are one`, () => {
    let compared = 0
    fc.assert(
      fc.property(fc.gen(), g => {
        const j = job(g)
        const [a, b] = (['imperial', 'metric'] as const).map(system => {
          const service = served(j.again(system))
          const language = service.findings('job.door').filter(f => LANGUAGE.has(f.rule))
          if (language.length > 0)
            throw new Error(`${language.map(f => f.message).join('\n')}\n${shown(j.again(system))}`)
          return service.values('job.door')
        }) as [ReturnType<Service['values']>, ReturnType<Service['values']>]
        expect(a.map(o => o.mark)).toEqual(b.map(o => o.mark))
        for (const [i, opening] of a.entries()) {
          const opinion = compute(j.openings[i]!.given)
          expect(opening.values.map(v => v.path)).toEqual(b[i]!.values.map(v => v.path))
          for (const [k, v] of opening.values.entries()) {
            const w = b[i]!.values[k]!
            compared++
            expect([w.origin, w.bound], v.path).toEqual([v.origin, v.bound])
            if (v.si === undefined) expect(w.value, v.path).toEqual(v.value)
            else {
              const second = opinion.get(v.path)
              const scale = Math.max(
                Math.abs(v.si),
                second ? Math.abs((second.scale ?? 0) * SI[second.unit]) * 1e-3 : 0,
              )
              const off = Math.abs(w.si! - v.si)
              // the place of a flat maximum moves with the last digit of the others
              const most = v.path.endsWith('worst_at') ? 1e-6 : 1e-9
              if (!(off <= most * scale)) throw new Error(`${v.path}: ${v.si} and ${w.si}\n${shown(j.again('metric'))}`)
            }
          }
        }
      }),
      { numRuns: RUNS, seed: SEED, endOnFailure: true },
    )
    expect(compared).toBeGreaterThan(RUNS * 60)
  }, 3_600_000)
})
