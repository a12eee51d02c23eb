/** `sheet`: where its files go, what it says, and its exit status. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { chromium } from '../../../server/cli/chromium.ts'
import { colours } from '../../../server/cli/colour.ts'
import type { Io } from '../../../server/cli/io.ts'
import { run } from '../../../server/cli/program.ts'
import { changed } from '../report/job.ts'

/** The job without what is wrong in it on purpose. */
const CLEAN = changed(
  ['top = 11ft 11in', 'top = 12ft'],
  ['    brackets = 1\n', ''],
  ['    curtain  = false\n', ''],
  ['    damage   = "bottom bar bent"\n', ''],
)

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'sheet-'))
})
afterEach(() => {
  vi.unstubAllEnvs()
  rmSync(folder, { recursive: true, force: true })
})

async function call(...args: string[]): Promise<{ status: number | undefined; out: string; err: string }> {
  let out = ''
  let err = ''
  const plain = colours(false)
  const io: Io = {
    out: t => void (out += t),
    err: t => void (err += t),
    stdin: async () => Buffer.from(CLEAN),
    cwd: folder,
    width: 100,
    colour: plain,
    errColour: plain,
    closed: false,
    progress: () => {},
  }
  return { status: await run(['sheet', ...args], io), out, err }
}
const put = (name: string, text: string): void => {
  mkdirSync(join(folder, name, '..'), { recursive: true })
  writeFileSync(join(folder, name), text)
}

describe('sheet', () => {
  it('makes one file a job in the folder it is asked to, named for job and revision', async () => {
    put('jobs/a.door', CLEAN)
    put('jobs/b.door', CLEAN.replace('HS-2290', 'HS-2291'))
    put('jobs/stock.door', 'slat x { pitch = 3in; thickness = 1in; weight = 2 lb/ft^2 }')
    const { status, out, err } = await call('jobs', '-o', 'out/deep')
    expect({ status, err }).toEqual({ status: 0, err: '' })
    expect(out).toBe('out/deep/HS-2290-C.html\nout/deep/HS-2291-C.html\n')
    expect(readFileSync(join(folder, 'out/deep/HS-2290-C.html'), 'utf8')).toContain('Field sheet: HS-2290')
  })

  it('gives two jobs of one number names of their own', async () => {
    put('a.door', CLEAN)
    put('b.door', CLEAN)
    expect((await call('a.door', 'b.door', '-o', 'out')).status).toBe(0)
    expect(readdirSync(join(folder, 'out')).sort()).toEqual(['HS-2290-C-b.html', 'HS-2290-C.html'])
  })

  it('says by its status that errors are open, and makes the sheet all the same', async () => {
    put('a.door', CLEAN.replace('1 3/4 turns', '1.7 turns'))
    const { status, err } = await call('a.door', '-o', 'one.html')
    expect(status).toBe(1)
    expect(err).toMatch(/1 open error/)
    expect(readFileSync(join(folder, 'one.html'), 'utf8')).toContain('Do not wind')
  })

  it('writes one sheet to standard output', async () => {
    const { status, out } = await call('-', '-o', '-')
    expect(status).toBe(0)
    expect(out.startsWith('<!DOCTYPE html>')).toBe(true)
  })

  it('never writes over a job, and says what it can write', async () => {
    put('a.door', CLEAN)
    const { status, err } = await call('a.door', '-o', 'a.door')
    expect(status).toBe(2)
    expect(err).toContain('Name a .html file or a folder')
    expect(readFileSync(join(folder, 'a.door'), 'utf8')).toBe(CLEAN)
  })

  it.each([
    [['nothing.door'], 'cannot be found'],
    [['a.door', 'b.door', '-o', 'x.html'], 'is one file'],
    [['a.door', '--paper', 'b5'], 'a4 or letter'],
    [['empty.door'], 'no opening'],
  ])('%j: %s', async (args, words) => {
    put('a.door', CLEAN)
    put('b.door', CLEAN)
    put('empty.door', '# nothing yet\n')
    const { status, err } = await call(...args)
    expect(status).toBe(2)
    expect(err).toContain(words)
  })
})

describe('sheet --pdf', () => {
  it('says what to install where there is no browser', async () => {
    put('a.door', CLEAN)
    vi.stubEnv('PATH', folder)
    const { status, err } = await call('a.door', '--pdf')
    expect(status).toBe(2)
    expect(err).toMatch(/Install one .*apt install chromium/)
  })

  it.skipIf(process.platform === 'win32')('says so where the browser makes none', async () => {
    put('a.door', CLEAN)
    put('bin/chromium', '#!/bin/sh\nexit 3\n')
    chmodSync(join(folder, 'bin/chromium'), 0o755)
    vi.stubEnv('PATH', `${join(folder, 'bin')}:/bin`)
    const { status, err } = await call('a.door', '--pdf', '-o', 'out')
    expect(status).toBe(2)
    expect(err).toContain('made no PDF')
    expect(existsSync(join(folder, 'out/HS-2290-C.pdf'))).toBe(false)
  })

  it.skipIf(chromium() === undefined)(
    'prints through an installed one, on paper by the units of the job',
    { timeout: 120_000 },
    async () => {
      put('a.door', CLEAN)
      expect(await call('a.door', '--pdf')).toEqual({ status: 0, out: 'HS-2290-C.pdf\n', err: '' })
      const pdf = readFileSync(join(folder, 'HS-2290-C.pdf'), 'latin1')
      expect(pdf.startsWith('%PDF-')).toBe(true)
      // letter is 612 x 792 points
      expect(pdf).toMatch(/\/MediaBox \[0 0 612 79[12]/)
    },
  )
})
