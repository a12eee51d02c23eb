/** The program as it is shipped, built for the tests of one file. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'esbuild'
import { afterAll, beforeAll } from 'vitest'

export function builtProgram(): string {
  const folder = mkdtempSync(join(tmpdir(), 'doorwright-built-'))
  const program = join(folder, 'cli.cjs')
  beforeAll(async () => {
    // As the build does it; the build itself is no TypeScript.
    const { common } = await import(String(new URL('../../../client/build.mjs', import.meta.url)))
    const js = "const bundleUrl=require('node:url').pathToFileURL(__filename).href;"
    await build({ ...common, entryPoints: ['server/cli/main.ts'], outfile: program, minify: true, banner: { js } })
  }, 60_000)
  afterAll(() => rmSync(folder, { recursive: true }))
  return program
}
