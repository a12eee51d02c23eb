import { type CustomPatternMatcherReturn, createToken, type IToken, Lexer, type TokenType } from 'chevrotain'
import { nameEnd, startsStatement } from './lines.ts'
import { edit, finding, isBlank, quantityAt, RESERVED, replaceFix, type ScannedQuantity } from './quantity.ts'
import { type ScannedText, startsText, textAt } from './texts.ts'
import type { SyntaxFinding } from './tree.ts'

const token = (name: string, pattern: string | RegExp, ...categories: TokenType[]): TokenType =>
  createToken({ name, pattern, categories })
const category = (name: string): TokenType => createToken({ name, pattern: Lexer.NA })

type Matcher = (text: string, at: number) => CustomPatternMatcherReturn | null
const custom = (name: string, starts: readonly string[], pattern: Matcher): TokenType =>
  createToken({ name, pattern, start_chars_hint: [...starts], line_breaks: false })

/** What the matchers answer. Chevrotain takes out what it needs at once, so that one serves all tokens. */
const matched: CustomPatternMatcherReturn = ['']

function match(text: string, at: number, end: number, payload?: ScannedQuantity | ScannedText) {
  matched[0] = text.slice(at, end)
  matched.payload = payload
  return matched
}

// Chevrotain sorts characters above 255 into buckets of 256; one from each bucket stands for all of it.
const EVERY = Array.from({ length: 511 }, (_, i) => String.fromCharCode(i < 256 ? i : (i - 255) * 256))
const LETTERS = EVERY.filter(char => char.charCodeAt(0) > 255 || /[\p{L}_]/u.test(char))

export const Infix = category('Infix')
export const Prefix = category('Prefix')
/** A `;` or a line end. */
export const Separator = category('Separator')

export const LineEnd = token('LineEnd', /\r\n|\n|\r/, Separator)
export const Semicolon = token('Semicolon', ';', Separator)
export const LCurly = token('LCurly', '{')
export const RCurly = token('RCurly', '}')
export const LParen = token('LParen', '(')
export const RParen = token('RParen', ')')
export const LSquare = token('LSquare', '[')
export const RSquare = token('RSquare', ']')
export const Comma = token('Comma', ',')
export const Dot = token('Dot', '.')
export const Colon = token('Colon', ':')
export const Equal = token('Equal', '==', Infix)
const Unequal = token('Unequal', '!=', Infix)
const AtMost = token('AtMost', '<=', Infix)
const AtLeast = token('AtLeast', '>=', Infix)
const Less = token('Less', '<', Infix)
const More = token('More', '>', Infix)
export const Equals = token('Equals', '=')
const Plus = token('Plus', '+', Infix, Prefix)
export const Minus = token('Minus', '-', Infix, Prefix)
const Star = token('Star', '*', Infix)
const Slash = token('Slash', '/', Infix)
const Caret = token('Caret', '^', Infix)

const word = (name: string, ...categories: TokenType[]) => createToken({ name, pattern: Lexer.NA, categories })
export const Use = word('Use')
export const Like = word('Like')
export const LetWord = word('LetWord')
export const RequireWord = word('RequireWord')
export const AllowWord = word('AllowWord')
export const BecauseWord = word('BecauseWord')
const And = word('And', Infix)
const Or = word('Or', Infix)
const Not = word('Not', Prefix)
export const True = word('True')
export const False = word('False')
const WORDS: ReadonlyMap<string, TokenType> = new Map([
  ['use', Use],
  ['like', Like],
  ['let', LetWord],
  ['require', RequireWord],
  ['allow', AllowWord],
  ['because', BecauseWord],
  ['and', And],
  ['or', Or],
  ['not', Not],
  ['true', True],
  ['false', False],
])

export const Name = custom('Name', LETTERS, (text, at) => {
  const end = nameEnd(text, at)
  return end > at ? match(text, at, end) : null
})
export const QuantityToken = custom('Quantity', [...'0123456789.'], (text, at) => {
  const quantity = quantityAt(text, at)
  return quantity ? match(text, at, quantity.end, quantity) : null
})
export const TextToken = custom('Text', [...'"“”„'], (text, at) => {
  if (!startsText(text[at])) return null
  const scanned = textAt(text, at)
  return match(text, at, scanned.end, scanned)
})
// Chevrotain has a quick way for a class of characters where all of them are ASCII.
const Blank = createToken({ name: 'Blank', pattern: /[ \t\f\v]+/, group: Lexer.SKIPPED })
const OtherBlank = createToken({ name: 'OtherBlank', pattern: /[\u00a0\ufeff]+/, group: Lexer.SKIPPED })
const Comment = createToken({ name: 'Comment', pattern: /#[^\r\n]*/, group: 'comments' })
/** Whatever no other token takes: written in another notation, or not part of the language at all. */
const Odd = custom('Odd', EVERY, (text, at) => {
  const two = text.slice(at, at + 2)
  if (OTHER_NOTATION.has(two)) return [two]
  return [String.fromCodePoint(text.codePointAt(at) ?? 0)]
})

const OTHER_NOTATION: ReadonlyMap<string, readonly [write: string, type: TokenType]> = new Map([
  ['&&', ['and', And]],
  ['||', ['or', Or]],
  ['=>', ['>=', AtLeast]],
  ['=<', ['<=', AtMost]],
  ['<>', ['!=', Unequal]],
  ['≤', ['<=', AtMost]],
  ['≥', ['>=', AtLeast]],
  ['≠', ['!=', Unequal]],
  ['×', ['*', Star]],
  ['·', ['*', Star]],
  ['÷', ['/', Slash]],
  ['−', ['-', Minus]],
  ['–', ['-', Minus]],
  ['—', ['-', Minus]],
  ['!', ['not', Not]],
])
const OddPair = createToken({ name: 'OddPair', pattern: /=>|=<|<>/ })

/** In the order in which they are tried. */
export const TOKENS: TokenType[] = [
  Blank,
  OtherBlank,
  LineEnd,
  Name,
  QuantityToken,
  TextToken,
  Comment,
  OddPair,
  Equal,
  Unequal,
  AtMost,
  AtLeast,
  Less,
  More,
  Equals,
  Plus,
  Minus,
  Star,
  Slash,
  Caret,
  Semicolon,
  LCurly,
  RCurly,
  LParen,
  RParen,
  LSquare,
  RSquare,
  Comma,
  Dot,
  Colon,
  Odd,
  ...WORDS.values(),
  Infix,
  Prefix,
  Separator,
]
export const LEXER_OPTIONS = { positionTracking: 'onlyOffset', ensureOptimizations: true } as const
const lexer = new Lexer(TOKENS, { ...LEXER_OPTIONS, skipValidations: true })

export const endOf = (t: IToken): number => t.startOffset + t.image.length

export interface Lexed {
  readonly tokens: IToken[]
  readonly comments: readonly IToken[]
  readonly findings: SyntaxFinding[]
}

function become(t: IToken, type: TokenType): void {
  t.tokenType = type
  t.tokenTypeIdx = type.tokenTypeIdx ?? 0
}

/** Reads a chunk's text into tokens. Line ends inside brackets are left out, words get their own types. */
export function lex(text: string): Lexed {
  const { tokens: raw, groups } = lexer.tokenize(text)
  const tokens: IToken[] = []
  const findings: SyntaxFinding[] = []
  let brackets = 0
  for (let i = 0; i < raw.length; i++) {
    const t = raw[i]!
    switch (t.tokenType) {
      case Name:
        i = readName(text, raw, i, tokens, findings)
        break
      case QuantityToken:
      case TextToken:
        for (const found of (t.payload as ScannedQuantity | ScannedText).findings) findings.push(found)
        break
      case LParen:
      case LSquare:
        brackets++
        break
      case RParen:
      case RSquare:
        brackets = Math.max(0, brackets - 1)
        break
      case Semicolon:
      case LCurly:
      case RCurly:
        brackets = 0
        break
      case LineEnd:
        if (brackets > 0) {
          if (!startsStatement(text, endOf(t))) continue
          brackets = 0
        }
        break
      case Odd:
      case OddPair:
        if (!readOdd(t, findings)) continue
        break
    }
    if (t.tokenType === Star || t.tokenType === Slash) checkSpaces(text, t, findings)
    tokens.push(t)
  }
  return { tokens, comments: groups.comments ?? [], findings }
}

/** Gives reserved words their type, and reads `bottom-bar = ...` as the name it was meant to be. */
function readName(text: string, raw: IToken[], at: number, before: readonly IToken[], findings: SyntaxFinding[]) {
  const t = raw[at]!
  const reserved = WORDS.get(t.image)
  if (reserved) {
    become(t, reserved)
    return at
  }
  let last = at
  if (raw[at + 1]?.tokenType === Minus && startsName(before.at(-1)?.tokenType)) {
    while (raw[last + 1]?.tokenType === Minus && raw[last + 2]?.tokenType === Name) {
      if (endOf(raw[last]!) !== raw[last + 1]!.startOffset || endOf(raw[last + 1]!) !== raw[last + 2]!.startOffset)
        break
      last += 2
    }
    const follower = raw[last + 1]?.tokenType
    if (follower !== Equals && follower !== LCurly) last = at
  }
  const end = endOf(raw[last]!)
  if (last > at) {
    t.image = text.slice(t.startOffset, end)
    t.payload = t.image.toLowerCase().replaceAll('-', '_')
    findings.push(
      finding(t.startOffset, end, `Names have no \`-\`. Write \`${t.payload}\`.`, [
        replaceFix(`Write \`${t.payload}\``, t.startOffset, end, t.payload),
      ]),
    )
  } else if (!/^[A-Za-z]\w*$/.test(t.image)) {
    findings.push(
      finding(t.startOffset, end, 'A name has the letters a to z, digits and `_`, and starts with a letter.'),
    )
  }
  return last
}

/** Whether the name of a field, block or `let` may stand after this token. */
const startsName = (before: TokenType | undefined): boolean =>
  !before || before === LineEnd || before === Semicolon || before === LCurly || before === RCurly || before === LetWord

/** Reads another notation as what it means; false where the token means nothing and is left out. */
function readOdd(t: IToken, findings: SyntaxFinding[]): boolean {
  const end = endOf(t)
  const known = OTHER_NOTATION.get(t.image)
  if (known) {
    const [write, type] = known
    become(t, type)
    const text = write === 'not' ? 'not ' : write
    findings.push(
      finding(t.startOffset, end, `Expected \`${write}\`, not \`${t.image}\`.`, [
        replaceFix(`Write \`${write}\``, t.startOffset, end, text),
      ]),
    )
    t.payload = write
    return true
  }
  const code = (t.image.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')
  const unseen = /[\p{Z}\p{C}]/u.test(t.image)
  const message = unseen
    ? `An unseen character (U+${code}) stands here. Remove it.`
    : `\`${t.image}\` has no meaning here. Remove it, or put the words it belongs to in quotes.`
  findings.push(
    finding(t.startOffset, end, message, [
      replaceFix('Remove it', t.startOffset, end, /\p{Z}/u.test(t.image) ? ' ' : ''),
    ]),
  )
  return false
}

/** `*` and `/` are operators only with a space on both sides. */
function checkSpaces(text: string, t: IToken, findings: SyntaxFinding[]): void {
  const end = endOf(t)
  const open = (char: string | undefined) => char === undefined || isBlank(char) || char === '\n' || char === '\r'
  const before = open(text[t.startOffset - 1])
  const after = open(text[end]) || text[end] === '#'
  if (before && after) return
  const edits = []
  if (!before) edits.push(edit(t.startOffset, t.startOffset, ' '))
  if (!after) edits.push(edit(end, end, ' '))
  findings.push(
    finding(t.startOffset, end, `Expected a space on both sides of \`${t.image}\`.`, [
      { title: `Put spaces around \`${t.image}\``, edits },
    ]),
  )
}

export const isReserved = (t: IToken): boolean => RESERVED.has(t.image)
