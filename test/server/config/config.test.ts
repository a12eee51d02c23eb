/** The project file: what is in force, what is refused, and where. */
import { describe, expect, it } from 'vitest'
import { type Config, readConfig } from '../../../server/config/index.ts'
import { call, folderOf, GATE, ONE_WARNING } from '../cli/call.ts'

const read = (json: unknown): Config => readConfig(JSON.stringify(json, null, 2), '/jobs/doorwright.json')

/** Reads a text with one «marked» part; the one problem has to stand there. */
function problem(marked: string): string {
  const start = marked.indexOf('«')
  const config = readConfig(marked.replace(/[«»]/g, ''), '/jobs/doorwright.json')
  const text = marked.replace(/[«»]/g, '')
  const offset = ({ line, character }: { line: number; character: number }): number =>
    text
      .split('\n')
      .slice(0, line)
      .reduce((n, l) => n + l.length + 1, 0) + character
  expect(config.problems.map(p => p.message)).toHaveLength(1)
  const [{ message, range }] = config.problems as [Config['problems'][number]]
  expect([offset(range.start), offset(range.end)]).toEqual([start, marked.indexOf('»') - 1])
  return message
}

describe('doorwright.json', () => {
  it.each(['', '  \n', '{}', '{ } // nothing yet'])('says nothing and is no fault: %j', text => {
    expect(readConfig(text, 'x')).toMatchObject({ limits: '', severity: {}, stock: [], exclude: [], problems: [] })
  })

  it.each([
    ['{ «"limit"»: {} }', 'There is no setting "limit" here. Did you mean "limits"?'],
    ['{ "limits": { «"drum_sagg"»: "0.02 in/ft" } }', 'There is no limit "drum_sagg" here. Did you mean "drum_sag"?'],
    ['{ "severity": { «"rail_dept"»: "off" } }', 'There is no rule "rail_dept" here. Did you mean "rail_depth"?'],
    ['{ "severity": { "rail_depth": «"of"» } }', 'How severe a rule is: "error", "warning", "note" or "off".'],
    [
      '{ "severity": { "spring_yield": «"warning"» } }',
      '"spring_yield" stays an error: it keeps people safe. Remove this line.',
    ],
    [
      '{ "severity": { "spring_hand": «"off"» } }',
      '"spring_hand" stays an error: it keeps people safe. Remove this line.',
    ],
    [
      '{ "severity": { "syntax": «"note"» } }',
      '"syntax" stays an error: what is wrong there has to be put right. Remove this line.',
    ],
    ['{ "max_warnings": «-1» }', 'Expected a whole number, 0 or more.'],
    ['{ "exclude": ["a/**", «3»] }', 'Expected a path in quotes.'],
    ['{ "limits": { "drum_sag": «"1 kg"» } }', '`1 kg` is a mass.'],
    ['{ "limits": { "drum_sag": «"0.02 inn/ft"» } }', 'inn'],
    [
      '{ "limits": { "hood_span": «"12ft } slat x {"» } }',
      'A limit is written as in the language, in quotes: "hood_span":',
    ],
    ['{ "limits": { "drum_sag": «"0.05 in/ft"» } }', 'looser than the usual'],
    ['{ "limits": { "chain_safety": «4» } }', 'looser than the usual'],
    [
      '{ "limits": { "door_speed": «["0.1 m/s", "0.25 m/s"]» } }',
      'Write { "value": ["0.1 m/s", "0.25 m/s"], "because": "..." } with the reason',
    ],
    ['{ "limits": { "drum_sag": «{ "value": "0.05 in/ft", "because": " " }» } }', 'looser than the usual'],
    ['{ "max_warnings": 1, «"max_warnings"»: 2 }', '"max_warnings" stands twice here. Remove one of them.'],
    ['«[]»', 'A project file is an object'],
  ])('%s', (marked, message) => {
    expect(problem(marked)).toContain(message)
  })

  it('says where it is no JSON, and survives anything', () => {
    expect(readConfig('{ "limits" { } }', 'x').problems[0]).toMatchObject({
      message: 'Expected : after the name.',
      range: { start: { line: 0, character: 11 } },
    })
    for (const text of [
      '[',
      '{"a',
      '{"limits":{"drum_sag":{',
      '['.repeat(200_000),
      '\u0000',
      '{"__proto__":{"limits":3}}',
      '"',
      'null',
      '{"limits":null}',
    ])
      expect(readConfig(text, 'x').problems.length, text.slice(0, 30)).toBeGreaterThan(0)
  })

  it('keeps what is right beside what is wrong', () => {
    const c = read({
      limits: { drum_sag: '0.02 in/ft', push_force: '40 lbf' },
      severity: { rail_depth: 'off', nonsense: 'off' },
    })
    expect(c.problems).toHaveLength(2)
    expect(c.limits).toContain('drum_sag = 0.02 in/ft')
    expect(c.limits).not.toContain('push_force')
    expect(c.severity).toEqual({ rail_depth: 'off' })
  })

  it('hands its limits on, each on its line', () => {
    const c = readConfig(
      '{\n  "limits": {\n    "drum_sag": "0.02 in/ft",\n    "push_force": { "value": "30 lbf", "because": "two \\"strong\\" people" }\n  }\n}\n',
      'x',
    )
    expect(c.problems).toEqual([])
    expect(c.limits.split('\n')[2]).toMatch(/drum_sag = 0.02 in\/ft$/)
    expect(c.limits.split('\n')[3]).toBe('     push_force = 30 lbf because "two \\"strong\\" people"')
  })
})

/** The gate's drum sags 0.0274 in over 10 ft 9 in, by the tool itself: what is tested is which limit it is held against. */
const SAG = (limit: string, more = GATE): Record<string, string> => ({
  'doorwright.json': `{\n  "limits": { "drum_sag": ${limit} }\n}`,
  'gate.door': more,
})

describe('the limits of the house', () => {
  it('hold where the job says nothing, and say where they come from', async () => {
    const r = await call(folderOf(SAG('"0.0001 in/ft"')), ['check'])
    expect(r.out).toMatch(/warning {2}drum_sag/)
    expect(r.out).toContain('set in doorwright.json')
  })

  it('name their reason', async () => {
    const r = await call(folderOf(SAG('{ "value": "0.0001 in/ft", "because": "old pipes" }')), ['check'])
    expect(r.out.replace(/\s+/g, ' ')).toContain('set in doorwright.json, because old pipes')
  })

  it('are the farthest: a used file, the file and the opening come before', async () => {
    const nearer = 'limits { drum_sag = 0.02 in/ft because "agreed" }\n'
    const files = [
      SAG('"0.0001 in/ft"', nearer + GATE),
      { ...SAG('"0.0001 in/ft"', `use "house.door"\n${GATE}`), 'house.door': nearer },
      SAG('"0.0001 in/ft"', GATE.replace('  curtain', `  ${nearer}  curtain`)),
    ]
    for (const f of files)
      expect((await call(folderOf(f), ['check', 'gate.door'])).out).toBe('1 file: nothing found.\n')
  })

  it('cannot be loosened by a job without a reason', async () => {
    const r = await call(folderOf(SAG('"0.0001 in/ft"', `limits { drum_sag = 0.02 in/ft }\n${GATE}`)), [
      'check',
      'gate.door',
    ])
    expect(r.status).toBe(1)
    expect(r.out).toMatch(/error {2}limit_loosened/)
    expect(r.out).toMatch(/of doorwright\.json/)
    expect(r.out).toMatch(/see +doorwright\.json:2:16/)
  })

  it('that are wrong are said with their place, and end in status 2', async () => {
    const r = await call(folderOf(SAG('"0.1 in/ft"')), ['check'])
    expect(r.status).toBe(2)
    expect(r.err).toMatch(/^doorwright: doorwright\.json:2:27 {2}`drum_sag` is set to .* looser than the usual/)
    expect(r.err.match(/looser/g)).toHaveLength(1)
  })
})

describe('severity, exclude, max_warnings', () => {
  const unused = (more: object): Record<string, string> => ({
    'doorwright.json': JSON.stringify(more),
    'gate.door': ONE_WARNING,
  })

  it('makes a rule more or less severe, or silent', async () => {
    const said = async (s: string) => call(folderOf(unused({ severity: { allow_unused: s } })), ['check'])
    expect((await said('error')).out).toMatch(/error {2}allow_unused/)
    expect((await said('error')).status).toBe(1)
    expect((await said('note')).out).toMatch(/1 note/)
    expect((await said('off')).out).toBe('1 file: nothing found.\n')
  })

  it('does not make worse what the rule itself calls milder', async () => {
    const noHand = GATE.replace('    hand     = right\n', '')
    const note = async (config: object) =>
      (await call(folderOf({ 'doorwright.json': JSON.stringify(config), 'gate.door': noHand }), ['check'])).out
    expect(await note({})).toMatch(/note {2}spring_hand/)
    expect(await note({ severity: { spring_hand: 'error' } })).toMatch(/note {2}spring_hand/)
  })

  it('counts warnings by project file, unless the call says how many', async () => {
    const folder = folderOf({
      ...unused({ max_warnings: 0 }),
      'other/doorwright.json': '{ "max_warnings": 5 }',
      'other/gate.door': ONE_WARNING,
    })
    expect(await call(folder, ['check'])).toMatchObject({
      status: 1,
      err: 'doorwright: 1 warning; doorwright.json allows 0.\n',
    })
    expect((await call(folder, ['check', 'other'])).status).toBe(0)
    expect((await call(folder, ['check', '--max-warnings', '9'])).status).toBe(0)
  })

  it('keeps files out of their folder, but not out of a call that names them', async () => {
    const folder = folderOf({
      ...unused({ exclude: ['old', '**/draft-*.door'] }),
      'old/a/gate.door': ONE_WARNING,
      'new/draft-1.door': ONE_WARNING,
    })
    expect((await call(folder, ['check'])).out).toMatch(/^.*\n[\s\S]*1 file:/)
    expect((await call(folder, ['check', 'old/a/gate.door', 'new/draft-1.door'])).out).toMatch(/2 files:/)
    expect((await call(folder, ['check', 'old'])).err).toContain(
      'The project file excludes every .door file in the folder old',
    )
  })
})

describe('--config and --print-config', () => {
  it('takes another file in place of the nearest', async () => {
    const folder = folderOf({ ...SAG('"0.0001 in/ft"'), 'house.json': '{ "limits": { "drum_sag": "0.02 in/ft" } }' })
    expect((await call(folder, ['check', '--config', 'house.json'])).out).toBe('1 file: nothing found.\n')
    expect(await call(folder, ['check', '--config', 'nowhere.json'])).toMatchObject({
      status: 2,
      err: expect.stringContaining('nowhere.json cannot be found'),
    })
  })

  it.each([
    ['check', 'gate.door'],
    ['derive', 'gate.door', '--explain', 'limits.drum_sag'],
    ['sheet', 'gate.door', '-o', '-'],
    ['compare', 'gate.door', 'other.door', '--format', 'json'],
    ['baseline', 'gate.door'],
    ['size', 'gate.door', '--opening', 'Gate', '--format', 'json'],
  ])('counts for %s', async (...args) => {
    // the house's limit is far below what any pipe comes to
    const folder = folderOf({ ...SAG('"0.02 in/ft"'), 'other.door': GATE.replace('10ft 9in', '10ft 10in'), 'house.json': '{ "limits": { "drum_sag": "0.00001 in/ft" } }' }) // biome-ignore format: one folder
    const usual = await call(folder, args)
    const house = await call(folder, [...args, '--config', 'house.json'])
    expect(usual.status).not.toBe(2)
    expect(house.status).not.toBe(2)
    expect(house.out).not.toBe(usual.out)
  })

  it.each(['check', 'fmt', 'derive', 'size', 'sheet', 'baseline'])('decides which files %s passes over', async name => {
    const folder = folderOf({ 'old/gate.door': GATE, 'house.json': '{ "exclude": ["old"] }' })
    expect(await call(folder, [name, '--config', 'house.json'])).toMatchObject({
      status: 2,
      err: expect.stringContaining('The project file excludes every .door file in this folder or below it.'),
    })
  })

  it.each(['check', 'fmt', 'derive', 'size', 'sheet', 'baseline', 'compare'])('%s refuses what is none', async name => {
    const folder = folderOf({ 'gate.door': GATE, 'bad.json': '{' })
    const at = (config: string) => call(folder, [name, ...(name === 'compare' ? ['gate.door', 'gate.door'] : []), '--config', config]) // biome-ignore format: one call
    expect(await at('gate.door')).toMatchObject({ status: 2, out: '', err: expect.stringContaining('is a job') })
    expect(await at('.')).toMatchObject({ status: 2, out: '', err: expect.stringContaining('is a folder') })
    expect(await at('bad.json')).toMatchObject({ status: 2, err: expect.stringContaining('bad.json:1:2') })
  })

  it('shows what is in force and where it comes from', async () => {
    const folder = folderOf({ ...SAG('{ "value": "0.02 in/ft", "because": "old pipes" }'), 'b.door': GATE })
    const { out, status } = await call(folder, ['check', '--print-config'])
    expect(status).toBe(0)
    expect(out).toMatch(/^doorwright\.json {2}for b\.door and 1 more/)
    expect(out).toMatch(/limits\.drum_sag +0\.02 in\/ft +doorwright\.json:2, because old pipes/)
    expect(out).toMatch(/limits\.hood_span +12ft +usual: /)
  })
})
