/**
 * Packs what is built as `dist/doorwright.vsix`, or as the file that the call names. The same files give the same bytes: of
 * a zip's entries only name, content and whether they can be run are kept, and they stand in order.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import JSZip from 'jszip'

const root = fileURLToPath(new URL('..', import.meta.url))
// The package's parts are all in the bundles, and it has no repository yet that its links could lead to.
const flags = ['--no-dependencies', '--allow-missing-repository', '--no-rewrite-relative-links']

/** The same zip whenever, wherever and by whomever it was packed. */
export async function steady(zip) {
  const packed = await JSZip.loadAsync(zip)
  const out = new JSZip()
  for (const entry of Object.values(packed.files).sort((a, b) => (a.name < b.name ? -1 : 1))) {
    if (entry.dir) continue
    const runs = (entry.unixPermissions & 0o100) !== 0
    // the first day that a zip can name; what runs stays so
    const how = {
      date: new Date(Date.UTC(1980, 0, 1)),
      createFolders: false,
      unixPermissions: runs ? 0o100755 : 0o100644,
    }
    out.file(entry.name, await entry.async('nodebuffer'), how)
  }
  return out.generateAsync({
    type: 'nodebuffer',
    platform: 'UNIX',
    compression: 'DEFLATE',
    compressionOptions: { level: 9 },
  })
}

/** @param file where the package goes */
export async function pack(file) {
  const folder = mkdtempSync(join(tmpdir(), 'doorwright-'))
  try {
    const packed = join(folder, 'packed.vsix')
    const vsce = join(root, 'node_modules/@vscode/vsce/vsce')
    const { status } = spawnSync(process.execPath, [vsce, 'package', ...flags, '-o', packed], {
      cwd: root,
      stdio: ['ignore', 'ignore', 'inherit'],
    })
    if (status !== 0) throw new Error('vsce made no package; what it says stands above')
    writeFileSync(file, await steady(readFileSync(packed)))
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const file = process.argv[2] ?? join(root, 'dist', 'doorwright.vsix')
  await pack(file)
  console.log(`Packed ${file}`)
}
