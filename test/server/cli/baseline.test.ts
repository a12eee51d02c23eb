import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { baselineSchema } from '../../../server/cli/baseline.ts'
import { call, folderOf, GATE, ONE_ERROR, ONE_WARNING } from './call.ts'

const record = async (folder: string, ...args: string[]) => call(folder, ['baseline', '-o', 'known.json', ...args])
const against = async (folder: string, ...args: string[]) =>
  call(folder, ['check', '--baseline', 'known.json', ...args])
const put = (folder: string, name: string, text: string): void => writeFileSync(join(folder, name), text)
const SAGS = GATE.replace('nps5_std', 'nps2_std')

describe('only what is new counts', () => {
  it('nothing has changed', async () => {
    const folder = folderOf({ 'gate.door': ONE_ERROR })
    const r = await record(folder)
    expect(r).toEqual({ status: 0, out: 'known.json: 1 finding recorded.\n', err: '' })
    expect(await against(folder)).toEqual({
      status: 0,
      out: '1 file: nothing found; 1 known from the baseline.\n',
      err: 'doorwright: known.json: 1 finding known.\n',
    })
  })

  it('lines moved, blanks and other numbers in the message are nothing new', async () => {
    const text = GATE.replace('2 turns', '1 1/2 turns')
    const folder = folderOf({ 'gate.door': text })
    const said = async () =>
      JSON.parse((await call(folder, ['check', '--format', 'json'])).out).files[0].findings.map(
        (f: { rule: string; message: string }) => `${f.rule}: ${f.message}`,
      )
    const before = await said()
    await record(folder)
    put(folder, 'gate.door', `# moved\n\n${text.replace('coils    = 120', 'coils  =  125').replaceAll('\n', '\r\n')}`)
    const after = await said()
    expect(after).toHaveLength(before.length)
    expect(after).not.toEqual(before)
    expect((await against(folder, '--max-warnings', '0')).status).toBe(0)
  })

  it('one more of the same kind is new', async () => {
    const folder = folderOf({ 'gate.door': ONE_ERROR })
    await record(folder)
    put(folder, 'gate.door', ONE_ERROR.replace('colour', 'shade = 1\n  colour'))
    const r = await against(folder)
    expect(r.status).toBe(1)
    expect(r.out).toContain('`shade`')
    expect(r.out).not.toContain('`colour`.')
    // the very same twice: it knows one of them
    put(folder, 'gate.door', ONE_ERROR.replace('  colour   = 3\n', '  colour   = 3\n  colour   = 3\n'))
    expect((await against(folder)).status).toBe(1)
  })

  it('of what is missing at one place, it knows each by itself', async () => {
    const rails = GATE.replace(/ {2}rails \{[^}]*\}\n/, '')
    const drum = GATE.replace(/ {2}drum \{[^}]*\}\n/, '')
    const folder = folderOf({ 'gate.door': rails })
    await record(folder)
    expect((await against(folder, '--max-warnings', '0')).status).toBe(0)
    put(folder, 'gate.door', drum)
    expect((await against(folder, '--max-warnings', '0')).status).toBe(1)
  })

  it('another value is looked at anew, and another opening or file', async () => {
    const folder = folderOf({ 'gate.door': ONE_ERROR })
    await record(folder)
    put(folder, 'gate.door', ONE_ERROR.replace('"Gate"', '"Gate 2"'))
    expect((await against(folder)).status).toBe(1)
    put(folder, 'gate.door', ONE_ERROR)
    put(folder, 'other.door', ONE_ERROR)
    expect((await against(folder)).status).toBe(1)
  })

  it('what got more severe is new', async () => {
    const folder = folderOf({ 'gate.door': ONE_WARNING })
    await record(folder)
    put(folder, 'doorwright.json', '{ "severity": { "allow_unused": "error" } }')
    expect((await against(folder)).status).toBe(1)
    await record(folder)
    put(folder, 'doorwright.json', '{ "severity": { "allow_unused": "note" } }')
    expect((await against(folder)).status).toBe(0)
  })

  it('warnings that it knows do not count for --max-warnings or the project file', async () => {
    const folder = folderOf({ 'gate.door': ONE_WARNING, 'doorwright.json': '{ "max_warnings": 0 }' })
    expect((await call(folder, ['check'])).status).toBe(1)
    await record(folder)
    expect((await against(folder)).status).toBe(0)
    expect((await against(folder, '--max-warnings', '0')).status).toBe(0)
  })
})

describe('what keeps people safe', () => {
  // rule preload_increment: a wheel cannot be pinned between two holes; nobody can accept it
  const BETWEEN = GATE.replace('2 turns', '1.7 turns')

  it('is never recorded, and counts', async () => {
    const folder = folderOf({ 'gate.door': BETWEEN })
    const r = await record(folder)
    expect(r.err).toContain('1 error of rules that keep people safe is not recorded: it counts until put right.')
    expect(readFileSync(join(folder, 'known.json'), 'utf8')).not.toContain('preload_increment')
    expect((await against(folder)).status).toBe(1)
  })

  it('counts even where somebody wrote it into the baseline', async () => {
    const folder = folderOf({ 'gate.door': BETWEEN })
    await record(folder)
    const sarif = JSON.parse((await call(folder, ['check', '--format', 'sarif'])).out)
    const print = sarif.runs[0].results.find((r: { ruleId: string }) => r.ruleId === 'preload_increment')
      .partialFingerprints['doorFinding/v1']
    const data = baselineSchema.parse(JSON.parse(readFileSync(join(folder, 'known.json'), 'utf8')))
    data.findings.push({
      file: 'gate.door',
      opening: 'Gate',
      rule: 'preload_increment',
      severity: 'error',
      block: 'adjuster',
      fingerprint: print.split(':')[0],
      count: 1,
    })
    put(folder, 'known.json', JSON.stringify(data))
    const r = await against(folder)
    expect(r.status).toBe(1)
    expect(r.out).toContain('preload_increment')
  })
})

describe('what is gone', () => {
  it('is told: put right, or the whole file', async () => {
    const folder = folderOf({ 'a.door': ONE_ERROR, 'b.door': ONE_ERROR })
    await record(folder)
    put(folder, 'a.door', GATE)
    rmSync(join(folder, 'b.door'))
    const r = await against(folder)
    expect(r.status).toBe(0)
    expect(r.err).toBe(
      'doorwright: known.json: 0 findings known, 2 gone; write it anew to leave them out.\ndoorwright:   gone: a.door  Gate  unknown_field\ndoorwright:   gone: b.door  Gate  unknown_field\n',
    )
  })

  it('not of files that were not looked at', async () => {
    const folder = folderOf({ 'a.door': ONE_ERROR, 'b.door': ONE_ERROR })
    await record(folder)
    expect((await against(folder, 'a.door')).err).toBe('doorwright: known.json: 1 finding known.\n')
  })
})

describe('in the reports', () => {
  it('JSON counts it; SARIF has it as suppressed; neither is there without a baseline', async () => {
    const folder = folderOf({ 'gate.door': ONE_ERROR })
    await record(folder)
    expect(JSON.parse((await against(folder, '--format', 'json')).out).summary).toEqual({
      files: 1,
      errors: 0,
      warnings: 0,
      notes: 0,
      accepted: 0,
      known: 1,
      gone: 0,
    })
    const [result] = JSON.parse((await against(folder, '--format', 'sarif')).out).runs[0].results
    expect(result.suppressions).toEqual([{ kind: 'external', justification: 'It stands in the baseline.' }])
    expect(JSON.parse((await call(folder, ['check', '--format', 'json'])).out).summary).not.toHaveProperty('known')
  })

  it.each(['github', 'junit'])('%s leaves it out', async format => {
    const folder = folderOf({ 'gate.door': ONE_ERROR })
    await record(folder)
    expect((await against(folder, '--format', format)).out).not.toContain('unknown_field')
  })
})

describe('the file', () => {
  it('is the same bytes, whatever the order, and names no line', async () => {
    const folder = folderOf({ 'a/x.door': SAGS, 'b.door': ONE_ERROR, 'c.door': ONE_WARNING })
    const one = (await call(folder, ['baseline', 'c.door', 'b.door', 'a'])).out
    expect((await call(folder, ['baseline'])).out).toBe(one)
    expect(baselineSchema.parse(JSON.parse(one)).findings.length).toBeGreaterThan(3)
    expect(one).not.toMatch(/"line"|"message"|\/tmp/)
    put(folder, 'b.door', `# moved\n${ONE_ERROR}`)
    expect((await call(folder, ['baseline'])).out).toBe(one)
  })

  it('names files from where it lies, so it can be used from any folder', async () => {
    const folder = folderOf({ 'jobs/gate.door': ONE_ERROR })
    mkdirSync(join(folder, 'ci'))
    expect((await call(folder, ['baseline', '-o', 'ci/known.json'])).status).toBe(0)
    expect(JSON.parse(readFileSync(join(folder, 'ci/known.json'), 'utf8')).findings[0].file).toBe('../jobs/gate.door')
    expect((await call(join(folder, 'jobs'), ['check', '--baseline', '../ci/known.json'])).status).toBe(0)
  })

  it('is not written where something could not be looked at', async () => {
    const before = '{ "version": 1, "findings": [] }'
    const folder = folderOf({ 'gate.door': ONE_ERROR, 'bad.door': new Uint8Array([0]), 'known.json': before })
    const r = await record(folder)
    expect(r.status).toBe(2)
    expect(r.err).toContain('No baseline was written')
    expect(readFileSync(join(folder, 'known.json'), 'utf8')).toBe(before)
  })

  it('accepted findings are not in it', async () => {
    const folder = folderOf({ 'gate.door': SAGS.replace('  cycles', '  allow drum_sag because "agreed"\n  cycles') })
    expect((await call(folder, ['baseline'])).out).not.toContain('drum_sag')
  })

  it.each([
    [
      'gone.json',
      undefined,
      'gone.json cannot be found. --baseline takes a file that was written by: doorwright baseline -o gone.json',
    ],
    ['known.json', '{ "version": 1,', 'known.json is not JSON: '],
    [
      'known.json',
      '<<<<<<< ours\n{ "version": 1, "findings": [] }\n',
      'It has the marks of a merge that was not finished. Write it anew',
    ],
    ['known.json', '[]', 'known.json is not a baseline: it: '],
    ['known.json', 'null', 'known.json is not a baseline: it: '],
    [
      'known.json',
      '{ "version": 2, "findings": [] }',
      'known.json is a baseline of version 2; this doorwright reads version 1.',
    ],
    [
      'known.json',
      '{ "version": 1, "findings": [{ "file": "a.door", "opening": null, "rule": "x", "severity": "error", "block": null, "fingerprint": "zz", "count": 1 }] }',
      'known.json is not a baseline: findings[0].fingerprint: ',
    ],
    [
      'known.json',
      '{ "version": 1, "findings": [{ "file": "a.door", "opening": null, "rule": "x", "severity": "error", "block": null, "fingerprint": "0123456789abcdef", "count": 0 }] }',
      'findings[0].count: ',
    ],
  ])('%s with %j is refused in words', async (name, text, message) => {
    const folder = folderOf({ 'gate.door': GATE, ...(text !== undefined && { [name]: text }) })
    const r = await call(folder, ['check', '--baseline', name])
    expect([r.status, r.out]).toEqual([2, ''])
    expect(r.err).toContain(message)
    expect(r.err).toContain('doorwright baseline -o')
  })

  it('is not written over a job', async () => {
    const folder = folderOf({ 'gate.door': GATE })
    expect((await call(folder, ['baseline', '-o', 'gate.door'])).err).toContain('would write a report over a job')
    expect(readFileSync(join(folder, 'gate.door'), 'utf8')).toBe(GATE)
  })

  it('is not written over something else, nor is that advised', async () => {
    const folder = folderOf({ 'gate.door': GATE, 'house.json': '{ "max_warnings": 0 }', 'empty.json': '' })
    const r = await call(folder, ['baseline', '-o', 'house.json'])
    expect([r.status, r.err]).toEqual([
      2,
      'doorwright: house.json is something else than a baseline, and would be overwritten. Name another file.\n',
    ])
    expect(readFileSync(join(folder, 'house.json'), 'utf8')).toBe('{ "max_warnings": 0 }')
    const read = await call(folder, ['check', '--baseline', 'house.json'])
    expect([read.status, read.err]).toEqual([2, expect.not.stringContaining('-o house.json')])
    // an earlier one, one with the marks of a merge, and an empty file are
    put(folder, 'merge.json', '<<<<<<< ours\n{ "version": 1, "findings": [] }\n')
    for (const name of ['empty.json', 'empty.json', 'merge.json'])
      expect((await call(folder, ['baseline', '-o', name])).status, name).toBe(0)
  })
})
