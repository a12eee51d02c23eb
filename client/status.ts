/** The opening under the cursor, in the status bar: how far it is out of balance, and what stands against it. */
import { type ExtensionContext, languages, StatusBarAlignment, window } from 'vscode'
import { isJob, type Opening, type Server } from './protocol.ts'
import { stateOf } from './state.ts'

export function showStatus(context: ExtensionContext, server: Server): void {
  const item = window.createStatusBarItem('doorwright.opening', StatusBarAlignment.Left, 0)
  item.name = 'Door opening'
  context.subscriptions.push(item)
  /** The openings of the document in front, asked for again only when its findings change. */
  let known: { uri: string; openings: readonly Opening[] } | undefined

  const show = (): void => {
    const editor = window.activeTextEditor
    if (!editor || !isJob(editor.document)) {
      // The preview may have the focus; the opening is still that of the job beside it.
      if (!window.visibleTextEditors.some(e => isJob(e.document))) item.hide()
      return
    }
    const uri = editor.document.uri.toString()
    const { line } = editor.selection.active
    const openings = known?.uri === uri ? known.openings : []
    const opening = openings.find(o => o.line <= line && line <= o.endLine)
    if (!opening) {
      item.hide()
      return
    }
    const state = stateOf(opening)
    item.text = `$(${state.icon}) ${opening.mark}: ${state.short}`
    item.tooltip = `${opening.mark}: ${state.text}.${opening.worst === undefined ? '' : ` Out of balance by ${opening.worst} at the most.`} Click for the preview.`
    item.accessibilityInformation = { label: `Door opening ${opening.mark}: ${state.text}` }
    item.command = { command: 'doorwright.preview', title: 'Preview', arguments: [editor.document.uri, opening.mark] }
    item.show()
  }
  const ask = async (): Promise<void> => {
    const doc = window.activeTextEditor?.document
    if (!isJob(doc)) return show()
    known = { uri: doc.uri.toString(), openings: (await server.openings(doc.uri)) ?? [] }
    show()
  }
  context.subscriptions.push(
    window.onDidChangeActiveTextEditor(() => void ask()),
    window.onDidChangeTextEditorSelection(e => e.textEditor === window.activeTextEditor && show()),
    languages.onDidChangeDiagnostics(e => {
      const front = window.activeTextEditor?.document.uri.toString()
      if (e.uris.some(u => u.toString() === front)) void ask()
    }),
  )
}
