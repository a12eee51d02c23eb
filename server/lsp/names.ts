/** Handlers for names: where they lead, where else they stand, other names for them, from value to value. */
import {
  type CallHierarchyItem,
  type CancellationToken,
  type Connection,
  DocumentHighlightKind,
  type Location,
  LSPErrorCodes,
  type Position,
  type ReferenceParams,
  type RenameParams,
  ResponseError,
  SymbolKind,
  type WorkDoneProgressReporter,
  type WorkspaceEdit,
  type WorkspaceSymbol,
} from 'vscode-languageserver/node'
import type { Location as Place, WorkspaceSymbol as ServiceSymbol, ValueNode } from '../service.ts'
import { toWorkspaceEdit } from './convert.ts'
import { checkData, checkParts, type InFile, stopIf, verbOf, wholeVerbOf } from './handler.ts'
import { slice, turn } from './ready.ts'
import type { VerbsContext } from './verbs.ts'

type Looked = InFile & { readonly position: Position }

const SYMBOL: Readonly<Record<ServiceSymbol['kind'], SymbolKind>> = {
  job: SymbolKind.Package,
  opening: SymbolKind.Class,
  stock: SymbolKind.Constant,
  let: SymbolKind.Variable,
}

export function registerNames(connection: Connection, c: VerbsContext): void {
  const { service } = c
  const verb = verbOf(c, 'position')
  const there = (l: Place): Location => ({ uri: c.uri(l.file), range: l.range })
  /** The client shows the reason. */
  const refuse = (reason: string): never => {
    throw new ResponseError(LSPErrorCodes.RequestFailed, reason)
  }

  connection.onDefinition(verb('definition', null, (file, p) => service.definition(file, p.position).map(there)))
  connection.onTypeDefinition(
    verb('type definition', null, (file, p) => service.typeDefinition(file, p.position).map(there)),
  )
  /** Many files are read between other requests: with progress, and no further once the request is taken back. */
  const looking = verb('files', undefined, (file, p: Looked) => service.looking(file, p.position, 'newName' in p))
  const looked = async (p: Looked, token: CancellationToken, progress: WorkDoneProgressReporter): Promise<void> => {
    const steps = looking(p)
    if (!steps) return
    progress.begin('Doorwright', 0, undefined, true)
    try {
      for (let left = slice(steps); left; left = slice(steps)) {
        const { done, of } = left.last
        progress.report(Math.round((done / of) * 100), `${done} of ${of} files`)
        await turn()
        stopIf(token)
      }
    } finally {
      progress.done()
    }
  }
  const throughFiles =
    <P extends Looked, R>(answer: (p: P, token: CancellationToken) => R) =>
    async (p: P, token: CancellationToken, progress: WorkDoneProgressReporter): Promise<R> => {
      await looked(p, token, progress)
      return answer(p, token)
    }
  connection.onReferences(
    throughFiles(
      verbOf(c, 'position', 'context')('references', null, (file, p: ReferenceParams) =>
        service.references(file, p.position, p.context.includeDeclaration).map(there),
      ),
    ),
  )
  connection.onDocumentHighlight(
    wholeVerbOf(c, 'position')('highlights', null, (file, p) =>
      service.highlights(file, p.position).map(h => ({
        range: h.range,
        kind: h.write ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
      })),
    ),
  )
  connection.onPrepareRename(
    verb('rename', null, (file, p) => {
      const target = service.renameTarget(file, p.position)
      return target.ok ? { range: target.range, placeholder: target.text } : refuse(target.reason)
    }),
  )
  connection.onRenameRequest(
    throughFiles(
      verbOf(c, 'position', 'newName')('rename', null, (file, p: RenameParams): WorkspaceEdit | null => {
        const renamed = service.rename(file, p.position, p.newName)
        return renamed.ok ? toWorkspaceEdit(renamed.edits, c) : refuse(renamed.reason)
      }),
    ),
  )
  connection.onWorkspaceSymbol((p, token) =>
    c.answer<WorkspaceSymbol[] | null>(
      'workspace symbols',
      null,
      () => {
        checkParts('workspace symbols', p, ['query'])
        return service.workspaceSymbols(p.query).map(s => ({
          name: s.name,
          kind: SYMBOL[s.kind],
          containerName: s.file.split(/[\\/]/).at(-1),
          location: there(s),
        }))
      },
      token,
    ),
  )

  const item = (v: ValueNode): CallHierarchyItem => ({
    name: v.path,
    detail: [v.text ?? 'not known', v.owner].filter(t => t !== '').join(' · '),
    kind: v.written ? SymbolKind.Field : SymbolKind.Property,
    uri: c.uri(v.file),
    range: v.range,
    selectionRange: v.range,
    data: v.data,
  })
  const dataOf = (i: CallHierarchyItem | undefined): ValueNode['data'] => {
    checkData('values', i?.data, ['file', 'path'])
    return i!.data as ValueNode['data']
  }
  connection.languages.callHierarchy.onPrepare(
    verb('values', null, (file, p) => {
      const value = service.valueAt(file, p.position)
      return value ? [item(value)] : null
    }),
  )
  // The ranges are where the one that reads names the other. A formula names nothing in the text: there it is its item.
  connection.languages.callHierarchy.onIncomingCalls((p, token) =>
    c.answer(
      'values',
      null,
      () =>
        service.usedBy(dataOf(p.item)).map(({ value, places }) => {
          const own = places.filter(l => l.file === value.file).map(l => l.range)
          return { from: item(value), fromRanges: own.length > 0 ? own : [value.range] }
        }),
      token,
    ),
  )
  connection.languages.callHierarchy.onOutgoingCalls((p, token) =>
    c.answer(
      'values',
      null,
      () =>
        service.feeds(dataOf(p.item)).map(({ value, places }) => {
          const own = places.filter(l => c.uri(l.file) === p.item.uri).map(l => l.range)
          return { to: item(value), fromRanges: own.length > 0 ? own : [p.item.selectionRange] }
        }),
      token,
    ),
  )
}
