/** A job that is right in every respect, and ways to change one thing in it. */
import { type Block, parseSource, type Statement } from '../../grammar/index.ts'
import { plainName } from '../../server/model/index.ts'

/** One opening of the Harbour Street cold store, with its slat inline: no rule has anything to say about it. */
export const OPENING = `job "HS-2207" {
  site  = "Harbour Street cold store"
  units = imperial
}

slat flat_20 {
  pitch     = 2 5/8in
  thickness = 0.875in
  gauge     = 20
  developed = 3 3/4in
  material  = galvanized
}

opening "Dock 3" {
  width           = 12ft
  height          = 11ft 6in
  headroom        = 22in
  side_room_left  = 18in
  side_room_right = 12in
  cycles          = 5/day

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
    pipe       = nps6_std
    span       = 12ft 8in
    shaft      = 1 1/4in
    drop_guard = true
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
    preload = 1 7/8 turns
  }
  operator {
    drive      = hand_chain
    ratio      = 4
    hand_wheel = 12in
    holds      = true
  }
}
`

/** A file that others may use: one slat, one limit. */
export const HOUSE = `slat flat_22 {
  pitch     = 2 5/8in
  thickness = 0.875in
  gauge     = 22
  developed = 3 3/4in
}
`

interface Node {
  /** What the statement is found and replaced by: a field's name, a block's kind; nothing for the others. */
  key: string
  /** The text of a statement that is no block, the header of one that is. */
  text: string
  label: string
  body: Node[] | undefined
}

/** Whether a snippet is a file of its own: a job, an opening, a `use` or the like stands at its top. */
export function wholeFile(snippet: string): boolean {
  const top = parseSource(snippet).chunks.flatMap(c => c.statements)
  return top.some(s => s.kind === 'use' || (s.kind === 'block' && ['job', 'opening'].includes(s.name.text)))
}

/**
 * The opening with the statements of a snippet put in its place: fields replace those of the same name, blocks are
 * merged, springs replace all springs; everything else is added. `drop` takes paths out first (`adjuster.preload`).
 */
export function openingWith(snippet = '', drop: readonly string[] = []): string {
  const source = parseSource(OPENING)
  const chunk = source.chunks.findIndex(c => c.statements.some(s => s.kind === 'block' && s.name.text === 'opening'))
  const body = read(source.chunks[chunk]!.text, source.chunks[chunk]!.statements)[0]!
  for (const path of drop) remove(body, path.split('.'))
  const parsed = parseSource(snippet)
  const added = parsed.chunks.flatMap(c => read(c.text, c.statements))
  merge(body, added)
  return (
    source.text.slice(0, source.starts[chunk]) +
    (source.text[source.starts[chunk]!] === '\n' ? '\n' : '') +
    write(body, '')
  )
}

/** The text that an example stands for. */
export const example = (snippet: string): string => (wholeFile(snippet) ? snippet : openingWith(snippet))

function read(text: string, statements: readonly Statement[], end = text.length): Node[] {
  return statements.map((s, i) => {
    if (s.kind === 'block' && s.open >= 0)
      return {
        key: plainName(s.name.text),
        text: text.slice(s.start, s.open).trim(),
        label: labelText(s),
        body: read(text, s.body, s.close < 0 ? end : s.close),
      }
    // up to the next statement, so that whatever could not be read comes along
    const raw = text.slice(s.start, statements[i + 1]?.start ?? end).replace(/[\s;]+$/, '')
    return { key: s.kind === 'field' ? plainName(s.name.text) : '', text: raw, label: '', body: undefined }
  })
}

const labelText = (b: Block): string => (b.label ? (b.label.kind === 'text' ? b.label.value : b.label.text) : '')

function remove(at: Node, path: readonly string[]): void {
  const inner = at.body!.findIndex(n => n.key === path[0] || n.label === path[0])
  if (inner < 0) throw new Error(`nothing to drop at ${path.join('.')}`)
  if (path.length === 1) at.body!.splice(inner, 1)
  else remove(at.body![inner]!, path.slice(1))
}

function merge(into: Node, added: readonly Node[]): void {
  const body = into.body!
  const done = new Set<Node>()
  if (added.some(n => n.key === 'spring' && n.body)) into.body = body.filter(n => n.key !== 'spring')
  for (const node of added) {
    const old = into.body!.find(n => n.key !== '' && n.key === node.key && !done.has(n))
    if (!old || (node.key === 'spring' && node.body)) into.body!.push(node)
    else if (old.body && node.body) {
      old.text = node.text
      merge(old, node.body)
    } else into.body![into.body!.indexOf(old)] = node
    if (!old?.body || !node.body) done.add(node)
  }
}

function write(node: Node, indent: string): string {
  if (!node.body) return `${indent}${node.text}\n`
  return `${indent}${node.text} {\n${node.body.map(n => write(n, `${indent}  `)).join('')}${indent}}\n`
}
