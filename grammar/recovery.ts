import { EmbeddedActionsParser, EOF, type IToken, type TokenType } from 'chevrotain'
import { shared } from './compact.ts'
import { indentBefore, lineEndAt, lineStart } from './lines.ts'
import { edit, finding, isBlank, RESERVED, replaceFix, type ScannedQuantity } from './quantity.ts'
import type { ScannedText } from './texts.ts'
import * as T from './tokens.ts'
import { endOf } from './tokens.ts'
import type { Expression, Missing, SyntaxFinding, SyntaxFix, Text, Word } from './tree.ts'

/** Deeper nesting than any job needs, and far from the end of the stack. */
const BLOCK_DEPTH = 40
const BRACKET_DEPTH = 40
const OPERATORS = 400
/** Blocks that are recognised by their name alone where `{` is missing. */
const HEADERS: ReadonlySet<string> = new Set(['opening', 'job', 'spring'])
const VALUE_STARTS: ReadonlySet<TokenType> = new Set([
  T.QuantityToken,
  T.TextToken,
  T.True,
  T.False,
  T.Name,
  T.LParen,
  T.LSquare,
])
const STATEMENT_STARTS: ReadonlySet<TokenType> = new Set([T.Name, T.Use, T.LetWord, T.RequireWord, T.AllowWord])
const BLOCK_STARTS: ReadonlySet<TokenType> = new Set([T.LCurly, T.Like])

export type Shape = 'field' | 'block' | 'value' | 'dotted' | 'nothing'

/** What the rules of the grammar stand on: the leaves of the tree, and how to go on after a mistake. */
export abstract class Recovery extends EmbeddedActionsParser {
  protected text = ''
  protected findings: SyntaxFinding[] = []
  protected limits: ReadonlyMap<number, number> = new Map()
  protected blocks = 0
  protected brackets = 0
  protected operators = 0

  // Leaves

  protected get end(): number {
    const last = this.LA(0)
    return last.tokenType === EOF ? 0 : endOf(last)
  }

  /** The end of what was read, without the separators that an unclosed block has taken in. */
  protected get statementEnd(): number {
    let back = 0
    while (this.LA(-back).tokenType === T.LineEnd || this.LA(-back).tokenType === T.Semicolon) back++
    return endOf(this.LA(-back))
  }

  protected wordOf(t: IToken): Word {
    return { start: t.startOffset, end: endOf(t), text: shared((t.payload as string | undefined) ?? t.image) }
  }

  protected textOf(t: IToken): Text {
    return (t.payload as ScannedText | undefined)?.node as Text
  }

  protected quantityOf(t: IToken): Expression {
    const parts = (t.payload as ScannedQuantity | undefined)?.parts ?? []
    return { kind: 'quantity', start: t.startOffset, end: endOf(t), parts }
  }

  protected truthOf(t: IToken, value: boolean): Expression {
    return { kind: 'truth', start: t.startOffset, end: endOf(t), value }
  }

  protected missing(): Missing {
    return { kind: 'missing', start: this.end, end: this.end }
  }

  // Findings and recovery

  protected report(
    start: number,
    end: number,
    message: string,
    fixes: readonly SyntaxFix[] = [],
    related: SyntaxFinding['related'] = [],
  ) {
    this.findings.push(finding(start, end, message, fixes, related))
  }

  /** Something is missing after the last token. */
  protected expected(what: string, fixes: readonly SyntaxFix[] = []): void {
    const last = this.LA(0)
    this.report(Math.max(0, last.startOffset), this.end, `Expected ${what}.`, fixes)
  }

  protected checkName(name: Word): void {
    if (/^[a-z][a-z0-9_]*$/.test(name.text) || !/^[A-Za-z]\w*$/.test(name.text)) return
    const small = name.text.toLowerCase()
    this.report(name.start, name.end, `Names are written in small letters: \`${small}\`.`, [
      replaceFix(`Write \`${small}\``, name.start, name.end, small),
    ])
  }

  protected isEnd(t: IToken, limit = Number.POSITIVE_INFINITY): boolean {
    return (
      t.tokenType === EOF ||
      t.tokenType === T.LineEnd ||
      t.tokenType === T.Semicolon ||
      t.tokenType === T.RCurly ||
      t.startOffset >= limit
    )
  }

  /** Decides what the name just read begins, and reports what is wrong with the way it goes on. */
  protected shape(name: Word): Shape {
    const next = this.LA(1)
    const after = this.LA(2)
    if (next.tokenType === T.Dot && this.isDottedField()) return 'dotted'
    if (next.tokenType === T.Equals || next.tokenType === T.Colon || next.tokenType === T.Equal) {
      this.readEquals(name.text)
      return 'field'
    }
    if (BLOCK_STARTS.has(next.tokenType)) return 'block'
    if (next.tokenType === T.LineEnd && this.braceBelow(1)) return 'block'
    if (next.tokenType === T.TextToken || next.tokenType === T.Name) {
      if (BLOCK_STARTS.has(after.tokenType) || (after.tokenType === T.LineEnd && this.braceBelow(2))) return 'block'
      if (HEADERS.has(name.text) && this.isEnd(after)) return 'block'
    }
    const clear = next.tokenType !== T.Name || (after.tokenType !== T.Equals && after.tokenType !== T.Colon)
    if ((VALUE_STARTS.has(next.tokenType) || next.tokenType === T.Minus) && clear) {
      this.report(name.start, name.end, `Expected \`=\` between \`${name.text}\` and its value.`, [
        replaceFix('Put `=` here', name.end, next.startOffset, ' = '),
      ])
      return 'value'
    }
    this.report(name.start, name.end, `Expected \`=\` and a value, or \`{\` and a block, after \`${name.text}\`.`)
    return 'nothing'
  }

  /** The splitter takes a line that starts with one of these as the start of a chunk, so none can stand in a block. */
  protected checkTopLevel(word: string, start: number): void {
    if (this.blocks === 0) return
    const message = `\`${word}\` stands at the top level of the file. Move it out of the block around it.`
    this.report(start, start + word.length, message)
  }

  protected isDottedField(): boolean {
    let i = 1
    while (this.LA(i).tokenType === T.Dot && this.LA(i + 1).tokenType === T.Name) i += 2
    if (i === 1 || this.LA(i).tokenType !== T.Equals) return false
    const first = this.LA(0)
    const last = this.LA(i - 1)
    const path = this.text.slice(first.startOffset, endOf(last))
    const block = `${path.slice(0, path.lastIndexOf('.')).replaceAll('.', ' { ')} { ${last.image} = ... }`
    this.report(first.startOffset, endOf(last), `A field is written inside its block: \`${block}\`.`)
    return true
  }

  /** Reads `:` or `==` where `=` should be; in a `let` also reports that none is there. */
  protected readEquals(what: string): void {
    const next = this.LA(1)
    if (next.tokenType === T.Equals) return
    if (next.tokenType === T.Colon || next.tokenType === T.Equal) {
      const message =
        next.tokenType === T.Colon
          ? 'Expected `=` before the value, not `:`.'
          : '`==` compares. Expected `=` to give the value.'
      const touches = next.tokenType === T.Colon && !isBlank(this.text[next.startOffset - 1])
      const text = `${touches ? ' ' : ''}=${touches && !isBlank(this.text[endOf(next)]) ? ' ' : ''}`
      this.report(next.startOffset, endOf(next), message, [
        replaceFix('Write `=`', next.startOffset, endOf(next), text),
      ])
      next.tokenType = T.Equals
      next.tokenTypeIdx = T.Equals.tokenTypeIdx ?? 0
    } else if (VALUE_STARTS.has(next.tokenType)) {
      const end = this.end
      this.expected(`\`=\` after \`${what}\``, [replaceFix('Put `=` here', end, next.startOffset, ' = ')])
    }
  }

  /** In a `require`, `=` can only have been meant as `==`. */
  protected compareByEquals(): void {
    for (let i = 1; !this.isEnd(this.LA(i)) && this.LA(i).tokenType !== T.LCurly; i++) {
      const t = this.LA(i)
      if (t.tokenType !== T.Equals) continue
      this.report(t.startOffset, endOf(t), '`=` gives a value. Expected `==` to compare.', [
        replaceFix('Write `==`', t.startOffset, endOf(t), '=='),
      ])
      t.payload = '=='
      t.tokenType = T.Equal
      t.tokenTypeIdx = T.Equal.tokenTypeIdx ?? 0
    }
  }

  protected braceBelow(from: number): boolean {
    let i = from
    while (this.LA(i).tokenType === T.LineEnd) i++
    return this.LA(i).tokenType === T.LCurly
  }

  /** Goes to the `{` of the header just read, also where it stands on a later line. */
  protected reachBrace(name: Word): void {
    if (this.LA(1).tokenType === T.LCurly) return
    const header = this.end
    const brace = `\`{\` on the same line as \`${name.text}\``
    if (this.LA(1).tokenType === T.LineEnd && this.braceBelow(1)) {
      while (this.LA(1).tokenType === T.LineEnd) this.SKIP_TOKEN()
      const open = this.LA(1)
      const clean = this.text.slice(header, open.startOffset).trim() === ''
      const fixes = clean ? [replaceFix('Move `{` up', header, endOf(open), ' {')] : []
      this.report(open.startOffset, endOf(open), `Expected ${brace}.`, fixes)
      return
    }
    // Behind a text without its closing quote a brace would be part of the text.
    const last = this.LA(0)
    const inText = last.tokenType === T.TextToken && !this.textOf(last).closed
    const fixes = inText ? [] : [replaceFix('Add `{ }`', header, header, ' { }')]
    this.report(name.start, header, `Expected ${brace}, and \`}\` after its fields.`, fixes)
  }

  protected tooDeep(name: Word): boolean {
    if (this.LA(1).tokenType !== T.LCurly || this.blocks < BLOCK_DEPTH) return false
    this.report(name.start, name.end, `Blocks stand more than ${BLOCK_DEPTH} deep here. What is inside is not read.`)
    this.skipBraces()
    return true
  }

  protected skipBraces(): void {
    let depth = 0
    do {
      const { tokenType } = this.LA(1)
      if (tokenType === T.LCurly) depth++
      else if (tokenType === T.RCurly) depth--
      this.SKIP_TOKEN()
    } while (depth > 0 && this.LA(1).tokenType !== EOF)
  }

  protected unclosed(name: Word, header: number): void {
    const text = this.text
    const next = this.LA(1)
    const atEnd = next.tokenType === EOF
    const indent = text.slice(lineStart(text, name.start), name.start).replace(/[^ \t]/g, ' ')
    const end = this.statementEnd
    const place = atEnd ? end : lineStart(text, next.startOffset)
    const newline = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n'
    const insert = atEnd ? `${newline}${indent}}` : `${indent}}${newline}`
    // After a comment at the end of the last line the brace goes below it.
    let at = place
    if (atEnd) while (at < text.length && lineEndAt(text, at) === 0) at++
    const related = {
      start: place,
      end: atEnd ? end : endOf(next),
      message: `Expected the \`}\` of \`${name.text}\` before here.`,
    }
    this.report(
      name.start,
      header,
      `\`${name.text}\` is opened here and never closed. Add a \`}\` where it ends.`,
      [replaceFix(`Close \`${name.text}\` with \`}\``, at, at, insert)],
      [related],
    )
  }

  protected docAbove(start: number): string | undefined {
    const text = this.text
    const indent = indentBefore(text, start)
    if (indent < 0) return undefined
    const lines: string[] = []
    let at = start - indent
    while (at > 0) {
      let end = at - 1
      if (text[end] === '\n' && text[end - 1] === '\r') end--
      const from = lineStart(text, end)
      // Nearly all lines above a block are no comments; a first look is enough for them.
      let mark = from
      while (isBlank(text[mark])) mark++
      if (text[mark] !== '#') break
      const doc = /^[ \t\ufeff]*##[ \t]?(.*?)[ \t]*$/.exec(text.slice(from, end))
      if (!doc) break
      lines.unshift(doc[1] ?? '')
      at = from
    }
    return lines.length > 0 ? lines.join('\n') : undefined
  }

  protected fewOperators(): boolean {
    const t = this.LA(1)
    if (this.operators < OPERATORS) {
      // The gate is asked once more than there are operators; only the operators count.
      if (t.tokenType.CATEGORIES?.some(c => c === T.Infix || c === T.Prefix)) this.operators++
      return true
    }
    if (this.operators === OPERATORS && t.tokenType !== EOF) {
      this.operators++
      this.report(t.startOffset, endOf(t), 'This expression is too long. Split it with `let`.')
    }
    return false
  }

  protected tooManyBrackets(): boolean {
    const open = this.LA(1)
    if ((open.tokenType !== T.LParen && open.tokenType !== T.LSquare) || this.brackets < BRACKET_DEPTH) return false
    this.report(
      open.startOffset,
      endOf(open),
      `Brackets stand more than ${BRACKET_DEPTH} deep here. What is inside is not read. Split it with \`let\`.`,
    )
    let depth = 0
    do {
      const { tokenType } = this.LA(1)
      if (tokenType === T.LParen || tokenType === T.LSquare) depth++
      else if (tokenType === T.RParen || tokenType === T.RSquare) depth--
      this.SKIP_TOKEN()
    } while (depth > 0 && !this.isEnd(this.LA(1)) && this.LA(1).tokenType !== T.LCurly)
    return true
  }

  protected missingValue(): Missing {
    const last = this.LA(0)
    const next = this.LA(1)
    const missing = this.missing()
    const closed = last.tokenType === T.RParen || last.tokenType === T.RSquare
    if (this.operators > OPERATORS || (closed && this.brackets >= BRACKET_DEPTH)) return missing
    if (RESERVED.has(next.image) && next.tokenType !== T.BecauseWord && !this.startsAnother(next)) {
      this.report(next.startOffset, endOf(next), `\`${next.image}\` is a word of the language. Expected a value.`)
      this.SKIP_TOKEN()
    } else this.report(last.startOffset, endOf(last), `A value is missing after \`${last.image}\`.`)
    return missing
  }

  protected trailingComma(comma: IToken, close: TokenType): boolean {
    if (this.LA(1).tokenType !== close) return false
    this.report(comma.startOffset, endOf(comma), 'No comma stands after the last value.', [
      replaceFix('Remove the comma', comma.startOffset, endOf(comma), ''),
    ])
    return true
  }

  /** Skips what cannot be read up to the bracket that closes, so that one mistake is one finding. */
  protected reachClose(close: TokenType): void {
    if (this.LA(1).tokenType === close || this.isEnd(this.LA(1)) || this.LA(1).tokenType === T.LCurly) return
    let i = 1
    let depth = 0
    for (; ; i++) {
      const t = this.LA(i)
      if (this.isEnd(t) || t.tokenType === T.LCurly || t.tokenType === T.BecauseWord) return
      if (depth === 0 && t.tokenType === close) break
      if (t.tokenType === T.LParen || t.tokenType === T.LSquare) depth++
      else if (t.tokenType === T.RParen || t.tokenType === T.RSquare) depth--
      if (depth < 0) return
    }
    this.reportJunk(close)
    while (--i > 0) this.SKIP_TOKEN()
  }

  protected checkClosed(open: IToken, close: TokenType): void {
    if (this.LA(0).tokenType === close && this.LA(0) !== open) return
    const mark = close === T.RParen ? ')' : ']'
    const end = this.end
    this.report(
      open.startOffset,
      endOf(open),
      `\`${open.image}\` is opened here and never closed. Expected \`${mark}\`.`,
      [replaceFix(`Add \`${mark}\``, end, end, mark)],
      [{ start: end, end, message: `Expected \`${mark}\` here.` }],
    )
  }

  /** Skips whatever cannot start a statement; false where the body ends. */
  protected reachStatement(limit: number): boolean {
    for (;;) {
      const t = this.LA(1)
      if (t.tokenType === EOF || t.startOffset >= limit) return false
      if (t.tokenType === T.LineEnd || t.tokenType === T.Semicolon) return true
      if (STATEMENT_STARTS.has(t.tokenType)) {
        this.operators = 0
        return true
      }
      if (t.tokenType === T.RCurly) {
        if (this.blocks > 0) return false
        this.strayBrace(t)
        this.SKIP_TOKEN()
        continue
      }
      if (t.tokenType === T.LCurly)
        this.report(t.startOffset, endOf(t), 'Expected the name of a block before `{`. What is inside is not read.')
      else if (RESERVED.has(t.image))
        this.report(t.startOffset, endOf(t), `\`${t.image}\` is a word of the language. Expected a name here.`)
      else if (this.mergeMark(t.startOffset))
        this.report(
          t.startOffset,
          t.startOffset + 7,
          'A merge left its marks here. Keep one of the two versions and remove the lines with `<<<<<<<`, `=======` and `>>>>>>>`.',
        )
      else
        this.report(t.startOffset, endOf(t), 'Expected a field, a block, or one of `let`, `require`, `allow`, `use`.')
      this.skipStatement(limit)
    }
  }

  /** Whether a line starts with what a version control system writes into a file that it could not merge. */
  private mergeMark(at: number): boolean {
    return /^(<{7}|={7}|>{7}|\|{7})/.test(this.text.slice(at, at + 7))
  }

  protected skipStatement(limit: number): void {
    while (!this.isEnd(this.LA(1), limit)) {
      if (this.LA(1).tokenType === T.LCurly) this.skipBraces()
      else this.SKIP_TOKEN()
    }
  }

  protected strayBrace(t: IToken): void {
    const text = this.text
    let [start, end] = [t.startOffset, endOf(t)]
    while (isBlank(text[end])) end++
    const indent = indentBefore(text, start)
    if (indent >= 0 && (end === text.length || lineEndAt(text, end) > 0)) {
      start -= indent
      end += lineEndAt(text, end)
    } else end = endOf(t)
    this.report(t.startOffset, endOf(t), 'This `}` closes nothing. Remove it, or add the `{` it belongs to.', [
      replaceFix('Remove `}`', start, end, ''),
    ])
  }

  /** After a statement only a separator may come; anything else is reported once and skipped. */
  protected finishStatement(limit: number): void {
    const t = this.LA(1)
    // A block that was never closed has taken in the line ends before what follows it.
    if (this.isEnd(t, limit) || this.LA(0).tokenType === T.LineEnd || this.LA(0).tokenType === T.Semicolon) return
    if (this.operators > OPERATORS) {
      this.skipStatement(limit)
      return
    }
    const end = this.end
    if (this.startsAnother(t)) {
      const after = this.LA(0).tokenType === T.RCurly ? 'after `}`' : 'between two statements'
      this.report(t.startOffset, endOf(t), `Expected a line end or \`;\` ${after}.`, [
        replaceFix('Put `;` between', end, end, ';'),
      ])
      return
    }
    this.reportJunk()
    this.skipStatement(limit)
  }

  protected startsAnother(t: IToken): boolean {
    if (t.tokenType === T.RequireWord) return true
    if (t.tokenType === T.LetWord || t.tokenType === T.AllowWord) return this.LA(2).tokenType === T.Name
    if (t.tokenType === T.Use) return this.LA(2).tokenType === T.TextToken
    if (t.tokenType !== T.Name) return false
    const next = this.LA(2).tokenType
    if (next === T.Equals || next === T.Colon || BLOCK_STARTS.has(next)) return true
    return (next === T.TextToken || next === T.Name) && BLOCK_STARTS.has(this.LA(3).tokenType)
  }

  protected reportJunk(close?: TokenType): void {
    const before = this.LA(0)
    const t = this.LA(1)
    const [start, end] = [t.startOffset, endOf(t)]
    const text = this.text
    if (t.tokenType === T.Comma && !close) {
      const digits = /^\d{3}(?!\d)/.test(text.slice(end, end + 4))
      if (before.tokenType === T.QuantityToken && digits && start === endOf(before))
        this.report(start, end, 'Numbers have no comma between thousands.', [
          replaceFix('Remove the comma', start, end, ''),
        ])
      else
        this.report(start, end, 'No comma stands at the end of a value.', [
          replaceFix('Remove the comma', start, end, ''),
        ])
      return
    }
    if (t.tokenType === T.Equals) {
      this.report(start, end, 'A second `=` stands here. Expected `==` to compare, or a line end.')
      return
    }
    const gap = text.slice(endOf(before), start)
    if (before.tokenType === T.QuantityToken && gap.length > 1) {
      const unit = t.tokenType === T.Name && !RESERVED.has(t.image)
      if (unit || t.tokenType === T.QuantityToken) {
        const what = unit ? 'a number and its unit' : 'the parts of a quantity'
        this.report(start, end, `At most one space stands between ${what}.`, [
          replaceFix('Write one space', endOf(before), start, ' '),
        ])
        return
      }
    }
    if (before.tokenType === T.TextToken) {
      this.report(
        start,
        end,
        'The text before this has ended. Expected a line end. Inside a text, `"` is written `\\"`.',
      )
      return
    }
    if (t.tokenType === T.RParen || t.tokenType === T.RSquare) {
      this.report(start, end, `This \`${t.image}\` closes nothing. Remove it.`, [
        { title: `Remove \`${t.image}\``, edits: [edit(start, end, '')] },
      ])
      return
    }
    const place =
      close === T.RParen
        ? '`,`, `)` or an operator'
        : close
          ? '`,`, `]` or an operator'
          : 'a line end, `;` or an operator'
    this.report(start, end, `Expected ${place} before \`${t.image}\`.`)
  }
}
