/**
 * All that is checked, in order; the first that fails ends it. Does its own set-up. The editor test runs where its parts
 * are there (`npm run editor:install` fetches them); without them a line says so.
 */
import { spawnSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const steps = [
  ['set-up', 'client/setup.mjs'],
  ['build', 'client/build.mjs'],
  ['typecheck', 'node_modules/typescript/bin/tsc', '-p', '.'],
  ['lint', 'node_modules/@biomejs/biome/bin/biome', 'check', '--error-on-warnings'],
  ['tests', 'node_modules/vitest/vitest.mjs', 'run', '--config', 'test/vitest.config.ts', '--root', '.'],
  ['editor', 'test/editor/run.mjs'],
]
for (const [name, ...args] of steps) {
  const start = Date.now()
  const run = () => spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit', timeout: 900_000 }).status
  let status = run()
  // A whole editor in a browser now and then loses a key or a click; what is really broken fails twice.
  if (name === 'editor' && status !== 0) {
    console.log('editor: failed; once more')
    status = run()
  }
  console.log(`${status === 0 ? 'ok' : 'FAILED'}: ${name} (${((Date.now() - start) / 1000).toFixed(1)} s)`)
  if (status !== 0) process.exit(1)
}
