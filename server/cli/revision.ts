/**
 * A revision that git knows, as a place to read files from: nothing is checked out, and `use` and the project file are
 * looked up inside it. git is only asked for names and contents (`rev-parse`, `ls-tree`, `cat-file`).
 */
import { execFileSync } from 'node:child_process'
import { posix } from 'node:path'
import { CONFIG_NAME, type Config, readConfig } from '../config/index.ts'
import { decode, LARGEST_FILE, nodeHost, pathRefused } from '../host.ts'
import type { ProjectHost } from './engine.ts'
import { CallError } from './io.ts'

interface Blob {
  readonly id: string
  readonly size: number
}

export interface Revision {
  /** How it was called, with the beginning of its number. */
  readonly name: string
  /** The folder of the whole tree, and that of the caller inside it (`''` or with `/` at its end). */
  readonly top: string
  readonly prefix: string
  /** Paths of the `.door` files, from the top, sorted. */
  readonly paths: readonly string[]
  text(path: string): ReturnType<typeof decode>
  /** A file by its path from the top, as the services name it. */
  fileOf(path: string): string
  pathOf(file: string): string
  project(path: string): Config | undefined
}

function git(cwd: string, args: readonly string[], input?: string): Buffer {
  try {
    return execFileSync('git', ['--no-pager', ...args], {
      cwd,
      input,
      maxBuffer: 1024 * 1024 * 1024,
      stdio: ['pipe', 'pipe', 'ignore'],
    })
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      throw new CallError('git cannot be started, and only it knows revisions. Install it, or name files or folders.')
    throw error
  }
}

/** Undefined where git knows no such revision here. */
export function findRevision(name: string, cwd: string): Revision | undefined {
  if (name.startsWith('-') || name.trim() === '') return undefined
  const line = (args: readonly string[]): string =>
    git(cwd, args)
      .toString('utf8')
      .replace(/\r?\n$/, '')
  let commit: string
  let top: string
  let prefix: string
  try {
    commit = line(['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`])
    top = line(['rev-parse', '--show-toplevel'])
    prefix = line(['rev-parse', '--show-prefix'])
  } catch (error) {
    if (error instanceof CallError) throw error
    return undefined
  }
  const blobs = blobsOf(git(cwd, ['ls-tree', '-r', '-l', '-z', '--full-tree', commit]).toString('utf8'))
  const texts = new Map<string, ReturnType<typeof decode>>()
  const text = (path: string): ReturnType<typeof decode> => {
    const blob = blobs.get(path)
    if (!blob) return { ok: false, reason: 'cannot be found' }
    let read = texts.get(path)
    if (!read) {
      // the names are given at once: one start of git for all that will be wanted
      if (blob.size > LARGEST_FILE) read = { ok: false, reason: 'is too long to be read' }
      else
        for (const [p, bytes] of contents(
          cwd,
          [...blobs].filter(
            ([p, b]) =>
              !texts.has(p) && b.size <= LARGEST_FILE && (p === path || posix.dirname(p) === posix.dirname(path)),
          ),
        ))
          texts.set(p, decode(bytes))
      read ??= texts.get(path)!
      texts.set(path, read)
    }
    return read
  }
  const root = top.replace(/\/$/, '')
  const projects = new Map<string, Config | undefined>()
  const revision: Revision = {
    name: `${name} (${commit.slice(0, 8)})`,
    top,
    prefix,
    paths: [...blobs.keys()].filter(p => p.endsWith('.door')).sort(),
    text,
    fileOf: path => `${root}/${path}`,
    pathOf: file => file.slice(root.length + 1),
    project(path) {
      const at = rootIn(blobs, path)
      const file = posix.join(at, CONFIG_NAME)
      if (!projects.has(at)) {
        const read = blobs.has(file) ? text(file) : undefined
        projects.set(at, read?.ok ? readConfig(read.text, `${root}/${file}`) : undefined)
      }
      return projects.get(at)
    },
  }
  return revision
}

/** Plain files by path, of those kinds that are ever read. */
function blobsOf(listing: string): Map<string, Blob> {
  const out = new Map<string, Blob>()
  for (const entry of listing.split('\0')) {
    const m = /^100\d{3} blob ([0-9a-f]+) +(\d+)\t([\s\S]+)$/.exec(entry)
    if (m && (m[3]!.endsWith('.door') || posix.basename(m[3]!) === CONFIG_NAME))
      out.set(m[3]!, { id: m[1]!, size: Number(m[2]) })
  }
  return out
}

function contents(cwd: string, wanted: readonly (readonly [path: string, blob: Blob])[]): [string, Uint8Array][] {
  const bytes = git(cwd, ['cat-file', '--batch'], wanted.map(([, b]) => `${b.id}\n`).join(''))
  let at = 0
  return wanted.map(([path, blob]) => {
    const start = bytes.indexOf(10, at) + 1
    at = start + blob.size + 1
    return [path, bytes.subarray(start, start + blob.size)]
  })
}

/** The folder that a `use` may not leave: the nearest with a project file, else the whole tree. */
function rootIn(blobs: ReadonlyMap<string, Blob>, path: string): string {
  for (let at = posix.dirname(path); at !== '.'; at = posix.dirname(at))
    if (blobs.has(`${at}/${CONFIG_NAME}`)) return at
  return ''
}

/** @param config a project file on the disk that counts in place of those of the revision */
export function revisionHost(revision: Revision, options: Parameters<typeof nodeHost>[0]): ProjectHost {
  const disk = nodeHost(options)
  const roots = new Map<string, string>()
  for (const p of revision.paths) {
    const project = revision.project(p)
    roots.set(p, project ? posix.dirname(revision.pathOf(project.file)) : '.')
  }
  return {
    units: options?.units,
    fault: options?.fault,
    project: file => (options?.config === undefined ? revision.project(revision.pathOf(file)) : disk.project(file)),
    read(file) {
      const r = revision.text(revision.pathOf(file))
      return r.ok ? r.text : undefined
    },
    resolve(from, path) {
      const refused = pathRefused(path)
      if (refused) return refused
      const own = revision.pathOf(from)
      const wanted = posix.normalize(posix.join(posix.dirname(own), path))
      const root = roots.get(own) ?? '.'
      if (root === '.' ? wanted.startsWith('../') : !wanted.startsWith(`${root}/`))
        return { ok: false, outside: true, message: `"${path}" leaves the workspace, and a \`use\` may not.` }
      return { ok: true, file: revision.fileOf(wanted) }
    },
  }
}
