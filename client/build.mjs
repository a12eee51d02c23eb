/** Makes what is shipped: one self-contained file each for the command line, the language server and the extension. */
import { chmodSync, existsSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { writeDocs } from './docs.mjs'
import { notices } from './notices.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))

/** What every bundle for Node has in common. Sources are modules; `import.meta.url` means the bundle in its place. */
export const common = {
  absWorkingDir: root,
  bundle: true,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  logLevel: 'warning',
  define: { 'import.meta.url': 'bundleUrl' },
  alias: {
    // its main file finds its parts at run time, which a bundle does not have
    'jsonc-parser': 'jsonc-parser/lib/esm/main.js',
  },
}
const banner = "const bundleUrl=require('node:url').pathToFileURL(__filename).href;"

/** What runs in a page of the editor. */
const page = { platform: 'browser', format: 'iife', target: 'es2022', define: {}, banner: {} }
/** What runs in a browser's workers: nothing of Node may be in it, which the build would refuse. */
const browser = {
  ...page,
  alias: { ...common.alias, 'vscode-languageserver/node': 'vscode-languageserver/browser' },
}

const bundles = [
  { entry: 'server/cli/main.ts', out: 'dist/cli.cjs', first: '#!/usr/bin/env node\n' },
  { entry: 'server/lsp/main.ts', out: 'dist/server.cjs' },
  { entry: 'client/extension.ts', out: 'dist/extension.cjs', external: ['vscode'] },
  { entry: 'client/view/view.js', out: 'dist/view.js', options: page },
  { entry: 'client/view/view.css', out: 'dist/view.css', options: page },
  { entry: 'server/lsp/worker.ts', out: 'dist/browser/server.js', options: browser },
  {
    entry: 'client/browser.ts',
    out: 'dist/browser/extension.cjs',
    external: ['vscode'],
    options: { ...browser, format: 'cjs' },
  },
]

export async function buildAll() {
  rmSync(join(root, 'dist'), { recursive: true, force: true })
  const made = await Promise.all(
    bundles
      .filter(b => existsSync(join(root, b.entry)))
      .map(async ({ entry, out, first = '', external, options }) => {
        const { metafile } = await build({
          ...common,
          entryPoints: [entry],
          outfile: out,
          external,
          minify: true,
          metafile: true,
          // The packages' licences go into one file beside the bundles instead.
          legalComments: 'none',
          banner: { js: first + banner },
          ...options,
        })
        if (first) chmodSync(join(root, out), 0o755)
        return Object.keys(metafile.inputs)
      }),
  )
  writeFileSync(join(root, 'dist', 'third-party.txt'), notices(root, made.flat()))
  await writeDocs(common)
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  await (process.argv[2] === 'docs' ? writeDocs(common) : buildAll())
