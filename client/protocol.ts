/** What this side and the language server say to each other beyond the protocol. Lines and columns count from 0. */
import { Position as CodePosition, Range, type TextDocument, type Uri } from 'vscode'
import type { Section } from './view/messages.ts'

export interface Position {
  readonly line: number
  readonly character: number
}
/** Names a file, and an opening of it by its mark or by a place in it. */
export interface OpeningParams {
  readonly uri: string
  readonly mark?: string
  readonly position?: Position
}
export interface Preview {
  readonly mark: string
  readonly marks: readonly string[]
  /** The opening's first line; the lines in the sections count from it. */
  readonly line: number
  readonly sections: readonly Section[]
}
export interface Opening {
  readonly mark: string
  readonly line: number
  readonly endLine: number
  readonly errors: number
  readonly warnings: number
  readonly notes: number
  readonly complete: boolean
  readonly missing: readonly string[]
  readonly worst?: string
}
export interface Sheet {
  /** A whole page that stands by itself. */
  readonly html: string
  /** What it is best saved as. */
  readonly name: string
}
export interface Proposal {
  readonly title: string
  readonly rows: readonly (readonly [name: string, text: string])[]
  readonly against: readonly string[]
  /** A workspace edit as the protocol has it. */
  readonly edit: unknown
}
export type Sized =
  | { readonly ok: false; readonly mark?: string; readonly reason: string }
  | { readonly ok: true; readonly mark: string; readonly caution: string; readonly proposals: readonly Proposal[] }

/** Undefined where the server gives none; null where it says that there is nothing. */
export type Answer<T> = Promise<T | null | undefined>
/** The language server, as the parts of this side need it. */
export interface Server {
  preview(p: OpeningParams): Answer<Preview>
  openings(uri: Uri): Answer<readonly Opening[]>
  size(p: OpeningParams): Answer<Sized>
  sheet(uri: Uri): Answer<Sheet>
  toEdit(edit: unknown): Promise<import('vscode').WorkspaceEdit | undefined>
}

export const LANGUAGE = 'doorwright'
/** Commands of this editor that the server's answers may carry. */
export const HAS = { triggerSuggest: true, chooseSprings: true, renameThere: true }
export const isJob = (doc: TextDocument | undefined): doc is TextDocument => doc?.languageId === LANGUAGE

/** What a command was given, by a code lens or a row of the tree: a file and, if it says so, an opening. */
export interface Target {
  readonly uri: Uri
  readonly mark?: string
}

export const at = (line: number, character = 0): Range => {
  const p = new CodePosition(Math.max(0, line), character)
  return new Range(p, p)
}
