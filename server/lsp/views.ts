/** Handlers for how the text looks and what is offered beside it: colours, lenses, links, selections, signatures. */
import type {
  CancellationToken,
  CodeLens,
  Connection,
  DocumentLink,
  SelectionRange,
  SemanticTokens,
  SemanticTokensDeltaParams,
} from 'vscode-languageserver/node'
import type { Range } from '../service.ts'
import { toMarkdown, toTextEdits } from './convert.ts'
import { type InFile, stopIf, verbOf, wholeVerbOf } from './handler.ts'
import { slice, turn } from './ready.ts'
import type { VerbsContext } from './verbs.ts'

export function registerViews(connection: Connection, c: VerbsContext): void {
  const { service } = c
  const whole = wholeVerbOf(c)
  const at = verbOf(c, 'position')

  connection.onSignatureHelp(
    at('signature help', null, (file, p) => {
      const s = service.signature(file, p.position)
      if (!s) return null
      const parameters = s.parameters.map(([start, end]) => ({ label: [start, end] as [number, number] }))
      const signature = { label: s.label, documentation: toMarkdown(s.doc), parameters }
      return { signatures: [signature], activeSignature: 0, activeParameter: s.active }
    }),
  )
  connection.onSelectionRanges(
    verbOf(c, 'positions')('selection ranges', null, (file, p) =>
      service.selectionRanges(file, p.positions).map(
        // each holds the one before
        ranges => ranges.reduceRight<SelectionRange | undefined>((parent, range) => ({ range, parent }), undefined)!,
      ),
    ),
  )
  connection.onDocumentLinks(
    whole('links', null, (file): DocumentLink[] =>
      service.links(file).map(l => ({ range: l.range, target: c.uri(l.file), tooltip: 'Open this file' })),
    ),
  )
  connection.onCodeLens(
    whole('lenses', null, (file): CodeLens[] =>
      (c.settings.codeLens ? service.codeLenses(file) : []).flatMap((l, i): CodeLens[] => {
        const range = { start: { line: l.line, character: 0 }, end: { line: l.line, character: 0 } }
        if (c.can.chooseSprings)
          return [{ range, command: { title: l.title, command: l.command, arguments: [c.uri(file), l.mark] } }]
        // A client without these commands shows how the opening stands, and nothing to click on.
        return i % 4 === 0 ? [{ range, command: { title: l.title, command: '' } }] : []
      }),
    ),
  )
  connection.onDocumentOnTypeFormatting(
    verbOf(c, 'position', 'ch')('formatting while typing', null, (file, p) =>
      toTextEdits(service.formatOnType(file, p.position, p.ch)),
    ),
  )

  // ---- colours

  /** The last answer for each file, to tell the difference from. */
  const last = new Map<string, { resultId: string; data: Uint32Array }>()
  let results = 0
  const answered = (file: string) => {
    for (const f of last.keys()) if (!service.isOpen(f)) last.delete(f)
    const answer = { resultId: String(++results), data: service.semanticTokens(file) }
    last.set(file, answer)
    return answer
  }
  const full = (file: string): SemanticTokens => {
    const { resultId, data } = answered(file)
    return { resultId, data: [...data] }
  }
  /** The words are worked out in slices first. */
  const coloured = <P extends InFile, R>(answer: (p: P, token: CancellationToken) => Promise<R>) => {
    const steps = whole('colours', undefined, (file, _: P) => service.wordSteps(file))
    return async (p: P, token: CancellationToken): Promise<R> => {
      for (const words = await steps(p, token); words && slice(words); ) {
        await turn()
        stopIf(token)
      }
      return answer(p, token)
    }
  }
  const { semanticTokens } = connection.languages
  semanticTokens.on(coloured(whole<InFile, SemanticTokens | null>('colours', null, full)))
  semanticTokens.onRange(
    verbOf(c, 'range')<InFile & { range: Range }, SemanticTokens | null>('colours', null, (file, p) => ({
      data: [...service.semanticTokens(file, p.range)],
    })),
  )
  semanticTokens.onDelta(
    coloured(
      whole('colours', null, (file, p: SemanticTokensDeltaParams) => {
        const old = last.get(file)
        if (old?.resultId !== p.previousResultId) return full(file)
        const fresh = answered(file)
        return { resultId: fresh.resultId, edits: editsOf(old.data, fresh.data) }
      }),
    ),
  )
}

/** The one stretch in which two answers differ. */
function editsOf(old: Uint32Array, fresh: Uint32Array) {
  let start = 0
  while (start < old.length && start < fresh.length && old[start] === fresh[start]) start++
  let back = 0
  const most = Math.min(old.length, fresh.length) - start
  while (back < most && old[old.length - 1 - back] === fresh[fresh.length - 1 - back]) back++
  const deleteCount = old.length - start - back
  const data = [...fresh.subarray(start, fresh.length - back)]
  return deleteCount === 0 && data.length === 0 ? [] : [{ start, deleteCount, data }]
}
