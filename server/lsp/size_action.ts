/** The code action that sizes springs: a choice where the client offers one, else the best few, each worked out when it is taken. */
import { type CodeAction, CodeActionKind } from 'vscode-languageserver/node'
import type { Range, Service } from '../service.ts'
import { type Context, toWorkspaceEdit } from './convert.ts'

interface Asked {
  /** `index` counts proposals from 0, the best. */
  readonly size: { readonly file: string; readonly mark: string; readonly index: number }
}

/** What is offered where the client has no list to choose from. */
const FEW = ['best', 'second', 'third']

/** The actions for the opening that a range starts in; none outside of openings, or where other kinds were asked for. */
export function sizeAction(
  service: Service,
  file: string,
  range: Range,
  only: readonly string[] | undefined,
  c: Context,
): CodeAction[] {
  const kind = CodeActionKind.RefactorRewrite
  if (only?.length && !only.some(k => kind === k || kind.startsWith(`${k}.`))) return []
  const mark = service.openingAt(file, range.start)
  if (mark === undefined) return []
  const action = { title: 'Size springs for this opening', kind }
  if (c.can.chooseSprings)
    return [
      {
        ...action,
        command: { title: action.title, command: 'doorwright.sizeSprings', arguments: [c.uri(file), mark] },
      },
    ]
  return FEW.map((which, index) => ({
    title: `${action.title}: the ${which} proposal (wound springs can maim or kill)`,
    kind,
    data: { size: { file, mark, index } } satisfies Asked,
  }))
}

/** Works the proposal out when the action is taken. Where there is none, the action says why and changes nothing. */
export function resolveSize(service: Service, action: CodeAction, c: Context): CodeAction {
  const asked = (action.data as Asked | undefined)?.size
  if (!asked) return action
  const sized = service.size(asked.file, asked.mark, FEW.length)
  if (!sized.ok) return { ...action, disabled: { reason: sized.reason } }
  const proposal = sized.proposals[asked.index]
  if (!proposal) return { ...action, disabled: { reason: `There are only ${sized.proposals.length} proposals.` } }
  return { ...action, edit: toWorkspaceEdit(proposal.edits, c) }
}
