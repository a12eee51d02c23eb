/** Several reports of one run. */
import { chmodSync, existsSync, lstatSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { call, folderOf, GATE, ONE_ERROR } from './call.ts'

it('each into its file, one to standard output, the same as if it were alone', async () => {
  const folder = folderOf({ 'gate.door': ONE_ERROR })
  const alone = async (format: string) => (await call(folder, ['check', '--format', format])).out
  const r = await call(folder, [
    'check',
    '--format=json=a.json',
    '--format',
    'sarif=b.sarif',
    '--format',
    'junit=c.xml',
    '--format',
    'pretty',
  ])
  expect(r.status).toBe(1)
  expect(r.err).toBe('')
  expect(r.out).toBe(await alone('pretty'))
  expect(readFileSync(join(folder, 'a.json'), 'utf8')).toBe(await alone('json'))
  expect(readFileSync(join(folder, 'b.sarif'), 'utf8')).toBe(await alone('sarif'))
  expect(readFileSync(join(folder, 'c.xml'), 'utf8')).toBe(await alone('junit'))
  // nothing half written is left beside them
  expect(readdirSync(folder).sort()).toEqual(['a.json', 'b.sarif', 'c.xml', 'doorwright.json', 'gate.door'])
})

it('nothing on standard output where all go into files; without colour there', async () => {
  const folder = folderOf({ 'gate.door': ONE_ERROR })
  const r = await call(folder, ['check', '--format', 'pretty=a=b.txt'], { colour: true })
  expect(r.out).toBe('')
  const text = readFileSync(join(folder, 'a=b.txt'), 'utf8')
  expect(text).toContain('gate.door:9:3  error')
  expect(text).not.toContain('\u001b')
})

it('a file that is there is replaced; a link stays a link; its permissions stay', async () => {
  const folder = folderOf({ 'gate.door': GATE, 'old.json': 'x'.repeat(100_000) })
  chmodSync(join(folder, 'old.json'), 0o640)
  symlinkSync('old.json', join(folder, 'link.json'))
  await call(folder, ['check', '--format', 'json=link.json'])
  expect(JSON.parse(readFileSync(join(folder, 'old.json'), 'utf8')).version).toBe(1)
  expect(lstatSync(join(folder, 'link.json')).isSymbolicLink()).toBe(true)
  expect(statSync(join(folder, 'old.json')).mode & 0o777).toBe(0o640)
})

it('a device is written to, not replaced', async () => {
  const before = lstatSync('/dev/null')
  expect((await call(folderOf({ 'gate.door': GATE }), ['check', '--format', 'json=/dev/null'])).status).toBe(0)
  expect(lstatSync('/dev/null').ino).toBe(before.ino)
})

it.each([
  [
    ['--format', 'json', '--format', 'sarif'],
    'Only one report can go to standard output, not json and sarif. Give the others a file: --format sarif=FILE.',
  ],
  [['--format', 'pretty', '--format', 'pretty'], 'Only one report can go to standard output'],
  [['--format', 'telex=a.txt'], 'There is no format "telex" here. There are: pretty, json, sarif, github, junit.'],
  [['--format', 'json='], '--format json= needs the name of a file to write.'],
  [['--format', 'json=gate.door'], 'would write a report over a job'],
  [['--format', 'json=sub'], 'sub is a folder. --format json= needs the name of a file to write.'],
  [['--format', 'json=gone/a.json'], 'The folder of gone/a.json is not there. Make it first.'],
  [['--format', 'json=a', '--format', 'sarif=./a'], 'Two reports cannot go into the same file, ./a.'],
  [['--fix', '-', '--format', 'json=a.json'], 'With --fix the fixed text of standard input goes to standard output'],
])('2 for %j, before anything is checked or written', async (args, message) => {
  const folder = folderOf({ 'gate.door': ONE_ERROR })
  mkdirSync(join(folder, 'sub'))
  const r = await call(folder, ['check', ...args])
  expect([r.status, r.out]).toEqual([2, ''])
  expect(r.err).toContain(message)
  expect(readFileSync(join(folder, 'gate.door'), 'utf8')).toBe(ONE_ERROR)
  expect(readdirSync(folder)).toHaveLength(3)
})

it('a file that cannot be written is said', async () => {
  const r = await call(folderOf({ 'gate.door': GATE }), ['check', '--format', 'json=/proc/a.json'])
  expect(r.status).toBe(2)
  expect(r.err).toMatch(/^doorwright: \/proc\/a\.json could not be written: it /)
  expect(existsSync('/proc/a.json')).toBe(false)
})
