/** The form that all handlers of requests have. */
import { type CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver/node'
import type { VerbsContext } from './verbs.ts'

export interface InFile {
  readonly textDocument: { readonly uri: string }
}

/**
 * Makes handlers for requests that name a file, and the parts in `needs`: find the file, do the work, and `none` where
 * that has a fault.
 */
export const verbOf =
  (c: VerbsContext, ...needs: readonly Part[]) =>
  <P extends InFile, R>(name: string, none: R, work: (file: string, params: P) => R) =>
  (params: P, token?: CancellationToken): R =>
    c.answer(
      name,
      none,
      () => {
        demand(name, 'textDocument', typeof params?.textDocument?.uri === 'string')
        checkParts(name, params, needs)
        return work(c.file(params.textDocument.uri), params)
      },
      token,
    )

/** The same for what looks at all of a file: it waits until that is worked out. */
export const wholeVerbOf =
  (c: VerbsContext, ...needs: readonly Part[]) =>
  <P extends InFile, R>(name: string, none: R, work: (file: string, params: P) => R) => {
    const verb = verbOf(c, ...needs)(name, none, work)
    return async (params: P, token?: CancellationToken): Promise<R> => {
      await ready(c, params?.textDocument?.uri)
      return verb(params, token)
    }
  }

/** Waits until all of a file is worked out. What is no URI is refused later, with the other parts of a request. */
export async function ready(c: VerbsContext, uri: unknown): Promise<void> {
  if (isText(uri)) await c.ready(c.file(uri))
}

export function stopIf(token: CancellationToken): void {
  if (token.isCancellationRequested)
    throw new ResponseError(LSPErrorCodes.RequestCancelled, 'The client has taken this request back.')
}

/** A client that leaves something out or gives it another form is told so; that is no fault of the server. */
export function demand(name: string, what: string, ok: boolean): void {
  if (!ok) throw new ResponseError(ErrorCodes.InvalidParams, `${name}: \`${what}\` is missing or has another form`)
}

export const isObject = (x: unknown): x is Record<string, unknown> => typeof x === 'object' && x !== null
const isCount = (x: unknown): boolean => Number.isInteger(x) && (x as number) >= 0
const isPosition = (x: unknown): boolean => isObject(x) && isCount(x.line) && isCount(x.character)
const isListOf = (x: unknown, holds: (one: unknown) => boolean): boolean => Array.isArray(x) && x.every(holds)
const isText = (x: unknown): x is string => typeof x === 'string'

const FORMS = {
  position: isPosition,
  positions: (x: unknown) => isListOf(x, isPosition),
  range: (x: unknown) => isObject(x) && isPosition(x.start) && isPosition(x.end),
  context: isObject,
  newName: isText,
  ch: isText,
  query: isText,
  uri: isText,
  mark: isText,
  files: (x: unknown) => isListOf(x, f => isObject(f) && isText(f.oldUri) && isText(f.newUri)),
} as const satisfies Record<string, (x: unknown) => boolean>
export type Part = keyof typeof FORMS

/** What a request needs has to be there, and what else it has must be of its form. */
export function checkParts(name: string, params: unknown, needs: readonly Part[]): void {
  const given = isObject(params) ? params : {}
  for (const [part, holds] of Object.entries(FORMS))
    demand(name, part, given[part] === undefined ? !needs.includes(part as Part) : holds(given[part]))
}

/** What a resolved item carries of ours: an object with these texts in it. */
export function checkData(name: string, data: unknown, texts: readonly string[]): void {
  demand(name, 'data', isObject(data) && texts.every(t => isText(data[t])))
}
