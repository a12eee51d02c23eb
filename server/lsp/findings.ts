/** Findings for the client: told as they change, or given when it asks. */
import {
  type Connection,
  type Diagnostic,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver/node'
import { toDiagnostic } from './convert.ts'
import { stopIf, wholeVerbOf } from './handler.ts'
import { Publisher } from './publish.ts'
import type { VerbsContext } from './verbs.ts'

export interface FindingsOptions {
  /** Called for files whose findings may have changed. */
  changed(files: readonly string[]): void
  /** Called for a file whose findings are worked out. */
  looked(file: string): void
  /** Whether the client can be told to ask again. */
  refreshes(): boolean
  /** Whether files had to be waited for, whose lack would be a finding until then. */
  arriving(): Promise<true> | undefined
}

export class Findings {
  /** The client asks; nothing is told. */
  asked = false
  readonly #connection: Connection
  readonly #c: VerbsContext
  readonly #options: FindingsOptions
  readonly #publisher: Publisher
  /** What was answered last for each file, by its text: the same findings have the same id. */
  readonly #waiting = new Set<string>()
  readonly #answers = new Map<string, { readonly id: string; readonly text: string }>()
  #ids = 0

  constructor(connection: Connection, c: VerbsContext, options: FindingsOptions) {
    this.#connection = connection
    this.#c = c
    this.#options = options
    this.#publisher = new Publisher(file => void this.#tellWhenReady(file))
  }

  /** The findings of these may have changed. */
  mark(files: readonly string[]): void {
    this.#options.changed(files)
    if (!this.asked) {
      this.#publisher.mark(files)
      return
    }
    for (const f of files) this.#c.guard('project file', undefined, () => this.#options.looked(f))
    if (this.#options.refreshes()) this.#connection.languages.diagnostics.refresh().catch(() => {})
  }

  /** The file is closed or gone: nothing is wrong with it any more. */
  clear(file: string): void {
    this.#publisher.drop(file)
    this.#answers.delete(file)
    if (!this.asked) this.#tell(file, [])
  }

  of(file: string): Diagnostic[] {
    const { service, settings, guard } = this.#c
    guard('project file', undefined, () => this.#options.looked(file))
    return guard('findings', [], () =>
      service
        .findings(file)
        .filter(f => settings.showAccepted || f.accepted === undefined)
        .map(f => toDiagnostic(f, this.#c)),
    )
  }

  /** Changes that come while it waits are told with it. */
  async #tellWhenReady(file: string): Promise<void> {
    if (this.#waiting.has(file)) return
    this.#waiting.add(file)
    do await this.#c.ready(file)
    while (await this.#options.arriving())
    this.#waiting.delete(file)
    if (this.#c.service.isOpen(file)) this.#tell(file, this.of(file))
  }

  #tell(file: string, diagnostics: Diagnostic[]): void {
    void this.#connection.sendDiagnostics({
      uri: this.#c.uri(file),
      version: this.#c.version(file) ?? undefined,
      diagnostics,
    })
  }

  /** A file's findings, or that they are still those of an earlier answer. */
  #report(file: string, before: string | undefined): DocumentDiagnosticReport {
    const items = this.of(file)
    const text = JSON.stringify(items)
    const old = this.#answers.get(file)
    const id = old?.text === text ? old.id : String(++this.#ids)
    this.#answers.set(file, { id, text })
    return before === id
      ? { kind: DocumentDiagnosticReportKind.Unchanged, resultId: id }
      : { kind: DocumentDiagnosticReportKind.Full, resultId: id, items }
  }

  register(): void {
    const { diagnostics } = this.#connection.languages
    const c = this.#c
    const none: DocumentDiagnosticReport = { kind: DocumentDiagnosticReportKind.Full, items: [] }
    diagnostics.on(wholeVerbOf(c)('findings', none, (file, p) => this.#report(file, p.previousResultId)))
    diagnostics.onWorkspace(async (p, token, progress, partial) => {
      const files = c.answer('findings', [], () => c.service.workspace(), token)
      const before = new Map(p.previousResultIds.map(r => [c.file(r.uri), r.value]))
      const items: WorkspaceDocumentDiagnosticReport[] = []
      progress.begin('Doorwright', 0, `${files.length} files`, true)
      try {
        for (const [i, file] of files.entries()) {
          // Whatever else the client wants comes in between, its change of mind too.
          await new Promise(resolve => setImmediate(resolve))
          stopIf(token)
          const report = c.answer('findings', none, () => this.#report(file, before.get(file)))
          const item = { ...report, uri: c.uri(file), version: c.version(file) } as WorkspaceDocumentDiagnosticReport
          if (partial) partial.report({ items: [item] })
          else items.push(item)
          progress.report(Math.round(((i + 1) / files.length) * 100), `${i + 1} of ${files.length} files`)
        }
        // Of files that are gone nothing is wrong any more.
        for (const file of before.keys())
          if (!files.includes(file)) items.push({ ...none, uri: c.uri(file), version: null } as never)
      } finally {
        progress.done()
      }
      return { items }
    })
  }
}
