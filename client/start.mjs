/** `npm start`: set-up, build, and the samples checked in the terminal. Findings are what it is to show, so they are no failure. */
import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import './setup.mjs'

// Only now are the packages there that the build needs.
const { buildAll } = await import('./build.mjs')
await buildAll()
const cwd = fileURLToPath(new URL('..', import.meta.url))
const { status } = spawnSync(process.execPath, ['dist/cli.cjs', 'check', 'samples'], { cwd, stdio: 'inherit' })
process.exitCode = status === 0 || status === 1 ? 0 : 2
