/** Springs for an opening: proposals to choose from, written as one edit. */
import { commands, type QuickPickItem, window, workspace } from 'vscode'
import { rowOf } from './proposal.ts'
import type { Proposal, Server, Target } from './protocol.ts'
import { NO_ANSWER } from './state.ts'
import { jobEditor, NO_JOB } from './target.ts'

interface Item extends QuickPickItem {
  readonly proposal: Proposal
}

export async function sizeSprings(server: Server, target: Target | undefined): Promise<void> {
  if (!target) return void window.showInformationMessage(NO_JOB)
  // The server reads what an editor holds open.
  await workspace.openTextDocument(target.uri)
  const editor = jobEditor()
  const position = editor?.document.uri.toString() === target.uri.toString() ? editor.selection.active : undefined
  const sized = await server.size({ uri: target.uri.toString(), mark: target.mark, position })
  if (!sized) return void window.showErrorMessage(NO_ANSWER)
  if (!sized.ok)
    return void window.showInformationMessage(`${sized.mark === undefined ? '' : `${sized.mark}: `}${sized.reason}`)
  const chosen = await window.showQuickPick(
    sized.proposals.map((proposal): Item => ({ ...rowOf(proposal), proposal })),
    {
      title: `Springs for ${sized.mark}: wound springs can maim or kill`,
      placeHolder: 'Best first. What you choose is written into the job; one undo takes it back.',
      matchOnDescription: true,
      matchOnDetail: true,
    },
  )
  if (!chosen) return
  const edit = await server.toEdit(chosen.proposal.edit)
  if (!edit || !(await workspace.applyEdit(edit)))
    return void window.showErrorMessage('The springs could not be written: the file was changed meanwhile. Try again.')
  const open = 'Open the preview'
  // Not waited for: the message may stay as long as it likes.
  void window
    .showWarningMessage(`Written into ${sized.mark}: ${chosen.proposal.title}. ${sized.caution}`, open)
    .then(answer => answer === open && commands.executeCommand('doorwright.preview', target.uri, sized.mark))
}
