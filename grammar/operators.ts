import type { IToken } from 'chevrotain'
import { finding } from './quantity.ts'
import { endOf } from './tokens.ts'
import type { BinaryOperator, Expression, SyntaxFinding } from './tree.ts'

/** What stands between two operators: signs and `not`s, and the value they apply to. */
export interface Operand {
  readonly prefixes: readonly IToken[]
  readonly value: Expression
}

const NOT = 3
const COMPARISON = 4
const SIGN = 7
const STRENGTH: Readonly<Record<BinaryOperator, number>> = {
  or: 1,
  and: 2,
  '<': COMPARISON,
  '<=': COMPARISON,
  '>': COMPARISON,
  '>=': COMPARISON,
  '==': COMPARISON,
  '!=': COMPARISON,
  '+': 5,
  '-': 5,
  '*': 6,
  '/': 6,
  '^': 8,
}

/** The operator as the language writes it, whatever the author wrote. */
export const operatorOf = (t: IToken): BinaryOperator => (t.payload ?? t.image) as BinaryOperator

/** Builds the tree of a flat row `operand operator operand ...`; the row has one operand more than operators. */
export function buildExpression(
  text: string,
  operands: readonly Operand[],
  operators: readonly IToken[],
  findings: SyntaxFinding[],
): Expression {
  let next = 0

  const prefixed = (operand: Operand, from: number, min: number): Expression => {
    const sign = operand.prefixes[from]
    if (!sign) return operand.value
    const operator = (sign.payload ?? sign.image) as '-' | '+' | 'not'
    if (operator === 'not' && min > NOT) {
      findings.push(
        finding(sign.startOffset, endOf(sign), '`not` cannot stand after this operator. Put `not ...` in parentheses.'),
      )
    }
    const inner = climb(operand, from + 1, operator === 'not' ? NOT : SIGN + 1)
    if (operator === '+') {
      findings.push(
        finding(sign.startOffset, endOf(sign), 'A value has no `+` before it.', [
          { title: 'Remove `+`', edits: [{ start: sign.startOffset, end: endOf(sign), text: '' }] },
        ]),
      )
      return inner
    }
    return { kind: 'unary', operator, operand: inner, start: sign.startOffset, end: inner.end }
  }

  const climb = (operand: Operand, from: number, min: number): Expression => {
    let left = prefixed(operand, from, min)
    for (;;) {
      const token = operators[next]
      if (!token) return left
      const operator = operatorOf(token)
      const strength = STRENGTH[operator]
      if (strength < min) return left
      next++
      const right = climb(operands[next]!, 0, strength + 1)
      const at = { start: token.startOffset, end: endOf(token) }
      checkChain(text, left, at.start, operator, right, findings)
      left = { kind: 'binary', operator, at, left, right, start: left.start, end: right.end }
    }
  }
  return climb(operands[0]!, 0, 0)
}

function checkChain(
  text: string,
  left: Expression,
  at: number,
  operator: BinaryOperator,
  right: Expression,
  findings: SyntaxFinding[],
): void {
  if (left.kind !== 'binary' || STRENGTH[left.operator] !== STRENGTH[operator]) return
  if (operator === '^') {
    findings.push(finding(at, right.end, 'Powers are not chained. Put one of them in parentheses.'))
  } else if (STRENGTH[operator] === COMPARISON) {
    const middle = text.slice(left.right.start, left.right.end)
    // Where the value between them is missing there is nothing to write twice.
    const fixes =
      middle === ''
        ? []
        : [
            {
              title: `Write \`and ${middle} ${operator} ...\``,
              edits: [{ start: at, end: at, text: `and ${middle} ` }],
            },
          ]
    findings.push(finding(at, right.end, 'Comparisons are not chained. Join two comparisons with `and`.', fixes))
  }
}
