/** What the protocol has no request for: the live preview, the openings of a file, proposals of springs, the sheet. */
import type { CancellationToken, Connection, WorkspaceEdit } from 'vscode-languageserver/node'
import { CAUTIONS, type OpeningState, type Position, type Service } from '../service.ts'
import { toWorkspaceEdit } from './convert.ts'
import { checkParts, ready } from './handler.ts'
import type { VerbsContext } from './verbs.ts'

/** Names a file, and an opening of it by its mark or by a place in it. */
export interface OpeningParams {
  readonly uri: string
  readonly mark?: string
  readonly position?: Position
}
export interface PreviewResult {
  readonly mark: string
  readonly marks: readonly string[]
  /** The opening's first line; the lines in the sections count from it. */
  readonly line: number
  readonly sections: readonly { readonly id: string; readonly title: string; readonly html: string }[]
}
export type OpeningsResult = readonly OpeningState[]
export interface SheetResult {
  /** A whole page that stands by itself. */
  readonly html: string
  /** What it is best saved as. */
  readonly name: string
}
export type SizeResult =
  | { readonly ok: false; readonly mark?: string; readonly reason: string }
  | {
      readonly ok: true
      readonly mark: string
      readonly caution: string
      readonly proposals: readonly {
        readonly title: string
        readonly rows: readonly (readonly [name: string, text: string])[]
        readonly against: readonly string[]
        readonly edit: WorkspaceEdit
      }[]
    }

export function registerCustom(
  connection: Connection,
  c: VerbsContext,
  machine: { readonly version: string; read(file: string): string | undefined },
): void {
  const { service } = c
  /** Each looks at all of a file, and waits until that is worked out. */
  const of =
    <P extends { readonly uri: string }, R>(name: string, work: (file: string, p: P) => R | null) =>
    async (p: P, token?: CancellationToken): Promise<R | null> => {
      await ready(c, p?.uri)
      return c.answer(
        name,
        null,
        () => {
          checkParts(name, p, ['uri'])
          return work(c.file(p.uri), p)
        },
        token,
      )
    }
  connection.onRequest(
    'doorwright/preview',
    of('preview', (file, p: OpeningParams): PreviewResult | null => {
      const openings = service.openings(file)
      const mark = markOf(openings, p)
      const made = mark === undefined ? undefined : service.preview(file, mark)
      return made && mark !== undefined ? { mark, marks: openings.map(o => o.mark), ...made } : null
    }),
  )
  connection.onRequest(
    'doorwright/openings',
    of('openings', (file): OpeningsResult | null => withFile(service, file, machine.read, f => service.openings(f))),
  )
  connection.onRequest(
    'doorwright/sheet',
    of('sheet', (file): SheetResult | null =>
      service.openings(file).length > 0
        ? { html: service.sheet(file, machine.version), name: service.sheetName(file) }
        : null,
    ),
  )
  connection.onRequest(
    'doorwright/size',
    of('size', (file, p: OpeningParams): SizeResult | null => {
      const mark = markOf(service.openings(file), p)
      if (mark === undefined) return { ok: false, mark, reason: 'There is no opening in this file yet.' }
      const sized = service.size(file, mark)
      if (!sized.ok) return { ok: false, mark, reason: sized.reason }
      return {
        ok: true,
        mark,
        caution: CAUTIONS.spring.short,
        proposals: sized.proposals.map(({ title, rows, against, edits }) => ({
          title,
          rows,
          against,
          edit: toWorkspaceEdit(edits, c),
        })),
      }
    }),
  )
}

/** The opening that is meant: by its mark, else the one at the place, else the last above it, else the first. */
function markOf(openings: readonly OpeningState[], { mark, position }: OpeningParams): string | undefined {
  if (mark !== undefined && openings.some(o => o.mark === mark)) return mark
  const above = openings.findLast(o => position !== undefined && o.line <= position.line)
  return (above ?? openings[0])?.mark
}

/** A file that nobody holds open is read for this one answer. */
function withFile<R>(
  service: Service,
  file: string,
  read: (file: string) => string | undefined,
  work: (file: string) => R,
): R | null {
  if (service.text(file) !== undefined) return work(file)
  const text = read(file)
  if (text === undefined) return null
  service.open(file, text)
  try {
    return work(file)
  } finally {
    service.close(file)
  }
}
