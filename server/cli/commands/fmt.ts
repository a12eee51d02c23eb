/** `fmt`: lays files out. What cannot be read as the language is left as it is, and said. */
import { engine } from '../engine.ts'
import { checkStdin, findFiles, readFiles, say } from '../files.ts'
import { CallError, type Io } from '../io.ts'
import { safe } from '../width.ts'
import { writeChanged } from '../write_file.ts'

export interface FmtOptions {
  readonly check?: boolean
  readonly stdinPath?: string
  readonly config?: string
}

export async function fmt(args: readonly string[], options: FmtOptions, io: Io): Promise<number> {
  checkStdin(args, options.stdinPath)
  const { service, excluded, faults: broken } = engine(io, undefined, options.config)
  let unusable = 0
  let unsound = 0
  let changed = 0
  for await (const input of readFiles(findFiles(args, io.cwd, excluded), io, options.stdinPath)) {
    if (io.closed) break
    if (!input) {
      unusable++
      continue
    }
    service.open(input.file, input.text)
    const result = service.format(input.file)
    const faults = service.unsound(input.file)
    service.close(input.file)
    if (faults.length > 0) {
      unsound++
      const at = faults[0]!.range.start
      say(
        io,
        `${safe(input.name)}:${at.line + 1}:${at.character + 1} cannot be read, so its block was left as it is: ${safe(faults[0]!.message)}${faults.length > 1 ? ` (and ${faults.length - 1} more; see check)` : ''}`,
      )
    }
    if (result.changed) changed++
    if (input.standardInput && !options.check) io.out(result.text)
    else if (result.changed) {
      try {
        if (!options.check) writeChanged(input, result.text)
        io.out(`${safe(input.name)}\n`)
      } catch (error) {
        if (!(error instanceof CallError)) throw error
        say(io, error.message)
        unusable++
      }
    }
  }
  if (unusable > 0 || broken() > 0) return 2
  return unsound > 0 || (options.check === true && changed > 0) ? 1 : 0
}
