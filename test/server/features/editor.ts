/** A small editor around the service: a file with a cursor `|`, and what a person would see and do there. */
import { applyEdits, lineStarts, offsetAt, parseSource } from '../../../grammar/index.ts'
import { type CodeAction, type CompletionItem, type FileEdit, Service } from '../../../server/service.ts'

export const FILE = 'job/dock.door'

/** The house stock that most tests use. Own figures. */
export const STOCK = `slat flat_20 {
  pitch     = 2.625in
  thickness = 0.875in
  weight    = 2.6 lb/ft^2
}
spring house_long { wire = 1/2in; diameter = 4.9in; coils = 160 }
operator chain_hoist { drive = hand_chain; ratio = 4; hand_wheel = 12in }
`

export const DOCK = `use "stock.door"

job "HS-2207" {
  site = "Harbour Street cold store"
}

## Ground-floor dock, daily traffic
opening "Dock 3" {
  width    = 12ft
  height   = 11ft 6in
  headroom = 24in
  cycles   = 20/day

  curtain {
    slat       = flat_20
    engagement = 2 3/4in
    bottom_bar = 3 lb/ft
  }
  rails {
    between = width + 1in
    depth   = 3 1/4in
  }
  drum {
    pipe = nps6_std
    span = 12ft 8in
  }
  spring long {
    wire     = 1/2in
    diameter = 4.9in
    coils    = 160
    hand     = right
  }
  spring short {
    wire     = 0.4063in
    diameter = 4.9in
    coils    = 140
    hand     = right
  }
  adjuster {
    side    = right
    holes   = 8
    preload = 1.7 turns
  }
}
`

export class Editor {
  readonly service: Service
  readonly #cursor: number

  /** @param marked the file's text, with `|` where the cursor stands */
  constructor(marked: string, others: Readonly<Record<string, string>> = { 'job/stock.door': STOCK }) {
    this.service = new Service({
      resolve: (from, path) => ({ ok: true, file: `${from.slice(0, from.lastIndexOf('/') + 1)}${path}` }),
      read: file => others[file],
      usePaths: () => Object.keys(others).map(f => f.replace('job/', '')),
      fault: (where, error) => {
        throw new Error(`${where}: ${error}`)
      },
    })
    this.#cursor = marked.indexOf('|')
    this.service.open(FILE, marked.replace('|', ''))
  }

  get text(): string {
    return this.service.text(FILE)!
  }

  get cursor() {
    return this.service.position(FILE, this.#cursor)
  }

  /** In the order in which they are shown. */
  get items(): CompletionItem[] {
    return this.service
      .completion(FILE, this.cursor)
      .toSorted((a, b) => (a.sort < b.sort ? -1 : a.sort > b.sort ? 1 : 0))
  }

  get labels(): string[] {
    return this.items.map(i => i.label)
  }

  item(label: string): CompletionItem {
    const found = this.items.find(i => i.label === label)
    if (!found) throw new Error(`no \`${label}\` among ${this.labels.join(', ')}`)
    return found
  }

  /** The text after a completion was taken, its tab stops left as they are. */
  accept(label: string): string {
    return this.accepted(this.item(label))
  }

  accepted(item: CompletionItem): string {
    return this.applied([{ file: FILE, range: item.range, text: item.insert }])
  }

  applied(edits: readonly FileEdit[]): string {
    const starts = lineStarts(this.text)
    const offset = (p: { line: number; character: number }): number =>
      offsetAt(starts, { line: p.line, column: p.character }, this.text.length)
    return applyEdits(
      this.text,
      edits.map(e => ({ start: offset(e.range.start), end: offset(e.range.end), text: e.text })),
    )
  }

  get hover(): string | undefined {
    return this.service.hover(FILE, this.cursor)?.markdown
  }

  /** The file with its hints behind the lines, as the editor shows it. */
  get hinted(): string {
    const lines = this.text.split(/\r\n|\n/)
    const all = this.hints
    return lines
      .map(
        (line, i) =>
          line +
          all
            .filter(h => h.position.line === i)
            .map(h => ` « ${h.label}`)
            .join(''),
      )
      .join('\n')
  }

  get hints() {
    const end = { line: this.text.split('\n').length, character: 0 }
    return this.service.inlayHints(FILE, { start: { line: 0, character: 0 }, end })
  }

  /** The line of the hinted file that has `part` in it. */
  hintedLine(part: string): string {
    return this.hinted
      .split('\n')
      .find(l => l.includes(part))!
      .trim()
  }

  get actions(): CodeAction[] {
    return this.service.codeActions(FILE, { start: this.cursor, end: this.cursor })
  }

  action(title: string): CodeAction {
    const found = this.actions.find(a => a.title.includes(title))
    if (!found) throw new Error(`no action "${title}" among ${this.actions.map(a => a.title).join('; ')}`)
    return found
  }

  do(title: string): string {
    return this.applied(this.action(title).edits)
  }
}

/** What cannot be read in a text. */
export const syntaxOf = (text: string): string[] =>
  parseSource(text).chunks.flatMap(c => c.findings.map(f => f.message))

/** An opening of the dock job with something else in one of its lines; `|` may stand in it. */
export const dockWith = (line: string | RegExp, instead: string): string => {
  const out = DOCK.replace(line, () => instead)
  if (out === DOCK) throw new Error(`no line ${line}`)
  return out
}
