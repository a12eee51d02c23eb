/** The form that all handlers of requests have. */
import type { CancellationToken } from 'vscode-languageserver/node'
import type { VerbsContext } from './verbs.ts'

export interface InFile {
  readonly textDocument: { readonly uri: string }
}

/** Makes handlers for requests that name a file: find the file, do the work, and `none` where that has a fault. */
export const verbOf =
  (c: VerbsContext) =>
  <P extends InFile, R>(name: string, none: R, work: (file: string, params: P) => R) =>
  (params: P, token?: CancellationToken): R =>
    c.answer(name, none, () => work(c.file(params.textDocument.uri), params), token)
