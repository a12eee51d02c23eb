/** Files made to break the checker: bounded time, a clear finding, nothing read or written outside. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { colours } from '../../../server/cli/colour.ts'
import { run } from '../../../server/cli/program.ts'

const folder = mkdtempSync(join(tmpdir(), 'doorwright-hostile-'))
afterAll(() => rmSync(folder, { recursive: true }))

async function check(
  text: string | Uint8Array,
  name = 'job.door',
): Promise<{ status: number | undefined; out: string; err: string; ms: number }> {
  writeFileSync(join(folder, name), text)
  let out = ''
  let err = ''
  const began = performance.now()
  const status = await run(['check', name], {
    out: t => void (out += t),
    err: t => void (err += t),
    stdin: async () => new Uint8Array(),
    cwd: folder,
    width: 100,
    colour: colours(false),
    errColour: colours(false),
    closed: false,
    progress: () => {},
  })
  return { status, out, err, ms: performance.now() - began }
}

const gate = readFileSync(join(import.meta.dirname, '../../../samples/harbour/gate.door'), 'utf8')
const job = gate.slice(0, gate.indexOf('opening'))
const opening = gate.slice(gate.indexOf('opening'))

describe('hostile files', () => {
  it('10,000 open braces', async () => {
    const r = await check(`opening "a" ${'{ curtain '.repeat(10_000)}`)
    expect(r.status).toBe(1)
    expect(r.ms).toBeLessThan(5000)
  })

  it('10,000 brackets', async () => {
    const r = await check(`job "1" {}\nopening "a" { width = ${'('.repeat(10_000)}1ft${')'.repeat(10_000)} }`)
    expect(r.status).toBe(1)
    expect(r.ms).toBeLessThan(5000)
  })

  it('one line of a megabyte', async () => {
    const r = await check(`let a = ${'1ft + '.repeat(180_000)}1ft\n`)
    expect(r.out).toContain('This expression is too long. Split it with `let`.')
    expect(r.out.length).toBeLessThan(2000)
    expect(r.ms).toBeLessThan(5000)
  })

  it('20,000 lines of nonsense', async () => {
    const r = await check(Array.from({ length: 20_000 }, (_, i) => (i % 2 ? '@@ %% = = {' : 'wat 12')).join('\n'))
    expect(r.status).toBe(1)
    expect(r.ms).toBeLessThan(10_000)
  })

  it('2,000 openings', async () => {
    const r = await check(job + Array.from({ length: 2000 }, (_, i) => opening.replace('Gate', `G${i}`)).join('\n'))
    expect(r.status).toBe(0)
    expect(r.out).toContain('nothing found')
    expect(r.ms).toBeLessThan(10_000)
  })

  it('names that a program might trip over', async () => {
    const r = await check(
      'job "1" {}\nopening "constructor" like "__proto__" { width = constructor\n toString = 3\n curtain { slat = hasownproperty } }\nopening "__proto__" like "constructor" {}\n',
    )
    expect(r.status).toBe(1)
    expect(r.err).toBe('')
    expect(r.out).toMatch(/circle/)
  })

  it('numbers that are none', async () => {
    const r = await check(`let x = ${'9'.repeat(400)}ft\nlet y = 1/0\nlet z = 1ft / 0ft\nlet w = 1e999\n`)
    expect(r.out).toContain('This number is too large to work with: it may go up to 10^30 in SI units')
    expect(r.out).toContain('`1/0` is a fraction over zero and has no value.')
    expect(r.out).not.toMatch(/NaN|Infinity/)
  })

  it('unseen characters and those that turn the writing around are written out', async () => {
    const r = await check('job "1" {}\nopening "a\u0007" { width = 1\u200bft }\n# \u202e x\n@\u202e\n')
    for (const unseen of ['\u0007', '\u202e']) expect(r.out).not.toContain(unseen)
    expect(r.out).toContain('U+200B')
  })

  it('what is no text, or not UTF-8, is refused by name', async () => {
    expect(await check(new Uint8Array([0x6a, 0, 0x6a]), 'nul.door')).toMatchObject({
      status: 2,
      err: 'doorwright: nul.door is not a text file.\n',
    })
    expect(await check(new Uint8Array([0x22, 0xe9, 0x22]), 'latin.door')).toMatchObject({
      status: 2,
      err: 'doorwright: latin.door is not UTF-8 text; save it as UTF-8.\n',
    })
  })

  it('`use` does not leave the folder, by path or by link', async () => {
    symlinkSync('/etc/hostname', join(folder, 'link.door'))
    const before = readdirSync(folder).toSorted()
    const r = await check('use "../etc.door"\nuse "/etc/passwd"\nuse "link.door"\njob "1" {}\n', 'out.door')
    expect(r.out.match(/use_outside|use_failed/g)).toHaveLength(3)
    expect(r.out).not.toContain(readFileSync('/etc/hostname', 'utf8').trim())
    expect(readdirSync(folder).toSorted()).toEqual([...before, 'out.door'].toSorted())
  })

  it('marks of a merge left behind are named', async () => {
    const r = await check(
      'job "1" {}\n<<<<<<< HEAD\nopening "a" { width = 1ft }\n=======\nopening "a" { width = 2ft }\n>>>>>>> x\n',
    )
    expect(r.out).toMatch(/merge|conflict/i)
  })
})
