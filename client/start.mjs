/** `npm start`: set-up, build, the samples checked in the terminal, and a field sheet. Findings are what it is to show, so they are no failure. */
import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import './setup.mjs'

// Only now are the packages there that the build needs.
const { buildAll } = await import('./build.mjs')
await buildAll()
const cwd = fileURLToPath(new URL('..', import.meta.url))
const doorwright = (...args) => spawnSync(process.execPath, ['dist/cli.cjs', ...args], { cwd, stdio: 'inherit' }).status
const checked = doorwright('check', 'samples')
console.log('\nThe field sheet of one of them, to open in a browser and print:')
const written = doorwright('sheet', 'samples/harbour/dock.door', '-o', 'dist/sheets')
// 1 means findings, which the samples have on purpose
process.exitCode = [checked, written].some(s => s !== 0 && s !== 1) ? 2 : 0
