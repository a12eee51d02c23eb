/** The VS Code side in a browser: the language server in a Web Worker, files through the editor's own file system. */
import { type ExtensionContext, Uri, workspace } from 'vscode'
import { LanguageClient } from 'vscode-languageclient/browser'
import { HAS, LANGUAGE } from './protocol.ts'
import { start } from './start.ts'

let client: LanguageClient | undefined
let worker: { terminate(): void } | undefined

/** How many of the workspace's files are handed over at the start. */
const MOST_FILES = 500
const CHANGED = 2

export async function activate(context: ExtensionContext): Promise<void> {
  worker = await workerOf(Uri.joinPath(context.extensionUri, 'dist', 'browser', 'server.js'))
  const made = new LanguageClient(LANGUAGE, 'Doorwright', worker as never, {
    documentSelector: [{ language: LANGUAGE }],
    initializationOptions: HAS,
  })
  client = made

  /** Reads a file for the server, and tells it that there is something new there. */
  const hand = async (uri: Uri, tell = true): Promise<void> => {
    const inWorkspace = workspace.getWorkspaceFolder(uri) !== undefined
    const text = inWorkspace ? await read(uri) : null
    if (!made.isRunning()) return
    const address = made.code2ProtocolConverter.asUri(uri)
    await made.sendNotification('doorwright/file', { uri: address, text })
    if (tell)
      await made.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: address, type: CHANGED }] })
  }
  for (const files of ['**/*.door', '**/doorwright.json']) {
    const watcher = workspace.createFileSystemWatcher(files)
    const all = [
      watcher.onDidChange(u => hand(u)),
      watcher.onDidCreate(u => hand(u)),
      watcher.onDidDelete(u => hand(u)),
    ]
    context.subscriptions.push(watcher, ...all)
  }
  context.subscriptions.push(
    made.onNotification('doorwright/want', ({ uri }: { uri: string }) => hand(made.protocol2CodeConverter.asUri(uri))),
  )
  await start(context, made)
  // So that all are there for completing a `use`, and for the list of openings.
  for (const uri of await workspace.findFiles('**/*.door', '**/node_modules/**', MOST_FILES)) await hand(uri, false)
}

export async function deactivate(): Promise<void> {
  await client?.stop()
  worker?.terminate()
}

async function read(uri: Uri): Promise<string | null> {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(await workspace.fs.readFile(uri))
  } catch {
    return null
  }
}

/** Some hosts cannot start a worker from where an extension lies; from its text they all can. */
async function workerOf(uri: Uri): Promise<{ terminate(): void }> {
  const script = await workspace.fs.readFile(uri)
  const { Worker, Blob, URL } = globalThis as unknown as BrowserGlobals
  return new Worker(URL.createObjectURL(new Blob([script], { type: 'text/javascript' })))
}

interface BrowserGlobals {
  Worker: new (address: string) => { terminate(): void }
  Blob: new (parts: unknown[], options: { type: string }) => unknown
  URL: { createObjectURL(blob: unknown): string }
}
