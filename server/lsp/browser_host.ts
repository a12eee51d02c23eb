/**
 * The files of a server in a Web Worker, where there is no disk: the client reads those that a `use` leads to, and the
 * project files above a job, and hands them over. `doorwright/want` asks for one, `doorwright/file` brings it (or says
 * that it is not there).
 */
import type { Connection } from 'vscode-languageserver/node'
import { CONFIG_NAME, type Config, readConfig } from '../config/index.ts'
import type { Naming } from './files.ts'
import type { EditorHost } from './host.ts'

/** Addresses in one spelling, readable in messages: editors escape more than they need to, and not all the same. */
export const addressNaming: Naming = {
  name(uri) {
    try {
      const { protocol, host, pathname } = new URL(uri)
      return pathname.startsWith('/') ? `${protocol}//${host}${decodeURIComponent(pathname)}` : uri
    } catch {
      return uri
    }
  },
  uri: name => (name.includes('://') ? encodeURI(name).replace(/[?#]/g, encodeURIComponent) : name),
}

/** How long a file is waited for before findings are told without it. */
const PATIENCE_MS = 3000

export function browserHost(connection: Connection, fault: (where: string, error: unknown) => void): EditorHost {
  /** Text, or null for a file that is known not to be there. */
  const texts = new Map<string, string | null>()
  const wanted = new Set<string>()
  /** Wanted and not looked at yet. */
  const awaited = new Set<string>()
  let waiting: (() => void)[] = []
  const wake = (): void => {
    const all = waiting
    waiting = []
    for (const go of all) go()
  }
  let folders: readonly string[] = []
  /** By project file, with the text it was made of: as long as that is the same, so is the object. */
  const configs = new Map<string, { readonly text: string; readonly config: Config }>()
  /** By folder; looked up anew when a file came, changed or went. */
  const projects = new Map<string, Config | undefined>()
  const top = (folder: string): string => (folder.endsWith('/') ? folder : `${folder}/`)
  const inside = (file: string): boolean => folders.some(f => file.startsWith(top(f)))
  const read = (file: string): string | undefined => {
    const text = texts.get(file)
    if (text !== undefined) awaited.delete(file)
    else if (!wanted.has(file)) {
      wanted.add(file)
      awaited.add(file)
      // A client that brings nothing is not waited for.
      setTimeout(() => awaited.delete(file) && wake(), PATIENCE_MS)
      void connection.sendNotification('doorwright/want', { uri: addressNaming.uri(file) })
    }
    return text ?? undefined
  }
  const configAt = (file: string): Config | undefined => {
    const text = read(file)
    if (text === undefined) return undefined
    let made = configs.get(file)
    if (made?.text !== text) configs.set(file, (made = { text, config: readConfig(text, file) }))
    return made.config
  }
  /** The nearest project file above a folder's content, no higher than the opened folder that it lies in. */
  const nearest = (folder: string): Config | undefined => {
    if (!inside(top(folder))) return undefined
    if (!projects.has(folder)) projects.set(folder, configAt(top(folder) + CONFIG_NAME) ?? nearest(parent(folder)))
    return projects.get(folder)
  }
  const project = (file: string): Config | undefined => {
    // A document that is not saved yet counts to the first folder.
    const folder = file.includes('://') ? parent(file) : folders[0]?.replace(/\/$/, '')
    return folder === undefined ? undefined : nearest(folder)
  }
  const jobs = (): string[] =>
    [...texts].flatMap(([file, text]) => (text !== null && file.endsWith('.door') ? [file] : []))
  connection.onNotification('doorwright/file', ({ uri, text }: { uri: string; text: string | null }) => {
    texts.set(addressNaming.name(uri), text)
    projects.clear()
  })
  return {
    fault,
    setFolders(opened) {
      folders = opened
      projects.clear()
    },
    forget() {
      wake()
    },
    arriving: () => (awaited.size === 0 ? undefined : new Promise(resolve => waiting.push(() => resolve(true)))),
    resolve(from, path) {
      const no = (message: string, outside = false) => ({ ok: false, outside, message }) as const
      if (path.trim() === '' || path.includes('\\') || !path.endsWith('.door'))
        return no(
          `\`use\` needs the path of a .door file with / between folders, relative to this one; "${path}" is none.`,
        )
      if (/^([a-z][a-z0-9+.-]*:|\/)/i.test(path))
        return no(`"${path}" is no path relative to this file. Write one, such as "stock/house.door".`, true)
      const file = join(from, path)
      if (file === undefined) return no('Save this file first: the path of a `use` is relative to it.')
      if (!inside(file))
        return no(`"${path}" leaves the workspace, and a \`use\` may not. Move the file into it.`, true)
      return { ok: true, file }
    },
    read,
    project,
    workspaceFiles: jobs,
    usePaths(file) {
      const others = jobs().filter(other => other !== file)
      const config = project(file)
      const stock = (config?.stock ?? []).flatMap(path => join(config!.file, path) ?? [])
      const isStock = (other: string): boolean => stock.some(s => other === s || other.startsWith(top(s)))
      return [...others.filter(isStock), ...others.filter(o => !isStock(o))].map(other => relative(file, other))
    },
  }
}

const parent = (file: string): string => file.slice(0, file.lastIndexOf('/'))

/** `path` from the folder that `from` lies in; undefined where `from` lies in none. */
export function join(from: string, path: string): string | undefined {
  const start = from.indexOf('/', from.indexOf('://') + 3)
  if (!from.includes('://') || start < 0) return undefined
  const parts = from
    .slice(start + 1)
    .split('/')
    .slice(0, -1)
  for (const part of path.split('/'))
    if (part === '..') {
      // Above the top there is nothing: such a path leads out.
      if (parts.pop() === undefined) return `${from.slice(0, start)}/../${path}`
    } else if (part !== '.' && part !== '') parts.push(part)
  return `${from.slice(0, start)}/${parts.join('/')}`
}

/** `other` as a `use` in `from` names it. */
function relative(from: string, other: string): string {
  const [a, b] = [from.split('/').slice(0, -1), other.split('/')]
  let same = 0
  while (same < a.length && same < b.length - 1 && a[same] === b[same]) same++
  return [...a.slice(same).map(() => '..'), ...b.slice(same)].join('/')
}
