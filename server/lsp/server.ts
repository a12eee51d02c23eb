/**
 * The language server on any connection: lifecycle, documents, findings. What it knows it knows from the service.
 */
import {
  CodeLensRefreshRequest,
  type Connection,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  ErrorCodes,
  type InitializeParams,
  LSPErrorCodes,
  ResponseError,
  WatchKind,
} from 'vscode-languageserver/node'
import { Service } from '../service.ts'
import { asksForFindings, capabilities } from './capabilities.ts'
import { registerCustom } from './custom.ts'
import { registerDocuments } from './documents.ts'
import { FileNames, type Naming } from './files.ts'
import { Findings } from './findings.ts'
import type { EditorHost } from './host.ts'
import { ProjectFaults } from './project.ts'
import { Ready, turn } from './ready.ts'
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

export function startServer(connection: Connection, machine: Machine): void {
  const files = new FileNames(machine.naming)
  const versions = new Map<string, number>()
  const told = new Set<string>()
  let state: 'new' | 'running' | 'over' = 'new'
  let folders: string[] = []
  let client: InitializeParams['capabilities'] = {}
  let settings: Settings = settingsFrom(undefined)
  let can: VerbsContext['can'] = {
    snippets: false,
    snippetEdits: false,
    versionedEdits: false,
    triggerSuggest: false,
    chooseSprings: false,
    renameThere: false,
  }

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
      // what is said to the client in so many words is no fault
      if (error instanceof ResponseError) throw error
      fault(where, error)
      return none
    }
  }

  const host = machine.host(fault)
  const service = new Service(host)
  const ready = new Ready(service)
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
    guard,
    ready: async file => {
      // what came in between may have changed it again
      for (let working = ready.of(file); working; working = ready.of(file)) await working.then(turn)
    },
    answer: (verb, none, work, token) => {
      if (state === 'new')
        throw new ResponseError(ErrorCodes.ServerNotInitialized, `${verb}: the first request has to be "initialize"`)
      if (state === 'over') throw new ResponseError(ErrorCodes.InvalidRequest, `${verb}: the server has been shut down`)
      if (token?.isCancellationRequested)
        throw new ResponseError(LSPErrorCodes.RequestCancelled, `${verb}: the client has taken this request back`)
      return guard(verb, none, work)
    },
  }

  // ---- findings

  const projects = new ProjectFaults(connection, name => files.uri(name))
  const findings = new Findings(connection, context, {
    changed: names => ready.changed(names),
    looked: file => projects.saw(host.project?.(file)),
    refreshes: () => client.workspace?.diagnostics?.refreshSupport === true,
    arriving: () => host.arriving?.(),
  })
  const refreshViews = (): void => {
    const { inlayHint, codeLens, semanticTokens } = client.workspace ?? {}
    if (inlayHint?.refreshSupport) connection.languages.inlayHint.refresh().catch(() => {})
    if (codeLens?.refreshSupport) connection.sendRequest(CodeLensRefreshRequest.type).catch(() => {})
    if (semanticTokens?.refreshSupport) connection.languages.semanticTokens.refresh().catch(() => {})
  }
  const everything = (): void => {
    findings.mark(service.openFiles)
    refreshViews()
  }
  const keepProjects = (): void =>
    guard('project file', undefined, () => projects.keep(service.openFiles.map(f => host.project?.(f))))

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
      renameThere: options.renameThere === true,
    }
    settings = settingsFrom(options)
    const uris = params.workspaceFolders?.map(f => f.uri) ?? (params.rootUri ? [params.rootUri] : [])
    folders = uris.map(u => files.name(u))
    host.setFolders(folders)
    findings.asked = asksForFindings(client, options)
    return {
      capabilities: capabilities(client, findings.asked),
      serverInfo: { name: 'doorwright', version: machine.version },
    }
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
    const watchers = [
      { globPattern: '**/*.door' },
      { globPattern: '**/doorwright.json' },
      // of a folder that is deleted some editors tell nothing but that
      { globPattern: '**/*', kind: WatchKind.Delete },
    ]
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
  registerDocuments(connection, context, {
    names: files,
    versions,
    host,
    findings,
    inUse,
    fault,
    everything,
    refreshViews,
    keepProjects,
  })
  findings.register()
  registerVerbs(connection, context)
  registerCustom(connection, context, { version: machine.version, read: f => host.read(f) })
  connection.listen()
}
