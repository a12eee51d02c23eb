/** What the service is asked with and what it answers. Lines and columns count from 0, columns in UTF-16 units. */
import type { ItemKind } from '../features/completion/index.ts'
import type { Lens } from '../features/lenses.ts'
import type { OutlineKind } from '../features/outline.ts'
import type { ShownValue } from '../features/values.ts'
import type { Host, Severity } from '../model/index.ts'
import type { PreviewSection } from '../report/preview.ts'

export type { Move } from '../features/moved_files.ts'
export type { Signature } from '../features/signature.ts'
export type { Explanation, ShownValue } from '../features/values.ts'
export type { Severity } from '../model/index.ts'
export type { Version } from '../report/compare.ts'
export type { Paper } from '../report/index.ts'

// ---- whoever runs the service

export interface ServiceHost extends Host {
  /** The text of a file, or undefined where it cannot be read. Only asked for files that `use` leads to. */
  read(file: string): string | undefined
  /** The other `.door` files that `use` in `file` could name, as paths relative to it, with `/`. */
  usePaths?(file: string): readonly string[]
  /** The `.door` files of the workspace, for what looks at all of them; only asked when a person asks for that. */
  workspaceFiles?(): readonly string[]
  /** Told of a fault inside a rule or an editor verb; the rest goes on. */
  fault?(where: string, error: unknown): void
  /** What the house sets for a file. Asked often; the same object as long as nothing in it has changed. */
  project?(file: string): Project | undefined
}

/** What a house sets for all of its jobs. */
export interface Project {
  /** The file it stands in. */
  readonly file: string
  /** Its limits as text of the language: what every file says itself, or uses, is nearer. */
  readonly limits: string
  readonly severity: Readonly<Record<string, Severity | 'off'>>
}

// ---- places

/** How far something is that takes many steps. */
export interface Step {
  readonly done: number
  readonly of: number
}

export interface Position {
  readonly line: number
  readonly character: number
}
export interface Range {
  readonly start: Position
  readonly end: Position
}
export interface Location {
  readonly file: string
  readonly range: Range
}
export interface FileEdit extends Location {
  readonly text: string
}
/** New text for a range, or for the whole file. */
export interface TextChange {
  readonly range?: Range
  readonly text: string
}
/** A `use`: `file` is missing where it may not be followed, `text` where there is nothing to read. */
export interface UsedFile {
  readonly from: string
  readonly path: string
  readonly file: string | undefined
  readonly text: string | undefined
}

// ---- what a file comes to

/** A finding with lines and columns. `fixes` is worked out when it is asked for. */
export interface LocatedFinding {
  readonly rule: string
  readonly severity: Severity
  readonly message: string
  readonly range: Range
  readonly opening: string | undefined
  /** The block it belongs to, by path. */
  readonly block: string | undefined
  readonly limit: { readonly text: string; readonly source: string } | undefined
  readonly accepted: string | undefined
  readonly related: readonly (Location & { readonly message: string })[]
  fixes(): readonly { readonly title: string; readonly safe: boolean; readonly edits: readonly FileEdit[] }[]
}

/** Where a text cannot be read as the language. */
export interface Unsound {
  readonly range: Range
  readonly message: string
}

/** An opening with its values. */
export interface OpeningValues {
  readonly mark: string
  readonly line: number
  readonly complete: boolean
  readonly values: readonly ShownValue[]
  readonly missing: readonly string[]
}

/** An opening with what stands against it. */
export interface OpeningState {
  readonly mark: string
  readonly line: number
  readonly endLine: number
  readonly errors: number
  readonly warnings: number
  readonly notes: number
  readonly complete: boolean
  readonly missing: readonly string[]
  /** The worst out of balance in words, where it is known. */
  readonly worst: string | undefined
}

/** An opening in drawings and tables; `line` is that of its header. */
export interface Preview {
  readonly line: number
  readonly sections: readonly PreviewSection[]
}

export interface SizedProposal {
  readonly title: string
  readonly rows: readonly (readonly [name: string, text: string])[]
  /** The same in SI base units; angles in radians. */
  readonly numbers: Readonly<Record<string, number>>
  readonly score: number
  /** Rules that would still have something against it; none for a proposal that holds. */
  readonly against: readonly string[]
  readonly edits: readonly FileEdit[]
}
export type Sized =
  | { readonly ok: true; readonly proposals: readonly SizedProposal[] }
  | { readonly ok: false; readonly reason: string }

// ---- in the editor

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
  readonly findings?: readonly LocatedFinding[]
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

export interface WorkspaceSymbol extends Location {
  readonly name: string
  readonly kind: 'job' | 'opening' | 'stock' | 'let'
}

export interface DocumentLink {
  readonly range: Range
  readonly file: string
}

export type CodeLens = Lens

/** A value with its place, for walking from value to value. */
export interface ValueNode extends Location {
  /** `drum.turns` */
  readonly path: string
  /** The opening's mark, or the name of the stock block. */
  readonly owner: string
  readonly text: string | undefined
  readonly written: boolean
  readonly data: { readonly file: string; readonly line: number; readonly path: string }
}
export interface ValueCall {
  readonly value: ValueNode
  readonly places: readonly Location[]
}

export interface OutlineItem {
  readonly name: string
  readonly detail: string
  readonly kind: OutlineKind
  readonly range: Range
  readonly selection: Range
  readonly children: readonly OutlineItem[]
}

export interface FoldingRange {
  readonly start: number
  readonly end: number
  readonly kind?: 'comment' | 'imports'
}
