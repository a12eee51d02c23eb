/** What the client says of its documents and files: opened, changed, closed, moved, gone. */
import { type Connection, FileChangeType, type WorkspaceEdit } from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { toWorkspaceEdit } from './convert.ts'
import type { FileNames } from './files.ts'
import type { Findings } from './findings.ts'
import { checkParts } from './handler.ts'
import type { EditorHost } from './host.ts'
import type { VerbsContext } from './verbs.ts'

export interface Documents {
  readonly names: FileNames
  readonly versions: Map<string, number>
  readonly host: EditorHost
  readonly findings: Findings
  /** Only while the server is in use; a fault costs what was said and nothing else. */
  inUse(where: string, work: () => void): void
  fault(where: string, error: unknown): void
  /** Looks at every open file again. */
  everything(): void
  /** Shows anew what stands beside the text. */
  refreshViews(): void
  /** Project files that nobody needs any more have no faults. */
  keepProjects(): void
}

export function registerDocuments(connection: Connection, c: VerbsContext, d: Documents): void {
  const { service } = c
  const { names, versions, findings, host } = d
  /** The files that use a changed one are looked at again too. */
  const changed = (file: string): void => {
    const users = c.guard('users', [], () => service.users(file)).filter(f => service.isOpen(f))
    findings.mark([file, ...users])
    if (users.length > 0) d.refreshViews()
  }

  connection.onDidOpenTextDocument(({ textDocument: doc }) =>
    d.inUse('open', () => {
      const file = names.opened(doc.uri)
      versions.set(file, doc.version)
      host.forget()
      service.open(file, doc.text)
      changed(file)
    }),
  )
  connection.onDidChangeTextDocument(({ textDocument: doc, contentChanges }) =>
    d.inUse('change', () => {
      const file = names.name(doc.uri)
      if (!service.isOpen(file)) return
      versions.set(file, doc.version)
      const before = service.text(file) ?? ''
      try {
        service.edit(file, contentChanges)
      } catch (error) {
        // The text has to stay the editor's, whatever happened: take it whole.
        d.fault('change', error)
        const whole = TextDocument.create(doc.uri, 'doorwright', 0, before)
        service.open(file, TextDocument.update(whole, contentChanges, doc.version).getText())
      }
      changed(file)
    }),
  )
  connection.onDidCloseTextDocument(({ textDocument: doc }) =>
    d.inUse('close', () => {
      const file = names.name(doc.uri)
      const users = service.users(file)
      service.close(file)
      versions.delete(file)
      findings.clear(file)
      names.closed(file)
      findings.mark(users)
      d.keepProjects()
    }),
  )

  // ---- files

  /** Files and folders came, changed or went; of a folder that went, all that was in it. */
  const onDisk = (changes: readonly { readonly uri: string; readonly gone: boolean }[]): void => {
    const known = service.knownFiles
    const came = new Set(changes.filter(x => !x.gone).map(x => names.name(x.uri)))
    const files = changes.flatMap(({ uri, gone }) => {
      const name = names.name(uri)
      if (/\.door$|[\\/]doorwright\.json$/.test(name)) return [{ file: name, gone }]
      return gone ? known.filter(f => f.startsWith(name) && /^[\\/]/.test(f.slice(name.length))).map(file => ({ file, gone })) : [] // biome-ignore format: one line
    })
    if (files.length === 0) return
    host.forget()
    for (const { file } of files) service.refresh(file)
    d.keepProjects()
    d.everything()
    // A document of a deleted file may stay open: at its next change it counts again.
    for (const { file, gone } of files) if (gone && !came.has(file)) findings.clear(file)
  }
  connection.onDidChangeWatchedFiles(({ changes }) =>
    d.inUse('watched files', () => onDisk(changes.map(x => ({ uri: x.uri, gone: x.type === FileChangeType.Deleted })))),
  )
  const { workspace } = connection
  workspace.onDidDeleteFiles(p =>
    d.inUse('deleted files', () => onDisk(p.files.map(f => ({ uri: f.uri, gone: true })))),
  )
  workspace.onDidCreateFiles(p =>
    d.inUse('created files', () => onDisk(p.files.map(f => ({ uri: f.uri, gone: false })))),
  )
  workspace.onDidRenameFiles(p =>
    d.inUse(
      'renamed files',
      () =>
      onDisk(p.files.flatMap(f => [{ uri: f.oldUri, gone: true }, { uri: f.newUri, gone: false }])), // biome-ignore format: pairs
    ),
  )
  workspace.onWillRenameFiles((p, token) =>
    c.answer<WorkspaceEdit | null>(
      'renaming files',
      null,
      () => {
        checkParts('renaming files', p, ['files'])
        const moves = p.files.map(f => ({ from: c.file(f.oldUri), to: c.file(f.newUri) }))
        const edits = service.moved(moves)
        return edits.length > 0 ? toWorkspaceEdit(edits, c) : null
      },
      token,
    ),
  )
}
