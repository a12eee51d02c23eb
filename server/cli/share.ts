/** Which files a run looks at, and with how many threads: `--shard` and `--jobs`. */
import { availableParallelism } from 'node:os'
import { sep } from 'node:path'
import type { Found } from './files.ts'
import { CallError } from './io.ts'

/** Files that are worth starting a thread for. */
const WORTH_A_THREAD = 500
/** More than these help nobody: one thread reads and prints for all. */
const MOST_BY_ITSELF = 8
const MOST_THREADS = 64

/** The I-th of N parts: every N-th file by path, so that N runs together look at each file once. @throws CallError */
export function shardOf(text: string | undefined, found: Found): Found {
  if (text === undefined) return found
  const m = /^(\d{1,6})\/(\d{1,6})$/.exec(text)
  const [part, parts] = m ? [Number(m[1]), Number(m[2])] : [0, 0]
  if (part < 1 || part > parts)
    throw new CallError(`--shard takes I/N, the I-th of N parts, from 1/N to N/N (such as 2/4), not "${text}".`)
  const key = (file: string): string => file.split(sep).join('/')
  const sorted = [...found.files].sort((a, b) => (key(a) < key(b) ? -1 : 1))
  const mine = new Set(sorted.filter((_, i) => i % parts === part - 1))
  return { ...found, files: found.files.filter(f => mine.has(f)) }
}

/** Threads to look at `files` files with. @throws CallError */
export function jobsOf(text: string | undefined, files: number): number {
  if (text === undefined)
    return Math.max(1, Math.min(availableParallelism(), MOST_BY_ITSELF, Math.floor(files / WORTH_A_THREAD)))
  const jobs = /^\d{1,6}$/.test(text) ? Number(text) : 0
  if (jobs < 1 || jobs > MOST_THREADS)
    throw new CallError(`--jobs takes the number of threads to work with, 1 to ${MOST_THREADS}, not "${text}".`)
  return jobs
}
