/** Completion where a statement starts: fields, blocks and the words that begin one. */
import type { Statement } from '../../../grammar/index.ts'
import { type BlockSpec, type FieldSpec, plainName, TRADE_WORDS, topBlocks } from '../../model/index.ts'
import { scopeOf } from '../at.ts'
import { takesText } from '../markdown.ts'
import { letsInScope } from '../scope.ts'
import { KEYWORDS } from '../words.ts'
import { type Cursor, indentOf } from './context.ts'
import { choice, type Item, plainText, sortKey } from './item.ts'
import { blockSnippet, placeholder, stockNames } from './placeholders.ts'

const GROUP = { missing: 0, field: 1, block: 2, keyword: 4 } as const

export function statementItems(c: Cursor): Item[] {
  const { spec, instance, blocks, file } = c.at
  if (!spec) return []
  const reach = { files: c.world.files, file }
  const written = writtenNames(c, blocks.at(-1)?.body ?? [])
  const out: Item[] = []
  let place = 0
  const goesOn = isRenamed(c)
  const twin = (name: string): boolean => spec.fields.has(name) && spec.blocks.has(name)
  for (const f of spec.fields.values()) {
    if (written.has(f.name) || (goesOn && c.follows !== '=')) continue
    const copied =
      instance?.fields.has(f.name) ||
      (twin(f.name) && instance?.blocks.some(b => b.spec.name === f.name && b.fields.size > 0))
    out.push(...fieldItems(c, f, f.required && !copied ? GROUP.missing : GROUP.field, place++, copied === true))
  }
  for (const b of spec.blocks.values()) {
    if (written.has(b.name) && !b.repeatable) continue
    if (b.fields.size === 0 && b.blocks.size === 0) continue
    if (goesOn && !takesHeader(c, b.label, b.like)) continue
    const there = written.has(b.name) || instance?.blocks.some(i => i.spec === b && i.fields.size > 0)
    const snippet = goesOn ? b.name : blockSnippet(b, b.name, 1, reach)
    const group = b.required && !there && !twin(b.name) ? GROUP.missing : GROUP.block
    out.push(
      ...withTradeWords(c, {
        label: b.name,
        kind: 'block',
        detail: group === GROUP.missing ? 'required' : undefined,
        insert: plainText(snippet, indentOf(c)),
        snippet,
        sort: sortKey(group, place++),
        span: c.word,
        doc: `block ${b.name}`,
      }),
    )
  }
  if (goesOn) return out
  // outside of openings an `allow` accepts nothing
  return [...out, ...keywords(c, blocks[0]?.name.text === 'opening' ? ['let', 'require', 'allow'] : ['let', 'require'])]
}

/** Whether the name of a statement is changed that stands there already: only the name is written anew then. */
const isRenamed = (c: Cursor): boolean => c.typed !== '' && c.follows !== ''

/** Whether what stands behind the name may stand behind that of a block with this label. */
function takesHeader(c: Cursor, label: BlockSpec['label'], like: boolean): boolean {
  const line = c.at.chunk.text.slice(c.word.end)
  const [, text, name, last] = line.match(/^[ \t]*(?:("[^"\r\n]*")|(?!like\b)(\w+))?[ \t]*(\{|like\b)/) ?? []
  if (last === undefined || (last === 'like' && !like)) return false
  return text ? label === 'text' : name ? label.endsWith('name') : label === 'none' || label === 'optional name'
}

export function fieldItems(c: Cursor, f: FieldSpec, group: number, place: number, copied: boolean): Item[] {
  const snippet = isRenamed(c) ? f.name : `${f.name} = ${placeholder(f, 1, { files: c.world.files, file: c.at.file })}`
  const what = f.required && !copied ? 'required' : copied ? 'copied; written here it wins' : undefined
  const detail = [takesText(f.takes), what].filter(t => t).join(', ')
  return withTradeWords(c, {
    label: f.name,
    kind: 'field',
    detail,
    insert: plainText(snippet),
    snippet,
    sort: sortKey(group, place),
    span: c.word,
    doc: `field ${c.at.spec?.name}.${f.name}`,
  })
}

/** A word of the trade that is being typed leads to the word of the language. */
function withTradeWords(c: Cursor, item: Item): Item[] {
  const words = Object.entries(TRADE_WORDS).filter(
    ([trade, name]) => name === item.label && c.typed !== '' && trade.startsWith(c.typed.toLowerCase()),
  )
  const best = words.map(([trade]) => trade).sort((a, b) => b.length - a.length)[0]
  return best === undefined ? [item] : [item, { ...item, label: `${item.label} (${best})`, filter: best }]
}

function keywords(c: Cursor, names: readonly string[]): Item[] {
  const lets = letsInScope(scopeOf(c.at), c.world.files)
  const forms: Record<string, string> = {
    let: `let \${1:${lets.has('name') ? freeName([...lets], 'name_', 2) : 'name'}} = \${2:0}`,
    require: `require \${1:true}`,
    allow: `allow \${1:rule} because "\${2}"`,
    use: `use "\${1}"`,
  }
  return names.map((name, i) => ({
    label: name,
    kind: 'keyword',
    detail: KEYWORDS[name]!.replace(/[.;:] .*|\.$/, ''),
    insert: plainText(forms[name]!),
    snippet: forms[name]!,
    sort: sortKey(GROUP.keyword, i),
    span: c.word,
    doc: `keyword ${name}`,
  }))
}

/** What already stands in the block; the word being typed does not. */
function writtenNames(c: Cursor, body: readonly Statement[]): Set<string> {
  const out = new Set<string>()
  for (const s of body)
    if ((s.kind === 'field' || s.kind === 'block') && s.name.start !== c.word.start) out.add(plainName(s.name.text))
  return out
}

/** At the top of a file. */
export function topItems(c: Cursor): Item[] {
  const out: Item[] = []
  const reach = { files: c.world.files, file: c.at.file }
  const add = (
    label: string,
    spec: BlockSpec,
    head: string,
    firstStop: number,
    place: number,
    detail?: string,
  ): void => {
    if (goesOn && !takesHeader(c, head === spec.name ? 'none' : spec.label === 'text' ? 'text' : 'name', spec.like))
      return
    const snippet = goesOn ? spec.name : blockSnippet(spec, head, firstStop, reach)
    out.push({
      label,
      kind: label === spec.name ? 'block' : 'snippet',
      detail,
      insert: plainText(snippet, indentOf(c)),
      snippet,
      sort: sortKey(GROUP.block, place),
      span: c.word,
      doc: `block ${spec.name}`,
    })
  }
  const goesOn = isRenamed(c)
  const openings = c.world.files
    .names(c.at.file, 'opening')
    .flatMap(i => (i.node.kind === 'block' && i.node.label?.kind === 'text' ? [i.node.label.value] : []))
  const hasJob = c.world.files.item(c.at.file, 'job') !== undefined
  if (!hasJob) add('job', topBlocks.get('job')!, `job "\${1:1}"`, 2, 0, 'one a file that has openings')
  add(
    'opening',
    topBlocks.get('opening')!,
    `opening "\${1:${freeName(openings, 'Opening ')}}"`,
    2,
    1,
    'with all it needs',
  )
  if (openings.length > 0 && !goesOn) {
    const from = choice(2, openings.map(o => o.replace(/[\\"]/g, '\\$&'))) // biome-ignore format: one call
    const snippet = `opening "\${1:${freeName(openings, 'Opening ', openings.length + 1)}}" like "${from}" {\n\t$0\n}`
    out.push({
      label: 'opening like',
      kind: 'snippet',
      detail: 'the same again, with what differs',
      insert: plainText(snippet),
      snippet,
      sort: sortKey(GROUP.block, 2),
      span: c.word,
      doc: 'keyword like',
    })
  }
  for (const [i, kind] of ['slat', 'pipe', 'spring', 'operator'].entries())
    add(kind, topBlocks.get(kind)!, `${kind} \${1:${freeName(stockNames(kind, reach), `${kind}_`)}}`, 2, 3 + i, 'stock')
  add('limits', topBlocks.get('limits')!, 'limits', 1, 8, 'for all openings of the file')
  return goesOn ? out : [...out, ...keywords(c, ['use', 'let', 'require'])]
}

/** The first of `Opening 1`, `Opening 2` ... that is not taken. */
function freeName(taken: readonly string[], stem: string, from = 1): string {
  let i = from
  while (taken.includes(`${stem}${i}`)) i++
  return `${stem}${i}`
}
