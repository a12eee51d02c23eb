/** The command line's entry: the only place that sets an exit status. */
import { processIo } from './io.ts'
import { run } from './program.ts'

run(process.argv.slice(2), processIo()).then(status => {
  if (status !== undefined) process.exitCode = status
})
