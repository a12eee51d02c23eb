/**
 * The tree of a job file.
 *
 * A file is a row of chunks. A chunk holds one top-level statement (or several that share a line by `;`) with the
 * blank lines and comments before it. Every offset in a chunk's tree counts UTF-16 units from the start of that chunk,
 * so a chunk that an edit does not touch is reused as it is, wherever it has moved to.
 */
export interface Span {
  readonly start: number
  readonly end: number
}

/** A name as written. */
export interface Word extends Span {
  readonly text: string
}

/** A text in quotes; `start` and `end` include the quotes. */
export interface Text extends Span {
  readonly kind: 'text'
  /** The text with its escapes resolved. */
  readonly value: string
  /** False where the closing quote is missing. */
  readonly closed: boolean
}

/** What names a block: `opening "Dock 3"`, `spring long`. */
export type Label = (Word & { readonly kind: 'word' }) | Text

export type Statement = Use | Block | Field | Let | Require | Allow

export interface Use extends Span {
  readonly kind: 'use'
  readonly path: Text | undefined
}

export interface Block extends Span {
  readonly kind: 'block'
  readonly name: Word
  readonly label: Label | undefined
  readonly like: (Span & { readonly target: Label | undefined }) | undefined
  /** Offset of `{`, or -1 where it is missing. */
  readonly open: number
  /** Offset of `}`, or -1 where the block is not closed. */
  readonly close: number
  readonly body: readonly Statement[]
  /** The text of the `##` lines directly above, without their marks, joined by line ends. */
  readonly doc: string | undefined
}

export interface Because extends Span {
  readonly text: Text | undefined
}

export interface Field extends Span {
  readonly kind: 'field'
  readonly name: Word
  readonly value: Expression
  readonly because: Because | undefined
}

export interface Let extends Span {
  readonly kind: 'let'
  readonly name: Word | undefined
  readonly value: Expression
}

export interface Require extends Span {
  readonly kind: 'require'
  readonly value: Expression
  readonly because: Because | undefined
}

export interface Allow extends Span {
  readonly kind: 'allow'
  readonly rule: Word | undefined
  readonly because: Because | undefined
}

export type Expression = Quantity | Text | Truth | Path | Call | List | Group | Unary | Binary | Missing

/** A number with or without a unit, or neighbouring quantities that make one (`12ft 4 1/2in`). */
export interface Quantity extends Span {
  readonly kind: 'quantity'
  readonly parts: readonly Part[]
}

export interface Part extends Span {
  readonly number: NumberText
  readonly unit: UnitText | undefined
}

export interface NumberText extends Span {
  readonly text: string
  /** The number; NaN for a fraction over zero (which the tree keeps and the model reports). */
  readonly value: number
  /** Given where the number was written as a fraction or a mixed number. */
  readonly fraction: { readonly whole: number; readonly over: number; readonly under: number } | undefined
}

/** A unit expression as written (`lbf*in/turn`, `/day`, `%`, `'`), with its factors; trade marks have factor `ft` or `in`. */
export interface UnitText extends Span {
  readonly text: string
  readonly factors: readonly UnitFactor[]
}

export interface UnitFactor extends Span {
  readonly name: string
  /** Negative after a `/`. */
  readonly power: number
}

export interface Truth extends Span {
  readonly kind: 'truth'
  readonly value: boolean
}

export interface Path extends Span {
  readonly kind: 'path'
  readonly names: readonly Word[]
}

export interface Call extends Span {
  readonly kind: 'call'
  readonly name: Word
  readonly args: readonly Expression[]
}

export interface List extends Span {
  readonly kind: 'list'
  readonly items: readonly Expression[]
}

export interface Group extends Span {
  readonly kind: 'group'
  readonly inner: Expression
}

export interface Unary extends Span {
  readonly kind: 'unary'
  readonly operator: '-' | 'not'
  readonly operand: Expression
}

export type BinaryOperator = 'or' | 'and' | '<' | '<=' | '>' | '>=' | '==' | '!=' | '+' | '-' | '*' | '/' | '^'

export interface Binary extends Span {
  readonly kind: 'binary'
  readonly operator: BinaryOperator
  /** Where the operator stands. */
  readonly at: Span
  readonly left: Expression
  readonly right: Expression
}

/** Stands where an expression should be and none could be read; a syntax finding has been made already. */
export interface Missing extends Span {
  readonly kind: 'missing'
}

export interface TextEdit extends Span {
  readonly text: string
}

export interface SyntaxFix {
  readonly title: string
  readonly edits: readonly TextEdit[]
}

/** What cannot be read. The message says what was expected and what to do. */
export interface SyntaxFinding extends Span {
  readonly message: string
  readonly related: readonly (Span & { readonly message: string })[]
  readonly fixes: readonly SyntaxFix[]
}

export interface Chunk {
  readonly text: string
  readonly statements: readonly Statement[]
  readonly findings: readonly SyntaxFinding[]
}

/** A whole file: `chunks[i]` stands at offset `starts[i]`; the chunks' texts joined are the file's text. */
export interface Source {
  readonly text: string
  readonly chunks: readonly Chunk[]
  readonly starts: readonly number[]
}
