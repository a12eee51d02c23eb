/** The command line's entry: the only place that sets an exit status. Its threads start here too. */
import { isMainThread } from 'node:worker_threads'
import { processIo } from './io.ts'
import { workInThread } from './pool.ts'
import { run } from './program.ts'

if (isMainThread)
  run(process.argv.slice(2), processIo()).then(status => {
    if (status !== undefined) process.exitCode = status
  })
else workInThread()
