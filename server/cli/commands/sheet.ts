/** `sheet`: the printable field sheet of every job, as HTML or, through an installed Chromium, as PDF. */
import { mkdirSync, statSync, writeFileSync } from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import { inWords } from '../../host.ts'
import { chromium, printPdf } from '../chromium.ts'
import { engine } from '../engine.ts'
import { checkStdin, displayName, findFiles, type InputFile, readFiles, say } from '../files.ts'
import { CallError, type Io } from '../io.ts'
import { safe } from '../width.ts'

export interface SheetOptions {
  readonly output?: string
  readonly pdf?: boolean
  readonly paper?: string
  readonly units?: string
  readonly stdinPath?: string
  readonly config?: string
}

const PAPERS = { a4: 'A4', letter: 'letter' } as const

/**
 * @param version of the tool, for the header of the sheet
 * @returns 0; 1 where a job has open errors (the sheet lists them); 2 where a file could not be used or written, or
 * nothing was made
 */
export async function sheet(args: readonly string[], options: SheetOptions, io: Io, version: string): Promise<number> {
  checkStdin(args, options.stdinPath)
  const asked = options.paper?.toLowerCase()
  if (asked !== undefined && !Object.hasOwn(PAPERS, asked))
    throw new CallError(`--paper takes a4 or letter, not "${options.paper}".`)
  const browser = options.pdf ? chromium() : undefined
  if (options.pdf && browser === undefined)
    throw new CallError(
      '--pdf needs Chromium or Chrome, and neither is in the PATH. Install one (on Debian or Ubuntu: apt install chromium), or leave --pdf out and print the HTML file from any browser.',
    )
  const run = engine(io, options.units, options.config)
  const { service } = run
  const suffix = options.pdf ? '.pdf' : '.html'
  const made: { input: InputFile; name: string; html: string; errors: number }[] = []
  let unusable = 0
  for await (const input of readFiles(findFiles(args, io.cwd, run.excluded), io, options.stdinPath)) {
    if (!input) {
      unusable++
      continue
    }
    service.open(input.file, input.text)
    const doors = service.doors(input.file)
    if (doors.length > 0) {
      const paper = asked
        ? PAPERS[asked as 'a4']
        : options.pdf
          ? doors[0]!.system === 'metric'
            ? 'A4'
            : 'letter'
          : undefined
      const errors = service.findings(input.file).filter(f => f.severity === 'error' && f.accepted === undefined).length
      made.push({
        input,
        name: service.sheetName(input.file).replace(/\.html$/, ''),
        html: service.sheet(input.file, version, paper),
        errors,
      })
    } else if (args.length > 0 && args.some(a => a === '-' || resolve(io.cwd, a) === input.file))
      say(io, `${safe(input.name)} has no opening, so there is no sheet of it.`)
    service.close(input.file)
  }
  if (made.length === 0) {
    if (unusable === 0) say(io, 'No sheet was made: there is no opening in what was read.')
    return 2
  }
  const targets = place(options.output, made, suffix, io)
  for (const [i, { input, html, errors }] of made.entries()) {
    const target = targets[i]!
    try {
      if (target === '-') io.out(html)
      else {
        mkdirSync(dirname(target), { recursive: true })
        if (browser !== undefined) await printPdf(browser, html, target)
        else writeFileSync(target, html)
        io.out(`${safe(displayName(target, io.cwd))}\n`)
      }
    } catch (error) {
      say(
        io,
        error instanceof CallError
          ? error.message
          : `${safe(displayName(target, io.cwd))} could not be written: it ${inWords(error)}.`,
      )
      unusable++
    }
    if (errors > 0)
      say(
        io,
        `${safe(input.name)} has ${errors === 1 ? '1 open error' : `${errors} open errors`}; the sheet lists ${errors === 1 ? 'it' : 'them'} first.`,
      )
  }
  if (unusable > 0 || run.faults() > 0) return 2
  return made.some(m => m.errors > 0) ? 1 : 0
}

/** Where each sheet goes: a file where one is named, else a folder (the current one), each under a name of its own. */
function place(
  output: string | undefined,
  made: readonly { input: InputFile; name: string }[],
  suffix: string,
  io: Io,
): string[] {
  if (output === '-') {
    if (suffix === '.pdf' || made.length > 1)
      throw new CallError(
        '-o - writes one HTML sheet to standard output; name a folder for a PDF or for several sheets.',
      )
    return ['-']
  }
  const path = resolve(io.cwd, output ?? '.')
  const isFolder = statSync(path, { throwIfNoEntry: false })?.isDirectory() === true
  const ending = /\.(html?|pdf|door|json)$/i.exec(output ?? '')?.[0].toLowerCase()
  if (!isFolder && ending !== undefined) {
    if (suffix === '.pdf' ? ending !== '.pdf' : ending !== '.html' && ending !== '.htm')
      throw new CallError(
        `-o ${output} does not end in ${suffix}: ${suffix === '.pdf' ? 'a PDF is' : 'a sheet is HTML unless --pdf is'} asked for. Name a ${suffix} file or a folder.`,
      )
    if (made.length > 1)
      throw new CallError(`There are ${made.length} sheets, and -o ${output} is one file. Name a folder.`)
    return [path]
  }
  // Some disks do not tell capitals from small letters.
  const taken = new Set<string>()
  return made.map(({ input, name }) => {
    const base = basename(input.file).replace(/\.door$/, '')
    let own = name
    for (let n = 1; taken.has(own.toLowerCase()); n++) own = n === 1 ? `${name}-${base}` : `${name}-${base}-${n}`
    taken.add(own.toLowerCase())
    return join(path, own + suffix)
  })
}
