/** The VS Code side on a desktop: the language server in a process of its own. */
import { join } from 'node:path'
import type { ExtensionContext } from 'vscode'
import { LanguageClient, TransportKind } from 'vscode-languageclient/node'
import { HAS, LANGUAGE } from './protocol.ts'
import { start } from './start.ts'
import { provideTasks } from './tasks.ts'

let client: LanguageClient | undefined

export async function activate(context: ExtensionContext): Promise<void> {
  const server = { module: join(context.extensionPath, 'dist', 'server.cjs'), transport: TransportKind.ipc }
  client = new LanguageClient(LANGUAGE, 'Doorwright', server, {
    documentSelector: [
      { scheme: 'file', language: LANGUAGE },
      { scheme: 'untitled', language: LANGUAGE },
    ],
    initializationOptions: HAS,
  })
  provideTasks(context)
  await start(context, client)
}

export async function deactivate(): Promise<void> {
  await client?.stop()
}
