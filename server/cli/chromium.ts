/** Prints a page as PDF through the Chromium or Chrome that is installed. */
import { execFile } from 'node:child_process'
import { accessSync, constants, copyFileSync, existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { CallError } from './io.ts'

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome', 'msedge']

/** The first one in the PATH; undefined where there is none. */
export function chromium(env: NodeJS.ProcessEnv = process.env): string | undefined {
  const windows = process.platform === 'win32'
  for (const name of NAMES)
    for (const folder of (env.PATH ?? env.Path ?? '').split(delimiter)) {
      if (folder === '') continue
      const file = join(folder, windows ? `${name}.exe` : name)
      try {
        accessSync(file, constants.X_OK)
        if (statSync(file).isFile()) return file
      } catch {
        // not this one
      }
    }
  return undefined
}

/** Longer than any sheet takes; a browser that hangs must not hold up the call. */
const PATIENCE = 120_000

/** Writes `page` (a whole HTML page) to the PDF file `target`. @throws CallError where the browser made none */
export async function printPdf(browser: string, page: string, target: string): Promise<void> {
  // a profile of its own: with the user's, a browser that is open would take the call over and print nothing
  const folder = mkdtempSync(join(tmpdir(), 'doorwright-'))
  try {
    const from = join(folder, 'sheet.html')
    const to = join(folder, 'sheet.pdf')
    writeFileSync(from, page)
    const flags = [
      '--headless',
      '--disable-gpu',
      '--no-first-run',
      // a browser looks for its maker by itself otherwise; nothing leaves the machine
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-pdf-header-footer',
      `--user-data-dir=${join(folder, 'profile')}`,
      `--print-to-pdf=${to}`,
    ]
    // its sandbox does not start for root
    if (process.getuid?.() === 0) flags.push('--no-sandbox')
    const said = await new Promise<string>(done => {
      execFile(
        browser,
        [...flags, pathToFileURL(from).href],
        { timeout: PATIENCE, killSignal: 'SIGKILL' },
        (error, _out, err) =>
          done(error ? `${error.message.split('\n')[0]} ${err.trim().split('\n').at(-1) ?? ''}` : ''),
      )
    })
    if (!existsSync(to) || statSync(to).size === 0)
      throw new CallError(
        `${browser} made no PDF${said.trim() === '' ? '' : `: ${said.trim()}`}. Leave --pdf out and print the HTML file from any browser.`,
      )
    copyFileSync(to, target)
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 })
  }
}
