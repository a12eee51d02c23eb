/** How the built server lives and dies: it answers in any state, and never outlives its client. */
import { spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { createServer, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { Client, SERVER, type Session, startSession } from './client.ts'

let session: Session
let folder: string
beforeEach(() => {
  session = startSession()
  folder = mkdtempSync(join(tmpdir(), 'doorwright-lsp-'))
})
afterEach(async () => {
  session.child.kill()
  await session.ended
  rmSync(folder, { recursive: true })
})

const alive = (pid: number): boolean => {
  try {
    process.kill(pid, 0)
    return true
  } catch {
    return false
  }
}
async function gone(pid: number, ms: number): Promise<boolean> {
  for (const end = Date.now() + ms; Date.now() < end; await new Promise(r => setTimeout(r, 50)))
    if (!alive(pid)) return true
  return false
}

test('requests before initialize are refused, and nothing is lost by them', async () => {
  const { client } = session
  const position = { textDocument: { uri: 'file:///a.door' }, position: { line: 0, character: 0 } }
  await expect(client.ask('textDocument/hover', position)).rejects.toMatchObject({ code: -32002 })
  await expect(client.ask('no/suchThing', {})).rejects.toMatchObject({ code: -32002 })
  await client.open('file:///a.door', 'opening') // to be ignored
  await client.initialize(undefined)
  expect(client.published).toEqual([])
  expect(await client.ask('textDocument/hover', position)).toBeNull()
})

test('an unknown method and senseless parameters cost one answer only', async () => {
  const { client } = session
  await client.initialize(undefined)
  await expect(client.ask('no/suchThing', {})).rejects.toMatchObject({ code: -32601 })
  await client.tell('no/suchThing', {})
  await client.ask('textDocument/hover', {}).catch(() => {})
  await client.ask('completionItem/resolve', { label: 'x' }).catch(() => {})
  await client.ask('textDocument/codeAction', { textDocument: { uri: 7 } }).catch(() => {})
  await client.open('file:///a.door', 'opening "A" {')
  expect((await client.findings('file:///a.door', () => true)).length).toBeGreaterThan(0)
})

test('after shutdown it answers no more; exit gives 0', async () => {
  const { client, ended } = session
  await client.initialize(undefined)
  await client.ask('shutdown', undefined)
  await expect(
    client.ask('textDocument/documentSymbol', { textDocument: { uri: 'file:///a.door' } }),
  ).rejects.toMatchObject({ code: -32600 })
  await client.tell('exit', undefined)
  expect(await ended).toBe(0)
})

test('exit without shutdown gives 1', async () => {
  await session.client.initialize(undefined)
  await session.client.tell('exit', undefined)
  expect(await session.ended).toBe(1)
})

test('it ends when its standard input does', async () => {
  await session.client.initialize(undefined)
  session.child.stdin!.end()
  expect(await session.ended).toBe(1)
})

for (const transport of ['--stdio', '--node-ipc'])
  test(`it ends when its client is killed (${transport})`, async () => {
    const stdio = transport === '--stdio' ? "['pipe', 'pipe', 'ignore']" : "['ignore', 'ignore', 'ignore', 'ipc']"
    const script = `const c = require('node:child_process').spawn(process.execPath, [${JSON.stringify(SERVER)}, '${transport}'], { stdio: ${stdio} }); console.log(c.pid); setInterval(() => {}, 1000)`
    const client = spawn(process.execPath, ['-e', script], { stdio: ['ignore', 'pipe', 'inherit'] })
    const pid = Number(String((await once(client.stdout, 'data'))[0]))
    await new Promise(r => setTimeout(r, 400))
    expect(alive(pid)).toBe(true)
    client.kill('SIGKILL')
    expect(await gone(pid, 5000)).toBe(true)
  })

test('it speaks over a socket too, and ends with it', async () => {
  const listener = createServer()
  listener.listen(0, '127.0.0.1')
  await once(listener, 'listening')
  const { port } = listener.address() as { port: number }
  const child = spawn(process.execPath, [SERVER, `--socket=${port}`], { stdio: ['ignore', 'ignore', 'inherit'] })
  const ended = once(child, 'exit')
  const [socket] = (await once(listener, 'connection')) as [Socket]
  await new Client(socket, socket).initialize(undefined)
  socket.destroy()
  expect((await ended)[0]).toBe(1)
  listener.close()
})

test.each([[[]], [['--socket']], [['--socket=ninety']], [['--node-ipc']]])(
  'called with %j it says which transports there are',
  args => {
    const run = spawnSync(process.execPath, [SERVER, ...args], { encoding: 'utf8' })
    expect(run.status).toBe(2)
    expect(run.stderr).toMatch(/--stdio, --node-ipc or --socket=PORT/)
  },
)

test('a `use` may not leave the opened folder, not even by a link', async () => {
  const { client } = session
  const work = join(folder, 'work')
  mkdirSync(work)
  writeFileSync(join(folder, 'outside.door'), 'pipe secret_pipe { od = 6in; wall = 1/4in }\n')
  symlinkSync(join(folder, 'outside.door'), join(work, 'link.door'))
  await client.initialize(work)
  const job = join(work, 'job.door')
  for (const path of ['../outside.door', 'link.door']) {
    await client.open(job, `use "${path}"\n`)
    const found = await client.findings(job, d => d.length > 0)
    expect(found.map(d => d.code)).toEqual(['use_outside'])
    const at = { textDocument: { uri: `file://${job}` }, position: { line: 1, character: 0 } }
    expect(JSON.stringify(await client.ask('textDocument/completion', at))).not.toContain('secret_pipe')
    await client.tell('textDocument/didClose', { textDocument: at.textDocument })
    await client.findings(job, d => d.length === 0)
  }
})
