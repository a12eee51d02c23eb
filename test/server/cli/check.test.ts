import { lstatSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, truncateSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { checkSchema, findingSchema } from '../../../server/cli/formats/json.ts'
import { call, columns, folderOf, GATE, ONE_ERROR, ONE_WARNING } from './call.ts'

describe('exit status', () => {
  it('0 where nothing is found', async () => {
    const r = await call(folderOf({ 'gate.door': GATE }), ['check', 'gate.door'])
    expect(r).toEqual({ status: 0, out: '1 file: nothing found.\n', err: '' })
  })

  it('1 for an error', async () => {
    const r = await call(folderOf({ 'gate.door': ONE_ERROR }), ['check', 'gate.door'])
    expect(r.status).toBe(1)
    expect(r.out).toMatch(/^gate\.door:9:3 {2}error {2}unknown_field/)
    expect(r.out).toMatch(/1 file: 1 error\.\n$/)
  })

  it('0 for warnings and notes, 1 above --max-warnings', async () => {
    const folder = folderOf({ 'gate.door': ONE_WARNING })
    expect((await call(folder, ['check', 'gate.door'])).status).toBe(0)
    expect((await call(folder, ['check', 'gate.door', '--max-warnings', '1'])).status).toBe(0)
    const r = await call(folder, ['check', 'gate.door', '--max-warnings', '0'])
    expect(r.status).toBe(1)
    expect(r.err).toBe('doorwright: 1 warning; --max-warnings allows 0.\n')
  })

  it.each([
    [['check', '--format', 'telex'], 'There is no format "telex" here. There are: pretty, json'],
    [['check', '--format', 'constructor'], 'There is no format "constructor" here.'],
    [['check', '--max-warnings', 'few'], '--max-warnings takes a whole number, 0 or more, not "few".'],
    [['check', '--max-warnings', '-1'], '--max-warnings'],
    [['check', '--units', 'furlongs'], '--units takes imperial or metric, not "furlongs".'],
    [['check', '--stdin-path', 'a.door', 'gate.door'], '--stdin-path names what comes in on standard input'],
    [
      ['check', '--fix', '--format', 'json', '-'],
      'With --fix the fixed text of standard input goes to standard output',
    ],
    [['check', '--frobnicate'], "unknown option '--frobnicate'"],
    [['chek'], 'Did you mean check?'],
    [['gate.door'], 'doorwright check gate.door'],
    [['check', 'gaet.door'], 'gaet.door cannot be found. Check its spelling.'],
    [['check', '*.dor'], 'Patterns are for the shell to fill in'],
    [['check', 'empty'], 'No .door file lies in the folder empty or below it.'],
  ])('2 for a call that cannot be used: %j', async (args, message) => {
    const folder = folderOf({ 'gate.door': GATE, 'empty/readme.txt': '' })
    const r = await call(folder, args)
    expect(r.status).toBe(2)
    expect(r.err).toContain(message)
    expect(r.err).not.toMatch(/\n {4}at /)
    expect(r.out).toBe('')
  })

  it.each<[string, string | Uint8Array, string]>([
    ['binary.door', new Uint8Array([97, 0, 98]), 'is not a text file.'],
    ['latin.door', new Uint8Array([0x63, 0x61, 0x66, 0xe9]), 'is not UTF-8 text; save it as UTF-8.'],
    ['utf16.door', new Uint8Array([0xff, 0xfe, 0x6a, 0]), 'is UTF-16 text; save it as UTF-8.'],
  ])('2 for %s, and the others are checked', async (name, bytes, reason) => {
    const r = await call(folderOf({ [name]: bytes, 'gate.door': ONE_ERROR }), ['check'])
    expect(r.status).toBe(2)
    expect(r.err).toBe(`doorwright: ${name} ${reason}\n`)
    expect(r.out).toContain('gate.door:9:3  error')
  })

  it('2 for a file that is far too large', async () => {
    const folder = folderOf({ 'large.door': '' })
    truncateSync(join(folder, 'large.door'), 5 * 1024 * 1024 + 1)
    const r = await call(folder, ['check', 'large.door'])
    expect(r.status).toBe(2)
    expect(r.err).toContain('large.door is more than 5 MB long')
  })
})

describe('which files', () => {
  const names = async (folder: string, args: readonly string[]): Promise<string[]> =>
    checkSchema
      .parse(JSON.parse((await call(folder, ['check', '--format', 'json', ...args])).out))
      .files.map(f => f.path)

  it('all below a folder, sorted, without those of tools and copies; a folder may be called like a file', async () => {
    const folder = folderOf({
      'b.door': GATE,
      'a/z.door': GATE,
      'a.door/in.door': GATE,
      'readme.md': '',
      'node_modules/x/n.door': GATE,
      '.git/g.door': GATE,
      'dist/d.door': GATE,
    })
    expect(await names(folder, [])).toEqual(['a.door/in.door', 'a/z.door', 'b.door'])
    expect(await names(folder, ['.'])).toEqual(['a.door/in.door', 'a/z.door', 'b.door'])
    expect(await names(folder, ['dist'])).toEqual(['dist/d.door'])
  })

  it('in the order named, each once', async () => {
    const folder = folderOf({ 'b.door': GATE, 'a.door': GATE })
    symlinkSync('a.door', join(folder, 'same.door'))
    expect(await names(folder, ['b.door', '.', 'a.door', './b.door', 'same.door'])).toEqual(['b.door', 'a.door'])
  })

  it('no link is followed out of a folder, nor round in circles', async () => {
    const elsewhere = folderOf({ 'far.door': GATE, 'deep/far.door': GATE })
    const folder = folderOf({ 'a.door': GATE })
    symlinkSync(join(elsewhere, 'far.door'), join(folder, 'out.door'))
    symlinkSync(join(elsewhere, 'deep'), join(folder, 'deep'))
    symlinkSync('.', join(folder, 'round'))
    symlinkSync('loop.door', join(folder, 'loop.door'))
    expect(await names(folder, ['.'])).toEqual(['a.door'])
    // what is named is read, wherever it lies
    expect(await names(folder, ['out.door', join(elsewhere, 'deep/far.door')])).toHaveLength(2)
  })

  it('whatever is named, however it is called', async () => {
    expect(await names(folderOf({ 'job.txt': GATE }), ['job.txt'])).toEqual(['job.txt'])
  })

  it('the project file and other JSON are no jobs, by whatever command', async () => {
    const folder = folderOf({ 'jobs/gate.door': GATE, 'doorwright.json': '// the house\n{}\n', 'b.json': '\n[1]\n' })
    const project =
      'doorwright: doorwright.json is the project file, not a job: it is read with every job in its folder and below. Name .door files, or a folder that they lie in.\n'
    for (const command of [['check'], ['fmt', '--check'], ['derive'], ['size']])
      expect(await call(folder, [...command, 'doorwright.json'])).toMatchObject({ status: 2, err: project })
    const both = await call(folder, ['check', '--quiet', 'doorwright.json', 'jobs/gate.door', 'b.json'])
    expect([both.status, both.err.split('\n').length]).toEqual([2, 3])
    expect(both.err).toContain('b.json holds JSON, where a job was expected.')
    expect(both.out).toContain('1 file')
    // standard input is what it is
    expect((await call(folder, ['check', '-'], { stdin: GATE })).status).toBe(0)
  })

  it('standard input stands where --stdin-path says, so that `use` finds the stock', async () => {
    const stock = 'slat flat { pitch = 2 1/2in; thickness = 3/4in; weight = 2.4 lb/ft^2 }\n'
    const folder = folderOf({ 'stock/house.door': stock })
    const text = `use "../stock/house.door"\n${GATE.replace(/slat \{[^}]*\}/, 'slat = flat')}`
    const right = await call(folder, ['check', '-', '--stdin-path', 'jobs/new.door'], { stdin: text })
    expect(right).toEqual({ status: 0, out: '1 file: nothing found.\n', err: '' })
    const wrong = await call(folder, ['check', '-'], { stdin: text })
    expect(wrong.status).toBe(1)
    expect(wrong.out).toContain('<standard input>:1:5  error  use_outside')
  })
})

describe('for a person', () => {
  it('place, severity, rule, opening, message, source line, carets, limit with its source, related places, fixes', async () => {
    const folder = folderOf({ 'gate.door': GATE.replace('2 turns', '1.9 turns') })
    const { out } = await call(folder, ['check'])
    const lines = out.split('\n')
    expect(lines[0]).toBe('gate.door:33:15  error  preload_increment  Gate')
    const source = lines.findIndex(l => l.startsWith('  33 |'))
    expect(lines[source]).toBe('  33 |     preload = 1.9 turns')
    expect(lines[source + 1]).toBe('     |               ^^^^^^^^^')
    expect(out).toMatch(/\n {2}limit {4}whole increments of .*\(common practice/)
    expect(out).toMatch(/\n {2}see {6}gate\.door:32:15 {2}/)
    expect(out).toMatch(/\n {2}fix {6}Write 2 turns/)
    // a wound spring never goes without its caution
    expect(out).toContain('Trained door technicians only')
  })

  it('the carets stand right below tabs, wide letters and inch marks, with CR LF', async () => {
    const folder = folderOf({
      'gate.door': GATE.replace('"Gate"', '"冷凍"')
        .replace('  cycles', '\theadroom2 = 20"; colour = 3\n  cycles')
        .replaceAll('\n', '\r\n'),
    })
    const { out } = await call(folder, ['check'])
    const lines = out.split('\n')
    const at = lines.findIndex(l => l.includes('unknown_field') && l.includes(':9:19'))
    expect(at).toBeGreaterThan(0)
    const source = lines.findIndex((l, i) => i > at && l.includes('| '))
    const before = lines[source]!.slice(0, lines[source]!.indexOf('colour'))
    expect(lines[source + 1]!.replace(/ *$/, '')).toBe(`${' '.repeat(4)}|${' '.repeat(columns(before) - 5)}^^^^^^`)
    expect(out).not.toContain('\r')
  })

  it('no line is wider than the window, but for words that cannot be broken', async () => {
    const folder = folderOf({ 'gate.door': GATE.replace('2 turns', '1.9 turns') })
    for (const width of [40, 60, 80]) {
      const { out } = await call(folder, ['check'], { width })
      // place and rule stay on one line, so that a terminal can open the place
      for (const line of out.split('\n').slice(1)) expect(columns(line), line).toBeLessThanOrEqual(Math.max(width, 62))
    }
  })

  it('what a terminal would obey comes out as letters', async () => {
    const r = await call(
      folderOf({ 'gate.door': GATE.replace('Gate', 'G\u001b[2Jate\u202e').replace('2 turns', '1.9 turns') }),
      ['check'],
    )
    expect(r.out).toContain('G\\u{1b}[2Jate\\u{202e}')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: looking for just those
    expect(r.out).not.toMatch(/[\x00-\x09\x0b-\x1f\x7f\u202e]/)
  })

  it('--quiet shows errors only, and counts the rest', async () => {
    const folder = folderOf({ 'a.door': ONE_ERROR, 'b.door': ONE_WARNING })
    const r = await call(folder, ['check', '--quiet'])
    expect(r.out).toContain('unknown_field')
    expect(r.out).not.toContain('allow_unused')
    expect(r.out).toMatch(/2 files: 1 error and 1 warning \(not shown\)\.\n$/)
  })

  it('an accepted finding is shown with its reason, counted apart, and fails nothing', async () => {
    const text = GATE.replace('  headroom = 20in', '  headroom = 12in\n  allow headroom because "coil cover agreed"')
    const folder = folderOf({ 'gate.door': text })
    const r = await call(folder, ['check'])
    expect(r.status).toBe(0)
    expect(r.out).toContain('gate.door:8:14  accepted error  headroom  Gate')
    expect(r.out.replaceAll(/\s+/g, ' ')).toContain('Accepted because coil cover agreed.')
    expect(r.out).toMatch(/1 file: nothing found; 1 finding accepted\.\n$/)
    expect((await call(folder, ['check'], { colour: true })).out).toContain('\u001b[2mgate.door:8:14')
  })

  it('--units decides how values are shown, not what is written', async () => {
    const folder = folderOf({ 'gate.door': GATE.replace('  headroom = 20in', '  headroom = 12in') })
    expect((await call(folder, ['check'])).out).toMatch(/\bin\b.*headroom|headroom.*\bin\b/s)
    const metric = await call(folder, ['check', '--units', 'metric', '--format', 'json'])
    const file = checkSchema.parse(JSON.parse(metric.out)).files[0]!
    expect(file.findings[0]!.message).toMatch(/\bmm\b/)
    const width = file.openings[0]!.values['opening.width']!
    expect(width).toMatchObject({ si: expect.closeTo(3.048, 12), unit: expect.stringMatching(/^m{1,2}$/) })
  })
})

describe('--fix', () => {
  it('writes what is safe, says what, and has nothing left to do the second time', async () => {
    const folder = folderOf({ 'gate.door': ONE_WARNING })
    const first = await call(folder, ['check', '--fix'])
    expect(first).toEqual({
      status: 0,
      out: 'gate.door: 1 fix applied\n  Remove this `allow`\n\n1 file: nothing found; 1 fixed.\n',
      err: '',
    })
    expect(readFileSync(join(folder, 'gate.door'), 'utf8')).toBe(GATE)
    const written = statSync(join(folder, 'gate.door'))
    const second = await call(folder, ['check', '--fix'])
    expect(second.out).toBe('1 file: nothing found.\n')
    const again = statSync(join(folder, 'gate.door'))
    expect([again.ino, again.mtimeMs]).toEqual([written.ino, written.mtimeMs])
    expect(readdirSync(folder).sort()).toEqual(['doorwright.json', 'gate.door'])
  })

  it('keeps line ends, byte order mark, permissions and links', async () => {
    const folder = folderOf({ 'real.txt': `\ufeff${ONE_WARNING.replaceAll('\n', '\r\n')}` })
    symlinkSync('real.txt', join(folder, 'gate.door'))
    const mode = statSync(join(folder, 'real.txt')).mode
    expect((await call(folder, ['check', '--fix', 'gate.door'])).status).toBe(0)
    expect(readFileSync(join(folder, 'real.txt'), 'utf8')).toBe(`\ufeff${GATE.replaceAll('\n', '\r\n')}`)
    expect(statSync(join(folder, 'real.txt')).mode).toBe(mode)
    expect(lstatSync(join(folder, 'gate.door')).isSymbolicLink()).toBe(true)
  })

  it('of standard input gives the text on standard output and the findings on standard error', async () => {
    const r = await call(folderOf({}), ['check', '--fix', '-'], {
      stdin: ONE_WARNING.replace('  cycles', '  colour = 3\n  cycles'),
    })
    expect(r.out).toBe(GATE.replace('  cycles', '  colour = 3\n  cycles'))
    expect(r.err).toContain('unknown_field')
    expect(r.status).toBe(1)
  })

  it('puts a copied value right where it was written, once', async () => {
    const text = `${GATE.replace('2 turns', '1.9 turns')}\nopening "Gate 2" like "Gate" {}\n`
    const folder = folderOf({ 'gate.door': text })
    await call(folder, ['check', '--fix'])
    expect(readFileSync(join(folder, 'gate.door'), 'utf8')).toBe(text.replace('1.9 turns', '2 turns'))
  })

  it('leaves a file that it may not write, and says so', async () => {
    const folder = folderOf({ 'gate.door': ONE_WARNING })
    mkdirSync(join(folder, `.gate.door.${process.pid}.tmp`))
    const r = await call(folder, ['check', '--fix'])
    expect(r.status).toBe(2)
    expect(r.err).toMatch(/gate\.door could not be written/)
    expect(readFileSync(join(folder, 'gate.door'), 'utf8')).toBe(ONE_WARNING)
  })
})

describe('--format json', () => {
  it('says what the text says, by the schema that it is written with', async () => {
    const text = `# a job\r\n${GATE.replace('2 turns', '1.9 turns').replaceAll('\n', '\r\n')}`
    const folder = folderOf({ 'jobs/gate.door': text, 'stock.door': 'pipe p { od = 5in; wall = 1/4in }\n' })
    const r = await call(folder, ['check', '--format', 'json'])
    expect(r.status).toBe(1)
    const data = checkSchema.parse(JSON.parse(r.out))
    expect(data.version).toBe(1)
    expect(data.files.map(f => [f.path, f.job])).toEqual([
      ['jobs/gate.door', 'HS-2250'],
      ['stock.door', null],
    ])
    expect(data.summary).toMatchObject({ files: 2, errors: 1, accepted: 0 })
    const [file] = data.files
    const finding = file!.findings.find(f => f.rule === 'preload_increment')!
    expect(finding).toMatchObject({
      severity: 'error',
      line: 34,
      column: 15,
      end_line: 34,
      end_column: 24,
      opening: 'Gate',
      accepted: null,
    })
    // what it points at, read from the text by line and column
    const pointedAt = (f: { line: number; column: number; end_column: number }): string =>
      text.split('\r\n')[f.line - 1]!.slice(f.column - 1, f.end_column - 1)
    expect(pointedAt(finding)).toBe('1.9 turns')
    const edit = finding.fixes[0]!.edits[0]!
    expect([pointedAt(edit), edit.text]).toEqual(['1.9 turns', '2 turns'])
    expect(finding.limit!.source).toMatch(/practice/)
    expect(pointedAt({ line: file!.openings[0]!.line, column: 1, end_column: 15 })).toBe('opening "Gate"')
  })

  it('says which fixes are safe, and which other places a finding has to do with', async () => {
    const house = 'limits {\n  side_room_adjuster = 14in\n}\n'
    const gate = ONE_WARNING.replace('nps5_std', 'nps2_std').replace('allow drum_sag', 'side_room_right = 10in\n  allow dead_wraps') // biome-ignore format: one text
    const folder = folderOf({ 'house.door': house, 'gate.door': `use "house.door"\n${gate}` })
    const { out } = await call(folder, ['check', 'gate.door', '--format', 'json'])
    const { findings } = checkSchema.parse(JSON.parse(out)).files[0]!
    const of = (rule: string) => findings.find(f => f.rule === rule)!
    expect(of('allow_unused').fixes.map(f => f.safe)).toEqual([true])
    expect(of('drum_sag').fixes.map(f => f.safe)).toContain(false)
    expect(of('side_room').related).toEqual([
      { message: '14 in asked for here', line: 2, column: 24, end_line: 2, end_column: 28, path: 'house.door' },
    ])
    expect(of('allow_unused').related).toEqual([])
    // in the file of the finding the path is left out
    expect(of('drum_sag').related![0]).not.toHaveProperty('path')
    // both are optional: what was written before they were there is still right
    const { related: _, fixes, ...before } = of('drum_sag')
    expect(findingSchema.safeParse({ ...before, fixes: fixes.map(({ safe: _, ...f }) => f) }).success).toBe(true)
  })

  it('gives values by path: numbers in SI and as shown, words without; the first spring also as `spring`', async () => {
    const folder = folderOf({ 'gate.door': GATE })
    const [opening] = checkSchema.parse(JSON.parse((await call(folder, ['check', '--format', 'json'])).out)).files[0]!
      .openings
    expect(opening).toMatchObject({ mark: 'Gate', complete: true })
    const v = opening!.values
    // own numbers: 10 ft is 3.048 m; 2 turns are 4 pi rad; 3/8 in are 9.525 mm
    expect(v['opening.width']).toEqual({
      si: expect.closeTo(3.048, 12),
      unit: 'ft',
      value: expect.closeTo(10, 12),
      text: '10 ft',
      origin: 'written',
    })
    expect(v['adjuster.preload']).toMatchObject({
      si: expect.closeTo(4 * Math.PI, 12),
      unit: 'turn',
      value: expect.closeTo(2, 12),
      text: '2 turns',
    })
    expect(v['opening.wall']).toEqual({ value: 'masonry', text: 'masonry', origin: 'default' })
    expect(v['drum.turns']).toMatchObject({ origin: 'derived', unit: 'turn' })
    expect(v['drum.pipe.od']!.origin).toBe('stock')
    expect(v['curtain.slat.pitch']!.origin).toBe('written')
    expect(v['spring[0].wire']!.si).toBeCloseTo(0.009525, 12)
    const springs = Object.keys(v).filter(k => k.startsWith('spring[0].'))
    expect(springs.length).toBeGreaterThan(15)
    for (const k of springs) expect(v[k.replace('spring[0]', 'spring')]).toEqual(v[k])
  })

  it('marks a value of which only a bound is known, and leaves out what is not known', async () => {
    const long = GATE.replace('coils    = 120', 'coils    = 300')
    const without = GATE.replace(/ {2}spring \{[^}]*\}\n/, '')
    const folder = folderOf({ 'long.door': long, 'without.door': without })
    const { files } = checkSchema.parse(JSON.parse((await call(folder, ['check', '--format', 'json'])).out))
    const life = files[0]!.openings[0]!.values['spring.life']!
    expect(life.bound).toBe('more')
    expect(life.text).toMatch(/^more than /)
    const opening = files[1]!.openings[0]!
    expect(opening.complete).toBe(false)
    expect(opening.missing).toContain('spring')
    expect(Object.keys(opening.values).some(k => k.startsWith('spring'))).toBe(false)
  })

  it('is there even where a file could not be used', async () => {
    const r = await call(folderOf({ 'gate.door': GATE }), ['check', 'gate.door', 'gone.door', '--format', 'json'])
    expect(r.status).toBe(2)
    expect(checkSchema.parse(JSON.parse(r.out)).files).toHaveLength(1)
  })

  it('--quiet leaves all but errors out of the list, not out of the count', async () => {
    const r = await call(folderOf({ 'a.door': ONE_ERROR, 'b.door': ONE_WARNING }), [
      'check',
      '--format',
      'json',
      '--quiet',
    ])
    const data = checkSchema.parse(JSON.parse(r.out))
    expect(data.files.map(f => f.findings.map(x => x.severity))).toEqual([['error'], []])
    expect(data.summary).toMatchObject({ errors: 1, warnings: 1 })
  })
})
