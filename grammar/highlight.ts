import type { ScannedQuantity } from './quantity.ts'
import * as T from './tokens.ts'
import type { Span } from './tree.ts'

export type TokenKind = 'keyword' | 'name' | 'number' | 'unit' | 'text' | 'operator' | 'punctuation' | 'comment' | 'doc'

export interface Token extends Span {
  readonly kind: TokenKind
}

const PUNCTUATION = new Set([T.LCurly, T.RCurly, T.LParen, T.RParen, T.LSquare, T.RSquare, T.Comma, T.Semicolon])

/** The tokens of a chunk's text in order, comments among them; line ends and blanks are left out. */
export function tokenize(text: string): readonly Token[] {
  const { tokens, comments } = T.lex(text)
  const out: Token[] = []
  for (const t of comments)
    out.push({ start: t.startOffset, end: T.endOf(t), kind: t.image.startsWith('##') ? 'doc' : 'comment' })
  for (const t of tokens) {
    if (t.tokenType === T.LineEnd) continue
    if (t.tokenType === T.QuantityToken) {
      for (const part of (t.payload as ScannedQuantity).parts) {
        out.push({ start: part.number.start, end: part.number.end, kind: 'number' })
        if (part.unit) out.push({ start: part.unit.start, end: part.unit.end, kind: 'unit' })
      }
      continue
    }
    out.push({ start: t.startOffset, end: T.endOf(t), kind: kindOf(t.tokenType, t.image) })
  }
  return out.sort((a, b) => a.start - b.start)
}

function kindOf(type: (typeof T.TOKENS)[number], image: string): TokenKind {
  if (type === T.TextToken) return 'text'
  if (type === T.Name) return 'name'
  if (PUNCTUATION.has(type)) return 'punctuation'
  return /^[a-z]/.test(image) ? 'keyword' : 'operator'
}
