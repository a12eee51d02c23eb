/** Installs what the project is built with, when it is missing or older than the lock file. Ends at once otherwise. */
import { execFileSync } from 'node:child_process'
import { statSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const age = path => statSync(join(root, path), { throwIfNoEntry: false })?.mtimeMs

// npm writes this file last, so a broken-off installation counts as none.
const installed = age('node_modules/.package-lock.json')
if (installed === undefined || installed < age('package-lock.json')) {
  console.error('Installing what the project is built with ...')
  // No package's own script has to run: the few that have one work without.
  execFileSync('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'], {
    cwd: root,
    stdio: ['ignore', 'ignore', 'inherit'],
  })
}
