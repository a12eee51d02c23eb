/** The field sheet beside the text. It is only looked at: nothing is written unless somebody saves it. */
import {
  type Disposable,
  type ExtensionContext,
  languages,
  Uri,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode'
import type { Answer, Server, Sheet, Target } from './protocol.ts'
import { whyNothing } from './state.ts'
import { NO_JOB } from './target.ts'

const CSP = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`
const BAR = `<p class="doorwright-save" style="position:sticky;top:0;margin:0 0 1em;padding:.5em 0;background:#fff;border-bottom:1px solid #000"><a href="command:doorwright.saveSheet" style="color:#00c">Save as HTML...</a> <span>This page follows the job while it is open.</span></p>`

export class SheetPanel {
  readonly #server: Server
  #panel: WebviewPanel | undefined
  #shown: (Sheet & { uri: Uri }) | undefined
  #later: ReturnType<typeof setTimeout> | undefined

  constructor(context: ExtensionContext, server: Server) {
    this.#server = server
    const listening: Disposable = languages.onDidChangeDiagnostics(e => {
      // An old sheet beside a changed job would be a trap.
      if (this.#panel && e.uris.some(u => u.toString() === this.#shown?.uri.toString())) this.#soon()
    })
    context.subscriptions.push(listening, { dispose: () => clearTimeout(this.#later) })
  }

  async open(target: Target | undefined): Promise<void> {
    if (!target) return void window.showInformationMessage(NO_JOB)
    await workspace.openTextDocument(target.uri)
    const made = await this.#load(target.uri)
    if (!made) return void window.showErrorMessage(`No field sheet. ${whyNothing(made, nameOf(target.uri))}`)
    if (this.#panel) this.#panel.reveal(undefined, true)
    else {
      this.#panel = window.createWebviewPanel(
        'doorwright.sheet',
        'Field sheet',
        { viewColumn: ViewColumn.Beside, preserveFocus: true },
        {
          enableScripts: false,
          enableCommandUris: ['doorwright.saveSheet'],
          enableFindWidget: true,
          localResourceRoots: [],
        },
      )
      this.#panel.onDidDispose(() => {
        this.#panel = undefined
      })
    }
    this.#show()
  }

  async save(): Promise<void> {
    if (!this.#shown) return
    const { uri, html, name } = this.#shown
    const to = await window.showSaveDialog({
      defaultUri: uri.scheme === 'untitled' ? undefined : Uri.joinPath(uri, '..', name),
      filters: { 'Web page': ['html'] },
      title: 'Save the field sheet',
    })
    if (to) await workspace.fs.writeFile(to, new TextEncoder().encode(html))
  }

  async #load(uri: Uri): Answer<Sheet> {
    const made = await this.#server.sheet(uri)
    if (made) this.#shown = { uri, ...made }
    return made
  }

  #show(): void {
    if (!this.#panel || !this.#shown) return
    this.#panel.title = `Field sheet of ${nameOf(this.#shown.uri)}`
    this.#panel.webview.html = this.#shown.html
      .replace(/<head[^>]*>/i, head => head + CSP)
      .replace(/<body[^>]*>/i, body => body + BAR)
  }

  #soon(): void {
    clearTimeout(this.#later)
    this.#later = setTimeout(async () => {
      const before = this.#shown
      if (before && (await this.#load(before.uri)) && this.#shown!.html !== before.html) this.#show()
    }, 400)
  }
}

const nameOf = (uri: Uri): string => uri.path.slice(uri.path.lastIndexOf('/') + 1)
