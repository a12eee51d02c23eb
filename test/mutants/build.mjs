/** Puts the tests that mutants are run against, and all that they load, into one file. */
import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { build } from 'esbuild'

// A mutant that no test catches costs them all: fewer rooms of tests are for trying something out.
const rooms = (process.env.DOORWRIGHT_TESTS ?? 'mechanics,model,rules,second_opinion').split(',')
// It reads the source as text, and that is full of mutants.
const READS_SOURCE = /mechanics.reached\.test/
const files = rooms
  .map(room => join('test/server', room))
  .flatMap(dir => readdirSync(dir).map(name => join(dir, name)))
  .filter(file => file.endsWith('.test.ts') && !READS_SOURCE.test(file))
const ours = name => ({ path: resolve('test/mutants', name) })

await build({
  stdin: { contents: ["export * from 'vitest'", ...files.map(f => `import './${f}'`)].join('\n'), resolveDir: '.' },
  // as deep as the tests, for those that look for the samples from where they are
  outfile: '.cache/mutants/tests/all.mjs',
  bundle: true,
  packages: 'external',
  platform: 'node',
  format: 'esm',
  target: 'node20',
  logLevel: 'warning',
  plugins: [
    {
      name: 'tests',
      setup(on) {
        on.onResolve({ filter: /^vitest$/ }, () => ours('vitest.ts'))
        on.onResolve({ filter: /^fast-check$/ }, ({ importer }) =>
          importer.endsWith('fast_check.ts') ? undefined : ours('fast_check.ts'),
        )
        on.onLoad({ filter: /\.test\.ts$/ }, ({ path }) => ({
          contents: `import { file as startOfFile } from 'vitest'\nstartOfFile(${JSON.stringify(path)})\n${readFileSync(path, 'utf8')}`,
          loader: 'ts',
        }))
      },
    },
  ],
})
