/**
 * The disk as the service may see it. A `use` may not leave the workspace, and no link leads out of it: what counts is
 * where a file really lies, not how its path is written.
 */
import { existsSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs'
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path'
import type { ServiceHost, UseTarget } from '../service.ts'

/** What marks a folder as a workspace where no folder is opened. */
const MARKS = ['doorwright.json', '.git']
/** A job file is a page or two; what is far larger is no job file. */
const LARGEST = 16 * 1024 * 1024
/** How many folders are looked into for the files that a `use` could name. */
const MOST_FOLDERS = 500

export class DiskHost implements ServiceHost {
  /** Where each `use` led, since asking the disk at every keystroke would be slow. */
  readonly #targets = new Map<string, UseTarget>()
  readonly #rootOf = new Map<string, string>()
  #folders: readonly string[]
  readonly #fault: (where: string, error: unknown) => void

  /** @param folders the opened folders; a file in none of them has the nearest marked folder above it as its workspace. */
  constructor(folders: readonly string[], fault: (where: string, error: unknown) => void) {
    this.#folders = folders
    this.#fault = fault
  }

  set folders(folders: readonly string[]) {
    this.#folders = folders
    this.forget()
  }

  /** Something changed on the disk: paths are looked up anew. */
  forget(): void {
    this.#targets.clear()
    this.#rootOf.clear()
  }

  fault(where: string, error: unknown): void {
    this.#fault(where, error)
  }

  resolve(from: string, path: string): UseTarget {
    const key = `${from}\n${path}`
    let target = this.#targets.get(key)
    if (!target) this.#targets.set(key, (target = this.#resolve(from, path)))
    return target
  }

  /** The text of a file that a `use` led to; undefined where there is none, or where it now lies outside. */
  read(file: string): string | undefined {
    try {
      const root = this.#rootOf.get(file)
      if (root === undefined || !inside(root, realpathSync(file))) return undefined
      const { size } = statSync(file)
      return size > LARGEST ? undefined : readFileSync(file, 'utf8').replace(/^\uFEFF/, '')
    } catch {
      return undefined
    }
  }

  #resolve(from: string, path: string): UseTarget {
    if (!isAbsolute(from)) return { ok: false, outside: false, message: 'Save this file first: `use` is relative to where the file lies.' }
    const root = this.#workspace(from)
    const target = resolve(dirname(from), path)
    if (path.trim() === '' || !target.endsWith('.door'))
      return { ok: false, outside: false, message: `\`use "${path}"\` does not name a \`.door\` file. Write the path of one, relative to this file.` }
    if (isAbsolute(path) || !inside(root, target) || !inside(realOf(root), realOf(target))) {
      const why = isAbsolute(path) ? 'starts at the root of the disk' : inside(root, target) ? 'is a link that leads out of the workspace' : 'leaves the workspace'
      return { ok: false, outside: true, message: `\`use "${path}"\` ${why}. Only files below the folder "${basename(root)}" can be used; copy the file into it.` }
    }
    this.#rootOf.set(target, realOf(root))
    return { ok: true, file: target }
  }

  /** The other `.door` files of the workspace, as a `use` in `file` would name them; the first thousand. */
  usePaths(file: string): readonly string[] {
    if (!isAbsolute(file)) return []
    const found: string[] = []
    const folders = [this.#workspace(file)]
    for (let left = MOST_FOLDERS; left > 0 && folders.length > 0 && found.length < 1000; left--) {
      const folder = folders.shift()!
      for (const entry of entriesOf(folder)) {
        if (entry.isDirectory() && !entry.name.startsWith('.') && entry.name !== 'node_modules') folders.push(join(folder, entry.name))
        if (entry.isFile() && entry.name.endsWith('.door')) found.push(join(folder, entry.name))
      }
    }
    return found.filter(f => f !== file).map(f => relative(dirname(file), f).split(sep).join('/'))
  }

  /** The opened folder that a file lies in, else the nearest marked folder above it, else its own folder. */
  #workspace(file: string): string {
    const opened = this.#folders.filter(f => inside(f, file)).sort((a, b) => a.length - b.length)[0]
    if (opened !== undefined) return opened
    const own = dirname(file)
    for (let at = own; ; at = dirname(at)) {
      if (MARKS.some(m => existsSync(join(at, m)))) return at
      if (at === dirname(at)) return own
    }
  }
}

function entriesOf(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true })
  } catch {
    return []
  }
}

const inside = (root: string, file: string): boolean => {
  const way = relative(root, file)
  return way === '' || !(way === '..' || way.startsWith(`..${sep}`) || isAbsolute(way))
}

/** Where a path really leads; of one that does not exist, where the part that does leads. */
function realOf(path: string): string {
  try {
    return realpathSync(path)
  } catch {
    return dirname(path) === path ? path : join(realOf(dirname(path)), basename(path))
  }
}
