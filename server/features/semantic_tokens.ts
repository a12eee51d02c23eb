/**
 * Colours by meaning, in the protocol's own kinds. Units, brackets, commas and points are not told: there the editor's colours
 * from the grammar stay.
 */
import { type Token, tokenize } from '../../grammar/index.ts'
import { standardPipe, type Unit } from '../model/index.ts'
import type { Mention } from './mentions.ts'

export const TOKEN_TYPES = [
  'keyword',
  'class',
  'namespace',
  'property',
  'variable',
  'function',
  'enumMember',
  'number',
  'string',
  'comment',
  'operator',
] as const
export const TOKEN_MODIFIERS = ['declaration', 'readonly', 'defaultLibrary', 'documentation'] as const
export type TokenType = (typeof TOKEN_TYPES)[number]
export type TokenModifier = (typeof TOKEN_MODIFIERS)[number]

export interface ColouredToken {
  /** From the start of the chunk. */
  readonly start: number
  readonly end: number
  readonly type: TokenType
  readonly modifiers: readonly TokenModifier[]
}

const PLAIN: Partial<Record<Token['kind'], TokenType>> = {
  keyword: 'keyword',
  number: 'number',
  text: 'string',
  operator: 'operator',
  comment: 'comment',
  doc: 'comment',
}

/** In the order of the text; none overlaps another. */
export function semanticTokens(unit: Unit, mentions: readonly Mention[]): ColouredToken[] {
  const named = new Map(mentions.map(m => [m.span.start, m]))
  const out: ColouredToken[] = []
  for (const t of tokenize(unit.chunk.text)) {
    const m = t.kind === 'name' || t.kind === 'text' ? named.get(t.start) : undefined
    const meant = m && byMeaning(m, t)
    const type = meant?.[0] ?? PLAIN[t.kind]
    if (!type || (type === 'operator' && unit.chunk.text[t.start] === '.')) continue
    out.push({ start: t.start, end: t.end, type, modifiers: meant?.[1] ?? (t.kind === 'doc' ? ['documentation'] : []) })
  }
  return out
}

function byMeaning(m: Mention, t: Token): [TokenType, TokenModifier[]] | undefined {
  const declared: TokenModifier[] = m.definition ? ['declaration'] : []
  switch (m.kind) {
    case 'block':
      return m.definition ? ['class', []] : ['namespace', []]
    case 'opening':
    case 'stock':
    case 'spring':
      if (t.kind === 'text') return ['string', declared]
      return ['namespace', m.of === 'pipe' && !m.at && standardPipe(m.name) ? ['defaultLibrary'] : declared]
    case 'field':
      return ['property', declared]
    case 'derived':
      return ['property', ['readonly']]
    case 'let':
      return ['variable', [...declared, 'readonly']]
    case 'function':
      return ['function', ['defaultLibrary']]
    case 'word':
    case 'rule':
      return ['enumMember', []]
  }
}
