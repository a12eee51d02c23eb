/** The only door of this room: text to tree, tree to text. */
export { applyEdits, chunkIndexAt, editSource, parseSource } from './blocks.ts'
export { type Token, type TokenKind, tokenize } from './highlight.ts'
export { lineStarts, offsetAt, type Position, positionAt } from './positions.ts'
export { type FormatOptions, type Formatted, format, formatChunk, formatRange } from './print.ts'
export { RESERVED } from './quantity.ts'
export type * from './tree.ts'
export { children, chunkAt, holds, isStatement, type Node, pathTo, statementAt, walk } from './walk.ts'
