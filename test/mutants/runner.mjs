/**
 * Runs the tests against one mutant after the other in one process. (Vitest starts anew for every mutant, which takes
 * many times as long as the tests that catch it.)
 */
import { readFileSync } from 'node:fs'
import { basename, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { INSTRUMENTER_CONSTANTS } from '@stryker-mutator/api/core'
import { declareFactoryPlugin, PluginKind } from '@stryker-mutator/api/plugin'
import { DryRunStatus, determineHitLimitReached, TestStatus, toMutantRunResult } from '@stryker-mutator/api/test-runner'

process.env.DOORWRIGHT_RUNS ??= '4'

/**
 * Against a mutant in the file of a rule are run the tests that name the rule and, of all others that go the same way through
 * the file, so many: hundreds only pass by, and a mutant that survives would cost them all. `all` leaves none out.
 */
const ALIKE =
  process.env.DOORWRIGHT_ALIKE === 'all' ? Number.POSITIVE_INFINITY : Number(process.env.DOORWRIGHT_ALIKE ?? 6)

class Runner {
  #tests = new Map()
  #mutants
  #coverage = {}
  #files = new Map()

  capabilities() {
    // what runs as modules are loaded is left out (`ignoreStatic`), so there is nothing to load again for
    return { reloadEnvironment: true }
  }

  async init() {
    this.#mutants = globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] ??= {}
    console.log = () => {}
    const { tests } = await import(pathToFileURL(resolve('.cache/mutants/tests/all.mjs')))
    for (const test of tests) this.#tests.set(test.id, test)
  }

  async dryRun() {
    const results = []
    for (const test of this.#tests.values()) {
      this.#mutants.currentTestId = test.id
      results.push(await this.#run(test))
      this.#mutants.currentTestId = undefined
    }
    this.#coverage = this.#mutants.mutantCoverage?.perTest ?? {}
    const time = new Map(results.map(r => [r.id, r.timeSpentMs]))
    this.#tests = new Map([...this.#tests].sort(([a], [b]) => time.get(a) - time.get(b)))
    return { status: DryRunStatus.Complete, tests: results, mutantCoverage: this.#mutants.mutantCoverage }
  }

  async mutantRun({ testFilter, activeMutant, hitLimit, sandboxFileName }) {
    const covering = testFilter && new Set(testFilter)
    const chosen = testFilter && this.#unlike(sandboxFileName, covering)
    const results = []
    this.#mutants.hitCount = 0
    this.#mutants.hitLimit = hitLimit
    this.#mutants.activeMutant = activeMutant.id
    for (const test of this.#tests.values()) {
      if (chosen && !chosen.has(test.id)) continue
      const result = await this.#run(test)
      results.push(result)
      if (result.status === TestStatus.Failed) break
    }
    this.#mutants.activeMutant = undefined
    const timeout = determineHitLimitReached(this.#mutants.hitCount, hitLimit)
    return toMutantRunResult(timeout ?? { status: DryRunStatus.Complete, tests: results })
  }

  /** Of the tests that cover a mutant of a file, those that are to be run: in the file of a rule, not all of them. */
  #unlike(file, covering) {
    if (!readFileSync(file, 'utf8').includes('export default rule(')) return covering
    if (!this.#files.has(file)) this.#files.set(file, { ways: this.#waysThrough(file), naming: this.#naming(file) })
    const { ways, naming } = this.#files.get(file)
    const count = new Map()
    const out = new Set()
    for (const id of this.#tests.keys()) {
      if (!covering.has(id)) continue
      const way = ways.get(id)
      const before = count.get(way) ?? 0
      count.set(way, before + 1)
      if (before < ALIKE || naming.has(id)) out.add(id)
    }
    return out
  }

  /** The tests that name a file: by their own name, or else all of a test file that does somewhere. */
  #naming(file) {
    const word = new RegExp(`\\b${basename(file, '.ts')}\\b`)
    const all = [...this.#tests.values()]
    const byName = all.filter(test => word.test(test.id))
    const done = new Set(byName.map(test => test.file))
    const texts = new Map(all.map(test => [test.file, '']))
    for (const f of texts.keys()) texts.set(f, done.has(f) ? '' : readFileSync(f, 'utf8'))
    return new Set([...byName, ...all.filter(test => word.test(texts.get(test.file)))].map(test => test.id))
  }

  /** The mutants of a file that each test reaches, as one text. */
  #waysThrough(file) {
    const ids = new Set([...readFileSync(file, 'utf8').matchAll(/stryMutAct_\w+\("(\d+)"\)/g)].map(m => m[1]))
    const ways = new Map()
    for (const [test, hits] of Object.entries(this.#coverage))
      ways.set(
        test,
        Object.keys(hits)
          .filter(id => ids.has(id))
          .join(),
      )
    return ways
  }

  async #run({ id, file, run }) {
    const start = performance.now()
    const about = { id, name: id, fileName: file }
    try {
      await run()
      return { ...about, status: TestStatus.Success, timeSpentMs: performance.now() - start }
    } catch (error) {
      const failureMessage = error instanceof Error ? error.message : String(error)
      return { ...about, status: TestStatus.Failed, failureMessage, timeSpentMs: performance.now() - start }
    }
  }
}

const create = () => new Runner()
create.inject = []
export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, 'rooms', create)]
