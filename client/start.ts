/** What both sides, desktop and browser, do once they have a language client. All that is known of doors is in the server. */
import { Position as CodePosition, commands, type ExtensionContext, Uri, window } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { newJob } from './new_job.ts'
import { showOpenings } from './openings.ts'
import { PreviewPanel } from './preview.ts'
import type { Position } from './protocol.ts'
import { serverOf } from './server.ts'
import { SheetPanel } from './sheet.ts'
import { sizeSprings } from './size.ts'
import { showStatus } from './status.ts'
import { targetOf } from './target.ts'

export async function start(context: ExtensionContext, client: BaseLanguageClient): Promise<void> {
  const server = serverOf(client)
  const preview = new PreviewPanel(context, server)
  const sheet = new SheetPanel(context, server)
  const command = (id: string, run: (...args: unknown[]) => unknown): void =>
    void context.subscriptions.push(commands.registerCommand(`doorwright.${id}`, run))

  command('restart', async () => {
    await client.stop()
    await client.start()
    refresh()
    preview.refresh()
    window.setStatusBarMessage('The Doorwright language server was restarted.', 4000)
  })
  command('fixAll', () =>
    commands.executeCommand('editor.action.codeAction', { kind: 'source.fixAll.doorwright', apply: 'first' }),
  )
  command('newJob', newJob)
  command('preview', (...args) => preview.open(targetOf(args)))
  command('sheet', (...args) => sheet.open(targetOf(args)))
  command('saveSheet', () => sheet.save())
  command('sizeSprings', (...args) => sizeSprings(server, targetOf(args)))
  // Carried by what has just given a part of the text a name.
  command('rename', (uri, at) => {
    const { line, character } = at as Position
    return commands.executeCommand('editor.action.rename', [Uri.parse(String(uri)), new CodePosition(line, character)])
  })
  showStatus(context, server)
  const refresh = showOpenings(context, server)
  await client.start()
  refresh()
  preview.refresh()
}
