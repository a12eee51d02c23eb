/** `doorwright check` as a task, with the command line that comes along. Its findings go to the Problems view. */
import { type ChildProcess, spawn } from 'node:child_process'
import {
  CustomExecution,
  EventEmitter,
  type ExtensionContext,
  type Pseudoterminal,
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
    const run = new CustomExecution(async () => terminalOf([cli, 'check', definition.path ?? '.'], cwd))
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

/** Asks a terminal where its cursor is. Its answer, an escape sequence too, comes when all before that has been shown. */
const ASK = '\x1b[6n'
/** How long the answer is waited for, and then for what the editor makes of the last lines. */
const SHOWN_MS = 5000
const READ_MS = 500

/**
 * Runs a script and shows what it writes. The editor reads findings from the lines that its terminal has shown, and stops
 * a moment after the end: on a busy machine it loses those of a quick program, so the end is told once all is shown.
 */
function terminalOf(args: readonly string[], cwd: string | undefined): Pseudoterminal {
  const written = new EventEmitter<string>()
  const closed = new EventEmitter<number>()
  let running: ChildProcess | undefined
  let shown = (): void => {}
  const end = (code: number): void => {
    const answered = new Promise<void>(resolve => {
      shown = resolve
      setTimeout(resolve, SHOWN_MS)
    })
    void answered.then(() => setTimeout(() => closed.fire(code), READ_MS))
    written.fire(ASK)
  }
  return {
    onDidWrite: written.event,
    onDidClose: closed.event,
    open() {
      // The program that runs this also runs plain scripts, so nothing has to be installed beside it.
      const started = spawn(process.execPath, args, {
        cwd,
        env: { ...process.env, ELECTRON_RUN_AS_NODE: '1', NO_COLOR: '1' },
      })
      running = started
      for (const out of [started.stdout, started.stderr])
        out.setEncoding('utf8').on('data', (text: string) => written.fire(text.replace(/\r?\n/g, '\r\n')))
      started.on('error', e => written.fire(`${e.message}\r\n`))
      started.on('close', code => end(code ?? 1))
    },
    handleInput: data => data.startsWith('\x1b[') && shown(),
    close: () => void running?.kill(),
  }
}
