/** What the scenarios inside the editor share. */
import assert from 'node:assert/strict'
import * as vscode from 'vscode'

export const scenarios: [string, () => Promise<void>][] = []
export const scenario = (name: string, run: () => Promise<void>): void => void scenarios.push([name, run])

export const inWorkspace = (path: string): vscode.Uri =>
  vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, path)
export const openJob = (): Thenable<vscode.TextDocument> => vscode.workspace.openTextDocument(inWorkspace('dock.door'))

/** Waits until the editor shows what is expected; gives the last that was seen when it never does. */
export async function until<T>(look: () => T | Promise<T>, wanted: (seen: T) => boolean, within = 8000): Promise<T> {
  const end = Date.now() + within
  for (;;) {
    const seen = await look()
    if (wanted(seen) || Date.now() > end) return seen
    await new Promise(r => setTimeout(r, 10))
  }
}

export const rules = (doc: vscode.TextDocument): string[] =>
  vscode.languages
    .getDiagnostics(doc.uri)
    .map(d => `${typeof d.code === 'object' ? d.code.value : d.code} ${doc.getText(d.range)}`)
export const PRELOAD = 'preload_increment 1.7 turns'

export function find(doc: vscode.TextDocument, text: string, offset = 0): vscode.Position {
  const at = doc.getText().indexOf(text)
  assert.ok(at >= 0, `the sample has no "${text}"`)
  return doc.positionAt(at + offset)
}

export async function replaceAll(doc: vscode.TextDocument, text: string): Promise<void> {
  const edit = new vscode.WorkspaceEdit()
  edit.replace(doc.uri, new vscode.Range(doc.positionAt(0), doc.positionAt(doc.getText().length)), text)
  assert.ok(await vscode.workspace.applyEdit(edit))
}
