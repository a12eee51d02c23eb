/** A real VS Code on a free port of this machine, and pages of it in headless Chromium. */
import { spawn } from 'node:child_process'
import { mkdirSync, openSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { format } from 'node:util'
import { chromium } from 'playwright-core'

const SETTINGS = {
  'workbench.startupEditor': 'none',
  'workbench.colorTheme': 'Light Modern',
  'files.autoSave': 'off',
  'chat.disableAIFeatures': true,
  'extensions.autoUpdate': false,
  'window.commandCenter': false,
  'workbench.layoutControl.enabled': false,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'editor.minimap.enabled': false,
}

const freePort = () =>
  new Promise((resolve, reject) => {
    const probe = createServer().on('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address()
      probe.close(() => resolve(port))
    })
  })

const sleep = ms => new Promise(resolve => setTimeout(resolve, ms))

/**
 * Starts the editor's server. All it writes goes below `folder`; `end` ends it with everything that it started.
 * @param editor what `editor()` of install.mjs found
 * @param more settings beside those for quiet runs
 */
export async function startServer(editor, folder, more = {}) {
  const user = join(folder, 'user')
  mkdirSync(join(user, 'User'), { recursive: true })
  const port = await freePort()
  const log = openSync(join(folder, 'server.log'), 'w')
  const dirs = [
    '--server-data-dir',
    join(folder, 'data'),
    '--user-data-dir',
    user,
    '--extensions-dir',
    join(folder, 'extensions'),
  ]
  const main = join(editor.server, 'out', 'server-main.js')
  mkdirSync(join(folder, 'data', 'data', 'Machine'), { recursive: true })
  const settings = JSON.stringify({ ...SETTINGS, ...more })
  writeFileSync(join(folder, 'data', 'data', 'Machine', 'settings.json'), settings)
  writeFileSync(join(user, 'User', 'settings.json'), settings)
  const flags =
    '--host 127.0.0.1 --without-connection-token --accept-server-license-terms --enable-smoke-test-driver --disable-workspace-trust'
  const args = [main, ...flags.split(' '), '--port', String(port), '--telemetry-level', 'off', ...dirs]
  // A process group of its own: the extension hosts that it starts end with it.
  const server = spawn(editor.node, args, { detached: true, stdio: ['ignore', log, log] })
  const end = async () => {
    try {
      process.kill(-server.pid, 'SIGTERM')
      await sleep(300)
      process.kill(-server.pid, 'SIGKILL')
    } catch {
      // Nothing of the group is left.
    }
  }
  try {
    await answers(`http://127.0.0.1:${port}/version`, server)
  } catch (error) {
    await end()
    throw error
  }
  return { port, end, user, dirs, main, process: server }
}

/** The same with a headless browser to look at it. */
export async function startWorkbench(editor, folder) {
  const server = await startServer(editor, folder)
  try {
    const browser = await chromium.launch({
      executablePath: editor.chromium,
      args: [
        ...'--no-sandbox --disable-gpu --disable-background-networking --disable-component-update --disable-sync --no-first-run'.split(
          ' ',
        ),
        // Nothing leaves this machine.
        '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
      ],
    })
    // One for all pages: what the first has loaded the next have at hand. Each has a folder of its own.
    const context = await browser.newContext({ viewport: { width: 1600, height: 1000 } })
    const end = async () => {
      await browser.close().catch(() => {})
      await server.end()
    }
    /** What is open when a part has failed: a picture of it, and closed. */
    const closeAll = async picture => {
      for (const page of context.pages()) {
        await page.screenshot({ path: picture }).catch(() => {})
        await page.close()
      }
    }
    return { ...server, end, closeAll, page: options => openPage(context, server.port, options) }
  } catch (error) {
    await server.end()
    throw error
  }
}

async function answers(url, server) {
  for (let i = 0; i < 150; i++) {
    if (server.exitCode !== null) throw new Error(`The editor ended with status ${server.exitCode}; see server.log.`)
    if (
      await fetch(url).then(
        r => r.ok,
        () => false,
      )
    )
      return
    await sleep(100)
  }
  throw new Error('The editor did not answer within 15 s; see server.log.')
}

/**
 * Opens a page.
 * @param options.folder the workspace; `extension` a folder to take as an extension in development; `tests` a bundle
 * whose `run` is called inside the extension host; `file` what to open; `log` where the tests' console goes.
 */
async function openPage(context, port, { folder, extension, tests, file, log = () => {} }) {
  const page = await context.newPage()
  let settle
  const finished = new Promise(resolve => {
    settle = resolve
  })
  await page.exposeFunction('codeAutomationExit', code => settle(code))
  await page.exposeFunction('codeAutomationLog', (_type, args) => log(format(...args)))
  await page.goto(addressOf(port, { folder, extension, tests, file }))
  /** The window loaded anew. Without a file to open: the editor brings back what was open. */
  const reload = () => page.goto(addressOf(port, { folder, extension }))
  return { page, finished, reload, close: () => page.close() }
}

/** The address of a page with a folder, an extension in development, its tests and a file in it. */
export function addressOf(port, { folder, extension, tests, file }) {
  const remote = path => `vscode-remote://127.0.0.1:${port}${path}`
  const payload = [['skipWelcome', 'true']]
  if (extension) payload.push(['extensionDevelopmentPath', remote(extension)])
  if (tests) payload.push(['extensionTestsPath', remote(tests)])
  if (file) payload.push(['openFile', remote(file)])
  return `http://127.0.0.1:${port}/?${new URLSearchParams({ folder, payload: JSON.stringify(payload) })}`
}
