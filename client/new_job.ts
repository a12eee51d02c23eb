import { commands, window, workspace } from 'vscode'
import { LANGUAGE } from './protocol.ts'

/** A job that is not saved yet, with the places to fill in one after the other. */
export async function newJob(): Promise<void> {
  const doc = await workspace.openTextDocument({ language: LANGUAGE, content: '' })
  await window.showTextDocument(doc)
  await commands.executeCommand('editor.action.insertSnippet', { langId: LANGUAGE, name: 'Job with one opening' })
}
