/** The VS Code side: starts the language server and adds the commands. All that is known of doors is in the server. */
import { join } from 'node:path'
import { commands, type ExtensionContext, window } from 'vscode'
import { LanguageClient, TransportKind } from 'vscode-languageclient/node'

const LANGUAGE = 'doorwright'
let client: LanguageClient | undefined

export async function activate(context: ExtensionContext): Promise<void> {
  const server = { module: join(context.extensionPath, 'dist', 'server.cjs'), transport: TransportKind.ipc }
  client = new LanguageClient(LANGUAGE, 'Doorwright', server, {
    documentSelector: [
      { scheme: 'file', language: LANGUAGE },
      { scheme: 'untitled', language: LANGUAGE },
    ],
    initializationOptions: { triggerSuggest: true },
  })
  context.subscriptions.push(
    commands.registerCommand('doorwright.restart', async () => {
      await client?.restart()
      window.setStatusBarMessage('The Doorwright language server was restarted.', 4000)
    }),
    commands.registerCommand('doorwright.fixAll', () =>
      commands.executeCommand('editor.action.codeAction', { kind: 'source.fixAll.doorwright', apply: 'first' }),
    ),
  )
  await client.start()
}

export async function deactivate(): Promise<void> {
  await client?.stop()
}
