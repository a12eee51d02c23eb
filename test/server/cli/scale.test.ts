/** Many files: in parts, with threads, with what an earlier run found. Whatever the way, the findings are the same. */
import { spawnSync } from 'node:child_process'
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { CallError } from '../../../server/cli/io.ts'
import { Pool } from '../../../server/cli/pool.ts'
import { call, folderOf, GATE, ONE_ERROR, ONE_WARNING } from './call.ts'
import { builtProgram } from './program.ts'

const STOCK = 'slat house {\n  pitch     = 2 1/2in\n  thickness = 3/4in\n  weight    = 2.4 lb/ft^2\n}\n'
const USES = `use "stock.door"\n${GATE.replace(/slat \{[^}]*\}/, 'slat = house')}`

/** Jobs of all sorts, in folders; more than go to one thread at once. */
function jobs(n: number): Record<string, string> {
  const sorts = [GATE, ONE_ERROR, ONE_WARNING, USES.replace('"stock', '"../stock'), 'opening "half {']
  return {
    'stock.door': STOCK,
    ...Object.fromEntries(
      Array.from({ length: n }, (_, i) => [
        `${i % 3}/job${i}.door`,
        sorts[i % sorts.length]!.replace('HS-2250', `HS-${i}`),
      ]),
    ),
  }
}

const pathsIn = (json: string): string[] => JSON.parse(json).files.map((f: { path: string }) => f.path)

describe('--shard', () => {
  it('the parts together are the whole, each file once', async () => {
    const folder = folderOf(jobs(11))
    const whole = await call(folder, ['check', '--format', 'json'])
    for (const n of [1, 2, 5, 20]) {
      const parts: string[] = []
      for (let i = 1; i <= n; i++) {
        const part = pathsIn((await call(folder, ['check', '--format', 'json', '--shard', `${i}/${n}`])).out)
        expect(Math.abs(part.length - 12 / n)).toBeLessThan(1)
        parts.push(...part)
      }
      expect(parts.sort()).toEqual(pathsIn(whole.out).sort())
    }
  })

  it('is by path, however the files are named', async () => {
    const folder = folderOf({ 'a.door': GATE, 'b.door': GATE, 'c.door': GATE })
    const { out } = await call(folder, ['check', 'c.door', 'b.door', 'a.door', '--shard', '1/2', '--format', 'json'])
    expect(pathsIn(out)).toEqual(['c.door', 'a.door'])
  })

  it.each(['0/2', '3/2', '1', '1/0', 'a/b', '-1/2', '1.5/2', ''])('refuses %j', async text => {
    const r = await call(folderOf({ 'a.door': GATE }), ['check', `--shard=${text}`])
    expect(r.status).toBe(2)
    expect(r.err).toContain('--shard takes I/N')
    expect(r.err).toContain(`not "${text}"`)
  })
})

describe('--jobs', () => {
  const program = builtProgram()
  const start = (cwd: string, args: readonly string[]) => {
    const r = spawnSync(process.execPath, [program, ...args], { cwd, encoding: 'utf8' })
    return { status: r.status, out: r.stdout, err: r.stderr }
  }

  it('prints the same bytes with threads as without', () => {
    const folder = folderOf({ ...jobs(20), 'doorwright.json': '{ "limits": { "bogus": 1 } }' })
    for (const format of ['pretty', 'json', 'sarif', 'junit', 'github']) {
      const args = ['check', '.', 'gone.door', '--format', format]
      const one = start(folder, [...args, '--jobs', '1'])
      expect(one.out.length).toBeGreaterThan(200)
      expect(start(folder, [...args, '--jobs', '2'])).toEqual(one)
    }
  })

  it('threads give what the cache keeps', () => {
    const folder = folderOf(jobs(40))
    const plain = start(folder, ['check', '.', '--jobs', '1'])
    expect(start(folder, ['check', '.', '--jobs', '2', '--cache'])).toEqual(plain)
    expect(start(folder, ['check', '.', '--jobs', '2', '--cache'])).toEqual(plain)
  })

  const dying = async (code: string): Promise<unknown> => {
    const script = join(dirname(program), 'dies.cjs')
    writeFileSync(script, code)
    const wanted = { openings: false, uses: false }
    const pool = new Pool(script, 2, { cwd: dirname(program), units: undefined, config: undefined, wanted })
    const file = (name: string) => ({ name, file: join(dirname(program), name), text: '' })
    try {
      return await pool.look([file('a.door'), file('b.door')]).then(
        () => undefined,
        error => error,
      )
    } finally {
      await pool.end()
    }
  }
  it.each([
    ['stops', "require('node:worker_threads').parentPort.on('message', () => process.exit(3))", 'exit status 3'],
    ['throws', "require('node:worker_threads').parentPort.on('message', () => { throw new Error('torn') })", 'torn'],
    ['never starts', 'this is no program', 'Unexpected identifier'],
  ])('a thread that %s is told, with the files it had', async (_, code, why) => {
    const error = await dying(code)
    expect(error).toBeInstanceOf(CallError)
    expect((error as Error).message).toContain(why)
    expect((error as Error).message).toContain('a.door, b.door')
  })

  it.each(['0', '-1', 'x', '1.5', '1000', ''])('refuses %j', async text => {
    const r = await call(folderOf({ 'a.door': GATE }), ['check', `--jobs=${text}`])
    expect(r.status).toBe(2)
    expect(r.err).toContain('--jobs takes the number of threads')
  })
})

describe('--cache', () => {
  const NAME = '.doorwright-cache.jsonl'
  const both = async (folder: string, args: readonly string[] = []) => {
    const plain = await call(folder, ['check', '.', ...args])
    const cached = await call(folder, ['check', '.', ...args, '--cache'])
    expect(cached).toEqual(plain)
    return cached
  }

  it('gives the same in every format, when it is made and when it is used', async () => {
    const folder = folderOf(jobs(10))
    for (const format of ['pretty', 'json', 'junit', 'sarif', 'pretty', 'json', 'github'])
      await both(folder, ['--format', format])
    await both(folder, ['--quiet'])
    await both(folder, ['--units', 'metric', '--format', 'json'])
  })

  it('is really used: what stands in it is what is printed', async () => {
    const folder = folderOf({ 'a.door': ONE_ERROR })
    await both(folder)
    const path = join(folder, NAME)
    const before = readFileSync(path, 'utf8')
    await both(folder)
    expect(readFileSync(path, 'utf8')).toBe(before)
    // a report under its right sum, but of another thing
    const { sha256 } = await import('../../../server/cli/sha256.ts')
    const [header, line] = before.split('\n')
    const [name, key, , text] = line!.split('\t')
    const other = text!.replaceAll('colour', 'odour')
    writeFileSync(path, `${header}\n${[name, key, sha256(other), other].join('\t')}\n`)
    expect((await call(folder, ['check', '.', '--cache'])).out).toContain('odour')
  })

  it('sees every change that matters', async () => {
    const folder = folderOf({ 'a.door': USES, 'stock.door': STOCK })
    const put = (name: string, text: string): void => writeFileSync(join(folder, name), text)
    const first = await both(folder)
    put('a.door', USES.replace('width    = 10ft', 'width    = 12ft'))
    expect((await both(folder)).out).not.toBe(first.out)
    put('a.door', USES)
    put('stock.door', STOCK.replace('2.4 lb', '24 lb'))
    expect((await both(folder)).out).not.toBe(first.out)
    put('stock.door', STOCK)
    expect((await both(folder)).out).toBe(first.out)
    put('doorwright.json', '{ "limits": { "push_force": "1 lbf" } }')
    await both(folder)
    put('doorwright.json', '{ "severity": { "drum_sag": "off" } }')
    await both(folder)
    rmSync(join(folder, 'stock.door'))
    expect((await both(folder)).out).toContain('stock.door')
    put('stock.door', STOCK)
    put('doorwright.json', '{}')
    expect((await both(folder)).out).toBe(first.out)
  })

  it('what is broken or old in it is passed over without a word, and made anew', async () => {
    const folder = folderOf(jobs(6))
    await both(folder)
    const path = join(folder, NAME)
    const whole = readFileSync(path, 'utf8')
    for (const text of [
      '',
      '\0\0\0',
      '{"doorwright-cache":0}\n',
      whole.slice(0, whole.length / 2),
      whole.replaceAll('error', 'note'),
      whole.replaceAll('\t', ' '),
      whole.replace(/\t\{.*/g, '\tnull'),
    ]) {
      writeFileSync(path, text)
      await both(folder)
      expect(readFileSync(path, 'utf8')).toBe(whole)
    }
    expect(readdirSync(folder).filter(n => n.endsWith('.tmp'))).toEqual([])
  })

  it('keeps what a part of the files left alone, and drops files that are gone', async () => {
    const folder = folderOf({ 'a.door': GATE, 'b.door': GATE })
    const lines = (): number => readFileSync(join(folder, NAME), 'utf8').trim().split('\n').length - 1
    await call(folder, ['check', 'a.door', '--cache'])
    await call(folder, ['check', 'b.door', '--cache'])
    expect(lines()).toBe(2)
    rmSync(join(folder, 'a.door'))
    writeFileSync(join(folder, 'b.door'), ONE_ERROR)
    await call(folder, ['check', 'b.door', '--cache'])
    expect(lines()).toBe(1)
  })

  it('lies beside the project file, or where it is said', async () => {
    const folder = folderOf({ 'sub/a.door': GATE })
    await call(join(folder, 'sub'), ['check', '--cache'])
    expect(readdirSync(folder)).toContain(NAME)
    await call(folder, ['check', '--cache=own.jsonl'])
    expect(readdirSync(folder)).toContain('own.jsonl')
    expect((await call(folder, ['check', '--cache=own.jsonl'])).status).toBe(0)
  })

  it.each(['sub', 'sub/a.door', 'notes.md', 'nowhere/cache'])('overwrites nothing else: %s', async name => {
    const folder = folderOf({ 'sub/a.door': GATE, 'notes.md': 'mine' })
    const r = await call(folder, ['check', '--cache', name])
    expect(r.status).toBe(2)
    expect(r.err).toContain('write --cache after the files')
    expect(readFileSync(join(folder, 'notes.md'), 'utf8')).toBe('mine')
    expect(readFileSync(join(folder, 'sub/a.door'), 'utf8')).toBe(GATE)
  })
})

it('jobs that use each other are not all held', async () => {
  const { engine } = await import('../../../server/cli/engine.ts')
  const { look } = await import('../../../server/cli/look.ts')
  const files = Object.fromEntries(
    Array.from({ length: 450 }, (_, i) => [`j${i}.door`, `use "u${i}.door"\nlet a = 1in\n`]),
  )
  for (let i = 0; i < 450; i++) files[`u${i}.door`] = 'let b = 1in\n'
  const folder = folderOf(files)
  const run = engine({ cwd: folder, err: () => {} } as never)
  let most = 0
  for (let i = 0; i < 450; i++) {
    look({ file: join(folder, `j${i}.door`), text: files[`j${i}.door`]! }, run, { openings: false, uses: false })
    most = Math.max(most, run.service.knownFiles.length)
  }
  expect(most).toBeGreaterThan(50)
  expect(most).toBeLessThanOrEqual(200)
})
