/** One handler an editor verb, each the same: find the file, ask the service, convert the answer. */
import type {
  CancellationToken,
  Connection,
  FoldingRange,
  InlayHint,
  Range,
  TextEdit,
} from 'vscode-languageserver/node'
import type { Service, InlayHint as ServiceHint, CompletionItem as ServiceItem } from '../service.ts'
import {
  type Context,
  toCodeAction,
  toCompletionItem,
  toInlayHint,
  toMarkdown,
  toSymbol,
  toTextEdits,
} from './convert.ts'
import { checkData, demand, type InFile, isObject, verbOf, wholeVerbOf } from './handler.ts'
import { registerNames } from './names.ts'
import type { Settings } from './settings.ts'
import { resolveSize, sizeAction } from './size_action.ts'
import { registerViews } from './views.ts'

export interface VerbsContext extends Context {
  readonly service: Service
  readonly settings: Settings
  file(uri: string): string
  /**
   * Runs a handler: refuses before `initialize`, after `shutdown` and what the client has taken back already; a fault
   * costs this answer only and gives `none`.
   */
  answer<R>(verb: string, none: R, work: () => R, token?: CancellationToken): R
  /** Resolves, in a turn of its own, once all of a file is worked out; at once where it is. */
  ready(file: string): Promise<void>
  /** Runs something that nobody waits for: a fault is told, and gives `none`. */
  guard<R>(where: string, none: R, work: () => R): R
}

export function registerVerbs(connection: Connection, c: VerbsContext): void {
  const { service } = c
  const verb = verbOf(c)
  const whole = wholeVerbOf(c)
  const at = verbOf(c, 'position')
  const over = verbOf(c, 'range')

  connection.onHover(
    at('hover', null, (file, p) => {
      const hover = service.hover(file, p.position)
      return hover ? { contents: toMarkdown(hover.markdown), range: hover.range } : null
    }),
  )
  connection.onCompletion(
    at('completion', null, (file, p) => service.completion(file, p.position).map(i => toCompletionItem(i, c))),
  )
  connection.onCompletionResolve(item =>
    c.answer('completion details', item, () => {
      const ours = item?.data as ServiceItem | undefined
      checkData('completion details', ours?.data, ['file'])
      const { documentation } = service.resolveCompletion(ours!)
      return documentation ? { ...item, documentation: toMarkdown(documentation) } : item
    }),
  )
  connection.languages.inlayHint.on(
    over<InFile & { range: Range }, InlayHint[] | null>('inlay hints', null, (file, p) =>
      c.settings.inlayHints ? service.inlayHints(file, p.range).map(toInlayHint) : [],
    ),
  )
  connection.languages.inlayHint.resolve(hint =>
    c.answer('inlay hint details', hint, () => {
      const ours = hint?.data as ServiceHint | undefined
      checkData('inlay hint details', ours?.data, ['file'])
      demand('inlay hint details', 'data', Array.isArray(ours?.data.paths))
      return toInlayHint(service.resolveInlayHint(ours!))
    }),
  )
  connection.onCodeAction(
    wholeVerbOf(c, 'range', 'context')('code actions', null, (file, p) => [
      ...service.codeActions(file, p.range, p.context.only).map(a => toCodeAction(a, c)),
      ...sizeAction(service, file, p.range, p.context.only, c),
    ]),
  )
  connection.onCodeActionResolve(action =>
    c.answer('code action details', action, () => {
      demand('code action details', 'params', isObject(action))
      const size = isObject(action.data) ? action.data.size : undefined
      if (size !== undefined) checkData('code action details', size, ['file', 'mark'])
      return resolveSize(service, action, c)
    }),
  )
  connection.onDocumentFormatting(
    verb<InFile, TextEdit[] | null>('formatting', null, file => toTextEdits(service.formatEdits(file))),
  )
  connection.onDocumentRangeFormatting(
    over('range formatting', null, (file, p) => toTextEdits(service.formatRange(file, p.range))),
  )
  connection.onDocumentSymbol(whole('outline', null, file => service.outline(file).map(toSymbol)))
  connection.onFoldingRanges(
    verb<InFile, FoldingRange[] | null>('folding', null, file =>
      service.folding(file).map(f => ({ startLine: f.start, endLine: f.end, ...(f.kind ? { kind: f.kind } : {}) })),
    ),
  )
  registerNames(connection, c)
  registerViews(connection, c)
}
