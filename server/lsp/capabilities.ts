/** What the server can do, as it says at the start. */
import {
  CodeActionKind,
  FileOperationPatternKind,
  type InitializeParams,
  type InitializeResult,
  TextDocumentSyncKind,
} from 'vscode-languageserver/node'
import { TOKEN_MODIFIERS, TOKEN_TYPES } from '../service.ts'

type Client = InitializeParams['capabilities']

const MOVED = {
  filters: [
    { pattern: { glob: '**/*.door', matches: FileOperationPatternKind.file } },
    { pattern: { glob: '**', matches: FileOperationPatternKind.folder } },
  ],
}

const CAPABILITIES: InitializeResult['capabilities'] = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
  hoverProvider: true,
  completionProvider: { resolveProvider: true, triggerCharacters: ['.', '=', '"', '/', ' '] },
  signatureHelpProvider: { triggerCharacters: ['(', ','] },
  inlayHintProvider: { resolveProvider: true },
  codeActionProvider: {
    resolveProvider: true,
    codeActionKinds: [
      CodeActionKind.QuickFix,
      CodeActionKind.RefactorExtract,
      CodeActionKind.RefactorRewrite,
      `${CodeActionKind.SourceFixAll}.doorwright`,
    ],
  },
  codeLensProvider: { resolveProvider: false },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '}', moreTriggerCharacter: ['\n'] },
  documentSymbolProvider: true,
  workspaceSymbolProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  documentLinkProvider: { resolveProvider: false },
  semanticTokensProvider: {
    legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
    full: { delta: true },
    range: true,
  },
  definitionProvider: true,
  typeDefinitionProvider: true,
  referencesProvider: { workDoneProgress: true },
  documentHighlightProvider: true,
  callHierarchyProvider: true,
  workspace: {
    workspaceFolders: { supported: true, changeNotifications: true },
    fileOperations: { willRename: MOVED, didRename: MOVED, didDelete: MOVED, didCreate: MOVED },
  },
}

/**
 * Whether findings are asked for instead of told: by a client that takes no told ones, or that wants it so. One that
 * does both would show each finding twice.
 */
export const asksForFindings = ({ textDocument }: Client, options: Readonly<Record<string, unknown>>): boolean =>
  options.diagnostics === 'pull' ||
  (textDocument?.diagnostic !== undefined && textDocument.publishDiagnostics === undefined)

export const capabilities = ({ textDocument }: Client, pulled: boolean): InitializeResult['capabilities'] => ({
  ...CAPABILITIES,
  renameProvider: textDocument?.rename?.prepareSupport
    ? { prepareProvider: true, workDoneProgress: true }
    : { workDoneProgress: true },
  ...(pulled
    ? {
        diagnosticProvider: {
          identifier: 'doorwright',
          interFileDependencies: true,
          workspaceDiagnostics: true,
          workDoneProgress: true,
        },
      }
    : {}),
})
