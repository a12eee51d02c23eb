/** What helps to write: completion, signatures, layout, fixes and refactorings, other names. */
import { editSource, format as layOut, parseSource, type TextEdit } from '../../grammar/index.ts'
import { allowAction, asked, refactors } from '../features/code_actions.ts'
import { documentation } from '../features/completion/docs.ts'
import { completion as itemsAt } from '../features/completion/index.ts'
import { difference, formatEdits as layoutEdits } from '../features/formatting.ts'
import { movedFiles } from '../features/moved_files.ts'
import { onType } from '../features/on_type.ts'
import { refactorings } from '../features/refactor/index.ts'
import { renamable, renaming } from '../features/rename.ts'
import { signature as signatureAt } from '../features/signature.ts'
import { keepsValues } from '../features/trial.ts'
import { type Context, nameAt, unitAt, unitsIn, whatIsAt } from './context.ts'
import { RULES_BY_ID } from './findings.ts'
import { offsetAt, spanAt } from './positions.ts'
import type {
  CodeAction,
  CompletionItem,
  FileEdit,
  LocatedFinding,
  Move,
  Position,
  Range,
  Renamed,
  RenameTarget,
  Signature,
} from './types.ts'

export function completion(c: Context, file: string, position: Position): CompletionItem[] {
  const a = whatIsAt(c, file, position)
  if (!a) return []
  const world = {
    files: c.workspace.model.files,
    rules: RULES_BY_ID,
    usable: () => c.host.usePaths?.(file) ?? [],
    found: () => new Set(c.findings.held(unitAt(c, file, position)!.unit).map(h => h.finding.rule)),
  }
  return itemsAt(a, world).map(({ span, doc, ...item }) => ({
    ...item,
    range: c.workspace.spot(a, span).range,
    data: { file, mark: a.door?.mark, doc },
  }))
}

export function resolveCompletion(c: Context, item: CompletionItem): CompletionItem {
  const { file, mark, doc } = item.data
  if (doc === undefined) return item
  const world = { file, files: c.workspace.model.files, rules: RULES_BY_ID, door: c.workspace.door(file, mark) }
  return { ...item, documentation: documentation(doc, world) }
}

export function signature(c: Context, file: string, position: Position): Signature | undefined {
  const a = whatIsAt(c, file, position)
  return a && signatureAt(a)
}

// ---- layout

export const format = (c: Context, file: string): { readonly text: string; readonly changed: boolean } =>
  layOut(c.workspace.text(file) ?? '')

export function formatEdits(c: Context, file: string, range?: Range): FileEdit[] {
  const source = c.workspace.source(file)
  if (!source) return []
  const { start, end } = range ? spanAt(source, range) : { start: 0, end: source.text.length }
  return c.workspace.textEdits(file, layoutEdits(source, start, end))
}

export function formatOnType(c: Context, file: string, position: Position, typed: string): FileEdit[] {
  const source = c.workspace.source(file)
  return source ? c.workspace.textEdits(file, onType(source, offsetAt(source, position), typed)) : []
}

// ---- fixes and refactorings

export function codeActions(c: Context, file: string, range: Range, only?: readonly string[]): CodeAction[] {
  return [
    ...(asked(only, 'quickfix') ? mending(c, file, range) : []),
    ...changing(c, file, range, only),
    // looks at the whole file, so only where it was asked for by name
    ...(only?.length && asked(only, 'source.fixAll.doorwright') ? fixAllAction(c, file) : []),
  ]
}

/** For each finding that a range touches: its fixes, and to accept it. */
function mending(c: Context, file: string, range: Range): CodeAction[] {
  const out: CodeAction[] = []
  for (const { unit, line, from, to } of unitsIn(c, file, range))
    for (const h of c.findings.held(unit)) {
      if (h.finding.place.start > to || h.finding.place.end < from || h.finding.accepted !== undefined) continue
      const finding = c.findings.located(h, line)
      out.push(...fixActions(finding))
      const { opening } = h.finding
      const door = opening === undefined ? undefined : unit.doors.find(d => d.mark === opening)
      const allow = door && allowAction(door, h.finding, RULES_BY_ID.get(h.finding.rule))
      if (allow)
        out.push({ ...allow, preferred: false, findings: [finding], edits: c.workspace.locateEdits(allow.edits) })
    }
  return offeredOnce(out)
}

/** One is preferred where it is safe, or where there is no other. */
function fixActions(finding: LocatedFinding): CodeAction[] {
  const fixes = finding.fixes()
  const preferred = fixes.find(f => f.safe) ?? (fixes.length === 1 ? fixes[0] : undefined)
  return fixes.map(f => ({
    title: f.title,
    kind: 'quickfix',
    preferred: f === preferred,
    findings: [finding],
    edits: f.edits,
  }))
}

/** The same edits may mend several findings: one action for all of them. */
function offeredOnce(actions: readonly CodeAction[]): CodeAction[] {
  const byEdits = new Map<string, CodeAction>()
  for (const a of actions) {
    const key = JSON.stringify(a.edits)
    const same = byEdits.get(key)
    const findings = [...(same?.findings ?? []), ...(a.findings ?? [])]
    byEdits.set(key, same ? { ...same, preferred: same.preferred || a.preferred, findings } : a)
  }
  return [...byEdits.values()]
}

/** What can be done at a place whether or not anything is wrong there. */
function changing(c: Context, file: string, range: Range, only: readonly string[] | undefined): CodeAction[] {
  const a = whatIsAt(c, file, range.start)
  if (!a) return []
  const { files } = c.workspace.model
  const { start, end } = spanAt(c.workspace.source(file)!, range)
  const selected = { start: a.offset, end: a.offset + end - start }
  return [
    ...refactors(a, files).filter(r => asked(only, r.kind)),
    ...refactorings(a, selected, files)
      .filter(r => asked(only, r.kind) && (r.sure || keepsValues(r.edits, c.bench, r.apart)))
      .map(({ title, kind, edits }) => ({ title, kind, edits })),
  ].map(r => ({ ...r, preferred: false, edits: c.workspace.locateEdits(r.edits) }))
}

function fixAllAction(c: Context, file: string): CodeAction[] {
  const all = difference(c.workspace.text(file) ?? '', fixAll(c, file).text)
  if (!all) return []
  const edits = c.workspace.textEdits(file, [all])
  return [{ title: 'Apply every safe fix in this file', kind: 'source.fixAll.doorwright', preferred: false, edits }]
}

export function fixAll(c: Context, file: string): { readonly text: string; readonly applied: readonly string[] } {
  const { workspace } = c
  const before = workspace.source(file) ?? parseSource('')
  const applied: string[] = []
  for (let round = 0; round < 10; round++) {
    const source = workspace.source(file)!
    const edits: TextEdit[] = []
    for (const f of c.findings.of(file)) {
      if (f.accepted !== undefined) continue
      const fix = f.fixes().find(x => x.safe && x.edits.every(e => e.file === file))
      const own = fix?.edits.map(e => ({ ...spanAt(source, e.range), text: e.text }))
      if (!own || own.some(a => edits.some(b => a.start <= b.end && b.start <= a.end))) continue
      // A copied value is first put right where it was written: that may be all the copy needs.
      if (edits.length > 0 && f.related.some(r => r.file === file && r.message === 'written here')) continue
      edits.push(...own)
      applied.push(fix!.title)
    }
    if (edits.length === 0) break
    workspace.set(file, editSource(source, edits))
  }
  const text = workspace.text(file) ?? ''
  workspace.set(file, before)
  return { text, applied }
}

// ---- other names

export function renameTarget(c: Context, file: string, position: Position): RenameTarget {
  const found = nameAt(c, file, position)
  const state = renamable(found)
  return state.ok ? { ok: true, text: state.text, range: c.workspace.spot(found!.unit, state.span).range } : state
}

export function rename(c: Context, file: string, position: Position, name: string): Renamed {
  const where = c.workspace.all()
  const made = renaming(nameAt(c, file, position), name, where, c.bench)
  return made.ok ? { ok: true, edits: c.workspace.locateEdits(made.edits) } : made
}

export function moved(c: Context, moves: readonly Move[]): FileEdit[] {
  const where = c.workspace.all()
  return c.workspace.locateEdits(movedFiles(moves, where, c.workspace.model.files))
}
