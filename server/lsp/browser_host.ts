/**
 * The files of a server in a Web Worker, where there is no disk: the client reads those that a `use` leads to and hands
 * them over. `doorwright/want` asks for one, `doorwright/file` brings it (or says that it is not there).
 */
import type { Connection } from 'vscode-languageserver/node'
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

export function browserHost(connection: Connection, fault: (where: string, error: unknown) => void): EditorHost {
  /** Text, or null for a file that is known not to be there. */
  const texts = new Map<string, string | null>()
  const wanted = new Set<string>()
  let folders: readonly string[] = []
  const inside = (file: string): boolean => folders.some(f => file.startsWith(f.endsWith('/') ? f : `${f}/`))
  connection.onNotification('doorwright/file', ({ uri, text }: { uri: string; text: string | null }) => {
    texts.set(addressNaming.name(uri), text)
  })
  return {
    fault,
    setFolders(opened) {
      folders = opened
    },
    forget() {},
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
    read(file) {
      const text = texts.get(file)
      if (text === undefined && !wanted.has(file)) {
        wanted.add(file)
        void connection.sendNotification('doorwright/want', { uri: addressNaming.uri(file) })
      }
      return text ?? undefined
    },
    workspaceFiles: () => [...texts].flatMap(([file, text]) => (text === null ? [] : [file])),
    usePaths: file =>
      [...texts].filter(([other, text]) => text !== null && other !== file).map(([other]) => relative(file, other)),
  }
}

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
