/** What an editor shows of a text beside its findings: hover, hints, colours, the tree of its blocks, folds, links. */
import type { Chunk, Span } from '../../grammar/index.ts'
import { folding as foldsOf } from '../features/folding.ts'
import { hover as hoverAt } from '../features/hover.ts'
import { doorOf, type Hint, hintEdits, inlayHints as hintsIn, hintTooltip } from '../features/inlay_hints.ts'
import { links as linksOf } from '../features/links.ts'
import { outline as nodesOf, type OutlineNode } from '../features/outline.ts'
import { selections } from '../features/selection.ts'
import {
  type ColouredToken,
  semanticTokens as coloursOf,
  TOKEN_MODIFIERS,
  TOKEN_TYPES,
} from '../features/semantic_tokens.ts'
import type { Unit } from '../model/index.ts'
import { type Context, EMPTY, namesIn, unitAt, unitsIn, whatIsAt } from './context.ts'
import { RULES_BY_ID } from './findings.ts'
import { firstLines, keptAt, positionAt, positionIn, rangeIn, shift, TOP } from './positions.ts'
import type { DocumentLink, FoldingRange, Hover, InlayHint, OutlineItem, Position, Range } from './types.ts'

export function hover(c: Context, file: string, position: Position): Hover | undefined {
  const a = whatIsAt(c, file, position)
  const h = a && hoverAt(a, { rules: RULES_BY_ID, files: c.workspace.model.files })
  return h && { markdown: h.markdown, range: c.workspace.spot(a, h.span).range }
}

// ---- hints

export function inlayHints(c: Context, file: string, range: Range): InlayHint[] {
  return unitsIn(c, file, range).flatMap(({ unit, line, from, to }) =>
    hintsOf(c, unit)
      .filter(h => from <= h.offset && h.offset <= to)
      .map(h => ({
        position: positionIn(unit.chunk, h.offset, line),
        label: h.label,
        path: h.paths[0],
        data: { file, mark: doorOf(unit, h)?.mark, paths: h.paths, of: h.of, writes: h.writes },
      })),
  )
}

export function resolveInlayHint(c: Context, hint: InlayHint): InlayHint {
  const { file, mark, writes } = hint.data
  const door = c.workspace.door(file, mark)
  const edits = door && writes !== undefined ? hintEdits(door, writes) : undefined
  return {
    ...hint,
    tooltip: hintTooltip(door, { ...hint.data, label: hint.label }),
    edits: edits && c.workspace.locateEdits(edits),
  }
}

const knownHints = new WeakMap<Unit, readonly Hint[]>()

function hintsOf(c: Context, unit: Unit): readonly Hint[] {
  const known = knownHints.get(unit)
  if (known) return known
  const hints = hintsIn(unit, 0, unit.chunk.text.length, () => c.workspace.evaluator(unit.file))
  // what stands at the top of a file hangs on other chunks, so it is looked at again each time
  if (!unit.empty) knownHints.set(unit, hints)
  return hints
}

// ---- the text as a whole

/** Put together of what each unit has: only the line of its first word is counted from what stands before the unit. */
export function semanticTokens(c: Context, file: string, range?: Range): Uint32Array {
  const parts = unitsIn(c, file, range ?? whole(c, file)).map(({ unit, line }) => ({ line, ...colours(c, unit) }))
  const out = new Uint32Array(parts.reduce((sum, p) => sum + p.data.length, 0))
  let at = 0
  let before = 0
  for (const { data, line, last } of parts) {
    if (data.length === 0) continue
    out.set(data, at)
    out[at] = data[0]! + line - before
    at += data.length
    before = line + last
  }
  return out
}

/** The words of a unit in numbers, lines counted from its start. */
interface Colours {
  readonly data: Uint32Array
  /** The line of the last word. */
  readonly last: number
}

const knownColours = new WeakMap<Unit, Colours>()
export const hasColours = (unit: Unit): boolean => knownColours.has(unit)

export function colours(c: Context, unit: Unit): Colours {
  const known = knownColours.get(unit)
  if (known) return known
  const made = encoded(unit.chunk, coloursOf(unit, namesIn(c, unit)))
  // as with hints
  if (!unit.empty) knownColours.set(unit, made)
  return made
}

function encoded(chunk: Chunk, words: readonly ColouredToken[]): Colours {
  const data: number[] = []
  let before: Position = TOP.start
  for (const { start, end, type, modifiers } of words) {
    const at = positionIn(chunk, start)
    const lines = at.line - before.line
    const bits = modifiers.reduce((sum, m) => sum | (1 << TOKEN_MODIFIERS.indexOf(m)), 0)
    data.push(lines, lines === 0 ? at.character - before.character : at.character, end - start, TOKEN_TYPES.indexOf(type), bits) // biome-ignore format: one word
    before = at
  }
  return { data: Uint32Array.from(data), last: before.line }
}

export function outline(c: Context, file: string): OutlineItem[] {
  const source = c.workspace.source(file)
  if (!source) return []
  const lines = firstLines(source)
  return c.workspace.units(file).flatMap((unit, i) => outlineOf(unit, lines[i]!))
}

/** Whoever asks again after a key gets the same objects for all that it has not touched. */
export const outlineOf = keptAt((unit: Unit, line: number): readonly OutlineItem[] => {
  const range = (s: Span): Range => rangeIn(unit.chunk, s, line)
  const located = ({ span, selection, children, ...rest }: OutlineNode): OutlineItem => ({
    ...rest,
    range: range(span),
    selection: range(selection),
    children: children.map(located),
  })
  return nodesOf(unit).map(located)
}, moved)

function moved(items: readonly OutlineItem[], lines: number): readonly OutlineItem[] {
  return items.map(i => ({
    ...i,
    range: shift(i.range, lines),
    selection: shift(i.selection, lines),
    children: moved(i.children, lines),
  }))
}

export function folding(c: Context, file: string): FoldingRange[] {
  const source = c.workspace.source(file)
  return source ? foldsOf(source, firstLines(source)) : []
}

export function links(c: Context, file: string): DocumentLink[] {
  return c.workspace.units(file).flatMap(u =>
    linksOf(u.chunk, file, c.workspace.model.files).map(l => ({
      range: c.workspace.spot(u, l.span).range,
      file: l.file,
    })),
  )
}

export function selectionRanges(c: Context, file: string, position: Position): Range[] {
  const found = unitAt(c, file, position)
  if (!found || found.unit.chunk === EMPTY) return [{ start: position, end: position }]
  const out = selections(found.unit.chunk, found.offset).map(s => c.workspace.spot(found.unit, s).range)
  const all = whole(c, file)
  return JSON.stringify(out.at(-1)) === JSON.stringify(all) ? out : [...out, all]
}

function whole(c: Context, file: string): Range {
  const source = c.workspace.source(file)
  return source ? { start: TOP.start, end: positionAt(source, source.text.length) } : TOP
}
