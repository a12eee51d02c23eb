/** Files made to break the checker, beyond those of `server/cli/hostile.test.ts`: bounded time and memory, a clear word. */
import { spawnSync } from 'node:child_process'
import {
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { call } from '../server/cli/call.ts'
import { AT_FILE, AT_PLACE, REPORTS, serviceOf } from './support.ts'

const CLI = fileURLToPath(new URL('../../dist/cli.cjs', import.meta.url))
let top: string
let folder: string
beforeEach(() => {
  top = mkdtempSync(join(tmpdir(), 'doorwright-hostile-'))
  folder = join(top, 'work')
  mkdirSync(folder)
  writeFileSync(join(folder, 'doorwright.json'), '{}')
})
afterEach(() => rmSync(top, { recursive: true }))

/** Everything below the folder, with size and time: a check writes nothing. */
const everything = (): string[] =>
  readdirSync(top, { recursive: true, withFileTypes: true })
    .map(e => join(e.parentPath, e.name))
    .toSorted()
    .map(f => `${relative(top, f)} ${lstatSync(f).size} ${lstatSync(f).mtimeMs}`)

/** The built program on a file, with no more memory than a small machine has, and no longer than half a minute. */
function check(text: string | Uint8Array, args: readonly string[] = [], name = 'job.door') {
  writeFileSync(join(folder, name), text)
  const before = everything()
  const run = spawnSync(process.execPath, ['--max-old-space-size=600', CLI, 'check', name, ...args], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 30_000,
    maxBuffer: 1 << 28,
    env: { ...process.env, XDG_CACHE_HOME: join(top, 'cache'), NO_COLOR: '1' },
  })
  expect(run.signal, 'took too long').toBeNull()
  expect(everything()).toEqual(before)
  expect(run.stderr).not.toMatch(/ at .*\.cjs|heap out of memory|RangeError|TypeError/)
  expect(run.stdout).not.toMatch(/\bNaN\b|Infinity|undefined|\[object/)
  return run
}

/** The same in this process, for what is small: hundreds of programs take their time to start. */
async function checkHere(text: string, args: readonly string[] = []) {
  writeFileSync(join(folder, 'job.door'), text)
  const before = everything()
  const said = await call(folder, ['check', 'job.door', ...args])
  expect(everything()).toEqual(before)
  expect(said.out).not.toMatch(/\bNaN\b|Infinity|undefined|\[object/)
  return said
}

const job = 'job "HS-1" {}\n'

test('five megabytes of sound lines', () => {
  const r = check(
    job + Array.from({ length: 120_000 }, (_, i) => `let a${i} = ${i % 90}ft + ${i % 7} * 1 1/2in # line\n`).join(''),
  )
  expect(r.status).toBe(0)
})

test('a file over 5 MB is refused by name', () => {
  const r = check('#'.repeat(5 * 1024 * 1024 + 1))
  expect(r.status).toBe(2)
  expect(r.stderr).toMatch(/job\.door is more than 5 MB long/)
})

test.each([
  ['of one word', 'x'.repeat(1e6)],
  ['of digits', `let a = ${'1'.repeat(1e6)}`],
  ['of fractions', `let a = ${'1 1/2in '.repeat(125_000)}`],
  ['of feet and inches without a blank', `let a = 1in${'4in'.repeat(330_000)}`],
  ['of points', `let a = ${'1.'.repeat(250_000)}`],
  ['in quotes', `job "${'x'.repeat(1e6)}" {}`],
  ['of comment', `#${'x '.repeat(5e5)}`],
  ['of dots', `let a = b${'.c'.repeat(5e5)}`],
  ['of signs', `let a = ${'-'.repeat(1e6)}1`],
  ['of nots', `require ${'not '.repeat(250_000)}true`],
  ['of a list', `let a = [${'1ft, '.repeat(200_000)}1ft]`],
  ['of marks', '"\'`;,.:'.repeat(140_000)],
  ['of blocks', `opening "A" {${' curtain { }'.repeat(80_000)} }`],
  ['of emoji', '😀'.repeat(250_000)],
  ['of unseen characters in texts', `let a = [${'"\u200b", '.repeat(150_000)}""]`],
])('one line of a megabyte %s', (_, line) => {
  const r = check(`${job}${line}\n`)
  expect([0, 1]).toContain(r.status)
  // a finding may name a word as long as the file, a few times over
  expect(r.stdout.length).toBeLessThan(4_000_000)
})

test.each([
  ['blocks', (n: number) => `opening "A" ${'{ curtain '.repeat(n)}${'}'.repeat(n)}`],
  ['blocks on lines of their own', (n: number) => `opening "A" {\n${'curtain {\n'.repeat(n)}${'}\n'.repeat(n)}}`],
  ['round brackets', (n: number) => `let a = ${'('.repeat(n)}1${')'.repeat(n)}`],
  ['square brackets', (n: number) => `let a = ${'['.repeat(n)}1${']'.repeat(n)}`],
  ['calls', (n: number) => `let a = ${'min('.repeat(n)}1${')'.repeat(n)}`],
  ['calls over lines', (n: number) => `let a = ${'min(\n'.repeat(n)}1${'\n)'.repeat(n)}`],
  ['signs and brackets', (n: number) => `let a = ${'-('.repeat(n)}1${')'.repeat(n)}`],
])('10,000 levels of %s', (_, text) => {
  expect(check(job + text(10_000)).status).toBe(1)
})

test('a chain of 3,000 lets, and one of 3,000 likes', () => {
  const lets = Array.from({ length: 3000 }, (_, i) => `let a${i} = a${i + 1}\n`).join('')
  expect([0, 1]).toContain(check(`${job}${lets}let a3000 = 1ft\n`).status)
  const likes = Array.from({ length: 3000 }, (_, i) => `opening "D${i}" like "D${i + 1}" {}\n`).join('')
  expect(check(`${job}${likes}opening "D3000" { width = 1ft }\n`).status).toBe(1)
})

test('100,000 errors are counted, and the memory holds', () => {
  const r = check(job + 'wat = 12 furlongs\n'.repeat(100_000))
  expect(r.status).toBe(1)
  expect(r.stdout).toMatch(/[12]00,?000 errors/)
})

test('the marks of a merge, of two and of three versions, are named once each', () => {
  for (const base of ['', '||||||| base\nopening "A" { width = 3ft }\n']) {
    const r = check(
      `${job}<<<<<<< mine\nopening "A" { width = 1ft }\n${base}=======\nopening "A" { width = 2ft }\n>>>>>>> theirs\n`,
    )
    expect(r.status).toBe(1)
    expect(r.stdout.match(/A merge left its marks here/g)!.length).toBe(base ? 4 : 3)
  }
})

test('circles of `use` and `like`, short and long, are told whole and end', async () => {
  for (const n of [1, 2, 50]) {
    for (let i = 0; i < n; i++)
      writeFileSync(join(folder, `u${i}.door`), `use "u${(i + 1) % n}.door"\nslat s${i} { pitch = 2in }\n`)
    const r = await call(folder, ['check', 'u0.door'])
    expect(r.status).toBe(1)
    expect(r.out).toContain('A circle of `use`')
    const likes = Array.from({ length: n }, (_, i) => `opening "D${i}" like "D${(i + 1) % n}" {}\n`).join('')
    const like = await checkHere(job + likes)
    expect(like.out.match(/A circle of `like`/g)).toHaveLength(1)
    const lets = Array.from({ length: n }, (_, i) => `let a${i} = a${(i + 1) % n}\n`).join('')
    expect((await checkHere(job + lets)).out).toMatch(/circle/)
  }
})

test('`use` leads out by no way, and nothing of what lies there is told', async () => {
  const secret = 'slat secret_slat { pitch = 2in }\n'
  mkdirSync(join(top, 'out'))
  writeFileSync(join(top, 'out', 'secret.door'), secret)
  mkdirSync(join(folder, 'deep'))
  symlinkSync(join(top, 'out'), join(folder, 'linked'))
  symlinkSync(join(top, 'out', 'secret.door'), join(folder, 'one.door'))
  symlinkSync(join(folder, 'one.door'), join(folder, 'two.door'))
  symlinkSync('loop.door', join(folder, 'loop.door'))
  symlinkSync('/dev/zero', join(folder, 'zero.door'))
  const ways = [
    '../out/secret.door',
    'deep/../../out/secret.door',
    './deep/.././../out/secret.door',
    '../../../../../../../../etc/passwd.door',
    join(top, 'out', 'secret.door'),
    `file://${top}/out/secret.door`,
    '//server/share/secret.door',
    'C:/secret.door',
    '..\\\\out\\\\secret.door',
    'linked/secret.door',
    'one.door',
    'two.door',
    'loop.door',
    'zero.door',
    'deep',
    'deep.door/x.door',
    '',
    ' ',
    '%2e%2e/out/secret.door',
    '~/secret.door',
    'a\\u0000.door',
  ]
  for (const way of ways) {
    const r = await checkHere(`${job}use "${way}"\nopening "A" { curtain { slat = secret_slat } }\n`)
    expect(r.status, way).toBe(1)
    expect(r.out, way).toMatch(/use_outside|use_failed|syntax/)
    // the name is not known, so nothing of the file was read
    expect(r.out, way).toMatch(/unknown_name/)
  }
})

const NAMES = [
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'valueOf',
  'prototype',
  '__defineGetter__',
  'then',
  'length',
]

test('names that every object has are names like any other, in every place that takes one', async () => {
  for (const name of NAMES) {
    const small = name.toLowerCase()
    const text = `job "${name}" { site = "${name}" }
let ${small} = 1ft
slat ${small} { pitch = 2in; thickness = 1in; weight = 2 lb/ft^2 }
limits { ${small} = 1in }
opening "${name}" {
  width = ${small}
  ${small} = 3
  ${small} { ${small} = 1 }
  curtain { slat = ${small} }
  mount = ${small}
  spring ${small} { wire = ${small}.${small} }
  allow ${small} because "${name}"
  require ${small}.${small} > ${small}(1) and opening.${small} == 12 ${name}
}
opening "B" like "${name}" { spring ${small} like ${small} {} }
opening "C" like "D" {}
`
    for (const args of [[], ['--format', 'json'], ['--format', 'sarif']])
      expect((await checkHere(text, args)).status, name).toBe(1)
    const s = serviceOf({ 'a.door': text }, ['a.door'])
    for (const verb of Object.values({ ...AT_FILE, ...REPORTS })) verb(s, 'a.door')
    for (let i = text.indexOf(small); i >= 0; i = text.indexOf(small, i + 1))
      for (const verb of Object.values(AT_PLACE)) verb(s, 'a.door', s.position('a.door', i))
    const symbols = s.workspaceSymbols(name).map(x => x.name)
    expect(symbols, name).toContain(small)
    for (const mark of [name, 'B', 'C']) expect(s.explain('a.door', mark, `opening.${name}`)).toBeUndefined()
  }
  expect(({} as Record<string, unknown>).pitch).toBeUndefined()
})

test('a width that is hardly a number gives a finding or a number, and no nonsense in any output', async () => {
  for (const value of [
    '1e999ft',
    '1e-999ft',
    `${'9'.repeat(400)}ft`,
    `0.${'0'.repeat(400)}1ft`,
    '1/0in',
    '1 1/0in',
    '0/0',
    '1 0/0in',
    '1ft / 0ft',
    '1ft / (1ft - 1ft)',
    '0ft ^ 12 / 0ft ^ 12',
    '(10 ^ 12) ^ 12 ^ 2',
    '((10 ^ 12) ^ 12) ^ 12 * 1ft',
    '1 / ((10 ^ 12) ^ 12) ^ 12 * 1ft',
    'sqrt(-1) * 1ft',
    'sqrt(-1ft ^ 2)',
    '-0ft',
    '99999999999999999999999ft',
    '0x10ft',
    '1_000ft',
    '1,000ft',
    '١٢ft',
    'NaN',
    'Infinity',
    '-Infinity * 1ft',
  ]) {
    const text = `${job}opening "A" {\n  width = ${value}\n  height = 10ft\n}\n`
    const odd = /^-?(NaN|Infinity)/.test(value)
    writeFileSync(join(folder, 'job.door'), text)
    for (const args of [[], ['--format', 'json']]) {
      const { out, status } = await call(folder, ['check', 'job.door', ...args])
      expect([0, 1], value).toContain(status)
      if (!odd) expect(out, value).not.toMatch(/NaN|Infinity|undefined|\[object/)
    }
    const s = serviceOf({ 'a.door': text }, ['a.door'])
    for (const verb of Object.values({ ...AT_FILE, ...REPORTS })) {
      const said = JSON.stringify(verb(s, 'a.door')) ?? ''
      if (!odd) expect(said, value).not.toMatch(/NaN|Infinity/)
    }
  }
})

test('control characters and those that turn the writing around do not reach the terminal, whole or in part', async () => {
  const unseen = [
    '\u0000',
    '\u0007',
    '\u001b[31m',
    '\u0008',
    '\u007f',
    '\u009b',
    '\u200b',
    '\u202a',
    '\u202e',
    '\u2066',
    '\u2069',
    '\u061c',
    '\ufeff',
  ]
  for (const c of unseen) {
    const text = `${job}opening "A${c}B" {\n  width = 1${c}ft # ${c}\n  ${c}height = 3ft because "x${c}"\n}\n`
    writeFileSync(join(folder, 'job.door'), text)
    const { out, err, status } = await call(folder, ['check', 'job.door'])
    expect(status, JSON.stringify(c)).toBeLessThan(3)
    const shown = out + err
    expect(shown.replace(/[\t\n]|\r\n/g, ''), JSON.stringify(c)).not.toMatch(
      /[\p{Cc}\u061c\u202a-\u202e\u2066-\u2069]/u,
    )
  }
})

test('bytes of every kind are refused in words or read', () => {
  const random = (seed: number): Uint8Array =>
    Uint8Array.from({ length: 5000 }, (_, i) => ((i * 7919 + seed * 104_729) >> 3) & 255)
  for (const bytes of [
    Uint8Array.of(0),
    Uint8Array.of(0xef, 0xbb, 0xbf),
    Uint8Array.of(0xef, 0xbb, 0xbf, 0xef, 0xbb, 0xbf),
    Uint8Array.of(0xff, 0xfe, 0x6a, 0),
    Uint8Array.of(0xc0, 0x80),
    Uint8Array.of(0xed, 0xa0, 0x80),
    Uint8Array.of(0xf4, 0x90, 0x80, 0x80),
    random(1),
    random(2),
    readFileSync(process.execPath).subarray(0, 100_000),
  ]) {
    const r = check(bytes)
    expect([0, 1, 2]).toContain(r.status)
    if (r.status === 2) expect(r.stderr).toMatch(/job\.door is (not a text file|not UTF-8 text|UTF-16 text)/)
  }
})
