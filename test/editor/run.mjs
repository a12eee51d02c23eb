/**
 * The extension in a real VS Code: its own suite inside the extension host, then a person's keys and a picture to look
 * at. `node test/editor/run.mjs [--install] [--only PART]`, where PART is a piece of a part's name; what it made stands in
 * `.cache/editor/shots`.
 */
import { execFile } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { build } from 'esbuild'
import { common } from '../../client/build.mjs'
import { installedTest, keysTest, pictures } from './drive.mjs'
import { cache, editor, install, root } from './install.mjs'
import { aroundTest, browserTest, previewTest, reloadTest, sessionTest } from './sessions.mjs'
import { startWorkbench } from './workbench.mjs'

const found = process.argv.includes('--install') ? install() : editor()
if (found.missing) {
  console.log(`editor: not run, ${found.missing}`)
  process.exit(process.argv.includes('--install') ? 1 : 0)
}

const call = promisify(execFile)
const only = process.argv[process.argv.indexOf('--only') + 1]
const wanted = name => !process.argv.includes('--only') || name.includes(only)
const folder = mkdtempSync(join(cache, 'run-'))
const shots = join(cache, 'shots')
if (wanted('')) rmSync(shots, { recursive: true, force: true })
mkdirSync(shots, { recursive: true })
/** Every part works on a copy of the sample. */
const workspace = name => {
  const to = join(folder, name)
  cpSync(fileURLToPath(new URL('workspace', import.meta.url)), to, { recursive: true })
  return to
}

const suite = join(folder, 'suite.cjs')
await build({
  ...common,
  entryPoints: ['test/editor/suite.ts'],
  outfile: suite,
  external: ['vscode'],
  banner: {},
  define: {},
})

let passed = 0
let failed = 0
const report = line => {
  if (line.startsWith('ok ')) passed++
  if (line.startsWith('FAILED ')) failed++
  console.log(`  ${line}`)
}
const attempt = async (name, work) => {
  if (!wanted(name)) return
  const start = Date.now()
  try {
    await work()
    report(`ok ${name} (${Date.now() - start} ms)`)
  } catch (error) {
    report(`FAILED ${name}: ${error.stack ?? error}`)
    await workbench.closeAll(join(shots, `failed-${failed}.png`))
  }
}
const within = (seconds, what, promise) => {
  let timer
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${what} took more than ${seconds} s`)), seconds * 1000)
  })
  return Promise.race([promise, late]).finally(() => clearTimeout(timer))
}

const extension = root.replace(/\/$/, '')
const workbench = await startWorkbench(found, folder)
const stop = async signal => {
  await workbench.end()
  process.exit(signal === 'SIGINT' ? 130 : 143)
}
process.once('SIGINT', stop)
process.once('SIGTERM', stop)
try {
  await attempt('the suite ran to its end', async () => {
    const run = await workbench.page({
      folder: workspace('suite'),
      extension,
      tests: suite,
      log: line => /^(ok|FAILED|change) /.test(line) && report(line),
    })
    await within(240, 'the suite', run.finished)
    await run.close()
  })
  const drive = (name, what, test, more = {}) =>
    attempt(what, () => within(180, name, test(workbench, { folder: workspace(name), extension, shots, ...more })))
  await drive('keys', 'a person types a preload, asks for the fix, takes it, and takes a hint into the text', keysTest)
  await drive('session', 'a person writes a job from nothing, with mistakes, fixes, an undo', sessionTest)
  await drive('preview', 'the preview follows, stays, leads to the lines and opens the sheet', previewTest)
  await drive('reload', 'the preview is as it was when the window was loaded anew', reloadTest)
  await drive('around', 'the tree, the status bar and the list of springs', aroundTest)
  await drive('browser', 'in a browser without a program the worker finds the same', browserTest, {
    root,
    at: join(folder, 'web'),
  })
  const samples = join(folder, 'samples')
  cpSync(join(root, 'samples'), samples, { recursive: true })
  await drive('pictures', 'the samples in light, dark and both high contrasts, for the pictures', pictures, {
    folder: samples,
  })
  await attempt('the packaged extension installs, works and shows the way', async () => {
    const vsix = join(folder, 'doorwright.vsix')
    const vsce = join(root, 'node_modules', '@vscode', 'vsce', 'vsce')
    const flags = ['--no-dependencies', '--allow-missing-repository', '--no-rewrite-relative-links']
    await call(process.execPath, [vsce, 'package', ...flags, '-o', vsix], { cwd: root })
    await call(found.node, [workbench.main, ...workbench.dirs, '--install-extension', vsix], { cwd: folder })
    const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
    const test = installedTest(workbench, { folder: workspace('installed'), shots, manifest })
    await within(180, 'the packaged extension', test)
  })
} finally {
  await workbench.end()
}
console.log(`editor: ${passed} passed, ${failed} failed; pictures in .cache/editor/shots`)
if (failed > 0) console.log(`  What they worked on, and the editor's log: ${folder}`)
else rmSync(folder, { recursive: true, force: true, maxRetries: 3 })
process.exitCode = failed > 0 ? 1 : 0
