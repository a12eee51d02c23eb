/** Where reports go: `--format json` to standard output, `--format json=out.json` into a file; several of them at once. */
import { statSync } from 'node:fs'
import { dirname, resolve } from 'node:path'
import { colours } from '../colour.ts'
import { CallError, type Io } from '../io.ts'
import { safe } from '../width.ts'
import { newFile } from '../write_file.ts'
import { type Format, type FormatMaker, pick } from './report.ts'

interface Output {
  readonly format: string
  readonly maker: FormatMaker
  /** As written; undefined for standard output. */
  readonly file: string | undefined
}

export const DEFAULT_FORMAT = 'pretty'

/** What was asked for. A call that cannot be used is refused before anything is checked. */
export function outputsOf(
  asked: readonly string[],
  formats: Readonly<Record<string, FormatMaker>>,
  io: Io,
): readonly Output[] {
  const outputs = asked.map((text): Output => {
    const equals = text.indexOf('=')
    const format = equals < 0 ? text : text.slice(0, equals)
    return { format, maker: pick(format, formats), file: equals < 0 ? undefined : text.slice(equals + 1) }
  })
  const plain = outputs.filter(o => o.file === undefined)
  if (plain.length > 1)
    throw new CallError(
      `Only one report can go to standard output, not ${plain.map(o => o.format).join(' and ')}. Give the others a file: --format ${plain[1]!.format}=FILE.`,
    )
  const seen = new Set<string>()
  for (const { format, file } of outputs) {
    if (file === undefined) continue
    checkTarget(file, `--format ${format}=`, io)
    const path = resolve(io.cwd, file)
    if (seen.has(path)) throw new CallError(`Two reports cannot go into the same file, ${safe(file)}.`)
    seen.add(path)
  }
  return outputs
}

/** Refuses what no report may be written to. @param option what it was named with */
export function checkTarget(file: string, option: string, io: Io): void {
  if (file.trim() === '') throw new CallError(`${option} needs the name of a file to write.`)
  if (file.endsWith('.door'))
    throw new CallError(
      `${option}${safe(file)} would write a report over a job. Name a file that does not end in .door.`,
    )
  const path = resolve(io.cwd, file)
  if (isFolder(path)) throw new CallError(`${safe(file)} is a folder. ${option} needs the name of a file to write.`)
  if (!isFolder(dirname(path))) throw new CallError(`The folder of ${safe(file)} is not there. Make it first.`)
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory()
  } catch {
    return false
  }
}

/** All the outputs as one. Files take their place at the end, each in one step; a file that cannot be written is a `CallError`. */
export function together(outputs: readonly Output[], io: Io): Format {
  const parts = outputs.map(({ maker, file }) => {
    if (file === undefined) return { format: maker(io), done: () => {} }
    const into = newFile(resolve(io.cwd, file), safe(file))
    const own: Io = Object.create(io, {
      out: { value: (text: string) => into.write(text) },
      colour: { value: colours(false) },
      // the reader of standard output may go away; the file is wanted all the same
      closed: { value: false },
    })
    return { format: maker(own), done: into.done }
  })
  return {
    file: report => {
      for (const p of parts) p.format.file(report)
    },
    end: (summary, how) => {
      for (const p of parts) {
        p.format.end(summary, how)
        p.done()
      }
    },
  }
}
