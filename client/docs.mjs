/** Makes the reference, `dist/docs`: pages of the rules and the language, and the JSON Schemas, from the sources. */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = fileURLToPath(new URL('..', import.meta.url))

/** @param common what every bundle for Node has in common */
export async function writeDocs(common) {
  // The generator is of use here only, so it is bundled to where nobody ships it.
  const folder = mkdtempSync(join(tmpdir(), 'doorwright-'))
  try {
    const outfile = join(folder, 'docs.cjs')
    await build({ ...common, entryPoints: ['server/docs/main.ts'], outfile })
    execFileSync(process.execPath, [outfile, join(root, 'dist', 'docs')], { stdio: 'inherit' })
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
