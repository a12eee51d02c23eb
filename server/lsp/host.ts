/** The disk as the service may see it, bounded by the opened folders, and the files that a `use` could name. */
import { type Dirent, readdirSync } from 'node:fs'
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import type { Config } from '../config/index.ts'
import { nodeHost } from '../host.ts'
import type { ServiceHost } from '../service.ts'
import type { Naming } from './files.ts'

export interface EditorHost extends ServiceHost {
  /** Absent on a machine without a disk. */
  project?(file: string): Config | undefined
  /** Only `use` paths below these may be followed. */
  setFolders(folders: readonly string[]): void
  /** Something changed on the disk: paths are looked up anew. */
  forget(): void
  /** Where files come by and by: resolves once more of what was asked for is there; nothing where all is. */
  arriving?(): Promise<true> | undefined
}

/** A path for `file:` URIs; any other (a document never saved) stands for itself. */
export const diskNaming: Naming = {
  name(uri) {
    try {
      if (uri.startsWith('file:')) return fileURLToPath(uri)
    } catch {
      // A file on another machine, or no valid URI: it can be looked at, but its `use` leads nowhere.
    }
    return uri
  },
  uri: name => (URL.canParse(name) && !/^[A-Za-z]:[\\/]/.test(name) ? name : pathToFileURL(name).href),
}

/** How many folders and files are looked at for completing a `use`. */
const MOST_FOLDERS = 500
const MOST_FILES = 1000

export function editorHost(fault: (where: string, error: unknown) => void): EditorHost {
  let folders: readonly string[] = []
  let listed: readonly string[] | undefined
  const disk = nodeHost({ workspaceRoots: () => folders, fault })
  return {
    ...disk,
    setFolders(opened) {
      folders = opened
      listed = undefined
      disk.forget()
    },
    forget() {
      listed = undefined
      disk.forget()
    },
    workspaceFiles: () => (listed ??= [...new Set(folders.filter(isAbsolute).flatMap(f => doorFiles(f)))]),
    usePaths(file) {
      if (!isAbsolute(file)) return []
      const found = doorFiles(disk.rootOf(file), file)
      const project = disk.project(file)
      const stock = (project?.stock ?? []).map(s => resolve(dirname(project!.file), s))
      const isStock = (path: string): boolean => stock.some(s => path === s || path.startsWith(s + sep))
      const name = (path: string): string => relative(dirname(file), path).split(sep).join('/')
      return [...found.filter(isStock), ...found.filter(f => !isStock(f))].map(name)
    },
  }
}

/** The other `.door` files below a folder, the nearest to the top first. */
function doorFiles(root: string, file?: string): string[] {
  const found: string[] = []
  const folders = [root]
  for (let left = MOST_FOLDERS; left > 0 && folders.length > 0 && found.length < MOST_FILES; left--) {
    const folder = folders.shift()!
    for (const entry of entriesOf(folder)) {
      const path = join(folder, entry.name)
      if (entry.isDirectory() && !entry.name.startsWith('.') && entry.name !== 'node_modules') folders.push(path)
      if (entry.isFile() && entry.name.endsWith('.door') && path !== file) found.push(path)
    }
  }
  return found
}

function entriesOf(folder: string): Dirent[] {
  try {
    return readdirSync(folder, { withFileTypes: true })
  } catch {
    return [] // a folder that may not be read offers nothing
  }
}
