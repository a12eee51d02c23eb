/** `doorwright check` as a task, with the command line that comes along. Its findings go to the Problems view. */
import {
  type ExtensionContext,
  ProcessExecution,
  Task,
  type TaskDefinition,
  TaskGroup,
  type TaskScope,
  tasks,
  Uri,
  type WorkspaceFolder,
  workspace,
} from 'vscode'

const TYPE = 'doorwright'

interface CheckTask extends TaskDefinition {
  readonly type: typeof TYPE
  /** A file or folder, relative to the workspace's folder; all of it where none is named. */
  readonly path?: string
}

export function provideTasks(context: ExtensionContext): void {
  const cli = Uri.joinPath(context.extensionUri, 'dist', 'cli.cjs').fsPath
  const make = (definition: CheckTask, scope: WorkspaceFolder | TaskScope): Task => {
    const cwd = typeof scope === 'object' ? scope.uri.fsPath : undefined
    // The program that runs this also runs plain scripts, so nothing has to be installed beside it.
    const run = new ProcessExecution(process.execPath, [cli, 'check', definition.path ?? '.'], {
      cwd,
      env: { ELECTRON_RUN_AS_NODE: '1', NO_COLOR: '1' },
    })
    const name = definition.path === undefined ? 'check' : `check ${definition.path}`
    const task = new Task(definition, scope, name, TYPE, run, '$doorwright')
    task.group = TaskGroup.Build
    task.detail = 'Every finding of the .door files, in the Problems view'
    return task
  }
  context.subscriptions.push(
    tasks.registerTaskProvider(TYPE, {
      provideTasks: () => (workspace.workspaceFolders ?? []).map(folder => make({ type: TYPE }, folder)),
      resolveTask: task => make(task.definition as CheckTask, task.scope as WorkspaceFolder),
    }),
  )
}
