/** What can be said of a chunk from its own text alone: which blocks and fields may stand where, and what stands twice. */
import { type Block, type Chunk, type Field, type Span, type Statement, tokenize } from '../../grammar/index.ts'
import type { Edit, Finding, Fix, Place } from './finding.ts'
import { nearestNames } from './names.ts'
import type { BlockSpec } from './spec.ts'
import { allBlocks, plainName, TRADE_WORDS, topBlock, topBlocks } from './vocabulary/index.ts'

export function structure(file: string, chunk: Chunk): Finding[] {
  const out: Finding[] = []
  const place = (at: Span): Place => ({ file, chunk, start: at.start, end: at.end })
  for (const f of chunk.findings)
    out.push({
      rule: 'syntax',
      message: f.message,
      place: place(f),
      related: f.related.map(r => ({ place: place(r), message: r.message })),
      fixes: f.fixes.map(x => ({
        title: x.title,
        safe: false,
        edits: x.edits.map(e => ({ place: place(e), text: e.text })),
      })),
    })
  new Structure(place, out).statements(chunk.statements, undefined)
  for (const u of unseen(chunk.text))
    out.push({
      rule: 'unseen_character',
      message: `An unseen character (U+${u.code}) stands in this ${u.inText ? 'text' : 'comment'}: ${u.turns ? 'it turns the direction of writing around, so what is read is not what is written' : 'nobody sees it, and two names that look alike differ by it'}. Remove it.`,
      place: place(u),
      fixes: [{ title: 'Remove it', safe: false, edits: [{ place: place(u), text: '' }] }],
    })
  return out.length > MOST_FAULTS ? few(out) : out
}

/** Faults that are listed of one chunk; nobody reads more before putting these right. */
const MOST_FAULTS = 1000

function few(all: Finding[]): Finding[] {
  all.sort((a, b) => a.place.start - b.place.start)
  return [
    ...all.slice(0, MOST_FAULTS),
    {
      rule: 'syntax',
      message: `More than ${MOST_FAULTS} faults stand in this part of the file. Those from here on are not listed; put the others right first.`,
      place: all[MOST_FAULTS]!.place,
    },
  ]
}

/** Controls, marks that turn the direction of writing, spaces and joints of no width. What joins signs (U+200D) is none. */
const UNSEEN = /[\p{Cc}\u00ad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff]/gu
const TURNS = /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u

/** Whatever a plain keyboard does not give. */
const RARE = /[^\t\n\r -~]/

/** Those in texts and comments; elsewhere they have no meaning, which is said when the text is read. */
function* unseen(text: string) {
  if (!RARE.test(text)) return
  const found = [...text.matchAll(UNSEEN)].filter(m => !/[\t\r\n]/.test(m[0]))
  if (found.length === 0) return
  const tokens = tokenize(text)
  // both stand in the order of the text
  let next = 0
  for (const m of found) {
    while (next < tokens.length && tokens[next]!.end <= m.index) next++
    const token = tokens[next]
    const kind = token && token.start <= m.index ? token.kind : undefined
    if (kind !== 'text' && kind !== 'comment' && kind !== 'doc') continue
    const code = m[0].codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')
    yield { start: m.index, end: m.index + m[0].length, code, inText: kind === 'text', turns: TURNS.test(m[0]) }
  }
}

const KEYWORDS = new Set(['use', 'like', 'let', 'require', 'allow', 'because'])

class Structure {
  constructor(
    readonly place: (at: Span) => Place,
    readonly out: Finding[],
  ) {}

  say(rule: string, at: Span, message: string, fixes: Fix[] = [], related: Finding['related'] = []): void {
    this.out.push({ rule, message, place: this.place(at), fixes, related })
  }

  edit(title: string, at: Span, text: string, safe = false): Fix {
    return { title, safe, edits: [{ place: this.place(at), text } satisfies Edit] }
  }

  statements(body: readonly Statement[], spec: BlockSpec | undefined): void {
    const first = new Map<string, Span>()
    const once = (key: string, at: Span, what: string): void => {
      const before = first.get(key)
      if (!before) first.set(key, at)
      else
        this.say(
          'duplicate',
          at,
          `${what} stands twice in this block; the first one counts. Remove one of them.`,
          [],
          [{ place: this.place(before), message: 'the first one' }],
        )
    }
    for (const node of body) {
      if (node.kind === 'use' && spec)
        this.say('syntax', node, '`use` stands at the top of a file, outside of every block.')
      if (node.kind === 'let' && node.name && spec)
        once(`let ${node.name.text}`, node.name, `\`let ${node.name.text}\``)
      if (node.kind === 'field') {
        const name = this.field(node, spec)
        if (name) once(name, node.name, `\`${name}\``)
        if (name && first.has(`${name} {}`)) this.either(name, node.name, first.get(`${name} {}`)!)
      }
      if (node.kind === 'block') {
        const inner = this.block(node, spec)
        if (!inner) continue
        if (spec && !inner.repeatable) once(`${inner.name} {}`, node.name, `\`${inner.name}\``)
        else if (spec && node.label)
          once(`${inner.name} ${labelText(node)}`, node.label, `\`${inner.name} ${labelText(node)}\``)
        if (spec?.fields.has(inner.name) && first.has(inner.name))
          this.either(inner.name, node.name, first.get(inner.name)!)
        this.statements(node.body, inner)
      }
    }
  }

  either(name: string, at: Span, first: Span): void {
    this.say(
      'duplicate',
      at,
      `Write \`${name} = ...\` or \`${name} { ... }\`, not both; the first one counts. Remove one of them.`,
      [],
      [{ place: this.place(first), message: 'the first one' }],
    )
  }

  field(node: Field, spec: BlockSpec | undefined): string | undefined {
    const written = node.name.text
    if (!spec) {
      this.say(
        'unknown_field',
        node.name,
        `A field stands inside a block; \`${written}\` stands at the top of the file. Use \`let ${written} = ...\` to name a value for the whole file.`,
      )
      return undefined
    }
    const name = plainName(written)
    if (spec.fields.has(written)) return written
    if (spec.fields.has(name)) {
      this.say('trade_word', node.name, `The word of the language for \`${written}\` is \`${name}\`.`, [
        this.edit(`Write \`${name}\``, node.name, name, true),
      ])
      return name
    }
    if (spec.derived.has(written)) {
      this.say(
        'derived_assigned',
        node.name,
        `\`${spec.name}.${written}\` is worked out from the other fields and cannot be written. Remove the line; to hold it to a value write \`require ${written} <= ...\`.`,
        [this.edit('Remove the line', node, '')],
      )
      return undefined
    }
    if (spec.blocks.has(name)) {
      this.say('unknown_field', node.name, `\`${name}\` is a block: write \`${name} { ... }\`.`)
      return undefined
    }
    const near = nearestNames(written, spec.fields.keys())
    const elsewhere = near.length ? [] : allBlocks.filter(b => b.fields.has(written)).map(b => `\`${b.name}\``)
    const hint = near.length
      ? `Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?`
      : elsewhere.length
        ? `It belongs in ${elsewhere.slice(0, 4).join(' or ')}.`
        : `Its fields are ${[...spec.fields.keys()].join(', ') || 'none'}.`
    this.say(
      'unknown_field',
      node.name,
      `\`${spec.name}\` has no field \`${written}\`. ${hint}`,
      near.map(n => this.edit(`Write \`${n}\``, node.name, n)),
    )
    return undefined
  }

  block(node: Block, parent: BlockSpec | undefined): BlockSpec | undefined {
    const written = node.name.text
    const name = plainName(written)
    const spec = parent ? parent.blocks.get(name) : topBlock(name)
    if (!spec) {
      this.unknownBlock(node, parent)
      return undefined
    }
    if (written !== name)
      this.say('trade_word', node.name, `The word of the language for \`${written}\` is \`${name}\`.`, [
        this.edit(`Write \`${name}\``, node.name, name, true),
      ])
    this.label(node, spec, parent)
    if (node.like && !spec.like)
      this.say(
        'like_failed',
        node.like,
        `\`${name}\` cannot be copied with \`like\`; openings, springs, slats, pipes and operators can.`,
      )
    return spec
  }

  label(node: Block, spec: BlockSpec, parent: BlockSpec | undefined): void {
    const label = node.label
    const at = { start: node.name.end, end: node.name.end }
    // at file level a spring, slat, pipe or operator is stock and is called by its name
    const takes = parent || spec.label === 'text' || spec.name === 'limits' ? spec.label : 'name'
    if (takes === 'text') {
      if (!label)
        this.say(
          'syntax',
          node.name,
          `\`${spec.name}\` needs a name in quotes: \`${spec.name} "${spec.name === 'job' ? 'HS-2207' : 'Dock 3'}" { ... }\`.`,
          [this.edit('Give it a name', at, ` "${spec.name === 'job' ? '1' : 'Opening 1'}"`)],
        )
      else if (label.kind === 'word')
        this.say(
          'syntax',
          label,
          `The name of ${spec.name === 'opening' ? 'an opening' : `a ${spec.name}`} stands in quotes: \`${spec.name} "${label.text}"\`.`,
          [this.edit('Put it in quotes', label, `"${label.text}"`)],
        )
      else if (label.value.trim() === '') this.say('value_range', label, `The name of this ${spec.name} is empty.`)
    } else if (takes === 'name' && !label)
      this.say(
        'syntax',
        node.name,
        `${/^[aeiou]/.test(spec.name) ? 'An' : 'A'} ${spec.name} in the stock needs a name to be called by: \`${spec.name} my_${spec.name} { ... }\`.`,
        [this.edit('Give it a name', at, ` ${spec.name}_1`)],
      )
    else if (takes === 'none' && label)
      this.say('syntax', label, `\`${spec.name}\` has no name: write \`${spec.name} { ... }\`.`, [
        this.edit('Remove the name', { start: node.name.end, end: label.end }, ''),
      ])
    else if (label?.kind === 'text' && /name/.test(takes))
      this.say(
        'syntax',
        label,
        `The name of a ${spec.name} is written without quotes, in small letters: \`${spec.name} ${slug(label.value)}\`.`,
        [this.edit('Write it as a name', label, slug(label.value))],
      )
  }

  unknownBlock(node: Block, parent: BlockSpec | undefined): void {
    const name = node.name.text
    const here = parent ? [...parent.blocks.keys()] : [...topBlocks.keys()]
    if (KEYWORDS.has(name)) return
    const home = allBlocks.filter(b => b.blocks.has(plainName(name))).map(b => `\`${b.name}\``)
    const near = nearestNames(name, [...here, ...Object.keys(TRADE_WORDS)])
      .map(plainName)
      .filter(n => here.includes(n))
    const hint = near.length
      ? `Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?`
      : home.length
        ? `\`${plainName(name)}\` stands inside ${home.join(' or ')}.`
        : topBlocks.has(name)
          ? `\`${name}\` stands at the top of the file, outside of every block.`
          : `Here may stand ${here.join(', ') || 'no blocks'}.`
    this.say(
      'unknown_block',
      node.name,
      `There is no block \`${name}\` ${parent ? `in \`${parent.name}\`` : 'at the top of a file'}. ${hint}`,
      near.map(n => this.edit(`Write \`${n}\``, node.name, n)),
    )
  }
}

const labelText = (b: Block): string => (b.label?.kind === 'text' ? b.label.value : (b.label?.text ?? ''))
const slug = (s: string): string =>
  s
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^[^a-z]+|_+$/g, '') || 'a'
