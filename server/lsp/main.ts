import './heap.ts'
import { start, USAGE } from './start.ts'

if (!start(process.argv.slice(2))) {
  process.stderr.write(`doorwright language server: ${USAGE}\n`)
  process.exitCode = 2
}
