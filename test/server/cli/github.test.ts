/**
 * Workflow commands of GitHub. They are read back here by the rules of its documentation and its toolkit (`::name k=v,k=v::text`;
 * in the text `%25 %0D %0A` are read, in a value `%3A %2C` too): from memory.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it, onTestFinished, vi } from 'vitest'
import { call, folderOf, GATE, ONE_ERROR, ONE_WARNING } from './call.ts'

interface Command {
  readonly name: string
  readonly properties: Readonly<Record<string, string>>
  readonly text: string
}

function commandsIn(out: string): Command[] {
  return out.split('\n').flatMap(line => {
    const m = /^::(\w+) ([^:]*)::(.*)$/.exec(line)
    if (!m) return []
    const data = (t: string): string => t.replace(/%0D/g, '\r').replace(/%0A/g, '\n').replace(/%25/g, '%')
    const value = (t: string): string => data(t.replace(/%3A/g, ':').replace(/%2C/g, ','))
    const properties = Object.fromEntries(
      m[2]!.split(',').map(p => [p.slice(0, p.indexOf('=')), value(p.slice(p.indexOf('=') + 1))]),
    )
    return [{ name: m[1]!, properties, text: data(m[3]!) }]
  })
}

/** One job with as many openings as are wanted, each with a mistake. */
const openings = (n: number, text = ONE_ERROR): string =>
  `job "HS-1" {\n  units = imperial\n}\n${Array.from({ length: n }, (_, i) => text.slice(text.indexOf('opening')).replace('"Gate"', `"Gate ${i + 1}"`)).join('\n')}`

/** Runs the check with a job summary. */
async function withSummary(folder: string, args: readonly string[] = []) {
  const page = join(folder, 'summary.md')
  vi.stubEnv('GITHUB_STEP_SUMMARY', page)
  onTestFinished(() => void vi.unstubAllEnvs())
  const r = await call(folder, ['check', '--format', 'github', ...args])
  return { ...r, commands: commandsIn(r.out), page: readFileSync(page, 'utf8') }
}
async function without(folder: string, args: readonly string[] = []) {
  vi.stubEnv('GITHUB_STEP_SUMMARY', '')
  onTestFinished(() => void vi.unstubAllEnvs())
  const r = await call(folder, ['check', '--format', 'github', ...args])
  return { ...r, commands: commandsIn(r.out) }
}

describe('a command', () => {
  it('stands at the place', async () => {
    const { commands, status } = await without(folderOf({ 'gate.door': ONE_ERROR }))
    expect(status).toBe(1)
    expect(commands).toHaveLength(1)
    expect(commands[0]).toMatchObject({
      name: 'error',
      properties: { file: 'gate.door', line: '9', endLine: '9', col: '3', endColumn: '8', title: 'unknown_field' },
    })
    expect(ONE_ERROR.split('\n')[8]!.slice(3 - 1, 8)).toBe('colour')
    expect(commands[0]!.text).toMatch(/^Gate: /)
  })

  it('one line, whatever is in the text, and nobody else can start one', async () => {
    const mark = 'A%0A, B: C::error::\u0007'
    const text = ONE_ERROR.replace('"Gate"', JSON.stringify(mark).replace('\\u0007', '\u0007')).replace(
      'colour',
      'require preload > 3 turns because "a%0A::error::b"\n  colour',
    )
    const { out, commands } = await without(folderOf({ 'a, b%3A: 1.door': text }))
    expect(commands[0]!.properties.file).toBe('a, b%3A: 1.door')
    expect(commands.some(c => c.text.includes('A%0A, B: C::error::\\u{7}'))).toBe(true)
    for (const c of commands)
      expect(Object.keys(c.properties)).toEqual(['file', 'line', 'endLine', 'col', 'endColumn', 'title'])
    // as many lines as findings, and the count
    expect(out.trimEnd().split('\n')).toHaveLength(commands.length + 1)
  })

  it('without columns where it goes over several lines', async () => {
    const { commands } = await without(
      folderOf({ 'gate.door': GATE.replace('pitch     = 2 1/2in', 'pitch =\n\n 2 1/2in (') }),
    )
    for (const { properties: p } of commands) expect('col' in p).toBe(p.line === p.endLine)
  })

  it('names the file from the root of the repository', async () => {
    const folder = folderOf({ 'jobs/gate.door': ONE_ERROR })
    mkdirSync(join(folder, '.git'))
    expect((await without(join(folder, 'jobs'))).commands[0]!.properties.file).toBe('jobs/gate.door')
  })

  it('none for what is accepted', async () => {
    const text = GATE.replace('nps5_std', 'nps2_std').replace('  cycles', '  allow drum_sag because "agreed"\n  cycles')
    const { commands } = await without(folderOf({ 'gate.door': text }))
    expect(commands.map(c => c.properties.title)).not.toContain('drum_sag')
    expect(
      (await without(folderOf({ 'gate.door': GATE.replace('nps5_std', 'nps2_std') }))).commands.map(
        c => c.properties.title,
      ),
    ).toContain('drum_sag')
  })
})

describe('what GitHub takes of a step', () => {
  it('ten of a kind and no more; it says how many are left, and the summary has them', async () => {
    const { out, commands, page } = await withSummary(folderOf({ 'many.door': openings(23), 'one.door': ONE_WARNING }))
    const kinds = commands.map(c => c.name)
    expect(kinds.filter(k => k === 'error')).toHaveLength(10)
    expect(kinds.filter(k => k === 'warning')).toHaveLength(1)
    expect(out).toContain(
      'Not shown as annotations, since GitHub takes 10 of a kind: 13 errors more. The job summary lists them.',
    )
    expect(page).toContain('**More than annotations can show:** 13 errors more are only here.')
    expect(page.match(/^\| error \|/gm)).toHaveLength(23)
  })

  it('exactly ten are all', async () => {
    const { out, commands } = await without(folderOf({ 'ten.door': openings(10) }))
    expect(commands).toHaveLength(10)
    expect(out).not.toContain('Not shown')
  })

  it('what keeps people safe comes first, then errors, warnings, notes', async () => {
    const deadly = GATE.replace('2 turns', '1.7 turns').replace('"Gate"', '"Last"')
    const { commands } = await without(folderOf({ 'a.door': openings(12), 'b.door': ONE_WARNING, 'z.door': deadly }))
    expect(commands[0]!.properties).toMatchObject({ file: 'z.door', title: 'preload_increment' })
    const order = commands.map(c => ['error', 'warning', 'notice'].indexOf(c.name))
    expect(order).toEqual([...order].sort())
  })

  it('a summary is never longer than GitHub takes', async () => {
    const long = 'x'.repeat(1500)
    const { page } = await withSummary(folderOf({ 'many.door': openings(900).replaceAll('"Gate ', `"${long} `) }))
    expect(Buffer.byteLength(page)).toBeLessThan(1024 * 1024)
    expect(page).toMatch(/\*\*\d+ more findings\*\* are not in this table/)
    const shown = page.match(/^\| error \|/gm)!.length
    const left = Number(/\*\*(\d+) more findings/.exec(page)![1])
    expect(shown + left).toBe(900)
  })
})

describe('the job summary', () => {
  it('is added to what other steps wrote', async () => {
    const folder = folderOf({ 'gate.door': ONE_ERROR, 'summary.md': 'before\n' })
    const { page } = await withSummary(folder)
    expect(page).toMatch(/^before\n### Doorwright: 1 error\n/)
    expect(page).toContain('| error | Gate | unknown\\_field |')
    expect(page).toContain('gate.door:9 |')
  })

  it('shows text of a job as text', async () => {
    const { page } = await withSummary(folderOf({ 'gate.door': ONE_ERROR.replace('"Gate"', '"<b>|@all [x](y)"') }))
    const row = page.split('\n').find(l => l.startsWith('| error'))!
    expect(row).not.toMatch(/<b>|@all|[^\\]\[x/)
    expect(row.replace(/\\\|/g, '').split('|')).toHaveLength(7)
  })

  it('carries the cautions where a finding is about springs', async () => {
    const { page } = await withSummary(folderOf({ 'gate.door': GATE.replace('2 turns', '1.7 turns') }))
    expect(page).toContain('**Wound springs can maim or kill.**')
    expect((await withSummary(folderOf({ 'gate.door': ONE_ERROR }))).page).not.toContain('maim')
  })

  it('cannot be written: that is said, and the status stays', async () => {
    const folder = folderOf({ 'gate.door': GATE, 'summary.md/in.txt': '' })
    vi.stubEnv('GITHUB_STEP_SUMMARY', join(folder, 'summary.md'))
    onTestFinished(() => void vi.unstubAllEnvs())
    const r = await call(folder, ['check', '--format', 'github'])
    expect(r.status).toBe(0)
    expect(r.err).toMatch(/the job summary, .*summary\.md, could not be written: it is a folder/)
  })
})

it('why a run failed is an annotation where no finding says it', async () => {
  const folder = folderOf({ 'gate.door': ONE_WARNING })
  const tooMany = await without(folder, ['--max-warnings', '0'])
  expect(tooMany.commands.map(c => [c.name, c.text])).toContainEqual(['error', '1 warning; --max-warnings allows 0.'])
  writeFileSync(join(folder, 'bad.door'), new Uint8Array([0]))
  const { commands, status } = await without(folder)
  expect(status).toBe(2)
  expect(commands[0]).toMatchObject({ name: 'error', text: 'bad.door is not a text file.' })
})
