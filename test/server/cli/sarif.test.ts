/** SARIF 2.1.0, held against the standard's own JSON Schema (2.1.0-rtm.5, as @microsoft/jest-sarif ships it: seen). */
import { mkdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { Ajv } from 'ajv'
import formats from 'ajv-formats'
import type { Log, Region, Result } from 'sarif'
import { describe, expect, it } from 'vitest'
import { RULES } from '../../../server/service.ts'
import { call, folderOf, GATE, ONE_ERROR, ONE_WARNING } from './call.ts'

const require = createRequire(import.meta.url)
const {
  id: _,
  $schema: __,
  ...schema
} = JSON.parse(
  readFileSync(join(require.resolve('@microsoft/jest-sarif'), '../schemas/sarif-2.1.0-rtm.5.json'), 'utf8'),
)
// The schema is of draft 4: of what changed since then it only has `id`, and a pattern that is none for Unicode.
const ajv = new Ajv({ allErrors: true, strict: false, unicodeRegExp: false })
formats.default(ajv)
const valid = ajv.compile(schema)

const ROOT = join(import.meta.dirname, '../../..')
const PRELOAD = GATE.replace('2 turns', '1.7 turns')

async function sarifOf(
  cwd: string,
  args: readonly string[] = [],
): Promise<{ log: Log; text: string; status: unknown }> {
  const r = await call(cwd, ['check', '--format', 'sarif', ...args])
  const log = JSON.parse(r.out) as Log
  valid(log)
  expect(valid.errors ?? []).toEqual([])
  return { log, text: r.out, status: r.status }
}
const results = (log: Log): Result[] => log.runs[0]!.results!
const one = (log: Log, rule: string): Result => {
  const found = results(log).filter(r => r.ruleId === rule)
  expect(found).toHaveLength(1)
  return found[0]!
}
const prints = (log: Log): string[] => results(log).map(r => Object.values(r.partialFingerprints!)[0]!)

/** What stands at a region, counted as the standard says: from 1, in UTF-16 units, the end column behind the last character. */
function at(text: string, r: Region): string {
  const lines = text.split(/\r\n|\n/)
  const offset = (line: number, column: number): number =>
    lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0) + column - 1
  return lines.join('\n').slice(offset(r.startLine!, r.startColumn!), offset(r.endLine!, r.endColumn!))
}

it('the schema refuses what is wrong', () => {
  expect(valid({ version: '2.1.0', runs: [{ tool: { driver: { name: 'x', rules: [{ id: 1 }] } } }] })).toBe(false)
  expect(valid({ version: '2.1.0', runs: [{ tool: { driver: { name: 'x' } }, columnKind: 'bytes' }] })).toBe(false)
})

it('all the samples, with every finding that JSON has', async () => {
  const { log, text, status } = await sarifOf(ROOT, ['samples'])
  const json = JSON.parse((await call(ROOT, ['check', '--format', 'json', 'samples'])).out)
  const key = (file: string, rule: string, line: number, column: number) => `${file} ${rule} ${line}:${column}`
  const expected = json.files.flatMap(
    (f: { path: string; findings: { rule: string; line: number; column: number }[] }) =>
      f.findings.map(x => key(f.path, x.rule, x.line, x.column)),
  )
  expect(expected.length).toBeGreaterThan(40)
  expect(
    results(log).map(r => {
      const { artifactLocation, region } = r.locations![0]!.physicalLocation!
      return key(artifactLocation!.uri!, r.ruleId!, region!.startLine!, region!.startColumn!)
    }),
  ).toEqual(expected)
  expect(status).toBe(1)
  // nothing of this machine is in it
  expect(text).not.toContain(ROOT)
  expect((await sarifOf(ROOT, ['samples'])).text).toBe(text)
})

it('a rule says what it is, and each result leads to its rule', async () => {
  const { log } = await sarifOf(ROOT, ['samples'])
  const rules = log.runs[0]!.tool.driver.rules!
  expect(rules.map(r => r.id)).toEqual(RULES.map(r => r.id))
  for (const r of results(log)) expect(rules[r.ruleIndex!]!.id).toBe(r.ruleId)
  const rule = rules.find(r => r.id === 'preload_increment')!
  const of = RULES.find(r => r.id === 'preload_increment')!
  expect(rule.shortDescription!.text).toBe(of.what)
  expect(rule.fullDescription!.text).toContain(of.why)
  expect(rule.defaultConfiguration!.level).toBe('error')
  expect(rule.properties!.tags).toEqual(['adjuster-and-balance', 'never-accepted', 'safety'])
  for (const form of [rule.help!.text, rule.help!.markdown!]) {
    expect(form).toContain(of.todo)
    expect(form).toContain(of.source)
    expect(form).toContain('can maim or kill')
  }
})

describe('a result', () => {
  it('stands where the mistake is, in UTF-16 units', async () => {
    const text = PRELOAD.replace('preload = 1.7', 'require holes > 1 because "\u{1f6aa}"; preload = 1.7')
    const { log } = await sarifOf(folderOf({ 'gate.door': text }))
    const r = one(log, 'preload_increment')
    const { artifactLocation, region } = r.locations![0]!.physicalLocation!
    expect(log.runs[0]!.columnKind).toBe('utf16CodeUnits')
    expect(artifactLocation).toEqual({ uri: 'gate.door', uriBaseId: '%SRCROOT%' })
    expect(Object.keys(log.runs[0]!.originalUriBaseIds!)).toEqual(['%SRCROOT%'])
    expect(at(text, region!)).toBe('1.7 turns')
    expect(r.locations![0]!.logicalLocations![0]!.fullyQualifiedName).toBe('Gate/adjuster')
    expect(r.level).toBe('error')
  })

  it('has the fixes, and the text after a fix is what it says', async () => {
    const { log } = await sarifOf(folderOf({ 'gate.door': PRELOAD }))
    const fix = one(log, 'preload_increment').fixes![0]!
    const change = fix.artifactChanges[0]!
    expect(change.artifactLocation.uri).toBe('gate.door')
    expect(at(PRELOAD, change.replacements[0]!.deletedRegion)).toBe('1.7 turns')
    expect(change.replacements[0]!.insertedContent!.text).toBe('1 3/4 turns')
    expect(fix.description!.text).toContain('1 3/4 turns')
  })

  it('a fix that only takes away puts nothing in', async () => {
    const { log } = await sarifOf(folderOf({ 'gate.door': ONE_WARNING }))
    const [replacement] = one(log, 'allow_unused').fixes![0]!.artifactChanges[0]!.replacements
    expect(at(ONE_WARNING, replacement!.deletedRegion)).toContain('allow drum_sag because "agreed"')
    expect(replacement).not.toHaveProperty('insertedContent')
  })

  it('names the other places of a conflict', async () => {
    const { log } = await sarifOf(ROOT, ['samples/mistakes/wrong_hand.door', 'samples/mistakes/low_headroom.door'])
    const related = results(log).flatMap(r => r.relatedLocations ?? [])
    expect(related.length).toBeGreaterThan(0)
    for (const r of related) {
      expect(r.message!.text).not.toBe('')
      const { artifactLocation, region } = r.physicalLocation!
      expect(at(readFileSync(join(ROOT, artifactLocation!.uri!), 'utf8'), region!).trim()).not.toBe('')
    }
  })

  it('is suppressed in the source where it is accepted, with the reason', async () => {
    const text = GATE.replace(
      'drop_guard = true',
      'allow drum_sag because "agreed with \\"the house\\""\n    drop_guard = true',
    ).replace('nps5_std', 'nps2_std')
    const { log } = await sarifOf(folderOf({ 'gate.door': text }))
    expect(one(log, 'drum_sag').suppressions).toEqual([{ kind: 'inSource', justification: 'agreed with "the house"' }])
    expect(results(log).filter(r => r.ruleId !== 'drum_sag' && r.suppressions)).toEqual([])
  })

  it('what looks like a link or a place to fill in is shown as it is', async () => {
    const text = GATE.replace('2 turns', '2 turns\n    require preload > 3 turns because "see [it](1) and {0}"')
    const { log } = await sarifOf(folderOf({ 'gate.door': text }))
    const message = one(log, 'requirement').message.text!
    expect(message).toContain('see \\[it](1) and {{0}}')
  })
})

describe('addresses', () => {
  it('count from the root of the repository, whatever folder the check runs in', async () => {
    const folder = folderOf({ 'jobs/two words/gäte #1.door': ONE_ERROR })
    mkdirSync(join(folder, '.git'))
    for (const cwd of [folder, join(folder, 'jobs'), join(folder, 'jobs/two words')]) {
      const { log } = await sarifOf(cwd)
      expect(results(log)[0]!.locations![0]!.physicalLocation!.artifactLocation!.uri).toBe(
        'jobs/two%20words/g%C3%A4te%20%231.door',
      )
    }
  })

  it('outside of it they are whole', async () => {
    const elsewhere = folderOf({ 'gate.door': ONE_ERROR })
    const { log } = await sarifOf(folderOf({}), [join(elsewhere, 'gate.door')])
    expect(results(log)[0]!.locations![0]!.physicalLocation!.artifactLocation).toEqual({
      uri: `file://${elsewhere}/gate.door`,
    })
  })
})

describe('a fingerprint', () => {
  const of = async (text: string): Promise<string[]> => prints((await sarifOf(folderOf({ 'gate.door': text }))).log)
  const BOTH = PRELOAD.replace('  cycles', '  colour   = 3\n  cycles')

  it('stays where lines move, blanks change and line ends differ', async () => {
    const before = await of(BOTH)
    expect(before.length).toBeGreaterThan(1)
    expect(new Set(before).size).toBe(before.length)
    expect(await of(`# a note\n\n\n${BOTH}`)).toEqual(before)
    expect(await of(BOTH.replaceAll('\n', '\r\n'))).toEqual(before)
    const required = BOTH.replace('1.7 turns', '1.7 turns\n    require preload > 3 turns')
    expect(await of(required.replace('preload > 3', 'preload   >   3'))).toEqual(await of(required))
    expect((await of(required)).length).toBe(before.length + 1)
  })

  it('stays where the numbers of the message change', async () => {
    // other coils: another best preload, which the message names
    expect(await of(PRELOAD.replace('coils    = 120', 'coils    = 121'))).toEqual(await of(PRELOAD))
  })

  it('differs for another opening, another text, another missing field, and twins', async () => {
    const [before] = await of(PRELOAD)
    expect(await of(PRELOAD.replace('"Gate"', '"Gate 2"'))).not.toContain(before)
    expect(await of(PRELOAD.replace('1.7', '1.6'))).not.toContain(before)
    const missing = await of('job "1" {}\nopening "A" {\n}\n')
    expect(missing.length).toBeGreaterThan(3)
    expect(new Set(missing).size).toBe(missing.length)
  })
})

describe('the run', () => {
  it('says how it ended', async () => {
    const good = (await sarifOf(folderOf({ 'gate.door': GATE }))).log.runs[0]!.invocations!
    expect(good).toEqual([
      { executionSuccessful: true, exitCode: 0, exitCodeDescription: 'nothing above the threshold' },
    ])
    const errors = (await sarifOf(folderOf({ 'gate.door': ONE_ERROR }))).log.runs[0]!.invocations![0]!
    expect([errors.executionSuccessful, errors.exitCode]).toEqual([true, 1])
  })

  it('says what could not be looked at', async () => {
    const { log, status } = await sarifOf(folderOf({ 'bad.door': new Uint8Array([97, 0]), 'gate.door': ONE_ERROR }))
    const run = log.runs[0]!
    expect(status).toBe(2)
    expect([run.invocations![0]!.executionSuccessful, run.invocations![0]!.exitCode]).toEqual([false, 2])
    expect(run.invocations![0]!.toolExecutionNotifications).toEqual([
      { level: 'error', message: { text: 'bad.door is not a text file.' } },
    ])
    expect(results(log).map(r => r.ruleId)).toEqual(['unknown_field'])
  })

  it('names every file that was looked at', async () => {
    const { log } = await sarifOf(folderOf({ 'a.door': GATE, 'b.door': GATE }))
    expect(log.runs[0]!.artifacts!.map(a => a.location!.uri)).toEqual(['a.door', 'b.door'])
  })
})
