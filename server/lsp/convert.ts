/** The service's plain data as the protocol's. Both count lines and UTF-16 columns from 0, so ranges pass as they are. */
import {
  type CodeAction,
  type CompletionItem,
  CompletionItemKind,
  type Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  type DocumentSymbol,
  type InlayHint,
  InsertTextFormat,
  MarkupKind,
  SymbolKind,
  type TextDocumentEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver/node'
import type * as service from '../service.ts'

/** What the conversion has to know about the client and its files. */
export interface Context {
  uri(file: string): string
  version(file: string): number | null
  /** The page of a rule, where there is one. */
  rulePage(rule: string): string | undefined
  readonly can: {
    readonly snippets: boolean
    readonly snippetEdits: boolean
    readonly versionedEdits: boolean
    readonly triggerSuggest: boolean
    /** The client has the command `doorwright.sizeSprings`, which lets a person choose. */
    readonly chooseSprings: boolean
    /** The client has the command `doorwright.rename`, which asks for another name at a place. */
    readonly renameThere: boolean
  }
}

const SEVERITY = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
} as const

export function toDiagnostic(f: service.LocatedFinding, context: Context): Diagnostic {
  const accepted = f.accepted !== undefined
  const limit = f.limit ? `\nLimit: ${f.limit.text} (${f.limit.source})` : ''
  const page = context.rulePage(f.rule)
  return {
    range: f.range,
    severity: accepted ? DiagnosticSeverity.Information : SEVERITY[f.severity],
    code: f.rule,
    ...(page ? { codeDescription: { href: page } } : {}),
    source: 'doorwright',
    message: accepted ? `accepted: ${f.accepted}\n${f.message}${limit}` : f.message + limit,
    ...(f.rule === 'allow_unused' ? { tags: [DiagnosticTag.Unnecessary] } : {}),
    relatedInformation: f.related.map(r => ({
      location: { uri: context.uri(r.file), range: r.range },
      message: r.message,
    })),
  }
}

const COMPLETION: Readonly<Record<service.CompletionItem['kind'], CompletionItemKind>> = {
  block: CompletionItemKind.Struct,
  field: CompletionItemKind.Field,
  derived: CompletionItemKind.Property,
  let: CompletionItemKind.Variable,
  word: CompletionItemKind.EnumMember,
  unit: CompletionItemKind.Unit,
  stock: CompletionItemKind.Constant,
  keyword: CompletionItemKind.Keyword,
  function: CompletionItemKind.Function,
  rule: CompletionItemKind.Event,
  file: CompletionItemKind.File,
  snippet: CompletionItemKind.Snippet,
  opening: CompletionItemKind.Class,
  limit: CompletionItemKind.Field,
  value: CompletionItemKind.Value,
}

export function toCompletionItem(item: service.CompletionItem, { can }: Context): CompletionItem {
  const snippet = can.snippets ? item.snippet : undefined
  return {
    label: item.label,
    kind: COMPLETION[item.kind],
    detail: item.detail,
    sortText: item.sort,
    filterText: item.filter,
    preselect: item.preselect,
    insertTextFormat: snippet === undefined ? InsertTextFormat.PlainText : InsertTextFormat.Snippet,
    textEdit: { range: item.range, newText: snippet ?? item.insert },
    ...(item.retrigger && can.triggerSuggest
      ? { command: { title: 'Suggest', command: 'editor.action.triggerSuggest' } }
      : {}),
    data: { ...item, snippet: undefined, insert: '' },
  }
}

export const toMarkdown = (value: string) => ({ kind: MarkupKind.Markdown, value })

export function toInlayHint(hint: service.InlayHint): InlayHint {
  return {
    position: hint.position,
    label: hint.label,
    paddingLeft: true,
    ...(hint.tooltip ? { tooltip: toMarkdown(hint.tooltip) } : {}),
    ...(hint.edits?.length ? { textEdits: toTextEdits(hint.edits) } : {}),
    data: hint,
  }
}

export const toTextEdits = (edits: readonly service.FileEdit[]): TextEdit[] =>
  edits.map(e => ({ range: e.range, newText: e.text }))

export function toWorkspaceEdit(edits: readonly service.FileEdit[], context: Context, snippet?: string): WorkspaceEdit {
  const files = [...new Set(edits.map(e => e.file))]
  const of = (file: string) => edits.filter(e => e.file === file)
  const withStops = snippet !== undefined && edits.length === 1 && context.can.snippetEdits
  if (!context.can.versionedEdits && !withStops)
    return { changes: Object.fromEntries(files.map(f => [context.uri(f), toTextEdits(of(f))])) }
  return {
    documentChanges: files.map(
      (f): TextDocumentEdit => ({
        textDocument: { uri: context.uri(f), version: context.version(f) },
        edits: withStops
          ? [{ range: edits[0]!.range, snippet: { kind: 'snippet', value: snippet } }]
          : toTextEdits(of(f)),
      }),
    ),
  }
}

export function toCodeAction(action: service.CodeAction, context: Context): CodeAction {
  return {
    title: action.title,
    kind: action.kind,
    ...(action.preferred ? { isPreferred: true } : {}),
    ...(action.findings ? { diagnostics: action.findings.map(f => toDiagnostic(f, context)) } : {}),
    edit: toWorkspaceEdit(action.edits, context, action.snippet),
    ...(context.can.renameThere ? renaming(action, context) : {}),
  }
}

/** What gives a part a name has made that name up: a person is asked for a better one at once. */
function renaming({ kind, edits }: service.CodeAction, context: Context): Pick<CodeAction, 'command'> {
  const made = kind === 'refactor.extract' ? edits.find(e => e.text.startsWith(LET)) : undefined
  if (!made) return {}
  // `let` is put in before what it is taken from, so nothing moves its name
  const { line, character } = made.range.start
  const at = { line, character: character + LET.length }
  return {
    command: { title: 'Rename', command: 'doorwright.rename', arguments: [context.uri(made.file), at] },
  }
}
const LET = 'let '

const SYMBOL: Readonly<Record<service.OutlineItem['kind'], SymbolKind>> = {
  job: SymbolKind.Package,
  opening: SymbolKind.Class,
  block: SymbolKind.Struct,
  spring: SymbolKind.Object,
  stock: SymbolKind.Constant,
  let: SymbolKind.Variable,
  use: SymbolKind.Module,
}

const symbols = new WeakMap<service.OutlineItem, DocumentSymbol>()

/** The outline is asked for after every key, and most of its items are the same objects as before. */
export function toSymbol(item: service.OutlineItem): DocumentSymbol {
  let symbol = symbols.get(item)
  if (!symbol) symbols.set(item, (symbol = symbolOf(item)))
  return symbol
}

function symbolOf(item: service.OutlineItem): DocumentSymbol {
  return {
    name: item.name || '(no name)', // the protocol forbids empty names
    detail: item.detail,
    kind: SYMBOL[item.kind],
    range: item.range,
    selectionRange: item.selection,
    children: item.children.map(symbolOf),
  }
}
