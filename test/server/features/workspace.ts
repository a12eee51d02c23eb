/** A workspace of several files around the service: a cursor `|` in one of them, and all texts after an edit. */
import { applyEdits, lineStarts, offsetAt } from '../../../grammar/index.ts'
import { type FileEdit, type Location, type Range, Service } from '../../../server/service.ts'

export type Texts = Readonly<Record<string, string>>

export class Workspace {
  readonly service: Service
  readonly texts: Texts
  readonly file: string
  readonly #cursor: number

  /**
   * @param marked texts by name; the one that holds the cursor `|` is open, and so are those in `open`
   * @param plain the file that is open, where the texts are meant as they are, without a cursor
   */
  constructor(marked: Texts, open: readonly string[] = [], plain?: string) {
    this.file = plain ?? Object.keys(marked).find(f => marked[f]!.includes('|')) ?? Object.keys(marked)[0]!
    this.#cursor = Math.max(0, marked[this.file]!.indexOf('|'))
    this.texts = plain
      ? marked
      : Object.fromEntries(Object.entries(marked).map(([f, t]) => [f, f === this.file ? t.replace('|', '') : t]))
    this.service = serviceOf(this.texts)
    for (const f of new Set([this.file, ...open])) this.service.open(f, this.texts[f]!)
  }

  get cursor() {
    return this.service.position(this.file, this.#cursor)
  }

  /** A location as its line, with what is meant in brackets: `stock.door: slat [flat_20] {`. */
  said = ({ file, range }: Location): string => {
    const [start, end] = this.#offsets(file, range)
    const text = this.texts[file]!
    const [from, to] = [text.lastIndexOf('\n', start - 1) + 1, text.indexOf('\n', end)]
    const line = `${text.slice(from, start)}[${text.slice(start, end)}]${text.slice(end, to)}`
    return `${file}: ${line.trim().replace(/ +/g, ' ')}`
  }

  slice(file: string, range: Range): string {
    const [start, end] = this.#offsets(file, range)
    return this.texts[file]!.slice(start, end)
  }

  #offsets(file: string, range: Range): [number, number] {
    const text = this.texts[file]!
    const starts = lineStarts(text)
    const at = (p: Range['start']): number => offsetAt(starts, { line: p.line, column: p.character }, text.length)
    return [at(range.start), at(range.end)]
  }

  /** All texts with edits made. */
  applied(edits: readonly FileEdit[]): Texts {
    const out: Record<string, string> = { ...this.texts }
    for (const file of new Set(edits.map(e => e.file)))
      out[file] = applyEdits(
        out[file]!,
        edits
          .filter(e => e.file === file)
          .map(e => {
            const [start, end] = this.#offsets(file, e.range)
            return { start, end, text: e.text }
          })
          .sort((a, b) => a.start - b.start || a.end - b.end),
      )
    return out
  }

  rename(name: string): Texts {
    const r = this.service.rename(this.file, this.cursor, name)
    if (!r.ok) throw new Error(r.reason)
    return this.applied(r.edits)
  }

  refused(name: string): string {
    const r = this.service.rename(this.file, this.cursor, name)
    if (r.ok) throw new Error(`renamed: ${JSON.stringify(r.edits)}`)
    return r.reason
  }
}

export function serviceOf(texts: Texts): Service {
  return new Service({
    resolve: (from, path) => {
      const parts = [...from.split('/').slice(0, -1), ...path.split('/')]
      const out: string[] = []
      for (const p of parts) if (p === '..') out.pop(); else out.push(p) // biome-ignore format: one line
      return { ok: true, file: out.join('/') }
    },
    read: file => texts[file],
    workspaceFiles: () => Object.keys(texts),
    fault: (where, error) => {
      throw new Error(`${where}: ${error}`)
    },
  })
}

/** Every finding of every file, one a line. */
export function findingsOf(texts: Texts): string[] {
  const service = serviceOf(texts)
  for (const [f, t] of Object.entries(texts)) service.open(f, t)
  return Object.keys(texts).flatMap(f => service.findings(f).map(x => `${f} ${x.rule} ${x.severity}`))
}
