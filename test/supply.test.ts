/** What goes into the program and what is shipped of it: packages, licences, the package for VS Code, the network. */
import { execFile, spawn, spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { once } from 'node:events'
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { createRequire, isBuiltin } from 'node:module'
import { homedir, tmpdir } from 'node:os'
import { join, relative } from 'node:path'
import { promisify } from 'node:util'
import { build } from 'esbuild'
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest'
import { Client, uriOf } from './server/lsp/client.ts'

const ROOT = join(import.meta.dirname, '..')
const text = (path: string): string => readFileSync(join(ROOT, path), 'utf8')

interface Locked {
  readonly version?: string
  readonly integrity?: string
  readonly resolved?: string
  readonly link?: boolean
  readonly license?: string
  readonly hasInstallScript?: boolean
}
const LOCKED: Readonly<Record<string, Locked>> = JSON.parse(text('package-lock.json')).packages
const MANIFEST = JSON.parse(text('package.json'))

/** What a build reads. */
const SOURCES = ['client', 'grammar', 'server', 'package.json', 'tsconfig.json', 'README.md', 'LICENSE']
/** What the surroundings of a build are filled with; nothing of it may come out. */
const CANARY = 'canary-7f3a91'

const top = mkdtempSync(join(tmpdir(), 'doorwright-supply-'))
afterAll(() => rmSync(top, { recursive: true, force: true }))

/** Builds and packs a copy of the sources, as it is done in a place of another name, another zone and by another person. */
async function made(name: string, env: Readonly<Record<string, string>>, mode: number): Promise<string> {
  const tree = join(top, name)
  mkdirSync(tree, { recursive: true })
  for (const s of SOURCES) cpSync(join(ROOT, s), join(tree, s), { recursive: true })
  for (const f of readdirSync(join(tree, 'grammar'))) chmodSync(join(tree, 'grammar', f), mode)
  symlinkSync(join(ROOT, 'node_modules'), join(tree, 'node_modules'), 'junction')
  const surroundings = Object.fromEntries(
    ['USER', 'LOGNAME', 'HOSTNAME', 'NPM_TOKEN', 'GITHUB_TOKEN', 'NODE_AUTH_TOKEN', 'VSCE_PAT', 'AWS_SECRET'].map(v => [
      v,
      `${CANARY}-${v}`,
    ]),
  )
  const { PATH = '', SystemRoot = '' } = process.env
  const options = {
    cwd: tree,
    env: { PATH, SystemRoot, HOME: join(top, `${CANARY}-home`), TMPDIR: tmpdir(), ...surroundings, ...env },
  }
  for (const step of ['client/build.mjs', 'client/vsix.mjs'])
    await promisify(execFile)(process.execPath, [step], options)
  return tree
}

let one: string
let other: string
beforeAll(async () => {
  ;[one, other] = (await Promise.all([
    made('one', { TZ: 'UTC', LANG: 'C' }, 0o644),
    made('another/and a longer name', { TZ: 'Pacific/Kiritimati', LANG: 'tr_TR.UTF-8', CI: 'true' }, 0o600),
  ])) as [string, string]
}, 120_000)

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter(e => e.isFile())
    .map(e => relative(folder, join(e.parentPath, e.name)).replaceAll('\\', '/'))
    .toSorted()

interface Entry {
  readonly name: string
  readonly mode: number
  readonly content: Buffer
}

/** The entries of a package, as VS Code reads them: by the same library, which comes with the packer. */
async function entriesOf(file: string): Promise<Entry[]> {
  const yauzl = createRequire(join(ROOT, 'node_modules/@vscode/vsce/package.json'))('yauzl')
  const zip = await promisify(yauzl.open)(file, { lazyEntries: true, autoClose: false })
  const entries: Entry[] = []
  await new Promise<void>((resolve, reject) => {
    zip.on('error', reject)
    zip.on('end', resolve)
    zip.on('entry', async (e: { fileName: string; externalFileAttributes: number }) => {
      try {
        const stream = await promisify(zip.openReadStream.bind(zip))(e)
        const parts: Buffer[] = []
        for await (const part of stream as AsyncIterable<Buffer>) parts.push(part)
        entries.push({ name: e.fileName, mode: e.externalFileAttributes >>> 16, content: Buffer.concat(parts) })
        zip.readEntry()
      } catch (error) {
        reject(error)
      }
    })
    zip.readEntry()
  })
  zip.close()
  return entries
}

describe('packages', () => {
  it('are set up from the lock file, and no script of theirs is run', () => {
    const calls = [...text('client/setup.mjs').matchAll(/'npm', \[(.*?)\]/g)].map(m => m[1])
    expect(calls).toHaveLength(1)
    expect(calls[0]).toMatch(/^'ci', '--ignore-scripts'/)
  })

  it('are named by exact versions, which the lock file has, each with the checksum of its content', () => {
    expect(MANIFEST.dependencies, 'what is shipped needs none').toBeUndefined()
    for (const [name, version] of Object.entries(MANIFEST.devDependencies as Record<string, string>)) {
      expect(version, name).toMatch(/^\d+\.\d+\.\d+(-[\w.]+)?$/)
      expect(LOCKED[`node_modules/${name}`]?.version, name).toBe(version)
    }
    for (const [path, p] of Object.entries(LOCKED)) {
      if (path === '') continue
      expect(p.link, path).toBeUndefined()
      expect(p.resolved ?? 'https://registry.npmjs.org/', path).toMatch(/^https:\/\/registry\.npmjs\.org\//)
      expect(p.integrity, path).toMatch(/^sha512-/)
    }
  })

  it('have no scripts to install them, but for these, which are built with, not shipped', () => {
    const scripts = Object.entries(LOCKED).filter(([, p]) => p.hasInstallScript)
    expect(scripts.map(([path]) => path.replace(/^.*node_modules\//, '')).toSorted()).toEqual([
      '@vscode/vsce-sign', // brings what signs a package for the marketplace
      'esbuild', // makes its own start faster
      'keytar', // keeps the marketplace's password
    ])
  })
})

const PERMISSIVE = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD', 'BlueOak-1.0.0', 'CC0-1.0']

/** The packages that a bundle of one of the programs is made of, by what the bundler reads. */
async function bundled(): Promise<Set<string>> {
  const { common } = await import(String(new URL('../client/build.mjs', import.meta.url)))
  const { metafile } = await build({
    ...common,
    entryPoints: ['server/cli/main.ts', 'server/lsp/main.ts', 'client/extension.ts'],
    external: ['vscode'],
    outdir: join(top, 'unused'),
    write: false,
    metafile: true,
  })
  const names = Object.keys(metafile!.inputs).map(i => /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(i)?.[1])
  return new Set(names.filter(n => n !== undefined))
}

it('licences: every bundled package has its own in third-party.txt, and all of them are permissive', async () => {
  const notices = readFileSync(join(one, 'dist/third-party.txt'), 'utf8')
  const parts = notices.replace(/^.*\n\n/, '').split(`\n\n${'-'.repeat(80)}\n\n`)
  const names = parts.map(part => {
    const [, name, version, licence] = /^(\S+) (\d\S*) \((.*)\)\n\n/.exec(part) ?? []
    expect(name, part.slice(0, 100)).toBeDefined()
    expect(PERMISSIVE, name).toContain(licence)
    expect(LOCKED[`node_modules/${name}`], name).toMatchObject({ version, license: licence })
    // the shortest of them, ISC, is as long as that
    expect(part.length, `${name}: its licence is not there`).toBeGreaterThan(600)
    expect(part).toMatch(/copyright/i)
    return name!
  })
  expect(names).toEqual(expect.arrayContaining([...(await bundled())]))
  expect(existsSync(join(one, 'LICENSE'))).toBe(true)
})

/** What may be in the package for VS Code, and has to be. */
const SHIPPED = [
  /^\[Content_Types\]\.xml$/,
  /^extension\.vsixmanifest$/,
  /^extension\/(package\.json|readme\.md|LICENSE\.txt)$/,
  /^extension\/dist\/(cli|server|extension)\.cjs$/,
  /^extension\/dist\/view\.(js|css)$/,
  /^extension\/dist\/browser\/(extension\.cjs|server\.js)$/,
  /^extension\/dist\/third-party\.txt$/,
  /^extension\/dist\/docs\/(language|project|rules)\.md$/,
  /^extension\/dist\/docs\/reference\.html$/,
  /^extension\/dist\/docs\/schema\/[a-z]+\.json$/,
  /^extension\/grammar\/(doorwright\.tmLanguage|language-configuration)\.json$/,
  /^extension\/client\/(snippets\.json|preview\.png)$/,
  /^extension\/client\/walkthrough\/[a-z]+\.md$/,
]

/** Places of a machine that something was built on. */
const PLACES = /(?<![\w.:/-])(?:\/(?:work|root|home|Users|tmp|private|var|builds?)\/[\w.-]|[A-Za-z]:\\+Users\\)/

describe('the package for VS Code', () => {
  it('holds what it needs and nothing else', async () => {
    const names = (await entriesOf(join(one, 'dist/doorwright.vsix'))).map(e => e.name)
    expect(names.filter(n => !SHIPPED.some(p => p.test(n)))).toEqual([])
    expect(SHIPPED.filter(p => !names.some(n => p.test(n)))).toEqual([])
    expect(new Set(names).size).toBe(names.length)
  })

  it('and the bundles hold no source map, no place of the machine and nothing of its environment', async () => {
    const files = [
      ...(await entriesOf(join(one, 'dist/doorwright.vsix'))),
      ...filesBelow(join(one, 'dist')).map(name => ({ name, content: readFileSync(join(one, 'dist', name)) })),
    ]
    const never = [CANARY, top, ROOT, homedir()].filter(s => s.length > 5)
    for (const { name, content } of files) {
      const all = content.toString('latin1')
      expect(name).not.toMatch(/\.map$|\.ts$|\.door$|test/)
      for (const s of never) expect(all.includes(s), `${s} in ${name}`).toBe(false)
      if (/\.(png|vsix)$/.test(name)) continue
      expect(PLACES.exec(all)?.[0], name).toBeUndefined()
      if (/js$/.test(name)) expect(/sourceMappingURL|sourcesContent/.exec(all)?.[0], name).toBeUndefined()
    }
  })

  it('has the files as they were built, of which only the command line can be run', async () => {
    for (const { name, mode, content } of await entriesOf(join(one, 'dist/doorwright.vsix'))) {
      expect(mode.toString(8), name).toBe(name === 'extension/dist/cli.cjs' ? '100755' : '100644')
      const file = join(one, name.replace('extension/', ''))
      if (/^extension\/(dist|grammar|client)\//.test(name)) expect(content.equals(readFileSync(file)), name).toBe(true)
    }
  })
})

it('two builds give the same bytes, wherever and whenever, the package for VS Code too', () => {
  const sums = (tree: string): string[] =>
    filesBelow(join(tree, 'dist')).map(
      f =>
        `${f} ${createHash('sha256')
          .update(readFileSync(join(tree, 'dist', f)))
          .digest('hex')}`,
    )
  expect(sums(one).length).toBeGreaterThan(15)
  expect(sums(one).some(s => s.startsWith('doorwright.vsix '))).toBe(true)
  expect(sums(other)).toEqual(sums(one))
})

/** What of Node each program may use. `net` alone could reach another machine; the last test sees that it does not. */
const BUILTIN: Readonly<Record<string, readonly string[]>> = {
  'dist/server.cjs': [
    'child_process', // vscode-languageserver asks npm for its folder of global packages, if a server says so; ours does not
    'crypto', // vscode-jsonrpc: a name for a pipe
    'fs',
    'net', // pipes and --socket of vscode-jsonrpc and of server/lsp/start.ts: to 127.0.0.1, where the editor says
    'os',
    'path',
    'url',
    'util',
    'v8', // when the heap is collected: server/lsp/heap.ts
  ],
  'dist/cli.cjs': [
    'child_process', // git for `compare`, Chromium for `sheet --pdf`
    'crypto', // checksums of the cache
    'events',
    'fs',
    'net', // the language server that `doorwright lsp` starts, as above
    'os',
    'path',
    'process',
    'url',
    'util',
    'worker_threads',
  ],
}

/** Notes each attempt to reach something and refuses it, in threads and programs started from here too. */
const REFUSE = `
const { appendFileSync } = require('node:fs')
const refuse = (of, name) => {
  if (typeof of[name] === 'function')
    of[name] = () => {
      appendFileSync(process.env.ATTEMPTS, name + '\\n')
      throw new Error('no network: ' + name)
    }
}
const net = require('node:net')
for (const name of ['connect', 'createConnection']) refuse(net, name)
refuse(net.Socket.prototype, 'connect')
refuse(net.Server.prototype, 'listen')
const dns = require('node:dns')
for (const of of [dns, dns.promises]) for (const name of Object.keys(of)) if (/^(lookup|resolve|reverse)/.test(name)) refuse(of, name)
for (const module of ['node:http', 'node:https']) for (const name of ['request', 'get']) refuse(require(module), name)
refuse(require('node:http2'), 'connect')
refuse(require('node:tls'), 'connect')
refuse(require('node:dgram'), 'createSocket')
for (const name of ['fetch', 'WebSocket', 'EventSource']) refuse(globalThis, name)
require('node:module').syncBuiltinESMExports()
`

describe('no network', () => {
  const attempts = join(top, 'attempts')
  const refusing = (): NodeJS.ProcessEnv => {
    const preload = join(top, 'refuse.cjs')
    writeFileSync(preload, REFUSE)
    rmSync(attempts, { force: true })
    return { ...process.env, NODE_OPTIONS: `--require ${JSON.stringify(preload)}`, ATTEMPTS: attempts }
  }
  const attempted = (): string[] =>
    existsSync(attempts) ? readFileSync(attempts, 'utf8').split('\n').slice(0, -1) : []

  it.each(Object.entries(BUILTIN))('%s uses these parts of Node and no others', (program, allowed) => {
    const code = readFileSync(join(one, program), 'utf8')
    const required = [...code.matchAll(/\brequire\(["'`]([^"'`]+)["'`]\)/g)].map(m => m[1]!)
    expect(required.filter(r => !isBuiltin(r))).toEqual([])
    expect([...new Set(required.map(r => r.replace(/^node:/, '')))].toSorted()).toEqual(allowed.toSorted())
  })

  it.each([
    'dist/server.cjs',
    'dist/cli.cjs',
    'dist/extension.cjs',
    'dist/view.js',
    'dist/browser/server.js',
    'dist/browser/extension.cjs',
  ])('%s asks no address for anything, and loads nothing but by a name that can be read', program => {
    const code = readFileSync(join(one, program), 'utf8')
    const never = [
      /\b(fetch|WebSocket|XMLHttpRequest|EventSource|sendBeacon|importScripts)\b\s*\(/,
      /getBuiltinModule|process\.binding|createRequire|[^.\w$]import\(/,
      /["'](node:)?(https?|http2|tls|dgram|dns|inspector)(\/\w+)?["']/,
    ]
    for (const n of never) expect(n.exec(code)?.[0]).toBeUndefined()
  })

  it.each([
    ['connect', "require('net').connect(80, '127.0.0.1')"],
    ['lookup', "require('dns').lookup('localhost', () => {})"],
    ['get', "require('http').get('http://127.0.0.1/')"],
    ['fetch', "fetch('http://127.0.0.1/')"],
    ['createSocket', "require('dgram').createSocket('udp4')"],
    ['connect', `new (require('worker_threads').Worker)("require('net').connect(80)", { eval: true })`],
    ['resolve', "import('node:dns/promises').then(d => d.resolve('localhost'))"],
  ])('an attempt would be seen: %s by %s', (name, code) => {
    const run = spawnSync(process.execPath, ['-e', code], { env: refusing(), encoding: 'utf8' })
    expect(run.status).toBe(1)
    expect(attempted()).toEqual([name])
  })

  it('the command line makes no connection', () => {
    const env = refusing()
    const work = join(top, 'jobs')
    cpSync(join(ROOT, 'samples'), work, { recursive: true })
    const run = (...args: string[]) => {
      const r = spawnSync(process.execPath, [join(one, 'dist/cli.cjs'), ...args], { cwd: work, env, encoding: 'utf8' })
      expect([0, 1], `${args.join(' ')}: ${r.stderr}`).toContain(r.status)
      expect(r.stdout + r.stderr, args.join(' ')).not.toContain('no network')
    }
    run('check', '--jobs', '2', '--cache', '--format', 'json', '.')
    run('derive', 'harbour/gate.door')
    run('size', 'harbour/gate.door')
    run('sheet', 'harbour/dock.door', '-o', 'sheets')
    run('compare', 'harbour/gate.door', 'harbour/dock.door')
    run('rules')
    expect(statSync(join(work, 'sheets')).isDirectory()).toBe(true)
    expect(attempted()).toEqual([])
  }, 60_000)

  it('the language server makes no connection', async () => {
    const child = spawn(process.execPath, [join(one, 'dist/server.cjs'), '--stdio'], { env: refusing() })
    onTestFinished(() => void child.kill())
    let said = ''
    child.stderr.on('data', d => void (said += d))
    child.stdin.on('error', () => {})
    const ended = once(child, 'exit')
    const client = new Client(child.stdout, child.stdin)
    const folder = join(ROOT, 'samples')
    const path = join(folder, 'mistakes/preload_between_holes.door')
    const work = async (): Promise<void> => {
      await client.initialize(folder)
      await client.open(path, readFileSync(path, 'utf8'))
      await client.findings(path, d => d.some(f => f.code === 'preload_increment'), 15_000)
      const textDocument = { uri: uriOf(path) }
      const position = { line: 5, character: 4 }
      expect(await client.ask('textDocument/documentSymbol', { textDocument })).not.toEqual([])
      for (const verb of ['hover', 'completion', 'definition'])
        await client.ask(`textDocument/${verb}`, { textDocument, position })
      for (const verb of ['preview', 'openings', 'size', 'sheet'])
        expect(await client.ask(`doorwright/${verb}`, { uri: uriOf(path), position }), verb).not.toBeNull()
      await client.ask('workspace/symbol', { query: '' })
      await client.ask('shutdown', undefined)
      await client.tell('exit', undefined)
    }
    await Promise.race([work(), ended])
    expect(attempted()).toEqual([])
    expect(await ended).toEqual([0, null])
    expect(said).toBe('')
  }, 60_000)
})
