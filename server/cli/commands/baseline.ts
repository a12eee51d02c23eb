/** `baseline`: today's findings in a file, so that `check --baseline` reports only what is new. */
import { dirname, resolve } from 'node:path'
import { alwaysCounts, BaselineMaker, checkBaselineTarget } from '../baseline.ts'
import { engine } from '../engine.ts'
import { checkStdin, findFiles, readFiles, say } from '../files.ts'
import { linesOf, plural } from '../formats/report.ts'
import type { Io } from '../io.ts'
import { safe } from '../width.ts'
import { writeNew } from '../write_file.ts'

export interface BaselineOptions {
  readonly output?: string
  readonly stdinPath?: string
  readonly config?: string
}

export async function baseline(args: readonly string[], options: BaselineOptions, io: Io): Promise<number> {
  checkStdin(args, options.stdinPath)
  const file = options.output === '-' ? undefined : options.output
  if (file !== undefined) checkBaselineTarget(file, io)
  const path = file === undefined ? undefined : resolve(io.cwd, file)
  const { service, faults, excluded } = engine(io, undefined, options.config)
  const maker = new BaselineMaker(path === undefined ? io.cwd : dirname(path))
  let unusable = 0
  let firm = 0
  for await (const input of readFiles(findFiles(args, io.cwd, excluded), io, options.stdinPath)) {
    if (!input) {
      unusable++
      continue
    }
    service.open(input.file, input.text)
    const open = service.findings(input.file).filter(f => f.accepted === undefined)
    maker.add(input.file, open.filter(f => !alwaysCounts(f)), linesOf(input.text)) // biome-ignore format: one call
    firm += open.filter(alwaysCounts).length
    service.close(input.file)
  }
  if (unusable > 0 || faults() > 0) {
    say(io, 'No baseline was written, since it would leave out what could not be looked at.')
    return 2
  }
  if (path === undefined || file === undefined) io.out(maker.text)
  else {
    writeNew(path, safe(file), maker.text)
    io.out(`${safe(file)}: ${plural(maker.size, 'finding')} recorded.\n`)
  }
  if (firm > 0)
    say(
      io,
      `${plural(firm, 'error')} of rules that keep people safe ${firm === 1 ? 'is' : 'are'} not recorded: ${firm === 1 ? 'it counts' : 'they count'} until put right. check shows ${firm === 1 ? 'it' : 'them'}.`,
    )
  return 0
}
