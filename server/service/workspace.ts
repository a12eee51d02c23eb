/** The files: which are held open, which are read because `use` leads to them, and what they come to. */
import { type Chunk, editSource, parseSource, type Source, type Span, type TextEdit } from '../../grammar/index.ts'
import { type Door, type Edit, type Evaluator, labelOf, Model, type Place, type Unit } from '../model/index.ts'
import { locate, positionAt, spanAt } from './positions.ts'
import type { FileEdit, Location, ServiceHost, Step, TextChange, UsedFile } from './types.ts'

const isJob = (file: string): boolean => file.endsWith('.door')

export class Workspace {
  readonly model: Model
  readonly #host: ServiceHost
  /** Files that an editor or the caller holds open; the others are read through the host when a `use` leads to them. */
  readonly #open = new Set<string>()
  readonly #unreadable = new Set<string>()

  constructor(host: ServiceHost) {
    this.#host = host
    this.model = new Model({
      resolve: (from, path) => host.resolve(from, path),
      units: host.units,
      house: file => host.project?.(file)?.file,
    })
  }

  // ---- open files, and files on the disk

  open(file: string, text: string): void {
    this.#open.add(file)
    this.set(file, parseSource(text))
  }

  edit(file: string, changes: readonly TextChange[]): void {
    let source = this.source(file) ?? parseSource('')
    for (const { range, text } of changes)
      source = range ? editSource(source, [{ ...spanAt(source, range), text }]) : parseSource(text)
    this.set(file, source)
  }

  close(file: string): void {
    this.#open.delete(file)
    this.model.delete(file)
    this.refresh(file)
  }

  refresh(file: string): void {
    if (this.#open.has(file)) return
    this.#unreadable.delete(file)
    if (this.model.files.get(file)) this.model.delete(file)
  }

  set(file: string, source: Source): void {
    this.#unreadable.delete(file)
    this.model.set(file, source)
  }

  isOpen(file: string): boolean {
    return this.#open.has(file)
  }

  get openFiles(): readonly string[] {
    return [...this.#open]
  }

  get knownFiles(): readonly string[] {
    return [...this.model.files.all].map(i => i.file)
  }

  source(file: string): Source | undefined {
    return this.model.files.get(file)?.source
  }

  text(file: string): string | undefined {
    return this.source(file)?.text
  }

  /** All files, as they are now: those held open, and those on the disk read anew. */
  all(): string[] {
    for (const _ of this.reading());
    // by name, and not in the order in which they happened to be read
    return this.knownFiles.filter(f => this.#open.has(f) || isJob(f)).toSorted()
  }

  /** What `all` does, a file a step. */
  *reading(): Generator<Step> {
    const files = [...new Set([...(this.#host.workspaceFiles?.() ?? []), ...this.knownFiles.filter(isJob)])]
    for (const [i, f] of files.entries()) {
      yield { done: i, of: files.length }
      if (this.#open.has(f)) continue
      const text = this.#host.read(f)
      if (text === undefined) this.refresh(f)
      else if (this.text(f) !== text) this.set(f, parseSource(text))
    }
  }

  // ---- from file to file

  users(file: string): string[] {
    const { files } = this.model
    return this.knownFiles.filter(f => f !== file && files.reach(f).some(r => r.file === file))
  }

  uses(file: string): UsedFile[] {
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

  // ---- what a file comes to

  units(file: string): Unit[] {
    this.#load(file)
    return this.model.units(file)
  }

  /** The units of some chunks: the others are not looked at. */
  unitsOf(file: string, chunks: readonly Chunk[]): Unit[] {
    this.#load(file)
    return this.model.unitsOf(file, chunks)
  }

  doors(file: string): Door[] {
    return this.units(file).flatMap(u => u.doors)
  }

  door(file: string, mark: string | undefined): Door | undefined {
    if (mark === undefined) return undefined
    const unit = this.units(file).find(u => u.marks.includes(mark))
    return unit?.doors.find(d => d.mark === mark)
  }

  /** For what stands at the top of a file: any block of it finds the same names there. */
  evaluator(file: string): Evaluator | undefined {
    for (const chunk of this.source(file)?.chunks ?? []) {
      if (!chunk.statements.some(s => s.kind === 'block')) continue
      const [unit] = this.unitsOf(file, [chunk])
      if (!unit!.empty) return (unit!.doors[0] ?? unit!.singles[0])!.evaluator
    }
    return undefined
  }

  jobNumber(file: string): string | undefined {
    const job = this.model.files.get(file)?.named.get('job')?.node
    return job?.kind === 'block' ? labelOf(job) : undefined
  }

  // ---- places

  locate(place: Place): Location {
    return locate(this.source(place.file), place)
  }

  /** @param home the chunk that the span counts in */
  spot({ file, chunk }: Pick<Place, 'file' | 'chunk'>, { start, end }: Span): Location {
    return this.locate({ file, chunk, start, end })
  }

  locateEdits(edits: readonly Edit[]): FileEdit[] {
    return edits.map(e => ({ ...this.locate(e.place), text: e.text }))
  }

  /** Edits whose offsets count in the whole file. */
  textEdits(file: string, edits: readonly TextEdit[]): FileEdit[] {
    const source = this.source(file)
    return source
      ? edits.map(({ start, end, text }) => ({
          file,
          range: { start: positionAt(source, start), end: positionAt(source, end) },
          text,
        }))
      : []
  }
}
