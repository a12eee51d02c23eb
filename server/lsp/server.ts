/**
 * The language server on any connection: lifecycle, documents, findings. What it knows it knows from the service.
 */
import {
  CodeActionKind,
  type Connection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  ErrorCodes,
  type InitializeParams,
  type InitializeResult,
  ResponseError,
  TextDocumentSyncKind,
} from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { Service } from '../service.ts'
import { toDiagnostic } from './convert.ts'
import { registerCustom } from './custom.ts'
import { FileNames, type Naming } from './files.ts'
import type { EditorHost } from './host.ts'
import { ProjectFaults } from './project.ts'
import { Publisher } from './publish.ts'
import { fetchSettings, type Settings, settingsFrom } from './settings.ts'
import { registerVerbs, type VerbsContext } from './verbs.ts'

/** What the server asks of the machine it runs on. */
export interface Machine {
  /** How file names and URIs become each other; without it a file goes by its URI. */
  readonly naming?: Naming
  /** The files as the service may see them. */
  host(fault: (where: string, error: unknown) => void): EditorHost
  /** The address of a rule's page, where there is one. */
  rulePage(rule: string): string | undefined
  readonly version: string
}

const CAPABILITIES: InitializeResult['capabilities'] = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
  hoverProvider: true,
  completionProvider: { resolveProvider: true, triggerCharacters: ['.', '=', '"', '/', ' '] },
  inlayHintProvider: { resolveProvider: true },
  codeActionProvider: {
    resolveProvider: true,
    codeActionKinds: [
      CodeActionKind.QuickFix,
      CodeActionKind.RefactorRewrite,
      `${CodeActionKind.SourceFixAll}.doorwright`,
    ],
  },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentSymbolProvider: true,
  foldingRangeProvider: true,
  definitionProvider: true,
  workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
}

export function startServer(connection: Connection, machine: Machine): void {
  const files = new FileNames(machine.naming)
  const versions = new Map<string, number>()
  const told = new Set<string>()
  let state: 'new' | 'running' | 'over' = 'new'
  let folders: string[] = []
  let client: InitializeParams['capabilities'] = {}
  let settings: Settings = settingsFrom(undefined)
  let can = { snippets: false, snippetEdits: false, versionedEdits: false, triggerSuggest: false, chooseSprings: false }

  /** Each fault is told once: the same one would come again at every keystroke. */
  const fault = (where: string, error: unknown): void => {
    const text = `${where}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`
    if (told.has(text)) return
    told.add(text)
    connection.console.error(`A fault in Doorwright, please report it. Everything else goes on. ${text}`)
  }
  const guard = <R>(where: string, none: R, work: () => R): R => {
    try {
      return work()
    } catch (error) {
      fault(where, error)
      return none
    }
  }

  const host = machine.host(fault)
  const service = new Service(host)
  const context: VerbsContext = {
    service,
    get settings() {
      return settings
    },
    get can() {
      return can
    },
    file: uri => files.name(uri),
    uri: name => files.uri(name),
    version: name => versions.get(name) ?? null,
    rulePage: machine.rulePage,
    answer: (verb, none, work) => {
      if (state === 'new')
        throw new ResponseError(ErrorCodes.ServerNotInitialized, `${verb}: the first request has to be "initialize"`)
      if (state === 'over') throw new ResponseError(ErrorCodes.InvalidRequest, `${verb}: the server has been shut down`)
      return guard(verb, none, work)
    },
  }

  // ---- findings

  const projects = new ProjectFaults(connection, name => files.uri(name))
  const publisher = new Publisher(file => {
    if (!service.isOpen(file)) return
    guard('project file', undefined, () => projects.saw(host.project?.(file)))
    const findings = guard('findings', [], () => service.findings(file)).filter(
      f => settings.showAccepted || f.accepted === undefined,
    )
    const diagnostics = guard('findings', [], () => findings.map(f => toDiagnostic(f, context)))
    void connection.sendDiagnostics({ uri: files.uri(file), version: versions.get(file), diagnostics })
  })
  const everything = (): void => {
    publisher.mark(service.openFiles)
    refreshHints()
  }
  const keepProjects = (): void =>
    guard('project file', undefined, () => projects.keep(service.openFiles.map(f => host.project?.(f))))
  const refreshHints = (): void => {
    if (client.workspace?.inlayHint?.refreshSupport) connection.languages.inlayHint.refresh().catch(() => {})
  }
  /** The files that use a changed one are looked at again too. */
  const changed = (file: string): void => {
    const users = guard('users', [], () => service.users(file)).filter(f => service.isOpen(f))
    publisher.mark([file, ...users])
    if (users.length > 0) refreshHints()
  }

  // ---- lifecycle

  connection.onInitialize(params => {
    state = 'running'
    client = params.capabilities
    const options = (params.initializationOptions ?? {}) as Record<string, unknown>
    const text = client.textDocument
    can = {
      snippets: text?.completion?.completionItem?.snippetSupport === true,
      snippetEdits: client.workspace?.workspaceEdit?.snippetEditSupport === true,
      versionedEdits: client.workspace?.workspaceEdit?.documentChanges === true,
      triggerSuggest: options.triggerSuggest === true,
      chooseSprings: options.chooseSprings === true,
    }
    settings = settingsFrom(options)
    const uris = params.workspaceFolders?.map(f => f.uri) ?? (params.rootUri ? [params.rootUri] : [])
    folders = uris.map(u => files.name(u))
    host.setFolders(folders)
    return { capabilities: CAPABILITIES, serverInfo: { name: 'doorwright', version: machine.version } }
  })
  const takeSettings = async (sent?: unknown): Promise<void> => {
    try {
      settings = (await fetchSettings(connection, client)) ?? (sent === undefined ? settings : settingsFrom(sent))
      everything()
    } catch (error) {
      fault('settings', error)
    }
  }
  const register = (answer: Promise<unknown>): void => void answer.catch(e => fault('registration', e))
  connection.onInitialized(() => {
    const { didChangeWatchedFiles: watching, didChangeConfiguration: configuring } = client.workspace ?? {}
    const watchers = [{ globPattern: '**/*.door' }, { globPattern: '**/doorwright.json' }]
    if (watching?.dynamicRegistration)
      register(connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }))
    if (configuring?.dynamicRegistration)
      register(connection.client.register(DidChangeConfigurationNotification.type, { section: 'doorwright' }))
    if (client.workspace?.workspaceFolders)
      connection.workspace.onDidChangeWorkspaceFolders(e => {
        const gone = new Set(e.removed.map(f => files.name(f.uri)))
        folders = [...folders.filter(f => !gone.has(f)), ...e.added.map(f => files.name(f.uri))]
        host.setFolders(folders)
        // Where a `use` may lead has changed: every file is read anew.
        for (const f of service.openFiles) service.open(f, service.text(f) ?? '')
        everything()
      })
    void takeSettings()
  })
  connection.onDidChangeConfiguration(
    e => void takeSettings((e.settings as { doorwright?: unknown } | undefined)?.doorwright),
  )
  connection.onShutdown(() => {
    state = 'over'
  })
  connection.onRequest(method => {
    if (state === 'new')
      throw new ResponseError(ErrorCodes.ServerNotInitialized, `${method}: the first request has to be "initialize"`)
    throw new ResponseError(ErrorCodes.MethodNotFound, `There is no method "${method}" here`)
  })

  // ---- documents

  const inUse = (where: string, work: () => void): void => {
    if (state === 'running') guard(where, undefined, work)
  }
  connection.onDidOpenTextDocument(({ textDocument: d }) =>
    inUse('open', () => {
      const file = files.opened(d.uri)
      versions.set(file, d.version)
      host.forget()
      service.open(file, d.text)
      changed(file)
    }),
  )
  connection.onDidChangeTextDocument(({ textDocument: d, contentChanges }) =>
    inUse('change', () => {
      const file = files.name(d.uri)
      if (!service.isOpen(file)) return
      versions.set(file, d.version)
      const before = service.text(file) ?? ''
      try {
        service.edit(file, contentChanges)
      } catch (error) {
        // The text has to stay the editor's, whatever happened: take it whole.
        fault('change', error)
        service.open(
          file,
          TextDocument.update(TextDocument.create(d.uri, 'doorwright', 0, before), contentChanges, d.version).getText(),
        )
      }
      changed(file)
    }),
  )
  connection.onDidCloseTextDocument(({ textDocument: d }) =>
    inUse('close', () => {
      const file = files.name(d.uri)
      const users = service.users(file)
      service.close(file)
      versions.delete(file)
      publisher.drop(file)
      void connection.sendDiagnostics({ uri: d.uri, diagnostics: [] })
      files.closed(file)
      publisher.mark(users)
      keepProjects()
    }),
  )
  connection.onDidChangeWatchedFiles(({ changes }) =>
    inUse('watched files', () => {
      host.forget()
      for (const c of changes) service.refresh(files.name(c.uri))
      keepProjects()
      everything()
    }),
  )

  registerVerbs(connection, context)
  registerCustom(connection, context, { version: machine.version, read: f => host.read(f) })
  connection.listen()
}
