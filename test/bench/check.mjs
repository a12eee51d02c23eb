/** The command line over many files, held to one core; from nothing and less what its start takes. */
import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { job, NOTATIONS } from './jobs.mjs'
import { built } from './peers/peers.mjs'

const WRONG_EVERY = 10

/** Every file is another job; in every tenth the preload stops between two holes. */
export function makeFolder(files, lines) {
  const folder = mkdtempSync(join(tmpdir(), 'doorwright-bench-'))
  for (const [name, count] of [
    ['all', files],
    ['one', 1],
  ]) {
    mkdirSync(join(folder, name))
    for (let i = 0; i < count; i++) {
      const text = NOTATIONS.door(job(lines, i))
      writeFileSync(join(folder, name, `${i}.door`), i % WRONG_EVERY ? text : text.replace('2.0 turns', '2.01 turns'))
    }
  }
  return {
    files,
    all: join(folder, 'all'),
    one: join(folder, 'one'),
    remove: () => rmSync(folder, { recursive: true }),
  }
}

/** Seconds by the clock and of the processor. */
function run(folder, files) {
  const script = 'taskset -c 0 "$0" "$1" check --jobs 1 "$2"; times'
  const start = performance.now()
  const out = execFileSync('sh', ['-c', script, process.execPath, join(built, 'cli.cjs'), folder], {
    encoding: 'utf8',
    maxBuffer: 2 ** 28,
  })
  const clock = (performance.now() - start) / 1000
  const wrong = out.match(/preload_increment/g)?.length
  if (wrong !== Math.ceil(files / WRONG_EVERY)) throw new Error(`check found ${wrong} wrong preloads in ${files} files`)
  const minutes = out.trimEnd().split('\n').at(-1).split(' ')
  const processor = minutes
    .map(t => t.split('m'))
    .reduce((sum, [m, s]) => sum + Number(m) * 60 + Number.parseFloat(s), 0)
  return { clock, processor }
}

/** Files a second. */
export function checkSpeed({ files, all, one }) {
  const start = run(one, 1)
  const whole = run(all, files)
  return {
    whole: files / whole.clock,
    withoutStart: (files - 1) / (whole.clock - start.clock),
    processor: (files - 1) / (whole.processor - start.processor),
  }
}
