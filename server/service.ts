/**
 * All that the tool can do, on one page. The language server and the command line call this and nothing below it.
 *
 * Files are named by path or URI, as the host likes; the service never touches a disk itself. Positions count lines and
 * UTF-16 columns from 0.
 */
import {
  applyEdits,
  type Chunk,
  chunkIndexAt,
  editSource,
  format,
  lineStarts,
  parseSource,
  type Source,
  type Span,
  type TextEdit,
} from '../grammar/index.ts'
import { type At, at } from './features/at.ts'
import { type Call, feeds, type Owner, usedBy, type ValueItem, valueItem } from './features/calls.ts'
import { allowAction, refactors } from './features/code_actions.ts'
import { documentation } from './features/completion/docs.ts'
import { completion } from './features/completion/index.ts'
import { definition, typeDefinition, usedFile } from './features/definition.ts'
import { mentionsOf } from './features/everywhere.ts'
import { folding } from './features/folding.ts'
import { formatEdits } from './features/formatting.ts'
import { hover } from './features/hover.ts'
import { type Hint, hintEdits, hintTooltip, inlayHints } from './features/inlay_hints.ts'
import { lenses } from './features/lenses.ts'
import { links } from './features/links.ts'
import { type Mention, mentionAt, mentions } from './features/mentions.ts'
import { type Move, movedFiles } from './features/moved_files.ts'
import { onType } from './features/on_type.ts'
import { type OutlineNode, outline } from './features/outline.ts'
import { refactorings } from './features/refactor/index.ts'
import { inner, refusal, renamable, taken, written } from './features/rename.ts'
import { selections } from './features/selection.ts'
import { semanticTokens } from './features/semantic_tokens.ts'
import { signature } from './features/signature.ts'
import { numbersOf, type StockSpring, size } from './features/size/index.ts'
import { search } from './features/symbols.ts'
import { type Bench, keepsValues, renamesCleanly, supposing } from './features/trial.ts'
import { type Explanation, explain, missing, type ShownValue, values } from './features/values.ts'
import {
  type Door,
  type Edit,
  type Finding,
  type Host,
  labelOf,
  Model,
  type Place,
  type Severity,
  type Unit,
} from './model/index.ts'
import type { Version } from './report/compare.ts'
import { jobText, type Paper, type SheetFinding, sheet, sheetName } from './report/index.ts'
import { type PreviewSection, preview } from './report/preview.ts'
import { RULES } from './rules/index.ts'
import { Runner } from './rules/run.ts'
import {
  asked,
  type CodeAction,
  type CodeLens,
  type CompletionItem,
  type DocumentLink,
  difference,
  type FoldingRange,
  fixActions,
  type Highlight,
  type Hover,
  type InlayHint,
  type OutlineItem,
  type Renamed,
  type RenameTarget,
  type SemanticToken,
  type Signature,
  type ValueCall,
  type ValueNode,
  type WorkspaceSymbol,
} from './verbs.ts'

export interface ServiceHost extends Host {
  /** The text of a file, or undefined where it cannot be read. Only asked for files that `use` leads to. */
  read(file: string): string | undefined
  /** The other `.door` files that `use` in `file` could name, as paths relative to it, with `/`. */
  usePaths?(file: string): readonly string[]
  /** The `.door` files of the workspace, for what looks at all of them; only asked when a person asks for that. */
  workspaceFiles?(): readonly string[]
  /** Told of a fault inside a rule or an editor verb; the rest goes on. */
  fault?(where: string, error: unknown): void
  /** What the house sets for a file. Asked often; the same object as long as nothing in it has changed. */
  project?(file: string): Project | undefined
}

/** What a house sets for all of its jobs. */
export interface Project {
  /** The file it stands in. */
  readonly file: string
  /** Its limits as text of the language: what every file says itself, or uses, is nearer. */
  readonly limits: string
  readonly severity: Readonly<Record<string, Severity | 'off'>>
}

export interface Position {
  readonly line: number
  readonly character: number
}
export interface Range {
  readonly start: Position
  readonly end: Position
}
export interface Location {
  readonly file: string
  readonly range: Range
}
export interface FileEdit extends Location {
  readonly text: string
}
/** A finding with lines and columns. `fixes` is worked out when it is asked for. */
export interface LocatedFinding {
  readonly rule: string
  readonly severity: Severity
  readonly message: string
  readonly range: Range
  readonly opening: string | undefined
  /** The block it belongs to, by path. */
  readonly block: string | undefined
  readonly limit: { readonly text: string; readonly source: string } | undefined
  readonly accepted: string | undefined
  readonly related: readonly (Location & { readonly message: string })[]
  fixes(): readonly { readonly title: string; readonly safe: boolean; readonly edits: readonly FileEdit[] }[]
}

/** An opening with its values. Lines count from 0. */
export interface OpeningValues {
  readonly mark: string
  readonly line: number
  readonly complete: boolean
  readonly values: readonly ShownValue[]
  readonly missing: readonly string[]
}

/** A chunk's findings with lines relative to the chunk, kept as long as its unit. */
interface Held {
  readonly finding: Finding
  readonly range: Range
  readonly opening: string | undefined
}

export class Service {
  readonly model: Model
  readonly #host: ServiceHost
  readonly #runner: Runner
  /** Files that an editor or the caller holds open; the others are read through the host when a `use` leads to them. */
  readonly #open = new Set<string>()
  readonly #unreadable = new Set<string>()
  readonly #chunkLines = new WeakMap<Chunk, readonly number[]>()
  readonly #lineOfChunk = new WeakMap<Source, readonly number[]>()
  readonly #indexOfChunk = new WeakMap<Source, ReadonlyMap<Chunk, number>>()
  readonly #held = new WeakMap<Unit, { readonly by: Project | undefined; readonly held: readonly Held[] }>()
  readonly #hints = new WeakMap<Unit, readonly Hint[]>()

  constructor(host: ServiceHost) {
    this.#host = host
    this.model = new Model({
      resolve: (from, path) => host.resolve(from, path),
      units: host.units,
      house: file => host.project?.(file)?.file,
    })
    this.#runner = new Runner(RULES, (rule, error) => host.fault?.(`rule ${rule}`, error))
  }

  // ---- files

  open(file: string, text: string): void {
    this.#open.add(file)
    this.#set(file, parseSource(text))
  }

  /** Applies edits given as ranges, one after the other, each on the text that the one before left. */
  edit(file: string, changes: readonly { readonly range?: Range; readonly text: string }[]): void {
    let source = this.source(file) ?? parseSource('')
    for (const c of changes)
      source = c.range
        ? editSource(source, [
            { start: this.#offset(source, c.range.start), end: this.#offset(source, c.range.end), text: c.text },
          ])
        : parseSource(c.text)
    this.#set(file, source)
  }

  /** The file is no longer held open; what is on the disk counts again. */
  close(file: string): void {
    this.#open.delete(file)
    this.model.delete(file)
    this.refresh(file)
  }

  /** The file changed, came or went on the disk. Files held open are not touched. */
  refresh(file: string): void {
    if (this.#open.has(file)) return
    this.#unreadable.delete(file)
    if (this.model.files.get(file)) this.model.delete(file)
  }

  isOpen(file: string): boolean {
    return this.#open.has(file)
  }

  get openFiles(): readonly string[] {
    return [...this.#open]
  }

  /** All files that are held, whether opened or read. */
  get knownFiles(): readonly string[] {
    return [...this.model.files.all].map(i => i.file)
  }

  source(file: string): Source | undefined {
    return this.model.files.get(file)?.source
  }

  text(file: string): string | undefined {
    return this.source(file)?.text
  }

  /** The files that reach `file` by `use`: what has to be looked at again when it changes. */
  users(file: string): string[] {
    return [...this.model.files.all]
      .map(i => i.file)
      .filter(f => f !== file && this.model.files.reach(f).some(r => r.file === file))
  }

  /**
   * Every `use` that a file's findings hang on: its own and those of the files that it reaches. `file` is missing where
   * it may not be followed, `text` where there is nothing to read.
   */
  uses(file: string): { from: string; path: string; file: string | undefined; text: string | undefined }[] {
    this.#load(file)
    const { files } = this.model
    return files.reach(file).flatMap(({ file: from, uses }) =>
      uses.flatMap(({ node }) => {
        if (!node.path) return []
        const target = files.target(from, node.path.value)
        const used = target.ok ? target.file : undefined
        return [{ from, path: node.path.value, file: used, text: used === undefined ? undefined : this.text(used) }]
      }),
    )
  }

  /** All files of the workspace, as they are now: those held open, and those on the disk read anew. */
  workspace(): string[] {
    const isJob = (f: string): boolean => f.endsWith('.door')
    for (const f of new Set([...(this.#host.workspaceFiles?.() ?? []), ...this.knownFiles.filter(isJob)])) {
      if (this.#open.has(f)) continue
      const text = this.#host.read(f)
      if (text === undefined) this.refresh(f)
      else if (this.text(f) !== text) this.#set(f, parseSource(text))
    }
    return this.knownFiles.filter(f => this.#open.has(f) || isJob(f))
  }

  #set(file: string, source: Source): void {
    this.#unreadable.delete(file)
    this.model.set(file, source)
  }

  /** Reads the files that `use` leads to, each once, and takes over the limits of the house. */
  #load(file: string): void {
    const house = this.#host.project?.(file)
    if (house && this.text(house.file) !== house.limits) this.model.set(house.file, parseSource(house.limits))
    const queue = [file]
    const seen = new Set(queue)
    for (let at = queue.pop(); at !== undefined; at = queue.pop())
      for (const used of this.model.files.usedBy(at)) {
        if (seen.has(used)) continue
        seen.add(used)
        if (!this.model.files.get(used) && !this.#unreadable.has(used)) {
          const text = this.#host.read(used)
          if (text === undefined) this.#unreadable.add(used)
          else this.model.set(used, parseSource(text))
        }
        queue.push(used)
      }
  }

  // ---- what the file comes to

  units(file: string): Unit[] {
    this.#load(file)
    return this.model.units(file)
  }

  doors(file: string): Door[] {
    return this.units(file).flatMap(u => u.doors)
  }

  /** Every finding of a file, in the order of its text. */
  findings(file: string): LocatedFinding[] {
    const out: LocatedFinding[] = []
    const source = this.source(file)
    if (!source) return out
    const lines = this.#lines(source)
    for (const [i, unit] of this.units(file).entries())
      for (const h of this.#heldOf(unit)) out.push(this.#located(h, lines[i]!))
    return out
  }

  #heldOf(unit: Unit): readonly Held[] {
    const by = this.#host.project?.(unit.file)
    const old = this.#held.get(unit)
    if (old && old.by === by) return old.held
    // what the language has against a line belongs to the opening that the line is in
    const only = unit.doors.length === 1 ? unit.doors[0]!.mark : undefined
    const held = this.#runner.findings(unit, this.model.files).flatMap(f => {
      const finding = by ? withHouseSeverity(f, by) : f
      return finding ? [{ finding, range: this.#inChunk(finding.place), opening: finding.opening ?? only }] : []
    })
    this.#held.set(unit, { by, held })
    return held
  }

  #located({ finding, range, opening }: Held, line: number): LocatedFinding {
    const self = this
    return {
      rule: finding.rule,
      severity: finding.severity!,
      message: finding.message,
      range: shift(range, line),
      opening,
      block: finding.block,
      limit: finding.limit,
      accepted: finding.accepted,
      get related() {
        return (finding.related ?? []).map(r => ({ ...self.locate(r.place), message: r.message }))
      },
      fixes: () =>
        (finding.fixes ?? []).map(f => ({
          title: f.title,
          safe: f.safe,
          edits: f.edits.map(e => ({ ...self.locate(e.place), text: e.text })),
        })),
    }
  }

  /** Every opening of a file with its known values and what is missing. */
  values(file: string): OpeningValues[] {
    return this.doors(file).map(door => ({
      mark: door.mark,
      line: this.locate(door.header('opening')).range.start.line,
      complete: door.complete,
      values: values(door),
      missing: missing(door),
    }))
  }

  /** How a value of an opening came about; undefined where the mark or the path leads nowhere. */
  explain(file: string, mark: string, path: string): Explanation | undefined {
    const door = this.doors(file).find(d => d.mark === mark)
    return door && explain(door, path)
  }

  /** The openings of a file as a list shows them: where each is, and what stands against it. */
  openings(file: string): OpeningState[] {
    const counts = new Map<string, number>()
    for (const f of this.findings(file)) {
      const key = `${f.severity} ${f.opening}`
      if (f.accepted === undefined) counts.set(key, (counts.get(key) ?? 0) + 1)
    }
    return this.doors(file).map(door => {
      const count = (s: Severity) => counts.get(`${s} ${door.mark}`) ?? 0
      const { file, chunk, node } = door.item
      const { range } = this.locate({ file, chunk, start: node.start, end: node.end })
      return {
        mark: door.mark,
        line: range.start.line,
        endLine: range.end.line,
        errors: count('error'),
        warnings: count('warning'),
        notes: count('note'),
        complete: door.complete,
        missing: door.missing(),
        worst: door.number('balance.worst') === undefined ? undefined : door.show('balance.worst'),
      }
    })
  }

  /** The live preview of an opening; undefined where the file has no such mark. */
  preview(
    file: string,
    mark: string,
  ): { readonly line: number; readonly sections: readonly PreviewSection[] } | undefined {
    const door = this.doors(file).find(d => d.mark === mark)
    if (!door) return undefined
    const { line } = this.locate(door.header('opening')).range.start
    const from = ({ start }: Range): Position => ({ line: start.line - line, character: start.character })
    const findings = this.findings(file)
      .filter(f => f.opening === mark)
      .map(f => ({ ...f, line: f.range.start.line + 1, never: neverAccepted(f.rule), spot: from(f.range) }))
    return { line, sections: preview(door, findings, place => from(this.locate(place).range)) }
  }

  /**
   * The printable field sheet of a file's job: one HTML file that stands by itself. The same job gives the same bytes.
   * @param version of the tool, for its header
   * @param paper to print on; whoever prints it chooses where it is not given
   */
  sheet(file: string, version = '', paper?: Paper): string {
    const { number, job } = this.#jobOf(file)
    const doors = this.doors(file)
    const body = doors.map(d => this.locate({ ...d.item, start: d.item.node.start, end: d.item.node.end }).range)
    const holds = (r: Range, p: Position): boolean => !before(p, r.start) && before(p, r.end)
    // a finding belongs to the opening that it stands in; marks may stand twice by mistake
    const openingOf = (f: LocatedFinding): number => {
      const at = body.findIndex(r => holds(r, f.range.start))
      return at >= 0 ? at : doors.findIndex(d => d.mark === f.opening)
    }
    const found = this.findings(file).map(f => ({
      opening: openingOf(f),
      finding: {
        rule: f.rule,
        severity: f.severity,
        message: f.message,
        accepted: f.accepted,
        line: f.range.start.line + 1,
        never: neverAccepted(f.rule),
      } satisfies SheetFinding,
    }))
    const of = (i: number): SheetFinding[] => found.filter(f => f.opening === i).map(f => f.finding)
    return sheet({
      number,
      job,
      openings: doors.map((door, i) => ({ door, description: door.item.node.doc, findings: of(i) })),
      findings: of(-1),
      version,
      paper,
    })
  }

  /** A name for the file of the sheet: `HS-2207-B.html`. */
  sheetName(file: string): string {
    const { number, job } = this.#jobOf(file)
    return sheetName(number, jobText(job, 'revision'))
  }

  #jobOf(file: string) {
    const job = this.units(file)
      .flatMap(u => u.singles)
      .find(s => s.root.spec.name === 'job')
    return { job, number: this.jobNumber(file) ?? (file.split(/[\\/]/).at(-1) ?? '').replace(/\.door$/, '') }
  }

  /** The openings of files, with what stands against them: one side of a comparison. `name` is how a file is called on both. */
  version(files: readonly { readonly file: string; readonly name: string }[]): Version {
    const doors: Version['doors'][number][] = []
    const others: Version['others'][number][] = []
    for (const { file, name } of files) {
      const all = this.units(file).map(unit => ({ unit, findings: this.#heldOf(unit).map(h => compared(h.finding)) }))
      const job = this.jobNumber(file)
      for (const { unit, findings } of all)
        for (const door of unit.doors)
          doors.push({ file: name, job, door, findings: findings.filter(f => f.opening === door.mark) })
      const marks = new Set(all.flatMap(a => a.unit.doors.map(d => d.mark)))
      const loose = all.flatMap(a => a.findings).filter(f => f.opening === undefined || !marks.has(f.opening))
      others.push({ file: name, findings: loose })
    }
    return { doors, others }
  }

  /** The number of the job that a file belongs to. */
  jobNumber(file: string): string | undefined {
    const job = this.model.files.get(file)?.named.get('job')?.node
    return job?.kind === 'block' ? labelOf(job) : undefined
  }

  // ---- text

  /** Where a file cannot be read as the language: what `format` leaves as it is. */
  unsound(file: string): { readonly range: Range; readonly message: string }[] {
    const source = this.source(file)
    if (!source) return []
    const lines = this.#lines(source)
    return source.chunks.flatMap((chunk, i) =>
      chunk.findings.map(f => ({
        range: shift({ start: this.#chunkPosition(chunk, f.start), end: this.#chunkPosition(chunk, f.end) }, lines[i]!),
        message: f.message,
      })),
    )
  }

  /** The edits that lay a file out; none where it is laid out already. */
  format(file: string): { readonly text: string; readonly changed: boolean } {
    return format(this.text(file) ?? '')
  }

  /** The text with every safe fix applied, round after round until nothing is left to fix. */
  fixAll(file: string): { readonly text: string; readonly applied: readonly string[] } {
    const before = this.source(file) ?? parseSource('')
    const applied: string[] = []
    for (let round = 0; round < 10; round++) {
      const source = this.source(file)!
      const edits: TextEdit[] = []
      for (const f of this.findings(file)) {
        if (f.accepted !== undefined) continue
        const fix = f.fixes().find(x => x.safe && x.edits.every(e => e.file === file))
        const own = fix?.edits.map(e => ({
          start: this.#offset(source, e.range.start),
          end: this.#offset(source, e.range.end),
          text: e.text,
        }))
        if (!own || own.some(a => edits.some(b => a.start <= b.end && b.start <= a.end))) continue
        // A copied value is first put right where it was written: that may be all the copy needs.
        if (edits.length > 0 && f.related.some(r => r.file === file && r.message === 'written here')) continue
        edits.push(...own)
        applied.push(fix!.title)
      }
      if (edits.length === 0) break
      this.#set(
        file,
        editSource(
          source,
          edits.sort((a, b) => a.start - b.start),
        ),
      )
    }
    const text = this.text(file) ?? ''
    this.#set(file, before)
    return { text, applied }
  }

  /** As `format`, as edits of no more than what differs. */
  formatEdits(file: string): FileEdit[] {
    const source = this.source(file)
    return source ? this.#edits(file, formatEdits(source)) : []
  }

  formatRange(file: string, range: Range): FileEdit[] {
    const source = this.source(file)
    return source
      ? this.#edits(file, formatEdits(source, this.#offset(source, range.start), this.#offset(source, range.end)))
      : []
  }

  // ---- in the editor

  /** What stands under the cursor: what it is, what it comes to, and where that comes from. */
  hover(file: string, position: Position): Hover | undefined {
    const a = this.#at(file, position)
    const h = a && hover(a, { rules: RULES_BY_ID, files: this.model.files })
    return h && { markdown: h.markdown, range: this.#range(a, h.span) }
  }

  /** What may be written at the cursor. Only the one that is looked at needs `resolveCompletion`. */
  completion(file: string, position: Position): CompletionItem[] {
    const a = this.#at(file, position)
    if (!a) return []
    const found = () => this.#heldOf(this.#unitAt(file, position)!.unit).map(h => h.finding.rule)
    const world = {
      files: this.model.files,
      rules: RULES_BY_ID,
      usable: () => this.#host.usePaths?.(file) ?? [],
      found: () => new Set(found()),
    }
    return completion(a, world).map(({ span, doc, ...item }) => ({
      ...item,
      range: this.#range(a, span),
      data: { file, mark: a.door?.mark, doc },
    }))
  }

  resolveCompletion(item: CompletionItem): CompletionItem {
    const { file, mark, doc } = item.data
    const door = mark === undefined ? undefined : this.doors(file).find(d => d.mark === mark)
    return doc === undefined
      ? item
      : { ...item, documentation: documentation(doc, { file, files: this.model.files, rules: RULES_BY_ID, door }) }
  }

  /** What follows from the lines of a range, for their ends. */
  inlayHints(file: string, range: Range): InlayHint[] {
    const out: InlayHint[] = []
    for (const { unit, line, from, to } of this.#unitsIn(file, range))
      for (const h of this.#hintsOf(unit, file))
        if (from <= h.offset && h.offset <= to) {
          const mark = unit.doors.find(
            d => d.item.node.start <= h.offset && h.offset <= lineEndAfter(unit.chunk, d.item.node.end),
          )?.mark
          const position = this.#chunkPosition(unit.chunk, h.offset)
          out.push({
            position: { line: position.line + line, character: position.character },
            label: h.label,
            path: h.paths[0],
            data: { file, mark, paths: h.paths, of: h.of, writes: h.writes },
          })
        }
    return out
  }

  /** Fills in the derivation, and what a double click writes. */
  resolveInlayHint(hint: InlayHint): InlayHint {
    const { file, mark, writes } = hint.data
    const door = mark === undefined ? undefined : this.doors(file).find(d => d.mark === mark)
    const edits = door && writes !== undefined ? hintEdits(door, writes) : undefined
    return {
      ...hint,
      tooltip: hintTooltip(door, { ...hint.data, label: hint.label }),
      edits: edits?.map(e => ({ ...this.locate(e.place), text: e.text })),
    }
  }

  /** Fixes of the findings in a range, and what else can be done there. `only` takes the kinds of the protocol. */
  codeActions(file: string, range: Range, only?: readonly string[]): CodeAction[] {
    const out: CodeAction[] = []
    const edits = (list: readonly Edit[]): FileEdit[] => list.map(e => ({ ...this.locate(e.place), text: e.text }))
    for (const { unit, line, from, to } of asked(only, 'quickfix') ? this.#unitsIn(file, range) : [])
      for (const h of this.#heldOf(unit)) {
        if (h.finding.place.start > to || h.finding.place.end < from || h.finding.accepted !== undefined) continue
        const finding = this.#located(h, line)
        out.push(...fixActions(finding))
        const door = unit.doors.find(d => d.mark === h.finding.opening)
        const allow = door && allowAction(door, h.finding, RULES_BY_ID.get(h.finding.rule))
        if (allow) out.push({ ...allow, preferred: false, finding, edits: edits(allow.edits) })
      }
    const a = this.#at(file, range.start)
    for (const r of a ? refactors(a, this.model.files) : [])
      if (asked(only, r.kind)) out.push({ ...r, preferred: false, edits: edits(r.edits) })
    const selected = a && {
      start: a.offset,
      end: a.offset + this.offset(file, range.end) - this.offset(file, range.start),
    }
    for (const r of selected ? refactorings(a, selected, this.model.files) : [])
      if (asked(only, r.kind) && (r.sure || keepsValues(r.edits, this.#bench, r.apart)))
        out.push({ title: r.title, kind: r.kind, preferred: false, edits: edits(r.edits) })
    // looks at the whole file, so only where it was asked for by name
    if (only?.length && asked(only, 'source.fixAll.doorwright')) out.push(...this.#fixAllAction(file))
    return out
  }

  #fixAllAction(file: string): CodeAction[] {
    const all = difference(this.text(file) ?? '', this.fixAll(file).text)
    return all
      ? [
          {
            title: 'Apply every safe fix in this file',
            kind: 'source.fixAll.doorwright',
            preferred: false,
            edits: this.#edits(file, [all]),
          },
        ]
      : []
  }

  /** The blocks and names of a file as a tree. */
  outline(file: string): OutlineItem[] {
    const source = this.source(file)
    if (!source) return []
    const lines = this.#lines(source)
    return this.units(file).flatMap((unit, i) => {
      const range = (s: Span): Range =>
        shift(
          { start: this.#chunkPosition(unit.chunk, s.start), end: this.#chunkPosition(unit.chunk, s.end) },
          lines[i]!,
        )
      const located = ({ span, selection, children, ...rest }: OutlineNode): OutlineItem => ({
        ...rest,
        range: range(span),
        selection: range(selection),
        children: children.map(located),
      })
      return outline(unit).map(located)
    })
  }

  folding(file: string): FoldingRange[] {
    const source = this.source(file)
    return (source ? folding(source) : []).flatMap(f => {
      // the closing brace stays in sight
      const [start, end] = [
        this.position(file, f.start).line,
        this.position(file, f.end).line - (f.kind === 'block' ? 1 : 0),
      ]
      return end > start ? [f.kind === 'block' ? { start, end } : { start, end, kind: f.kind }] : []
    })
  }

  // ---- names

  /** The service as what looks through all files, and what tries edits out, takes it. */
  get #bench(): Bench {
    return {
      files: this.model.files,
      units: file => this.units(file),
      any: file => this.#anyEvaluator(file),
      set: (file, source) => this.#set(file, source),
      rules: file => this.findings(file).map(f => f.rule),
      users: file => this.users(file),
    }
  }

  #mentionsIn(unit: Unit): readonly Mention[] {
    return mentions(unit, this.model.files, () => this.#anyEvaluator(unit.file))
  }

  #mentionAt(file: string, position: Position): { mention: Mention; unit: Unit } | undefined {
    const found = this.#unitAt(file, position)
    const mention = found && mentionAt(this.#mentionsIn(found.unit), found.offset)
    return mention && { mention, unit: found.unit }
  }

  #spot = (unit: Unit, span: Span): Location => this.locate({ file: unit.file, chunk: unit.chunk, ...startEnd(span) })

  /** Where the name under the cursor was written; for a value that is worked out, the fields that it reads. */
  definition(file: string, position: Position): Location[] {
    const a = this.#at(file, position)
    const used = a && usedFile(a, this.model.files)
    if (used) return [{ file: used.file, range: TOP }]
    const found = this.#mentionAt(file, position)
    return found ? definition(found.mention).map(p => this.locate(p)) : []
  }

  /** What it is made after: the opening or stock item it is like, the block that a value belongs to. */
  typeDefinition(file: string, position: Position): Location[] {
    const found = this.#mentionAt(file, position)
    return found ? typeDefinition(found.mention, this.model.files).map(p => this.locate(p)) : []
  }

  /** Every place in the workspace that means the same, with or without where it is written. */
  references(file: string, position: Position, declared: boolean): Location[] {
    const where = this.workspace()
    const found = this.#mentionAt(file, position)
    if (!found?.mention.meaning) return []
    return mentionsOf(found.mention.meaning, found.mention.name, where, this.#bench)
      .filter(f => declared || !f.mention.definition)
      .map(f => this.#spot(f.unit, f.mention.span))
  }

  /** The same in one file. */
  highlights(file: string, position: Position): Highlight[] {
    const found = this.#mentionAt(file, position)
    if (!found?.mention.meaning) return []
    return mentionsOf(found.mention.meaning, found.mention.name, [file], this.#bench).map(f => ({
      range: this.#spot(f.unit, f.mention.span).range,
      write: f.mention.definition,
    }))
  }

  /** What would be renamed, or why nothing can be. */
  renameTarget(file: string, position: Position): RenameTarget {
    const found = this.#mentionAt(file, position)
    const state = renamable(found?.mention, found?.unit.chunk.text ?? '')
    return state.ok ? { ok: true, text: state.text, range: this.#spot(found!.unit, state.span).range } : state
  }

  /**
   * Renames an opening, stock item, spring or `let` wherever it is meant. Refused where the name has no right form, is
   * taken, or would come to mean something else anywhere; nothing is found afterwards that was not found before.
   */
  rename(file: string, position: Position, name: string): Renamed {
    const where = this.workspace()
    const target = this.renameTarget(file, position)
    if (!target.ok) return target
    const { mention } = this.#mentionAt(file, position)!
    const no = refusal(mention, name)
    if (no) return { ok: false, reason: no }
    if (name === mention.name) return { ok: true, edits: [] }
    const all = mentionsOf(mention.meaning!, mention.name, where, this.#bench)
    for (const f of new Set(all.map(m => m.unit.file))) {
      const reason = taken(mention, name, mention.of ?? '', f, this.model.files)
      if (reason) return { ok: false, reason }
    }
    const edits = all.map(({ unit, mention: m }): Edit => {
      const span = m.kind === 'opening' ? m.span : inner(m.span, unit.chunk.text)
      return { place: { file: unit.file, chunk: unit.chunk, ...startEnd(span) }, text: written(m, name) }
    })
    const located = edits.map(e => ({ ...this.locate(e.place), text: e.text }))
    return renamesCleanly(edits, mention, name, where, this.#bench)
      ? { ok: true, edits: located }
      : {
          ok: false,
          reason: `\`${name}\` means something else where \`${mention.name}\` is named, so values would change. Choose another name.`,
        }
  }

  /** The names of the workspace that fit some words, the best first. */
  workspaceSymbols(query: string): WorkspaceSymbol[] {
    const all = this.workspace().flatMap(f => [...(this.model.files.get(f)?.named.values() ?? [])])
    return search(query, all, 500).map(({ name, kind, item }) => {
      const { node } = item
      const span = node.kind === 'block' ? (node.label ?? node.name) : node
      return { name, kind, ...this.locate({ ...item, ...startEnd(span) }) }
    })
  }

  /** What `use` has to say once files or folders have moved. */
  moved(moves: readonly Move[]): FileEdit[] {
    const where = this.workspace()
    return movedFiles(moves, where, this.model.files).map(e => ({ ...this.locate(e.place), text: e.text }))
  }

  // ---- the look of the text

  /** For each position what a growing selection takes in, the innermost first. */
  selectionRanges(file: string, positions: readonly Position[]): Range[][] {
    return positions.map(p => {
      const found = this.#unitAt(file, p)
      if (!found || found.unit.chunk === EMPTY) return [{ start: p, end: p }]
      const out = selections(found.unit.chunk, found.offset).map(s => this.#spot(found.unit, s).range)
      const whole = { start: TOP.start, end: this.position(file, this.text(file)!.length) }
      return JSON.stringify(out.at(-1)) === JSON.stringify(whole) ? out : [...out, whole]
    })
  }

  links(file: string): DocumentLink[] {
    return this.units(file).flatMap(u =>
      links(u.chunk, file, this.model.files).map(l => ({ range: this.#spot(u, l.span).range, file: l.file })),
    )
  }

  /** The words of a file, or of a part of it, with what they are. */
  semanticTokens(file: string, range?: Range): SemanticToken[] {
    const end = this.source(file) ? this.position(file, this.text(file)!.length) : TOP.end
    return this.#unitsIn(file, range ?? { start: TOP.start, end }).flatMap(({ unit, line }) =>
      this.#colours(unit).map(t => {
        const at = this.#chunkPosition(unit.chunk, t.start)
        return {
          line: at.line + line,
          character: at.character,
          length: t.end - t.start,
          type: t.type,
          modifiers: t.modifiers,
        }
      }),
    )
  }

  #colours(unit: Unit) {
    return semanticTokens(unit, this.#mentionsIn(unit))
  }

  signature(file: string, position: Position): Signature | undefined {
    const a = this.#at(file, position)
    return a && signature(a)
  }

  /** One line above each opening. */
  codeLenses(file: string): CodeLens[] {
    return this.openings(file).flatMap(lenses)
  }

  /** Edits of what was just typed: a `}` or a line end. */
  formatOnType(file: string, position: Position, typed: string): FileEdit[] {
    const source = this.source(file)
    return source ? this.#edits(file, onType(source, this.#offset(source, position), typed)) : []
  }

  // ---- from value to value

  /** The value under the cursor. */
  valueAt(file: string, position: Position): ValueNode | undefined {
    const found = this.#mentionAt(file, position)
    const target = found?.mention.target
    if (!found || !target || target.kind === 'let') return undefined
    const owner = this.#ownerAt(file, position, found.unit)
    const path = `${target.instance.path}.${target.spec.name}`
    const item = owner && valueItem(owner, path)
    return item && this.#node(owner, item, file, position.line)
  }

  /** What a value reads. */
  feeds({ file, line, path }: ValueNode['data']): ValueCall[] {
    const owner = this.#ownerAt(file, { line, character: 0 })
    return owner ? feeds(owner, path).map(c => this.#call(owner, c, file, line)) : []
  }

  /** What reads a value. */
  usedBy({ file, line, path }: ValueNode['data']): ValueCall[] {
    const owner = this.#ownerAt(file, { line, character: 0 })
    return owner ? usedBy(owner, path).map(c => this.#call(owner, c, file, line)) : []
  }

  #ownerAt(file: string, position: Position, unit = this.#unitAt(file, position)?.unit): Owner | undefined {
    const all: (Owner & { readonly item: Door['item'] })[] = [
      ...(unit?.doors ?? []).map(d => ({ item: d.item, root: d.root, evaluator: d.evaluator, door: d })),
      ...(unit?.singles ?? []),
    ]
    const within = (o: (typeof all)[number]): boolean => {
      const { start, end } = this.#spot(unit!, o.item.node).range
      return start.line <= position.line && position.line <= end.line
    }
    return all.find(within)
  }

  #node(owner: Owner, item: ValueItem, file: string, line: number): ValueNode {
    const { place, path, text, written } = item
    return { path, text, written, owner: owner.root.name ?? '', ...this.locate(place), data: { file, line, path } }
  }

  #call(owner: Owner, c: Call, file: string, line: number): ValueCall {
    return { value: this.#node(owner, c.item, file, line), places: c.places.map(p => this.locate(p)) }
  }

  #unitAt(file: string, position: Position): { unit: Unit; offset: number } | undefined {
    const source = this.source(file)
    if (!source) return undefined
    const offset = this.#offset(source, position)
    const i = chunkIndexAt(source, offset)
    const unit = this.units(file)[i]
    return unit
      ? { unit, offset: offset - source.starts[i]! }
      : { unit: { file, chunk: EMPTY, doors: [], singles: [], findings: [], dependencies: new Map() }, offset: 0 }
  }

  #at(file: string, position: Position): At | undefined {
    const found = this.#unitAt(file, position)
    return found && at(found.unit, found.offset, () => this.#anyEvaluator(file))
  }

  /** For what stands at the top of a file: any block of it finds the same names there. */
  #anyEvaluator(file: string) {
    const unit = this.units(file).find(u => u.doors.length + u.singles.length > 0)
    return (unit?.doors[0] ?? unit?.singles[0])?.evaluator
  }

  /** The chunks that a range touches, each with its first line and the range inside it. */
  #unitsIn(file: string, range: Range): { unit: Unit; line: number; from: number; to: number }[] {
    const source = this.source(file)
    if (!source) return []
    const [from, to] = [this.#offset(source, range.start), this.#offset(source, range.end)]
    const [first, last] = [chunkIndexAt(source, from), chunkIndexAt(source, to)]
    const lines = this.#lines(source)
    return this.units(file)
      .slice(Math.max(0, first), last + 1)
      .map((unit, i) => ({
        unit,
        line: lines[first + i]!,
        from: from - source.starts[first + i]!,
        to: to - source.starts[first + i]!,
      }))
  }

  #hintsOf(unit: Unit, file: string): readonly Hint[] {
    let hints = this.#hints.get(unit)
    if (!hints) {
      hints = inlayHints(unit, 0, unit.chunk.text.length, () => this.#anyEvaluator(file))
      // what stands at the top of a file hangs on other chunks, so it is looked at again each time
      if (unit.doors.length + unit.singles.length > 0) this.#hints.set(unit, hints)
    }
    return hints
  }

  #range(a: At, span: Span): Range {
    if (a.chunk === EMPTY) return { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
    return this.locate({ file: a.file, chunk: a.chunk, start: span.start, end: span.end }).range
  }

  #edits(file: string, edits: readonly TextEdit[]): FileEdit[] {
    return edits.map(e => ({
      file,
      range: { start: this.position(file, e.start), end: this.position(file, e.end) },
      text: e.text,
    }))
  }

  // ---- springs for an opening

  /**
   * Proposals for springs (and pipe) that balance an opening, best first, at most `most`. Those come first after which
   * no rule has an error or a warning about this opening that it did not have before, and none about its springs.
   */
  size(file: string, mark: string, most = 10): Sized {
    const door = this.doors(file).find(d => d.mark === mark)
    if (!door) return { ok: false, reason: `There is no opening "${mark}" in this file.` }
    const stock: StockSpring[] = []
    for (const item of this.model.files.names(file, 'spring')) {
      const single = this.units(item.file)
        .flatMap(u => u.singles)
        .find(s => s.item.node === item.node)
      if (single) stock.push({ name: single.root.name!, root: single.root, evaluator: single.evaluator })
    }
    const sizing = size(door, stock)
    if (!sizing.ok) return sizing
    const before = new Set(this.#against(file, mark).map(f => f.rule))
    const good: SizedProposal[] = []
    const rest: SizedProposal[] = []
    for (const p of sizing.proposals.slice(0, 60)) {
      if (good.length >= most) break
      const against = supposing(p.edits, this.#bench, () => this.#against(file, mark)).filter(
        f => !before.has(f.rule) || SPRING_GROUPS.has(groupOf(f.rule)),
      )
      const located = {
        title: p.title,
        rows: p.rows,
        numbers: numbersOf(p),
        score: p.score,
        against: against.map(f => f.rule),
        edits: p.edits.map(e => ({ ...this.locate(e.place), text: e.text })),
      }
      if (against.length === 0) good.push(located)
      else rest.push(located)
    }
    return { ok: true, proposals: [...good, ...rest].slice(0, most) }
  }

  #against(file: string, mark: string): LocatedFinding[] {
    return this.findings(file).filter(f => f.opening === mark && f.severity !== 'note' && f.accepted === undefined)
  }

  // ---- places

  /** Offset in the file's text of a position; clamped to the text. */
  offset(file: string, position: Position): number {
    const source = this.source(file)
    return source ? this.#offset(source, position) : 0
  }

  position(file: string, offset: number): Position {
    const source = this.source(file)!
    let i = source.starts.findLastIndex(s => s <= offset)
    if (i < 0) i = 0
    const chunk = source.chunks[i]
    if (!chunk) return { line: 0, character: 0 }
    const at = this.#chunkPosition(chunk, offset - source.starts[i]!)
    return { line: at.line + this.#lines(source)[i]!, character: at.character }
  }

  /** Lines and columns of a place. */
  locate(place: Place): Location {
    const source = this.source(place.file)
    let index = source && this.#indexOfChunk.get(source)
    if (source && !index) this.#indexOfChunk.set(source, (index = new Map(source.chunks.map((c, i) => [c, i]))))
    const i = index?.get(place.chunk)
    return { file: place.file, range: shift(this.#inChunk(place), i === undefined ? 0 : this.#lines(source!)[i]!) }
  }

  #inChunk(place: Place): Range {
    return { start: this.#chunkPosition(place.chunk, place.start), end: this.#chunkPosition(place.chunk, place.end) }
  }

  #starts(chunk: Chunk): readonly number[] {
    let starts = this.#chunkLines.get(chunk)
    if (!starts) this.#chunkLines.set(chunk, (starts = lineStarts(chunk.text)))
    return starts
  }

  #chunkPosition(chunk: Chunk, offset: number): Position {
    const starts = this.#starts(chunk)
    let low = 0
    let high = starts.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (starts[middle]! <= offset) low = middle
      else high = middle - 1
    }
    return { line: low, character: offset - starts[low]! }
  }

  /** The line that each chunk starts on. A chunk ends with its line end, so all but the last start at a line's start. */
  #lines(source: Source): readonly number[] {
    let lines = this.#lineOfChunk.get(source)
    if (!lines) {
      const out: number[] = []
      let line = 0
      for (const chunk of source.chunks) {
        out.push(line)
        line += this.#starts(chunk).length - 1
      }
      this.#lineOfChunk.set(source, (lines = out))
    }
    return lines
  }

  #offset(source: Source, position: Position): number {
    const lines = this.#lines(source)
    let i = lines.findLastIndex(l => l <= position.line)
    if (i < 0) i = 0
    const chunk = source.chunks[i]
    if (!chunk) return 0
    const starts = this.#starts(chunk)
    const line = Math.max(0, position.line - lines[i]!)
    if (line >= starts.length) return source.text.length
    let end = starts[line + 1] ?? chunk.text.length
    while (end > starts[line]! && (chunk.text[end - 1] === '\n' || chunk.text[end - 1] === '\r')) end--
    return source.starts[i]! + Math.min(starts[line]! + Math.max(0, position.character), end)
  }
}

export interface SizedProposal {
  readonly title: string
  readonly rows: readonly (readonly [name: string, text: string])[]
  /** The same in SI base units; angles in radians. */
  readonly numbers: Readonly<Record<string, number>>
  readonly score: number
  /** Rules that would still have something against it; none for a proposal that holds. */
  readonly against: readonly string[]
  readonly edits: readonly FileEdit[]
}
/** Lines from 0. */
export interface OpeningState {
  readonly mark: string
  readonly line: number
  readonly endLine: number
  readonly errors: number
  readonly warnings: number
  readonly notes: number
  readonly complete: boolean
  readonly missing: readonly string[]
  /** The worst out of balance in words, where it is known. */
  readonly worst: string | undefined
}
export type Sized =
  | { readonly ok: true; readonly proposals: readonly SizedProposal[] }
  | { readonly ok: false; readonly reason: string }

const MILDNESS = { error: 0, warning: 1, note: 2 } as const

/**
 * A finding as severe as the house wants its rule to be; none where the rule is off. What the rule itself calls milder
 * than its own severity does not become worse by it.
 */
function withHouseSeverity(f: Finding, { severity }: Project): Finding | undefined {
  const wanted = Object.hasOwn(severity, f.rule) ? severity[f.rule] : undefined
  if (wanted === undefined) return f
  if (wanted === 'off') return undefined
  const milder = f.severity !== RULES_BY_ID.get(f.rule)?.severity
  if (milder && MILDNESS[f.severity!] >= MILDNESS[wanted]) return f
  return Object.create(f, { severity: { value: wanted, enumerable: true } }) as Finding
}

const SPRING_GROUPS = new Set(['Drum and springs', 'Adjuster and balance'])
const before = (a: Position, b: Position): boolean =>
  a.line < b.line || (a.line === b.line && a.character < b.character)
const neverAccepted = (rule: string): boolean => {
  const r = RULES_BY_ID.get(rule)
  return r !== undefined && (r.never === true || r.group === 'Language')
}
const compared = (f: Finding) => ({
  rule: f.rule,
  severity: f.severity!,
  never: RULES_BY_ID.get(f.rule)?.never === true,
  message: f.message,
  accepted: f.accepted,
  block: f.block,
  opening: f.opening,
})
const groupOf = (rule: string): string => RULES.find(r => r.id === rule)?.group ?? ''

const startEnd = ({ start, end }: Span): Span => ({ start, end })
const TOP: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
/** What an empty file has for a chunk. */
const EMPTY: Chunk = { text: '', statements: [], findings: [] }
const RULES_BY_ID = new Map(RULES.map(r => [r.id, r]))

/** The end of the line that an offset stands in. */
function lineEndAfter(chunk: Chunk, offset: number): number {
  const rest = chunk.text.slice(offset).search(/[\r\n]/)
  return rest < 0 ? chunk.text.length : offset + rest
}

const shift = (range: Range, lines: number): Range => ({
  start: { line: range.start.line + lines, character: range.start.character },
  end: { line: range.end.line + lines, character: range.end.character },
})

export { TOKEN_MODIFIERS, TOKEN_TYPES } from './features/semantic_tokens.ts'
export type { Explanation, ShownValue } from './features/values.ts'
export { ASSISTS, CAUTIONS, LIMITS, LISTED, nearestNames, type Severity } from './model/index.ts'
export {
  type Comparison,
  compare,
  type FindingChange,
  type FindingChanges,
  type MarginChange,
  nothingChanged,
  type OpeningChange,
  type ValueChange,
  type Version,
} from './report/compare.ts'
export { explainRule, type RuleCard, type RuleRow, ruleTable } from './rules/table.ts'
export type {
  CodeAction,
  CodeLens,
  CompletionItem,
  FoldingRange,
  Hover,
  InlayHint,
  OutlineItem,
  SemanticToken,
  ValueNode,
  WorkspaceSymbol,
} from './verbs.ts'
export { applyEdits, RULES }
