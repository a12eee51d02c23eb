import { readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { call, folderOf, GATE } from './call.ts'

const UNTIDY = 'job   "1" {units=metric}\n'
const TIDY = 'job "1" { units = metric }\n'

it('writes what changes, says its name, and nothing the second time', async () => {
  const folder = folderOf({ 'a.door': UNTIDY, 'gate.door': GATE })
  const before = statSync(join(folder, 'gate.door'))
  expect(await call(folder, ['fmt'])).toEqual({ status: 0, out: 'a.door\n', err: '' })
  expect(readFileSync(join(folder, 'a.door'), 'utf8')).toBe(TIDY)
  expect(await call(folder, ['fmt'])).toEqual({ status: 0, out: '', err: '' })
  const after = statSync(join(folder, 'gate.door'))
  expect([after.ino, after.mtimeMs]).toEqual([before.ino, before.mtimeMs])
})

it('keeps CR LF and the byte order mark', async () => {
  const folder = folderOf({ 'a.door': `\ufeff${UNTIDY.replace('\n', '\r\n')}` })
  await call(folder, ['fmt'])
  expect(readFileSync(join(folder, 'a.door'), 'utf8')).toBe(`\ufeff${TIDY.replace('\n', '\r\n')}`)
})

it('--check changes nothing, and is 1 where something would change', async () => {
  const folder = folderOf({ 'a.door': UNTIDY, 'gate.door': GATE })
  expect(await call(folder, ['fmt', '--check'])).toEqual({ status: 1, out: 'a.door\n', err: '' })
  expect(readFileSync(join(folder, 'a.door'), 'utf8')).toBe(UNTIDY)
  expect(await call(folder, ['fmt', '--check', 'gate.door'])).toEqual({ status: 0, out: '', err: '' })
})

it('of standard input to standard output', async () => {
  expect(await call(folderOf({}), ['fmt', '-'], { stdin: UNTIDY })).toEqual({ status: 0, out: TIDY, err: '' })
  const check = await call(folderOf({}), ['fmt', '--check', '-'], { stdin: UNTIDY })
  expect(check).toEqual({ status: 1, out: '<standard input>\n', err: '' })
})

it('lays out what is sound, leaves the rest byte for byte, and says where it stands', async () => {
  const broken = 'opening "A" {width=3m\n   height 4m\n}\n'
  const folder = folderOf({ 'a.door': UNTIDY + broken })
  const r = await call(folder, ['fmt'])
  expect(r.status).toBe(1)
  expect(r.out).toBe('a.door\n')
  expect(r.err).toMatch(/^doorwright: a\.door:3:4 cannot be read, so its block was left as it is: .+\n$/)
  expect(readFileSync(join(folder, 'a.door'), 'utf8')).toBe(TIDY + broken)
})
