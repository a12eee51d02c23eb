/** Another name for an opening, a stock item, a spring or a `let`: what may be renamed, to what, and the text of it. */
import { RESERVED, type Span } from '../../grammar/index.ts'
import { allBlocks, type Edit, type Files, standardPipe, TRADE_WORDS } from '../model/index.ts'
import { type Found, mentionsOf } from './everywhere.ts'
import type { Mention } from './mentions.ts'
import { type Bench, renamesCleanly } from './trial.ts'

export type RenameState =
  | { readonly ok: true; readonly span: Span; readonly text: string }
  | { readonly ok: false; readonly reason: string }

export type Renaming =
  | { readonly ok: true; readonly edits: readonly Edit[] }
  | { readonly ok: false; readonly reason: string }

/** The edits that give a name, wherever it is meant in some files, its new form; made on trial first. */
export function renaming(found: Found | undefined, name: string, where: readonly string[], bench: Bench): Renaming {
  const no = (reason: string): Renaming => ({ ok: false, reason })
  const state = renamable(found)
  if (!state.ok) return state
  const { mention } = found!
  const refused = refusal(mention, name)
  if (refused) return no(refused)
  if (name === mention.name) return { ok: true, edits: [] }
  const all = mentionsOf(mention.meaning!, mention.name, where, bench)
  for (const f of new Set(all.map(m => m.unit.file))) {
    const reason = taken(mention, name, mention.of ?? '', f, bench.files)
    if (reason) return no(reason)
  }
  const edits = all.map(({ unit: { file, chunk }, mention: m }): Edit => {
    const { start, end } = m.kind === 'opening' ? m.span : inner(m.span, chunk.text)
    return { place: { file, chunk, start, end }, text: written(m, name) }
  })
  return renamesCleanly(edits, mention, name, where, bench)
    ? { ok: true, edits }
    : no(
        `\`${name}\` means something else where \`${mention.name}\` is named, so values would change. Choose another name.`,
      )
}

/** What stands under the cursor, if it is a name that somebody gave. */
export function renamable(found: Found | undefined): RenameState {
  const no = (reason: string): RenameState => ({ ok: false, reason })
  if (!found)
    return no('Nothing here has a name that can be changed. Openings, stock items, springs and `let` names can be.')
  const m = found.mention
  switch (m.kind) {
    case 'field':
    case 'derived':
      return no(`\`${m.name}\` is a word of the language and cannot be renamed.`)
    case 'block':
      return no(`\`${m.name}\` says which kind of block it is and cannot be renamed.`)
    case 'word':
    case 'function':
    case 'rule':
      return no(`\`${m.name}\` is a word of the language and cannot be renamed.`)
    default:
      if (!m.meaning) return no(`Nothing is called \`${m.name}\` here, so there is nothing to rename.`)
      if (!m.at) return no(`\`${m.name}\` is a standard pipe, and its name is the standard's.`)
      return { ok: true, span: inner(m.span, found.unit.chunk.text), text: m.name }
  }
}

/** A text without its quotes. */
function inner({ start, end }: Span, text: string): Span {
  const open = text[start] === '"' ? 1 : 0
  const close = open && end - start > 1 && text[end - 1] === '"' ? 1 : 0
  return { start: start + open, end: end - close }
}

const NAME = /^[a-z][a-z0-9_]*$/
const BLOCKS = new Set([...allBlocks.map(b => b.name), ...Object.keys(TRADE_WORDS)])

/** Why a name cannot be given to `m`; undefined where it can as far as its own form goes. */
function refusal(m: Mention, name: string): string | undefined {
  if (m.kind === 'opening') {
    if (name.trim() === '') return 'A mark needs at least one character that can be seen.'
    return /[\r\n]/.test(name) ? 'A mark stands on one line.' : undefined
  }
  if (RESERVED.has(name)) return `\`${name}\` is a reserved word of the language. Choose another name.`
  if (!NAME.test(name))
    return `\`${name}\` is no name: small letters, digits and \`_\`, with a letter first, such as \`flat_20\`.`
  if (m.kind === 'spring' && BLOCKS.has(name))
    return `\`${name}\` is the name of a kind of block, so a spring of that name could not be reached. Choose another.`
  return undefined
}

/** Why a name is taken where it would be read from `file`. */
function taken(m: Mention, name: string, kind: string, file: string, files: Files): string | undefined {
  if (m.kind !== 'opening' && m.kind !== 'stock') return undefined
  if (files.item(file, `${kind} ${name}`))
    return `There is a${kind === 'opening' || kind === 'operator' ? 'n' : ''} ${kind} called ${m.kind === 'opening' ? `"${name}"` : `\`${name}\``} already. Choose another name.`
  return kind === 'pipe' && standardPipe(name)
    ? `\`${name}\` is a standard pipe, and its name is the standard's. Choose another.`
    : undefined
}

/** The name as it stands in the file. */
const written = (m: Mention, name: string): string =>
  m.kind === 'opening' ? `"${name.replace(/["\\]/g, '\\$&').replace(/\t/g, '\\t')}"` : name
