/** The live preview beside the text: this side asks the server and hands the page what it shows. */
import {
  commands,
  type ExtensionContext,
  languages,
  Uri,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode'
import { at, isJob, type Position, type Preview, type Server, type Target } from './protocol.ts'
import { whyNothing } from './state.ts'
import { jobEditor, NO_JOB } from './target.ts'
import type { FromPage, Remembered, Update } from './view/messages.ts'

const VIEW = 'doorwright.preview'

export class PreviewPanel {
  readonly #context: ExtensionContext
  readonly #server: Server
  #panel: WebviewPanel | undefined
  #uri: Uri | undefined
  #mark: string | undefined
  #position: Position | undefined
  #pinned = false
  #shown: Preview | undefined
  #asking = false
  #again = false

  constructor(context: ExtensionContext, server: Server) {
    this.#context = context
    this.#server = server
    context.subscriptions.push(
      workspace.onDidChangeTextDocument(e => this.#isShown(e.document.uri) && this.refresh()),
      // A change in a stock file reaches the job through its findings.
      languages.onDidChangeDiagnostics(e => e.uris.some(u => this.#isShown(u)) && this.refresh()),
      window.onDidChangeTextEditorSelection(e => this.#follow(e.textEditor.document.uri, e.selections[0]?.active)),
      window.onDidChangeActiveTextEditor(e => e && this.#follow(e.document.uri, e.selection.active)),
      window.registerWebviewPanelSerializer(VIEW, {
        deserializeWebviewPanel: async (panel, state: Remembered | undefined) => {
          this.#uri = state?.uri === undefined ? jobEditor()?.document.uri : Uri.parse(state.uri)
          this.#mark = state?.mark
          this.#pinned = state?.pinned ?? false
          this.#adopt(panel)
        },
      }),
    )
  }

  async open(target: Target | undefined): Promise<void> {
    if (!target) return void window.showInformationMessage(NO_JOB)
    // What the server answers about is what an editor holds open.
    await workspace.openTextDocument(target.uri)
    const editor = jobEditor()
    this.#uri = target.uri
    this.#mark = target.mark
    this.#pinned = false
    this.#position =
      target.mark === undefined && editor?.document.uri.toString() === target.uri.toString()
        ? editor.selection.active
        : undefined
    if (this.#panel) {
      this.#panel.reveal(undefined, true)
      return this.refresh()
    }
    this.#adopt(window.createWebviewPanel(VIEW, 'Door preview', { viewColumn: ViewColumn.Beside, preserveFocus: true }))
  }

  /** Asks the server anew. Changes that come while it answers are asked for once, together. */
  async refresh(): Promise<void> {
    if (!this.#panel || !this.#uri) return
    if (this.#asking) {
      this.#again = true
      return
    }
    this.#asking = true
    try {
      do {
        this.#again = false
        const uri: Uri = this.#uri
        const asked = { uri: uri.toString(), mark: this.#mark, position: this.#position }
        const made = await this.#server.preview(asked)
        if (!this.#panel || uri !== this.#uri) continue
        this.#shown = made ?? undefined
        this.#send(made)
      } while (this.#again)
    } finally {
      this.#asking = false
    }
  }

  #send(made: Preview | null | undefined): void {
    if (!this.#panel || !this.#uri) return
    const file = workspace.asRelativePath(this.#uri)
    this.#panel.title = made ? `Preview of ${made.mark || 'an opening'}` : 'Door preview'
    void this.#panel.webview.postMessage({
      type: 'update',
      uri: this.#uri.toString(),
      pinned: this.#pinned,
      ...(made ?? { marks: [], line: 0, sections: [], message: whyNothing(made, file) }),
    } satisfies Update)
  }

  /** The opening under the cursor, unless one is pinned. */
  #follow(uri: Uri, position: Position | undefined): void {
    if (!this.#panel || this.#pinned) return
    const doc = workspace.textDocuments.find(d => d.uri.toString() === uri.toString())
    if (!isJob(doc)) return
    this.#uri = uri
    this.#mark = undefined
    this.#position = position
    void this.refresh()
  }

  #isShown(uri: Uri): boolean {
    return this.#panel !== undefined && uri.toString() === this.#uri?.toString()
  }

  #adopt(panel: WebviewPanel): void {
    this.#panel = panel
    const dist = Uri.joinPath(this.#context.extensionUri, 'dist')
    panel.webview.options = { enableScripts: true, localResourceRoots: [dist] }
    panel.onDidDispose(() => {
      this.#panel = undefined
      this.#shown = undefined
    })
    panel.webview.onDidReceiveMessage((m: FromPage) => void this.#hear(m))
    panel.webview.html = page(
      panel.webview.asWebviewUri(Uri.joinPath(dist, 'view.js')).toString(),
      panel.webview.asWebviewUri(Uri.joinPath(dist, 'view.css')).toString(),
    )
  }

  async #hear(m: FromPage): Promise<void> {
    if (m.type === 'ready') return this.refresh()
    if (m.type === 'sheet') return void commands.executeCommand('doorwright.sheet', this.#uri)
    if (m.type === 'pin') {
      this.#pinned = m.pinned
      this.#mark = m.pinned ? this.#shown?.mark : undefined
      const editor = jobEditor()
      if (!m.pinned && editor) return this.#follow(editor.document.uri, editor.selection.active)
      return this.refresh()
    }
    if (m.type === 'choose') {
      this.#pinned = true
      this.#mark = m.mark
      return this.refresh()
    }
    if (!this.#uri) return
    const beside = window.visibleTextEditors.find(e => this.#isShown(e.document.uri))
    const selection = at(m.line, m.character)
    await window.showTextDocument(this.#uri, { selection, viewColumn: beside?.viewColumn ?? ViewColumn.One })
  }
}

function page(script: string, style: string): string {
  const nonce = Array.from(crypto.getRandomValues(new Uint8Array(16)), b => b.toString(16).padStart(2, '0')).join('')
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="UTF-8">
<meta name="viewport" content="width=device-width">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'nonce-${nonce}'; style-src 'nonce-${nonce}'">
<title>Door preview</title>
<link rel="stylesheet" nonce="${nonce}" href="${style}">
</head>
<body>
<header>
<label for="mark">Opening</label> <select id="mark"></select>
<button type="button" id="pin" aria-pressed="false" title="Stay on this opening wherever the cursor goes">Pin</button>
<button type="button" id="sheet" title="The printable field sheet of the whole job">Open the field sheet</button>
</header>
<p id="message" role="status"></p>
<main id="sections"></main>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>`
}
