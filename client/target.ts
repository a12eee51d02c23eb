/** Which opening a command is about: what a code lens or a row of the tree hands over, else where the cursor is. */
import { Uri, window } from 'vscode'
import { isJob, type Target } from './protocol.ts'

export function targetOf(args: readonly unknown[]): Target | undefined {
  const [first, second] = args
  const mark = typeof second === 'string' ? second : undefined
  if (first instanceof Uri) return { uri: first, mark }
  if (typeof first === 'string' && first.includes(':')) return { uri: Uri.parse(first), mark }
  if (typeof first === 'object' && first !== null && 'uri' in first) {
    const given = first as { uri: unknown; mark?: unknown; opening?: { mark?: unknown } }
    const named = given.mark ?? given.opening?.mark ?? mark
    const uri = typeof given.uri === 'string' ? Uri.parse(given.uri) : given.uri
    if (uri instanceof Uri) return { uri, mark: typeof named === 'string' ? named : undefined }
  }
  const doc = jobEditor()?.document
  return doc && { uri: doc.uri }
}

/** The editor with a job that is worked in: the active one, else one in sight. */
export const jobEditor = () =>
  isJob(window.activeTextEditor?.document)
    ? window.activeTextEditor
    : window.visibleTextEditors.find(e => isJob(e.document))

export const NO_JOB = 'Open a job (a .door file) first, or make one with "Doorwright: New door job".'
