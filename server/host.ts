/**
 * The disk, for whoever runs the service: where a `use` may lead, and how a file becomes text. The command line and the
 * language server share it, so both refuse the same things. Files are absolute paths as the system writes them.
 */
import { closeSync, existsSync, fstatSync, openSync, readSync, realpathSync, statSync } from 'node:fs'
import { basename, dirname, isAbsolute, join, relative, resolve as resolvePath, sep } from 'node:path'
import { CONFIG_NAME, type Config, readConfig } from './config/index.ts'
import type { ServiceHost } from './service.ts'

/** Bytes. A job file is a few thousand; one this large is something else by mistake. */
export const LARGEST_FILE = 5 * 1024 * 1024

export type ReadText =
  /** `mark`: the file starts with a byte order mark, which is not part of the text and goes back when it is written. */
  { readonly ok: true; readonly text: string; readonly mark: boolean } | { readonly ok: false; readonly reason: string }

export interface NodeHost extends ServiceHost {
  /** The folder that `use` in a file may not leave. */
  rootOf(file: string): string
  project(file: string): Config | undefined
  /** Forgets what was found on the disk: to be called when files or folders came, went or changed. */
  forget(): void
}

/**
 * @param options.workspaceRoot the folder that no `use` may leave; `workspaceRoots` for several, asked again after
 * `forget`. Without one, and for files in none of them: the nearest folder above the file that holds `doorwright.json`
 * or `.git`, else the file's own folder.
 */
export function nodeHost(
  options: {
    workspaceRoot?: string
    workspaceRoots?: () => readonly string[]
    /** The project file of every file, in place of the nearest one above it. */
    config?: string
    units?: ServiceHost['units']
    fault?: ServiceHost['fault']
  } = {},
): NodeHost {
  const given = (): string[] =>
    [
      ...(options.workspaceRoot === undefined ? [] : [options.workspaceRoot]),
      ...(options.workspaceRoots?.() ?? []),
    ].map(root => resolvePath(root))
  const roots = new Map<string, string>()
  const targets = new Map<string, ReturnType<ServiceHost['resolve']>>()
  const failed = new Map<string, string>()
  const projects = new Map<string, Config | undefined>()
  /** By project file, with the text it was made of: as long as that is the same, so is the object. */
  const read = new Map<string, { readonly text: string; readonly config: Config }>()

  const projectAt = (file: string): Config => {
    const r = readText(file)
    const text = r.ok ? r.text : ''
    const old = read.get(file)
    if (r.ok && old?.text === text && old.config.stock.length === 0) return old.config
    const made = readConfig(text, file)
    const top = { line: 0, character: 0 }
    const problems = r.ok
      ? [...made.problems, ...missingStock(made, file)]
      : [{ message: `${basename(file)} ${r.reason}.`, range: { start: top, end: top } }]
    const config = { ...made, problems }
    if (r.ok) read.set(file, { text, config })
    return config
  }
  const projectOfFolder = (folder: string): Config | undefined => {
    if (options.config !== undefined) folder = ''
    if (!projects.has(folder)) {
      const file = options.config ?? join(nearestRoot(folder), CONFIG_NAME)
      projects.set(folder, options.config !== undefined || existsSync(file) ? projectAt(file) : undefined)
    }
    return projects.get(folder)
  }

  const rootOfFolder = (folder: string): string => {
    let root = roots.get(folder)
    if (root === undefined) roots.set(folder, (root = outermost(given(), folder) ?? nearestRoot(folder)))
    return root
  }

  const resolve: ServiceHost['resolve'] = (from, path) => {
    // A document that is not on the disk yet starts from the workspace.
    const folder = isAbsolute(from) ? dirname(from) : given()[0]
    if (folder === undefined) return refused('Save this file first: the path of a `use` is relative to it.')
    const key = `${folder}\0${path}`
    let target = targets.get(key)
    if (!target) targets.set(key, (target = look(folder, rootOfFolder(folder), path)))
    const reason = target.ok ? failed.get(target.file) : undefined
    return reason === undefined ? target : refused(`"${path}" cannot be used: it ${reason}.`)
  }

  return {
    resolve,
    read(file) {
      const r = readText(file)
      if (r.ok) return r.text
      if (existsSync(file)) failed.set(file, r.reason)
      return undefined
    },
    rootOf: file => rootOfFolder(dirname(file)),
    project(file) {
      const folder = isAbsolute(file) ? dirname(file) : given()[0]
      return folder === undefined ? undefined : projectOfFolder(folder)
    },
    forget() {
      projects.clear()
      roots.clear()
      targets.clear()
      failed.clear()
    },
    fault: options.fault,
    units: options.units,
  }
}

const refused = (message: string) => ({ ok: false, outside: false, message }) as const

const inside = (root: string, path: string): boolean => {
  const way = relative(root, path)
  return way === '' || (way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way))
}

const outermost = (roots: readonly string[], folder: string): string | undefined =>
  roots.filter(root => inside(root, folder)).sort((a, b) => a.length - b.length)[0]

function nearestRoot(folder: string): string {
  for (let at = folder; ; at = dirname(at)) {
    if (existsSync(join(at, CONFIG_NAME)) || existsSync(join(at, '.git'))) return at
    if (at === dirname(at)) return folder
  }
}

function missingStock(config: Config, file: string): Config['problems'] {
  return config.stock.flatMap(path => {
    if (existsSync(resolvePath(dirname(file), path))) return []
    const line = config.settings.find(s => s.name === 'stock')?.line ?? 0
    const message = `The stock "${path}" cannot be found beside ${basename(file)}. Check its spelling.`
    return [{ message, range: { start: { line, character: 0 }, end: { line: line + 1, character: 0 } } }]
  })
}

/** Why a path can be none of a `use`, whatever lies on the disk. */
export function pathRefused(path: string): Extract<ReturnType<ServiceHost['resolve']>, { ok: false }> | undefined {
  if (path.trim() === '')
    return refused('`use` needs the path of a .door file, relative to this one: use "stock/house.door".')
  // biome-ignore lint/suspicious/noControlCharactersInRegex: those are just what may not be in a path
  if (/[\x00-\x1f]/.test(path))
    return refused('The path of a `use` has a line end, a tab or another control character in it. Take it out.')
  if (/^[a-z][a-z0-9+.-]+:/i.test(path) && !/^[a-z]:/i.test(path))
    return refused(
      `"${path}" is an address. \`use\` reads files beside this one: save a copy in this folder and name that.`,
    )
  if (/^([a-z]:|[\\/])/i.test(path) || isAbsolute(path))
    return {
      ok: false,
      outside: true,
      message: `"${path}" starts at the top of a disk, which is another place on every computer. Write the path relative to this file, such as "stock/house.door".`,
    }
  if (path.includes('\\'))
    return refused(`"${path}" has a backslash in it. Write / between folders: "${path.replaceAll('\\', '/')}".`)
  if (!path.endsWith('.door'))
    return refused(`\`use\` reads .door files; "${path}" does not end in .door. Check its spelling.`)
  return undefined
}

function look(folder: string, root: string, path: string): ReturnType<ServiceHost['resolve']> {
  const not = pathRefused(path)
  if (not) return not
  const wanted = resolvePath(folder, path)
  const outside = (how: string) =>
    ({
      ok: false,
      outside: true,
      message: `"${path}" ${how} the workspace "${basename(root) || root}", and a \`use\` may not. Move the file into it, or put an empty doorwright.json or the .git folder in a folder above both.`,
    }) as const
  if (!inside(root, wanted)) return outside('leaves')
  const realRoot = real(root)
  const realWanted = real(wanted)
  // A link may point anywhere; what counts is where it ends.
  if (!inside(realRoot, realWanted)) return outside('is a link that leaves')
  try {
    const found = statSync(realWanted)
    if (found.isDirectory()) return refused(`"${path}" is a folder. Name a .door file in it.`)
    if (!found.isFile()) return refused(`"${path}" is not a plain file.`)
    if (found.size > LARGEST_FILE) return refused(`"${path}" cannot be used: it ${TOO_LARGE}.`)
  } catch {
    // It is not there, or cannot be looked at: `read` will find out, and the model says so.
  }
  // Below the root the path without links, so that one file has one name; above it as the caller wrote it.
  return { ok: true, file: join(root, relative(realRoot, realWanted)) }
}

/** Where a path ends once links are followed; of one that does not exist, where its nearest folder that does ends. */
function real(path: string): string {
  try {
    return realpathSync.native(path)
  } catch {
    const up = dirname(path)
    return up === path ? path : join(real(up), basename(path))
  }
}

const TOO_LARGE = `is more than ${LARGEST_FILE / 1024 / 1024} MB long; no job file is`

/** The text of a file, or in words why there is none: `is a folder`, `cannot be found`. Never throws. */
export function readText(file: string): ReadText {
  let handle: number | undefined
  try {
    handle = openSync(file, 'r')
    const found = fstatSync(handle)
    if (found.isDirectory()) return { ok: false, reason: 'is a folder' }
    if (found.isFile() && found.size > LARGEST_FILE) return { ok: false, reason: TOO_LARGE }
    return decode(readUpTo(handle, found.isFile() ? found.size : 0))
  } catch (error) {
    return { ok: false, reason: inWords(error) }
  } finally {
    if (handle !== undefined) closeSync(handle)
  }
}

/**
 * Reads at most one byte more than may be: enough to know that a file (or a stream that has no size) is too long.
 * @param size that is expected, in bytes: a job file then needs one small buffer
 */
function readUpTo(handle: number, size: number): Buffer {
  const parts: Buffer[] = []
  let length = 0
  while (length <= LARGEST_FILE) {
    const part = Buffer.allocUnsafe(size >= length && size > 0 ? Math.min(size - length + 1, 64 * 1024) : 64 * 1024)
    const n = readSync(handle, part, 0, part.length, null)
    if (n === 0) break
    parts.push(part.subarray(0, n))
    length += n
  }
  return Buffer.concat(parts, length)
}

/** Bytes as text, if they are UTF-8. */
export function decode(bytes: Uint8Array): ReadText {
  if (bytes.length > LARGEST_FILE) return { ok: false, reason: TOO_LARGE }
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)
  if (utf16) return { ok: false, reason: 'is UTF-16 text; save it as UTF-8' }
  if (bytes.includes(0)) return { ok: false, reason: 'is not a text file' }
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
    const mark = text.startsWith('\ufeff')
    return { ok: true, text: mark ? text.slice(1) : text, mark }
  } catch {
    return { ok: false, reason: 'is not UTF-8 text; save it as UTF-8' }
  }
}

/** A fault of the file system in words. */
export function inWords(error: unknown): string {
  const code = (error as NodeJS.ErrnoException | null)?.code
  switch (code) {
    case 'ENOENT':
      return 'cannot be found'
    case 'EACCES':
    case 'EPERM':
      return 'may not be opened (its permissions forbid it)'
    case 'EISDIR':
      return 'is a folder'
    case 'ENOTDIR':
      return 'lies below something that is not a folder'
    case 'ELOOP':
      return 'is a link that leads back to itself'
    case 'EROFS':
      return 'lies on a disk that cannot be written to'
    case 'ENOSPC':
      return 'does not fit: the disk is full'
    default:
      return `cannot be used (${code ?? String(error)})`
  }
}
