/** Handlers for how the text looks and what is offered beside it: colours, lenses, links, selections, signatures. */
import type { CodeLens, Connection, DocumentLink, SelectionRange, SemanticTokens } from 'vscode-languageserver/node'
import { type Range, type SemanticToken, TOKEN_MODIFIERS, TOKEN_TYPES } from '../service.ts'
import { toMarkdown, toTextEdits } from './convert.ts'
import { type InFile, verbOf } from './handler.ts'
import type { VerbsContext } from './verbs.ts'

export function registerViews(connection: Connection, c: VerbsContext): void {
  const { service } = c
  const verb = verbOf(c)
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
    verb('links', null, (file): DocumentLink[] =>
      service.links(file).map(l => ({ range: l.range, target: c.uri(l.file), tooltip: 'Open this file' })),
    ),
  )
  connection.onCodeLens(
    verb('lenses', null, (file): CodeLens[] =>
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
  const last = new Map<string, { resultId: string; data: number[] }>()
  let results = 0
  const answered = (file: string): { resultId: string; data: number[] } => {
    for (const f of last.keys()) if (!service.isOpen(f)) last.delete(f)
    const answer = { resultId: String(++results), data: encoded(service.semanticTokens(file)) }
    last.set(file, answer)
    return answer
  }
  const { semanticTokens } = connection.languages
  semanticTokens.on(verb<InFile, SemanticTokens | null>('colours', null, answered))
  semanticTokens.onRange(
    verbOf(c, 'range')<InFile & { range: Range }, SemanticTokens | null>('colours', null, (file, p) => ({
      data: encoded(service.semanticTokens(file, p.range)),
    })),
  )
  semanticTokens.onDelta(
    verb('colours', null, (file, p) => {
      const old = last.get(file)
      const fresh = answered(file)
      return old?.resultId === p.previousResultId
        ? { resultId: fresh.resultId, edits: editsOf(old.data, fresh.data) }
        : fresh
    }),
  )
}

/** Five numbers a word: lines and columns from the word before, length, type, a bit for each modifier. */
function encoded(tokens: readonly SemanticToken[]): number[] {
  const data: number[] = []
  let [line, character] = [0, 0]
  for (const t of tokens) {
    const bits = t.modifiers.reduce((sum, m) => sum | (1 << TOKEN_MODIFIERS.indexOf(m)), 0)
    data.push(t.line - line, t.line === line ? t.character - character : t.character, t.length, TOKEN_TYPES.indexOf(t.type), bits) // biome-ignore format: one word
    ;[line, character] = [t.line, t.character]
  }
  return data
}

/** The one stretch in which two answers differ. */
function editsOf(old: readonly number[], fresh: readonly number[]) {
  let start = 0
  while (start < old.length && start < fresh.length && old[start] === fresh[start]) start++
  let back = 0
  const most = Math.min(old.length, fresh.length) - start
  while (back < most && old.at(-1 - back) === fresh.at(-1 - back)) back++
  const deleteCount = old.length - start - back
  const data = fresh.slice(start, fresh.length - back)
  return deleteCount === 0 && data.length === 0 ? [] : [{ start, deleteCount, data }]
}
