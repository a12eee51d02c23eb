/** `compare`: files, folders and git revisions, as text, for a pull request and for other programs. */
import { execFileSync } from 'node:child_process'
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { compareSchema } from '../../../server/cli/formats/compare_json.ts'
import { comparisonAsMarkdown, LONGEST_COMMENT, plain } from '../../../server/cli/formats/compare_markdown.ts'
import { compare, Service } from '../../../server/service.ts'
import { call, folderOf, GATE, ONE_ERROR } from './call.ts'

const HEAVIER = GATE.replace('weight    = 2.4', 'weight    = 2.9')
const WRONG = GATE.replace('preload = 2 turns', 'preload = 1.9 turns')

function git(folder: string, ...args: string[]): void {
  execFileSync(
    'git',
    ['-c', 'user.email=fitter@example.com', '-c', 'user.name=Fitter', '-c', 'commit.gpgsign=false', ...args],
    { cwd: folder, stdio: 'ignore' },
  )
}
function write(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true })
    writeFileSync(join(folder, name), text)
  }
}
/** A repository with the files committed on `main`. */
function repository(files: Readonly<Record<string, string>>): string {
  const folder = folderOf(files)
  git(folder, 'init', '-q', '-b', 'main')
  git(folder, 'add', '-A')
  git(folder, 'commit', '-q', '-m', 'one')
  return folder
}

describe('files and folders', () => {
  it('says what changed in the door', async () => {
    const r = await call(folderOf({ 'old.door': GATE, 'new.door': HEAVIER }), ['compare', 'old.door', 'new.door'])
    expect(r).toMatchObject({ status: 0, err: '' })
    expect(r.out).toMatch(/^Gate {2}new\.door {2}job HS-2250\n/)
    expect(r.out).toMatch(
      /written\n {4}curtain\.slat\.weight {2}2\.4 lb\/ft\^2 → 2\.9 lb\/ft\^2 {2}\+0\.5 lb\/ft\^2 \(\+21 %\)/,
    )
    expect(r.out).toMatch(/follows from it\n[\s\S]* {4}curtain\.weight /)
    expect(r.out).toMatch(/margin to the limit\n/)
    expect(r.out).toContain('\nWound springs can maim or kill\n')
  })

  it('says so where nothing did', async () => {
    const r = await call(folderOf({ 'old.door': GATE, 'new.door': GATE.replace(/ +=/g, ' =') }), [
      'compare',
      'old.door',
      'new.door',
    ])
    expect(r).toEqual({
      status: 0,
      out: 'Nothing changed in the one opening: every value and every finding is as it was.\n',
      err: '',
    })
  })

  it('compares folders file by file', async () => {
    const folder = folderOf({
      'a/x/1.door': GATE,
      'a/2.door': GATE.replace('HS-2250', 'HS-2'),
      'b/x/1.door': HEAVIER,
      'b/2.door': GATE.replace('HS-2250', 'HS-2'),
    })
    const r = await call(folder, ['compare', 'a', 'b'])
    expect(r.out).toMatch(/^Gate {2}x\/1\.door/)
    expect(r.out).toContain('1 opening as before.')
  })

  it('fails on new errors only where it is asked to', async () => {
    const folder = folderOf({ 'old.door': GATE, 'new.door': WRONG })
    expect((await call(folder, ['compare', 'old.door', 'new.door'])).status).toBe(0)
    const r = await call(folder, ['compare', 'old.door', 'new.door', '--fail-on', 'new-errors'])
    expect(r.status).toBe(1)
    expect(r.out).toMatch(/new +error {2}preload_increment {2}keeps people safe/)
    expect((await call(folder, ['compare', 'new.door', 'old.door', '--fail-on', 'new-errors'])).status).toBe(0)
    expect((await call(folder, ['compare', 'new.door', 'new.door', '--fail-on', 'new-errors'])).status).toBe(0)
  })

  it('says once what it could not read, by its name, and compares nothing with nothing', async () => {
    const folder = folderOf({ 'old.door': GATE })
    for (const name of ['a', 'b']) mkdirSync(join(folder, name))
    expect(await call(folder, ['compare', 'a', 'b'])).toEqual({
      status: 2,
      out: '',
      err: `doorwright: No .door file lies in the folder b or below it.
doorwright: No .door file lies in the folder a or below it.
doorwright: Nothing could be read of either version, so there is nothing to compare.
`,
    })
  })

  it.each([
    [['compare', 'old.door'], 'compare needs two versions'],
    [
      ['compare', 'old.door', 'gone.door'],
      '"gone.door" is neither a file or folder here, nor a revision that git knows.',
    ],
    [['compare', 'old.door', '--upload-pack=x'], "unknown option '--upload-pack=x'"],
    [
      ['compare', 'old.door', 'old.door', '--format', 'sarif'],
      'There is no format "sarif" here. There are: pretty, text, markdown, json.',
    ],
    [['compare', 'old.door', 'old.door', '--fail-on', 'all'], '--fail-on takes new-errors, not "all".'],
    [['compare', 'old.door', 'old.door', '--units', 'yards'], '--units takes imperial or metric'],
  ])('refuses %j', async (args, said) => {
    const r = await call(folderOf({ 'old.door': GATE }), args)
    expect(r).toMatchObject({ status: 2, out: '' })
    expect(r.err).toContain(said)
  })
})

describe('git revisions', () => {
  it('against the work tree, and against each other', async () => {
    const folder = repository({ 'jobs/gate.door': GATE })
    expect((await call(folder, ['compare', 'main'])).out).toContain('Nothing changed in the one opening')
    write(folder, { 'jobs/gate.door': HEAVIER })
    expect((await call(folder, ['compare', 'main'])).out).toMatch(/^Gate {2}jobs\/gate\.door/)
    expect((await call(folder, ['compare', 'main', 'HEAD'])).out).toContain('Nothing changed')
    git(folder, 'commit', '-q', '-a', '-m', 'two')
    expect((await call(folder, ['compare', 'HEAD~1', 'HEAD'])).out).toMatch(/curtain\.slat\.weight/)
    expect((await call(folder, ['compare', 'HEAD~1:jobs/gate.door', 'jobs/gate.door'])).out).toMatch(
      /curtain\.slat\.weight/,
    )
    expect((await call(join(folder, 'jobs'), ['compare', 'HEAD~1:./gate.door'])).out).toMatch(/curtain\.slat\.weight/)
  })

  it('takes `use` and the project file from inside the revision', async () => {
    const slat = 'slat s { pitch = 2 1/2in; thickness = 3/4in; weight = 2.4 lb/ft^2 }\n'
    const job = `use "../stock/s.door"\n${GATE.replace(/slat \{[^}]*\}/, 'slat = s')}`
    const folder = repository({
      'jobs/gate.door': job,
      'stock/s.door': slat,
      'doorwright.json': '{ "limits": { "drum_sag": "0.02 in/ft" } }',
    })
    write(folder, {
      'stock/s.door': slat.replace('2.4', '2.9'),
      'doorwright.json': '{ "limits": { "drum_sag": "0.01 in/ft" } }',
    })
    const { out } = await call(folder, ['compare', 'main', '--format', 'json'])
    const [gate] = compareSchema.parse(JSON.parse(out)).openings
    expect(gate!.values.filter(v => v.kind === 'written').map(v => [v.name, v.before!.text, v.after!.text])).toEqual(
      expect.arrayContaining([['curtain.slat.weight', '2.4 lb/ft^2', '2.9 lb/ft^2']]),
    )
    expect(gate!.values.find(v => v.name === 'limits.drum_sag')!.difference!.part).toBeCloseTo(-0.5, 9)
    rmSync(join(folder, 'stock'), { recursive: true })
    expect((await call(folder, ['compare', 'main', 'HEAD'])).out).toContain('Nothing changed')
  })

  it('covers the folder that it is called in, and tells doors that came and went', async () => {
    const folder = repository({ 'a/1.door': GATE, 'b/2.door': GATE.replace('"Gate"', '"Other"') })
    rmSync(join(folder, 'a/1.door'))
    write(folder, { 'a/3.door': 'job "N" { }\nopening "Hatch" { width = 3ft; height = 3ft }\n', 'b/2.door': WRONG })
    const r = await call(join(folder, 'a'), ['compare', 'HEAD'])
    expect(r.out).toMatch(/Hatch {2}added/)
    expect(r.out).toMatch(/Gate {2}removed/)
    expect(r.out).not.toContain('Other')
  })

  it('passes over in both what the later version excludes', async () => {
    const folder = repository({ 'gate.door': GATE, 'old/gate.door': WRONG.replace('HS-2250', 'HS-1') })
    write(folder, { 'doorwright.json': '{ "exclude": ["old"] }' })
    expect((await call(folder, ['compare', 'main'])).out).toContain('Nothing changed in the one opening')
  })

  it('finds renamed doors in a large change', async () => {
    const job = (i: number, mark: string, text = GATE): string =>
      text.replace('HS-2250', `${mark}-${i}`).replace('"Gate"', `"${mark} ${i}"`)
    const numbers = Array.from({ length: 150 }, (_, i) => i)
    const folder = repository(Object.fromEntries(numbers.map(i => [`${i}.door`, job(i, 'Gate')])))
    write(folder, Object.fromEntries(numbers.map(i => [`${i}.door`, job(i, 'Bay', HEAVIER)])))
    const { out } = await call(folder, ['compare', 'main', '--format', 'json'])
    const { openings } = compareSchema.parse(JSON.parse(out))
    expect(openings.map(o => [o.kind, o.was]).sort()).toEqual(numbers.map(i => ['renamed', `Gate ${i}`]).sort())
  })

  it('knows nothing outside of a repository, and obeys no name that looks like an option', async () => {
    const folder = repository({ 'gate.door': GATE })
    for (const name of ['no-such-branch', 'HEAD:gone.door', ':', 'HEAD~99', ''])
      expect((await call(folder, ['compare', name, 'gate.door'])).status, name).toBe(2)
    expect((await call(folder, ['compare', '--', '--output=x', 'gate.door'])).err).toContain('"--output=x" is neither')
  })
})

describe('--baseline', () => {
  // rule preload_balance: a warning in an opening; unknown_field: an error of the language
  const FAR = ONE_ERROR.replace('2 turns', '2 1/2 turns')
  const record = async (folder: string) => call(folder, ['baseline', '-o', 'known.json'])
  const against = async (folder: string, ...args: string[]) =>
    call(folder, ['compare', 'main', '--baseline', 'known.json', '--fail-on', 'new-errors', ...args])

  it('what it has is known, not new, and fails nothing', async () => {
    const folder = repository({ 'jobs/gate.door': GATE })
    write(folder, { 'jobs/gate.door': FAR })
    expect((await call(folder, ['compare', 'main', '--fail-on', 'new-errors'])).status).toBe(1)
    await record(folder)
    const r = await against(folder)
    expect([r.status, r.err]).toEqual([0, ''])
    expect(r.out).toMatch(/\n {2}known {5}2 findings: unknown_field \(error\), preload_balance \(warning\)\n/)
    expect(r.out).not.toMatch(/^ {2}new /m)
    expect(r.out.replace(/\s+/g, ' ')).toContain('no new finding; 2 known from the baseline; 0 fixed')
    const { openings, others, summary } = compareSchema.parse(
      JSON.parse((await against(folder, '--format', 'json')).out),
    )
    expect(summary).toMatchObject({ new: 0, new_errors: 0, known: 2 })
    expect([...openings, ...others].flatMap(o => o.findings.known!.map(f => f.rule)).sort()).toEqual([
      'preload_balance',
      'unknown_field',
    ])
    const markdown = (await against(folder, '--format', 'markdown')).out
    expect(markdown).toContain('<details><summary>2 findings known from the baseline</summary>')
    expect(markdown).not.toContain('**New')
  })

  it('what it has not is new, beside what it has', async () => {
    const folder = repository({ 'gate.door': GATE })
    write(folder, { 'gate.door': FAR })
    await record(folder)
    write(folder, { 'gate.door': FAR.replace('colour', 'shade = 1\n  colour') })
    const r = await against(folder)
    expect(r.status).toBe(1)
    expect(r.out.match(/^ {2}new .*$/gm)).toHaveLength(1)
    expect(r.out).toContain('no field `shade`')
    // the same finding in another file is another one
    write(folder, { 'gate.door': FAR, 'other.door': FAR.replace('HS-2250', 'HS-2251') })
    expect((await against(folder)).status).toBe(1)
  })

  it('of the same twice it has one', async () => {
    const folder = repository({ 'gate.door': GATE })
    write(folder, { 'gate.door': ONE_ERROR })
    await record(folder)
    write(folder, { 'gate.door': ONE_ERROR.replace('  colour   = 3\n', '  colour   = 3\n  colour   = 3\n') })
    const { summary } = JSON.parse((await against(folder, '--format', 'json')).out)
    expect(summary).toMatchObject({ known: 1 })
    expect(summary.new_errors).toBeGreaterThan(0)
  })

  it('never has what keeps people safe', async () => {
    const folder = repository({ 'gate.door': GATE })
    write(folder, { 'gate.door': WRONG })
    await record(folder)
    expect((await against(folder)).status).toBe(1)
  })

  it('says nothing of what was there before; a revision may be the later version', async () => {
    const folder = repository({ 'gate.door': FAR })
    await record(folder)
    expect((await against(folder)).out).toContain('Nothing changed in the one opening')
    write(folder, { 'gate.door': GATE })
    git(folder, 'commit', '-q', '-a', '-m', 'two')
    const back = ['compare', 'HEAD', 'HEAD~1', '--baseline', 'known.json', '--format', 'json']
    expect(JSON.parse((await call(folder, back)).out).summary).toMatchObject({ new: 0, known: 2 })
  })

  it('one that cannot be used is refused', async () => {
    const folder = repository({ 'gate.door': GATE })
    expect(await against(folder)).toMatchObject({
      status: 2,
      out: '',
      err: expect.stringContaining('known.json cannot be found'),
    })
  })
})

describe('--format json', () => {
  it('is what the schema says', async () => {
    const r = await call(folderOf({ 'old.door': GATE, 'new.door': WRONG }), [
      'compare',
      'old.door',
      'new.door',
      '--format',
      'json',
    ])
    const c = compareSchema.parse(JSON.parse(r.out))
    expect(c).toMatchObject({ version: 1, before: 'old.door', after: 'new.door', summary: { new_errors: 1 } })
    expect(c.openings[0]!.findings.new[0]).toMatchObject({ rule: 'preload_increment', never: true, was: null })
    // own number: 2 turns less 1.9 turns is 0.1 turn, 0.2 pi rad
    expect(c.openings[0]!.values.find(v => v.name === 'adjuster.preload')!.difference!.si).toBeCloseTo(
      -0.2 * Math.PI,
      9,
    )
  })
})

describe('--format markdown', () => {
  it('has what is new in sight and folds the rest away', async () => {
    const { out } = await call(folderOf({ 'old.door': GATE, 'new.door': WRONG }), [
      'compare',
      'old.door',
      'new.door',
      '--format',
      'markdown',
    ])
    expect(out).toMatch(/^### Doorwright: old\.door → new\.door\n\n\*\*\d+ new findings?, 1 of them an error/)
    expect(out).toMatch(/\n- \*\*New error\*\* preload\\_increment, keeps people safe: /)
    expect(out).toMatch(/\n\| adjuster\.preload \| 2 turns \| 1\.9 turns \| -0\.1 turns \(-5\.0 %\) \|\n/)
    const folded = out.indexOf('<details><summary>')
    expect(out.indexOf('| balance.worst |')).toBeGreaterThan(folded)
    expect(out.match(/<details>/g)).toHaveLength(out.match(/<\/details>/g)!.length)
    expect(out).toContain('**Wound springs can maim or kill.**')
  })

  it('shows text of a job as text', () => {
    expect(plain('<img src=x> **b** @team #12 [a](https://x.example) a|b')).toBe(
      '&lt;img src=x&gt; \\*\\*b\\*\\* @\u200bteam #\u200b12 \\[a\\](https:\u200b//x.example) a\\|b',
    )
    expect(plain('one `code|x` and a ` alone')).not.toMatch(/(?<!\\)`/)
    expect(plain('one `code|x`')).toBe('one `code\\|x`')
    expect(plain('a\r\n## b')).toBe('a ## b')
  })

  it('is never too long to post, leaves out the least, and says what', () => {
    const many = (text: string): string =>
      `job "HS-2250" { }\n${Array.from({ length: 80 }, (_, i) => text.slice(text.indexOf('opening')).replace('Gate', `Gate ${i}`)).join('\n')}`
    const version = (text: string) => {
      const service = new Service({ resolve: (_, path) => ({ ok: true, file: path }), read: () => undefined })
      service.open('gate.door', text)
      return service.version([{ file: 'gate.door', name: 'gate.door' }])
    }
    const after = many(HEAVIER).replace(/(opening "Gate 70"[\s\S]*?)2 turns/, '$11.9 turns')
    const c = compare(version(many(GATE)), version(after))
    expect(c.openings).toHaveLength(80)
    const out = comparisonAsMarkdown('main', 'HEAD', c)
    expect(out.length).toBeLessThanOrEqual(LONGEST_COMMENT)
    expect(out.length).toBeGreaterThan(LONGEST_COMMENT / 2)
    const shown = out.match(/^#### /gm)!.length
    expect(shown).toBeLessThan(80)
    expect(out).toContain(
      `**Not all of it is here**, since a comment may not be longer: ${80 - shown} openings or files with changes are left out`,
    )
    expect(out.indexOf('#### Gate 70')).toBeLessThan(out.indexOf('####', out.indexOf('####') + 4))
    expect(out.match(/<details>/g)).toHaveLength(out.match(/<\/details>/g)!.length)
    // very little room: still honest, still in bounds
    for (const room of [2000, 3000, 5000])
      expect(comparisonAsMarkdown('main', 'HEAD', c, room).length).toBeLessThanOrEqual(room)
  })
})
