/** What a model keeps from before an edit must not differ from what a fresh one finds. */
import { expect, test } from 'vitest'
import { editSource, parseSource, type Source } from '../../../grammar/index.ts'
import { Model } from '../../../server/model/index.ts'
import { RULES } from '../../../server/rules/index.ts'
import { Runner } from '../../../server/rules/run.ts'
import { HOUSE, OPENING } from '../../support/opening.ts'

const host = { resolve: (_: string, path: string) => ({ ok: true as const, file: path }) }
const fail = (rule: string, error: unknown): never => {
  throw new Error(rule, { cause: error })
}

function say(model: Model, runner: Runner): string[] {
  return model
    .units('job')
    .flatMap(u => runner.findings(u, model.files).map(f => `${f.rule} ${f.place.start} ${f.message}`))
}

test('edits in this file and in a used one leave nothing stale', () => {
  const start = `use "house"\nlet bay = 12ft\nlimits { drum_sag = 0.02 in/ft }\n${OPENING.replace('width           = 12ft', 'width = bay')}\nopening "Dock 4" like "Dock 3" {}\n`
  const edits: [file: string, from: string, to: string][] = [
    ['job', 'bay = 12ft', 'bay = 11ft'],
    ['job', 'slat flat_20', 'slat flat_21'],
    ['house', 'slat flat_22', 'slat flat_20'],
    ['job', 'units = imperial', 'units = metric'],
    ['house', 'gauge     = 22', 'gauge = 18\n  require pitch > 3in'],
    ['house', HOUSE.slice(-2), '}\nlimits { drum_sag = 0.01 in/ft }\n'],
    ['job', 'let bay', 'let bya'],
    ['house', 'slat flat_20', 'slat flat_23'],
    ['job', 'opening "Dock 3"', 'opening "Dock 2"'],
    ['job', 'like "Dock 3"', 'like "Dock 4"'],
    ['job', 'like "Dock 4"', 'like "Dock 2"'],
    ['job', 'let bya', 'let bay'],
    ['house', '}\nlimits', 'use "job"\nlimits'],
  ]
  const model = new Model(host)
  const runner = new Runner(RULES, fail)
  const sources: Record<string, Source> = { job: parseSource(start), house: parseSource(HOUSE) }
  for (const [file, source] of Object.entries(sources)) model.set(file, source)
  say(model, runner)
  for (const [file, from, to] of edits) {
    const at = sources[file]!.text.indexOf(from)
    expect(at, from).toBeGreaterThanOrEqual(0)
    sources[file] = editSource(sources[file]!, [{ start: at, end: at + from.length, text: to }])
    model.set(file, sources[file])
    const fresh = new Model(host)
    for (const [name, source] of Object.entries(sources)) fresh.set(name, parseSource(source.text))
    expect(say(model, runner), `${from} -> ${to}`).toEqual(say(fresh, new Runner(RULES, fail)))
  }
})
