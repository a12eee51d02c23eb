/** Tells the client what is wrong with the project files of what is open. */
import { type Connection, DiagnosticSeverity } from 'vscode-languageserver/node'
import type { ConfigProblem } from '../config/index.ts'

export interface ProjectState {
  readonly file: string
  readonly problems: readonly ConfigProblem[]
}

export class ProjectFaults {
  readonly #connection: Connection
  readonly #uri: (file: string) => string
  /** What the client was told last, by project file. */
  readonly #told = new Map<string, readonly ConfigProblem[]>()

  constructor(connection: Connection, uri: (file: string) => string) {
    this.#connection = connection
    this.#uri = uri
  }

  /** The project file of a file that is looked at. */
  saw(project: ProjectState | undefined): void {
    if (project && this.#told.get(project.file) !== project.problems) this.#tell(project.file, project.problems)
  }

  /** Only these are still anybody's: of the others nothing is wrong any more. */
  keep(projects: readonly (ProjectState | undefined)[]): void {
    const files = new Set(projects.map(p => p?.file))
    for (const file of this.#told.keys()) if (!files.has(file)) this.#tell(file, [])
    for (const p of projects) this.saw(p)
  }

  #tell(file: string, problems: readonly ConfigProblem[]): void {
    const before = this.#told.get(file)
    if (problems.length > 0) this.#told.set(file, problems)
    else this.#told.delete(file)
    if (problems.length === 0 && !before) return
    const diagnostics = problems.map(p => ({
      range: p.range,
      message: p.message,
      severity: DiagnosticSeverity.Error,
      source: 'doorwright',
    }))
    void this.#connection.sendDiagnostics({ uri: this.#uri(file), diagnostics })
  }
}
