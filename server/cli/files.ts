/** From what stands on the command line to the files that are meant, and their text. */
import { readdirSync, realpathSync, statSync } from 'node:fs'
import { basename, isAbsolute, join, relative, resolve, sep } from 'node:path'
import { CONFIG_NAME } from '../config/index.ts'
import { decode, inWords, readText } from '../host.ts'
import { CallError, type Io } from './io.ts'

/** Folders that hold copies and tools, never anybody's jobs. */
export const PASSED_OVER = new Set(['node_modules', '.git', 'dist'])

export interface InputFile {
  /** The absolute path, by which the service knows it. */
  readonly file: string
  /** How it is called towards the user: as written or, in the current folder, relative to it; always with `/`. */
  readonly name: string
  readonly text: string
  /** It starts with a byte order mark, which is not part of `text`. */
  readonly mark: boolean
  readonly standardInput: boolean
}

export interface Found {
  /** Absolute paths in the order named, those of a folder sorted; `-` for standard input. */
  readonly files: readonly string[]
  /** What could not be used, in words. */
  readonly problems: readonly string[]
}

/**
 * The files that the arguments mean, each once however often it is named. Without arguments: the current folder.
 * @param excluded which files a folder does not stand for; those that are named are meant all the same
 */
export function findFiles(
  args: readonly string[],
  cwd: string,
  excluded: (file: string) => boolean = () => false,
): Found {
  const files: string[] = []
  const problems: string[] = []
  const seen = new Set<string>()
  const add = (file: string): void => {
    const real = file === '-' ? file : realpathSync.native(file)
    if (!seen.has(real)) files.push(file)
    seen.add(real)
  }
  for (const arg of args.length > 0 ? args : ['.']) {
    if (arg === '-') {
      add(arg)
      continue
    }
    const path = resolve(cwd, arg)
    try {
      if (!statSync(path).isDirectory()) {
        add(path)
        continue
      }
      const below = doorFiles(path, problems, cwd)
      const meant = below.filter(f => !excluded(f))
      const where = `in ${arg === '.' ? 'this folder' : `the folder ${arg}`} or below it`
      if (below.length === 0) problems.push(`No .door file lies ${where}.`)
      else if (meant.length === 0) problems.push(`The project file excludes every .door file ${where}.`)
      meant.forEach(add)
    } catch (error) {
      problems.push(`${arg} ${inWords(error)}.${hint(arg)}`)
    }
  }
  return { files, problems }
}

const hint = (arg: string): string =>
  /[*?[]/.test(arg)
    ? ' Patterns are for the shell to fill in; a folder stands for every .door file below it.'
    : ' Check its spelling.'

/** Every `.door` file below a folder, sorted by path. Links are passed over: what they lead to lies here anyway, or outside. */
function doorFiles(folder: string, problems: string[], cwd: string): string[] {
  const out: string[] = []
  const visit = (at: string): void => {
    let entries: ReturnType<typeof list>
    try {
      entries = list(at)
    } catch (error) {
      problems.push(`The folder ${displayName(at, cwd)} ${inWords(error)}.`)
      return
    }
    for (const entry of entries) {
      const path = join(at, entry.name)
      if (entry.isDirectory()) {
        if (!PASSED_OVER.has(entry.name)) visit(path)
      } else if (entry.isFile() && entry.name.endsWith('.door')) out.push(path)
    }
  }
  visit(folder)
  return out.sort((a, b) => (a < b ? -1 : a > b ? 1 : 0))
}

const list = (folder: string) => readdirSync(folder, { withFileTypes: true })

/** A path as the user would write it from where they are. */
export function displayName(file: string, cwd: string): string {
  const way = relative(cwd, file)
  const shown =
    way === '' ? basename(file) : isAbsolute(way) || (way.startsWith('..') && way.length > file.length) ? file : way
  return shown.split(sep).join('/')
}

/**
 * Reads the files one by one. What cannot be read is said on standard error, and the others go on.
 * @returns for each file its text, or undefined where it could not be read
 */
export async function* readFiles(
  found: Found,
  io: Io,
  stdinPath: string | undefined,
): AsyncGenerator<InputFile | undefined> {
  for (const problem of found.problems) {
    say(io, problem)
    yield undefined
  }
  for (const path of found.files) {
    if (io.closed) return
    const standardInput = path === '-'
    const file = standardInput ? resolve(io.cwd, stdinPath ?? 'standard-input.door') : path
    const name = standardInput && stdinPath === undefined ? '<standard input>' : displayName(file, io.cwd)
    const read = standardInput ? decode(await io.stdin()) : readText(file)
    const refused = read.ok ? noJob(file, read.text) : `${read.reason}.`
    if (read.ok && refused === undefined) yield { file, name, text: read.text, mark: read.mark, standardInput }
    else {
      say(io, `${name} ${refused}`)
      yield undefined
    }
  }
}

/** What a file is that somebody named and that is no job, whatever may be read into it. A job may be called anything. */
function noJob(file: string, text: string): string | undefined {
  if (file.endsWith('.door')) return undefined
  const instead = 'Name .door files, or a folder that they lie in.'
  if (basename(file) === CONFIG_NAME)
    return `is the project file, not a job: it is read with every job in its folder and below. ${instead}`
  return /^\s*[{[]/.test(text) ? `holds JSON, where a job was expected. ${instead}` : undefined
}

export const say = (io: Io, problem: string): void => io.err(`doorwright: ${problem}\n`)

/** Standard input cannot be named twice or beside a missing name; `--stdin-path` without it is a slip. */
export function checkStdin(args: readonly string[], stdinPath: string | undefined): void {
  if (stdinPath !== undefined && !args.includes('-'))
    throw new CallError('--stdin-path names what comes in on standard input; write - where a file name would stand.')
}
