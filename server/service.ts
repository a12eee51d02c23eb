/**
 * All that the tool can do, on one page. The language server and the command line call this and nothing below it; how
 * each is done stands in `service/`, a file for each part of this page.
 *
 * Files are named by path or URI, as the host likes; the service never touches a disk itself. Positions count lines and
 * UTF-16 columns from 0.
 */
import type { Source } from '../grammar/index.ts'
import type { Door, Model, Place, Unit } from './model/index.ts'
import * as calls from './service/calls.ts'
import { type Context, contextOf } from './service/context.ts'
import * as navigation from './service/navigation.ts'
import { offsetAt, positionAt } from './service/positions.ts'
import * as reading from './service/reading.ts'
import { size } from './service/springs.ts'
import * as steps from './service/steps.ts'
import type * as T from './service/types.ts'
import * as views from './service/views.ts'
import type { Workspace } from './service/workspace.ts'
import * as writing from './service/writing.ts'

export class Service {
  readonly model: Model
  readonly #context: Context
  readonly #workspace: Workspace

  constructor(host: T.ServiceHost) {
    this.#context = contextOf(host)
    this.#workspace = this.#context.workspace
    this.model = this.#workspace.model
  }

  // ---- files: service/workspace.ts

  /** Holds a file open: from now on this text counts, not the one on the disk. */
  open(file: string, text: string): void {
    this.#workspace.open(file, text)
  }
  /** Makes changes one after the other, each on the text that the one before left. */
  edit(file: string, changes: readonly T.TextChange[]): void {
    this.#workspace.edit(file, changes)
  }
  /** The file is no longer held open; what is on the disk counts again. */
  close(file: string): void {
    this.#workspace.close(file)
  }
  /** The file changed, came or went on the disk. Files held open are not touched. */
  refresh(file: string): void {
    this.#workspace.refresh(file)
  }
  isOpen(file: string): boolean {
    return this.#workspace.isOpen(file)
  }
  get openFiles(): readonly string[] {
    return this.#workspace.openFiles
  }
  /** All files that are held, whether opened or read. */
  get knownFiles(): readonly string[] {
    return this.#workspace.knownFiles
  }
  source(file: string): Source | undefined {
    return this.#workspace.source(file)
  }
  text(file: string): string | undefined {
    return this.#workspace.text(file)
  }
  /** The files that reach `file` by `use`: what has to be looked at again when it changes. */
  users(file: string): string[] {
    return this.#workspace.users(file)
  }
  /** Every `use` that a file's findings hang on: its own and those of the files that it reaches. */
  uses(file: string): T.UsedFile[] {
    return this.#workspace.uses(file)
  }
  /** All files of the workspace, as they are now: those held open, and those on the disk read anew. */
  workspace(): string[] {
    return this.#workspace.all()
  }

  // ---- what a file comes to: service/workspace.ts, service/findings.ts, service/steps.ts

  units(file: string): Unit[] {
    return this.#workspace.units(file)
  }
  doors(file: string): Door[] {
    return this.#workspace.doors(file)
  }
  /** The number of the job that a file belongs to. */
  jobNumber(file: string): string | undefined {
    return this.#workspace.jobNumber(file)
  }
  /** Every finding of a file, in the order of its text. */
  findings(file: string): T.LocatedFinding[] {
    return this.#context.findings.of(file)
  }
  /**
   * Works out what is told of all openings of a file, a few each step: for whoever has other things to do in between.
   * Ends early where the file changes meanwhile; a run without a step means that all is there.
   */
  steps(file: string): Generator<void> {
    return steps.openings(this.#context, file)
  }
  /** Where a file cannot be read as the language: what `format` leaves as it is. */
  unsound(file: string): T.Unsound[] {
    return this.#context.findings.unsound(file)
  }

  // ---- as a person looks at it: service/views.ts, service/springs.ts

  /** Every opening of a file with its known values and what is missing. */
  values(file: string): T.OpeningValues[] {
    return views.values(this.#context, file)
  }
  /** How a value of an opening came about; undefined where the mark or the path leads nowhere. */
  explain(file: string, mark: string, path: string): T.Explanation | undefined {
    return views.explain(this.#context, file, mark, path)
  }
  /** The openings of a file as a list shows them: where each is, and what stands against it. */
  openings(file: string): T.OpeningState[] {
    return views.openings(this.#context, file)
  }
  /** The mark of the opening at a position; undefined between openings. */
  openingAt(file: string, position: T.Position): string | undefined {
    return views.openingAt(this.#context, file, position)
  }
  /** One line above each opening. */
  codeLenses(file: string): T.CodeLens[] {
    return views.codeLenses(this.#context, file)
  }
  /** The live preview of an opening; undefined where the file has no such mark. */
  preview(file: string, mark: string): T.Preview | undefined {
    return views.preview(this.#context, file, mark)
  }
  /**
   * The printable field sheet of a file's job: one HTML file that stands by itself. The same job gives the same bytes.
   * @param version of the tool, for its header
   * @param paper to print on; whoever prints it chooses where it is not given
   */
  sheet(file: string, version = '', paper?: T.Paper): string {
    return views.sheet(this.#context, file, version, paper)
  }
  /** A name for the file of the sheet: `HS-2207-B.html`. */
  sheetName(file: string): string {
    return views.sheetName(this.#context, file)
  }
  /** The openings of files, with what stands against them: one side of a comparison. `name` is how a file is called on both. */
  version(files: readonly { readonly file: string; readonly name: string }[]): T.Version {
    return views.version(this.#context, files)
  }
  /**
   * Proposals for springs (and pipe) that balance an opening, best first, at most `most`. Those come first after which
   * no rule has an error or a warning about this opening that it did not have before, and none about its springs.
   */
  size(file: string, mark: string, most = 10): T.Sized {
    return size(this.#context, file, mark, most)
  }

  // ---- the text in the editor: service/reading.ts

  /** What stands under the cursor: what it is, what it comes to, and where that comes from. */
  hover(file: string, position: T.Position): T.Hover | undefined {
    return reading.hover(this.#context, file, position)
  }
  /** What follows from the lines of a range, for their ends. */
  inlayHints(file: string, range: T.Range): T.InlayHint[] {
    return reading.inlayHints(this.#context, file, range)
  }
  /** Fills in the derivation, and what a double click writes. */
  resolveInlayHint(hint: T.InlayHint): T.InlayHint {
    return reading.resolveInlayHint(this.#context, hint)
  }
  /**
   * The words of a file, or of a part of it, with what they are, as the protocol has them: five numbers a word, which are
   * lines and columns from the word before, length, type, a bit for each modifier.
   */
  semanticTokens(file: string, range?: T.Range): Uint32Array {
    return reading.semanticTokens(this.#context, file, range)
  }
  /** Works them out as `steps` does. */
  wordSteps(file: string): Generator<void> {
    return steps.words(this.#context, file)
  }
  /** The blocks and names of a file as a tree. */
  outline(file: string): T.OutlineItem[] {
    return reading.outline(this.#context, file)
  }
  folding(file: string): T.FoldingRange[] {
    return reading.folding(this.#context, file)
  }
  links(file: string): T.DocumentLink[] {
    return reading.links(this.#context, file)
  }
  /** For each position what a growing selection takes in, the innermost first. */
  selectionRanges(file: string, positions: readonly T.Position[]): T.Range[][] {
    return positions.map(p => reading.selectionRanges(this.#context, file, p))
  }

  // ---- from name to name, and from value to value: service/navigation.ts, service/calls.ts

  /** Where the name under the cursor was written; for a value that is worked out, the fields that it reads. */
  definition(file: string, position: T.Position): T.Location[] {
    return navigation.definition(this.#context, file, position)
  }
  /** What it is made after: the opening or stock item it is like, the block that a value belongs to. */
  typeDefinition(file: string, position: T.Position): T.Location[] {
    return navigation.typeDefinition(this.#context, file, position)
  }
  /** Reads and works out what `references` (and `rename`, which takes findings too) looks through, a file a step. */
  looking(file: string, position: T.Position, findings: boolean): Generator<T.Step> {
    return navigation.looking(this.#context, file, position, findings)
  }
  /** Every place in the workspace that means the same, with or without where it is written. */
  references(file: string, position: T.Position, declared: boolean): T.Location[] {
    return navigation.references(this.#context, file, position, declared)
  }
  /** The same in one file. */
  highlights(file: string, position: T.Position): T.Highlight[] {
    return navigation.highlights(this.#context, file, position)
  }
  /** The names of the workspace that fit some words, the best first. */
  workspaceSymbols(query: string): T.WorkspaceSymbol[] {
    return navigation.symbols(this.#context, query)
  }
  /** The value under the cursor. */
  valueAt(file: string, position: T.Position): T.ValueNode | undefined {
    return calls.valueAt(this.#context, file, position)
  }
  /** What a value reads. */
  feeds(value: T.ValueNode['data']): T.ValueCall[] {
    return calls.valueFeeds(this.#context, value)
  }
  /** What reads a value. */
  usedBy(value: T.ValueNode['data']): T.ValueCall[] {
    return calls.valueUsers(this.#context, value)
  }

  // ---- what helps to write: service/writing.ts

  /** What may be written at the cursor. Only the one that is looked at needs `resolveCompletion`. */
  completion(file: string, position: T.Position): T.CompletionItem[] {
    return writing.completion(this.#context, file, position)
  }
  resolveCompletion(item: T.CompletionItem): T.CompletionItem {
    return writing.resolveCompletion(this.#context, item)
  }
  signature(file: string, position: T.Position): T.Signature | undefined {
    return writing.signature(this.#context, file, position)
  }
  /** A file laid out. */
  format(file: string): { readonly text: string; readonly changed: boolean } {
    return writing.format(this.#context, file)
  }
  /** As `format`, as edits of no more than what differs. */
  formatEdits(file: string): T.FileEdit[] {
    return writing.formatEdits(this.#context, file)
  }
  formatRange(file: string, range: T.Range): T.FileEdit[] {
    return writing.formatEdits(this.#context, file, range)
  }
  /** Edits of what was just typed: a `}` or a line end. */
  formatOnType(file: string, position: T.Position, typed: string): T.FileEdit[] {
    return writing.formatOnType(this.#context, file, position, typed)
  }
  /** The text with every safe fix applied, round after round until nothing is left to fix. */
  fixAll(file: string): { readonly text: string; readonly applied: readonly string[] } {
    return writing.fixAll(this.#context, file)
  }
  /** Fixes of the findings in a range, and what else can be done there. `only` takes the kinds of the protocol. */
  codeActions(file: string, range: T.Range, only?: readonly string[]): T.CodeAction[] {
    return writing.codeActions(this.#context, file, range, only)
  }
  /** What would be renamed, or why nothing can be. */
  renameTarget(file: string, position: T.Position): T.RenameTarget {
    return writing.renameTarget(this.#context, file, position)
  }
  /**
   * Renames an opening, stock item, spring or `let` wherever it is meant. Refused where the name has no right form, is
   * taken, or would come to mean something else anywhere; nothing is found afterwards that was not found before.
   */
  rename(file: string, position: T.Position, name: string): T.Renamed {
    return writing.rename(this.#context, file, position, name)
  }
  /** What `use` has to say once files or folders have moved. */
  moved(moves: readonly T.Move[]): T.FileEdit[] {
    return writing.moved(this.#context, moves)
  }

  // ---- places: service/positions.ts

  /** Offset in the file's text of a position; clamped to the text. */
  offset(file: string, position: T.Position): number {
    const source = this.source(file)
    return source ? offsetAt(source, position) : 0
  }
  position(file: string, offset: number): T.Position {
    return positionAt(this.source(file)!, offset)
  }
  /** Lines and columns of a place. */
  locate(place: Place): T.Location {
    return this.#workspace.locate(place)
  }
}

export { applyEdits } from '../grammar/index.ts'
export { TOKEN_MODIFIERS, TOKEN_TYPES } from './features/semantic_tokens.ts'
export { ASSISTS, CAUTIONS, LIMITS, LISTED, nearestNames } from './model/index.ts'
export {
  type Comparison,
  compare,
  type FindingChange,
  type FindingChanges,
  type MarginChange,
  nothingChanged,
  type OpeningChange,
  type ValueChange,
} from './report/compare.ts'
export { RULES } from './rules/index.ts'
export { explainRule, type RuleCard, type RuleRow, ruleTable } from './rules/table.ts'
export type * from './service/types.ts'
