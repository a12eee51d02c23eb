/**
 * npm runs this after an installation. Where somebody installs the project straight from its repository, as pre-commit does,
 * it makes the program that they want; otherwise there is nothing to do.
 */
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const program = fileURLToPath(new URL('../dist/cli.cjs', import.meta.url))
// `npm ci` is our own set-up, and the build follows
if (process.env.npm_command !== 'ci' && !existsSync(program)) {
  // what was asked of the installation outside (`--global`, its place) is not meant for the one that the build needs
  for (const name of Object.keys(process.env))
    if (/^npm_config_(global|location|prefix|local_prefix|install_links)$/i.test(name)) delete process.env[name]
  await import('./setup.mjs')
  const { buildAll } = await import('./build.mjs')
  await buildAll()
}
