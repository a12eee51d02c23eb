/** The openings of the workspace as a tree: file by file, each with its state. A click goes there. */
import {
  commands,
  EventEmitter,
  type ExtensionContext,
  languages,
  ThemeColor,
  ThemeIcon,
  type TreeDataProvider,
  TreeItem,
  TreeItemCollapsibleState,
  type Uri,
  window,
  workspace,
} from 'vscode'
import { at, type Opening, type Server } from './protocol.ts'
import { stateOf } from './state.ts'

const MOST_FILES = 1000

export type Node = { readonly uri: Uri; readonly opening?: Opening; readonly file?: Node }

class Openings implements TreeDataProvider<Node> {
  readonly #server: Server
  readonly #changed = new EventEmitter<Node | undefined>()
  readonly onDidChangeTreeData = this.#changed.event
  /** What the server said of each file; those that changed are asked for again. */
  readonly #known = new Map<string, readonly Opening[]>()
  #later: ReturnType<typeof setTimeout> | undefined

  constructor(server: Server) {
    this.#server = server
  }

  /** A file changed (or, without one, all may have): asked for again once it is quiet. */
  forget(uri?: Uri): void {
    if (uri) this.#known.delete(uri.toString())
    else this.#known.clear()
    clearTimeout(this.#later)
    this.#later = setTimeout(() => this.#changed.fire(undefined), 250)
  }

  dispose(): void {
    clearTimeout(this.#later)
    this.#changed.dispose()
  }

  async getChildren(node?: Node): Promise<Node[]> {
    if (node) return (await this.#of(node.uri)).map(opening => ({ uri: node.uri, opening, file: node }))
    const files = await jobs()
    const withOpenings: Node[] = []
    for (const uri of files.sort((a, b) => a.path.localeCompare(b.path, 'en')))
      if ((await this.#of(uri)).length > 0) withOpenings.push({ uri })
    return withOpenings
  }

  getParent(node: Node): Node | undefined {
    return node.file
  }

  getTreeItem({ uri, opening }: Node): TreeItem {
    if (!opening) {
      const item = new TreeItem(uri, TreeItemCollapsibleState.Expanded)
      item.id = uri.toString()
      item.label = workspace.asRelativePath(uri)
      item.iconPath = ThemeIcon.File
      item.contextValue = 'job'
      return item
    }
    const state = stateOf(opening)
    const item = new TreeItem(opening.mark || '(no mark)')
    item.id = `${uri.toString()}#${opening.line} ${opening.mark}`
    item.iconPath = new ThemeIcon(state.icon, state.colour === undefined ? undefined : new ThemeColor(state.colour))
    item.description = state.text
    item.tooltip =
      opening.missing.length > 0
        ? `${opening.mark}: ${state.text}. Still to be written: ${opening.missing.join(', ')}`
        : `${opening.mark}: ${state.text}`
    item.accessibilityInformation = { label: `Opening ${opening.mark}: ${state.text}` }
    item.contextValue = 'opening'
    item.command = {
      command: 'vscode.open',
      title: 'Go to the opening',
      arguments: [uri, { selection: at(opening.line) }],
    }
    return item
  }

  async #of(uri: Uri): Promise<readonly Opening[]> {
    const key = uri.toString()
    let known = this.#known.get(key)
    if (!known) {
      const answer = await this.#server.openings(uri)
      known = answer ?? []
      if (answer) this.#known.set(key, known)
    }
    return known
  }
}

/** The workspace's files; the view is there as soon as there are any. */
async function jobs(): Promise<Uri[]> {
  const files = await workspace.findFiles('**/*.door', '**/node_modules/**', MOST_FILES)
  void commands.executeCommand('setContext', 'doorwright.hasJobs', files.length > 0)
  return files
}

/** @returns shows all anew: for when the server has come up */
export function showOpenings(context: ExtensionContext, server: Server): () => void {
  const openings = new Openings(server)
  const view = window.createTreeView('doorwright.openings', { treeDataProvider: openings, showCollapseAll: true })
  const watcher = workspace.createFileSystemWatcher('**/*.door')
  // A stock file may be read by any other, so a change on the disk concerns all.
  const all = (): void => {
    openings.forget()
    void jobs()
  }
  context.subscriptions.push(
    openings,
    view,
    watcher,
    watcher.onDidChange(all),
    watcher.onDidCreate(all),
    watcher.onDidDelete(all),
    workspace.onDidChangeWorkspaceFolders(all),
    languages.onDidChangeDiagnostics(e => {
      for (const uri of e.uris) if (uri.path.endsWith('.door')) openings.forget(uri)
    }),
    commands.registerCommand('doorwright.openings.refresh', all),
  )
  return all
}
