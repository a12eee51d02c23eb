/**
 * The least that a language server can do: keep the text, and answer every change. It shows one finding in every other
 * version, so that each answer can be told from the one before.
 */
import { createConnection, TextDocumentSyncKind, TextDocuments } from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'

const connection = createConnection(process.stdin, process.stdout)
const documents = new TextDocuments(TextDocument)
const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } }

connection.onInitialize(() => ({ capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental } }))
documents.onDidChangeContent(({ document: { uri, version } }) => {
  const diagnostics = version % 2 === 0 ? [{ range, message: 'an even version' }] : []
  void connection.sendDiagnostics({ uri, version, diagnostics })
})
documents.listen(connection)
connection.listen()
