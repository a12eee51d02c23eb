/** The program as it is shipped: one file, started as a process. */
import { spawn, spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { folderOf, GATE, ONE_ERROR } from './call.ts'
import { builtProgram } from './program.ts'

const program = builtProgram()

const { FORCE_COLOR: _, NO_COLOR: __, ...plain } = process.env
const start = (cwd: string, args: readonly string[], more: { input?: string; env?: Record<string, string> } = {}) =>
  spawnSync(process.execPath, [program, ...args], {
    cwd,
    encoding: 'utf8',
    input: more.input ?? '',
    env: { ...plain, ...more.env },
  })

describe('exit status', () => {
  it.each([
    [GATE, ['check'], 0],
    [ONE_ERROR, ['check'], 1],
    [GATE, ['check', 'gone.door'], 2],
    [GATE, ['nonsense'], 2],
    [GATE, [], 2],
    [GATE, ['--help'], 0],
    [GATE, ['check', '--help'], 0],
    [GATE, ['--version'], 0],
  ])('%#', (text, args, status) => {
    const r = start(folderOf({ 'gate.door': text }), args)
    expect(r.status).toBe(status)
    expect(r.stderr).not.toMatch(/\n {4}at /)
  })
})

it('reads standard input', () => {
  const r = start(folderOf({}), ['check', '-'], { input: ONE_ERROR })
  expect(r.stdout).toContain('<standard input>:9:3  error  unknown_field')
  expect(r.status).toBe(1)
})

describe('colour', () => {
  const coloured = (env: Record<string, string>): boolean =>
    start(folderOf({ 'gate.door': ONE_ERROR }), ['check'], { env }).stdout.includes('\u001b[')
  it.each<[Record<string, string>, boolean]>([
    [{}, false],
    [{ FORCE_COLOR: '1' }, true],
    [{ FORCE_COLOR: '' }, true],
    [{ FORCE_COLOR: '0' }, false],
    [{ NO_COLOR: '1' }, false],
    [{ FORCE_COLOR: '1', NO_COLOR: '1' }, true],
  ])('into a pipe with %j: %s', (env, expected) => expect(coloured(env)).toBe(expected))
})

it('says nothing where the reader goes away', async () => {
  // Enough output that the pipe is full long before the end.
  const many = Array.from({ length: 200 }, (_, i) =>
    ONE_ERROR.slice(ONE_ERROR.indexOf('opening')).replace('Gate', `Gate ${i}`),
  ).join('\n')
  const folder = folderOf({ 'many.door': `job "1" {}\n${many}` })
  for (const args of [['check'], ['check', '--format', 'json'], ['derive'], ['rules']]) {
    const child = spawn(process.execPath, [program, ...args], {
      cwd: folder,
      env: plain,
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    let err = ''
    child.stderr.on('data', d => void (err += d))
    child.stdout.once('data', () => child.stdout.destroy())
    const [status, signal] = await new Promise<[number | null, string | null]>(done =>
      child.on('close', (s, g) => done([s, g])),
    )
    expect(signal).toBeNull()
    expect([0, 1]).toContain(status)
    // `derive` says that there are errors; that is not about the pipe
    expect(err).not.toMatch(/EPIPE|fault|\n {4}at /)
  }
})

it('prints its version, and help that ends with what the numbers are worth', () => {
  const folder = folderOf({})
  const { version } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../package.json'), 'utf8'))
  expect(start(folder, ['--version']).stdout).toBe(`${version}\n`)
  for (const args of [['--help'], ['check', '--help'], ['help', 'derive']]) {
    const help = start(folder, args).stdout.replaceAll(/\s+/g, ' ')
    expect(help).toMatch(
      /Exit status: 0 nothing above the threshold, 1 findings, 2 .* do not replace a qualified engineer, .* Fire doors, .* follow their listing and documents\. $/,
    )
  }
})

it('answers as a language server, on standard input and output if nothing else is said', async () => {
  const message = JSON.stringify({
    jsonrpc: '2.0',
    id: 1,
    method: 'initialize',
    params: { processId: null, rootUri: null, capabilities: {} },
  })
  const child = spawn(process.execPath, [program, 'lsp'], { env: plain, stdio: ['pipe', 'pipe', 'pipe'] })
  child.stdin.write(`Content-Length: ${message.length}\r\n\r\n${message}`)
  let out = ''
  await new Promise<void>(done => {
    child.stdout.on('data', d => {
      out += d
      if (out.includes('"id":1')) done()
    })
    child.on('close', () => done())
  })
  child.kill()
  expect(out).toContain('"capabilities"')
})

it('refuses a language server that nobody could talk to', () => {
  const folder = folderOf({})
  expect(start(folder, ['lsp', '--socket', 'seven']).stderr).toContain(
    '--socket takes the number of a port, 1 to 65535, not "seven".',
  )
  expect(start(folder, ['lsp', '--stdio', '--socket', '7000']).status).toBe(2)
  expect(start(folder, ['lsp', '--node-ipc']).stderr).toContain('--node-ipc is for a program that starts this one')
})

it('does not start the language server to check a file', () => {
  // Loaded by the first test that needs it only: a fresh process tells which of its parts ran.
  const folder = folderOf({ 'gate.door': GATE })
  const probe = join(dirname(program), 'probe.cjs')
  writeFileSync(
    probe,
    `const m=require('node:module'),o=m._load;m._load=function(r,...a){if(/^(node:)?(net|child_process)$/.test(r))process.stderr.write('loaded '+r+'\\n');return o.call(this,r,...a)};process.argv=[process.argv[0],${JSON.stringify(program)},'check'];require(${JSON.stringify(program)})`,
  )
  const r = spawnSync(process.execPath, [probe], { cwd: folder, encoding: 'utf8', env: plain })
  expect(r.stdout).toContain('nothing found')
  expect(r.stderr).not.toContain('loaded node:net')
  expect(r.stderr).not.toContain('loaded net')
})
