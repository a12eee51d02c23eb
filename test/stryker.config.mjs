import { fileURLToPath } from 'node:url'

/**
 * Mutants: what the code could do otherwise without a test telling. `npm run mutants` does all three rooms; one file:
 * `npm run mutants -- --mutate server/mechanics/coil.ts`. What was found before is kept in `.cache/mutants`, so only what
 * has changed is run again. What survived is in `.cache/mutants/mutants.html`.
 */
export default {
  mutate: ['server/{mechanics,model,rules}/**/*.ts'],
  buildCommand: 'node test/mutants/build.mjs',
  // Vitest starts anew for every mutant: seconds, where the tests that catch it take milliseconds.
  testRunner: 'rooms',
  plugins: [fileURLToPath(new URL('mutants/runner.mjs', import.meta.url))],
  coverageAnalysis: 'perTest',
  // Texts are prose here: docs, messages, sources, titles. Other words are looked up, and a wrong one fails where it is used.
  mutator: { excludedMutations: ['StringLiteral'] },
  // What runs only as modules are loaded is tables and descriptions; such a mutant would need all tests loaded again.
  ignoreStatic: true,
  concurrency: 1,
  // A loop without end is told by how often it comes round; a clock would take a busy machine for one.
  timeoutMS: 600_000,
  dryRunTimeoutMinutes: 60,
  incremental: true,
  incrementalFile: '.cache/mutants/incremental.json',
  tempDirName: '.cache/mutants/tmp',
  ignorePatterns: ['.cache', '.ci', 'dist', 'client', 'test/editor', 'test/bench'],
  // The tests run without looking at types.
  disableTypeChecks: false,
  reporters: ['clear-text', 'html', 'json'],
  clearTextReporter: { reportTests: false, reportMutants: false },
  htmlReporter: { fileName: '.cache/mutants/mutants.html' },
  jsonReporter: { fileName: '.cache/mutants/mutants.json' },
}
