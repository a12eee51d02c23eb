/** Thousands of edits and files leave the heap where it was. */
import { execFile } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { buildSync } from 'esbuild'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { LONG, PATIENCE } from './support.ts'

const folder = mkdtempSync(join(tmpdir(), 'doorwright-leaks-'))
const child = join(folder, 'child.mjs')
const sample = (name: string): string => join(import.meta.dirname, '../../samples/harbour', name)
beforeAll(() => {
  buildSync({
    entryPoints: [join(import.meta.dirname, 'leaks_child.ts')],
    outfile: child,
    bundle: true,
    platform: 'node',
    format: 'esm',
    target: 'node20',
    logLevel: 'error',
    alias: { 'jsonc-parser': 'jsonc-parser/lib/esm/main.js' },
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
  })
})
afterAll(() => rmSync(folder, { recursive: true }))

/** A long run is interpreted: compiled code goes on growing in the heap for thousands of rounds, and hides what is kept. */
const flags = LONG >= 1 ? ['--no-opt', '--no-sparkplug'] : []

/** The heap after collections, at twenty points of a run. */
async function heap(kind: string, rounds: number): Promise<number[]> {
  const args = ['--expose-gc', ...flags, child, kind, String(rounds), sample('dock.door'), sample('stock/house.door')]
  const { stdout, stderr } = await promisify(execFile)(process.execPath, args, { timeout: PATIENCE })
  expect(stderr).toBe('')
  return stdout.trim().split('\n').map(Number)
}

/** Bytes that each round adds, over the second half: the first fills the caches. Least squares. */
function slope(points: readonly number[], rounds: number): number {
  const half = points.slice(points.length / 2)
  const step = rounds / points.length
  const mean = half.reduce((a, b) => a + b, 0) / half.length
  const middle = (half.length - 1) / 2
  const over = half.reduce((sum, y, i) => sum + (i - middle) * (y - mean), 0)
  const under = half.reduce((sum, _, i) => sum + (i - middle) ** 2, 0)
  return over / under / step
}

test('a slope is found where there is one', () => {
  const rising = Array.from({ length: 20 }, (_, i) => 50e6 + i * 1000 * 500)
  expect(slope(rising, 10_000)).toBeCloseTo(1000)
})

for (const [kind, short, long] of [
  ['edits', 400, 10_000],
  ['files', 100, 1000],
] as const)
  test(
    `${kind}: the heap stays where it is`,
    async () => {
      const rounds = LONG >= 1 ? long : short
      const points = await heap(kind, rounds)
      expect(points).toHaveLength(20)
      const perRound = slope(points, rounds)
      if (LONG)
        console.log(
          kind,
          rounds,
          points.map(p => (p / 1e6).toFixed(1)).join(' '),
          `${perRound.toFixed(0)} bytes a round`,
        )
      // a file's tree kept for each round would be some fifty thousand bytes; compiled code still settles in a short run
      expect(perRound).toBeLessThan(LONG >= 1 ? 1000 : 20_000)
      expect(Math.max(...points.slice(10))).toBeLessThan(Math.max(...points.slice(0, 10)) * 1.1)
    },
    PATIENCE,
  )
