/** What the editor verbs give out, with lines and columns: the types of the service's answers. */
import type { ItemKind } from './features/completion/index.ts'
import type { Lens } from './features/lenses.ts'
import type { OutlineKind } from './features/outline.ts'
import type { TokenModifier, TokenType } from './features/semantic_tokens.ts'
import type { FileEdit, LocatedFinding, Position, Range } from './service.ts'

export type { Signature } from './features/signature.ts'

export interface Hover {
  readonly markdown: string
  readonly range: Range
}

export interface CompletionItem {
  readonly label: string
  readonly kind: ItemKind | 'limit'
  readonly detail?: string
  /** Markdown; only after it was resolved. */
  readonly documentation?: string
  /** Plain text, complete as it stands. */
  readonly insert: string
  /** The same with tab stops, in the notation of the protocol. */
  readonly snippet?: string
  readonly sort: string
  readonly filter?: string
  /** What is replaced. */
  readonly range: Range
  readonly preselect?: boolean
  /** More is to be chosen right behind it: ask again. */
  readonly retrigger?: boolean
  readonly data: { readonly file: string; readonly mark?: string; readonly doc?: string }
}

export interface InlayHint {
  readonly position: Position
  readonly label: string
  /** The value shown, where it is one of the opening's. */
  readonly path?: string
  /** Markdown; only after it was resolved. */
  readonly tooltip?: string
  /** What a double click writes; only after it was resolved. */
  readonly edits?: readonly FileEdit[]
  readonly data: {
    readonly file: string
    readonly mark?: string
    readonly paths: readonly string[]
    readonly of?: string
    readonly writes?: string
  }
}

export interface CodeAction {
  readonly title: string
  readonly kind: 'quickfix' | 'refactor.extract' | 'refactor.rewrite' | 'source.fixAll.doorwright'
  readonly preferred: boolean
  /** What it mends. */
  readonly finding?: LocatedFinding
  readonly edits: readonly FileEdit[]
  /** The text of the only edit with tab stops, where it has any. */
  readonly snippet?: string
}

export interface Highlight {
  readonly range: Range
  readonly write: boolean
}

export type RenameTarget =
  | { readonly ok: true; readonly range: Range; readonly text: string }
  | { readonly ok: false; readonly reason: string }
export type Renamed =
  | { readonly ok: true; readonly edits: readonly FileEdit[] }
  | { readonly ok: false; readonly reason: string }

export interface WorkspaceSymbol {
  readonly name: string
  readonly kind: 'job' | 'opening' | 'stock' | 'let'
  readonly file: string
  readonly range: Range
}

export interface DocumentLink {
  readonly range: Range
  readonly file: string
}

/** A coloured word; a word never goes over a line end. */
export interface SemanticToken extends Position {
  readonly length: number
  readonly type: TokenType
  readonly modifiers: readonly TokenModifier[]
}

export type CodeLens = Lens

/** A value with its place, for walking from value to value. */
export interface ValueNode {
  /** `drum.turns` */
  readonly path: string
  /** The opening's mark, or the name of the stock block. */
  readonly owner: string
  readonly text: string | undefined
  readonly written: boolean
  readonly file: string
  readonly range: Range
  readonly data: { readonly file: string; readonly line: number; readonly path: string }
}
export interface ValueCall {
  readonly value: ValueNode
  readonly places: readonly FileRange[]
}
interface FileRange {
  readonly file: string
  readonly range: Range
}

export interface OutlineItem {
  readonly name: string
  readonly detail: string
  readonly kind: OutlineKind
  readonly range: Range
  readonly selection: Range
  readonly children: readonly OutlineItem[]
}

/** Lines from 0. */
export interface FoldingRange {
  readonly start: number
  readonly end: number
  readonly kind?: 'comment' | 'imports'
}

/** Whether an action of a kind was asked for: `source` asks for every kind below it. */
export const asked = (only: readonly string[] | undefined, kind: string): boolean =>
  only === undefined || only.length === 0 || only.some(o => kind === o || kind.startsWith(`${o}.`))

/** The fixes of a finding as actions. One is preferred where it is safe, or where there is no other. */
export function fixActions(finding: LocatedFinding): CodeAction[] {
  const fixes = finding.fixes()
  const preferred = fixes.find(f => f.safe) ?? (fixes.length === 1 ? fixes[0] : undefined)
  return fixes.map(f => ({ title: f.title, kind: 'quickfix', preferred: f === preferred, finding, edits: f.edits }))
}

/** The one stretch in which two texts differ. */
export function difference(before: string, after: string): { start: number; end: number; text: string } | undefined {
  if (before === after) return undefined
  let start = 0
  while (start < before.length && start < after.length && before[start] === after[start]) start++
  let back = 0
  while (back < before.length - start && back < after.length - start && before.at(-1 - back) === after.at(-1 - back))
    back++
  return { start, end: before.length - back, text: after.slice(start, after.length - back) }
}
