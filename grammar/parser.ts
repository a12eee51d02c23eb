import type { IOrAlt, IToken, TokenType } from 'chevrotain'
import { unclosedBlocks } from './braces.ts'
import { exact } from './compact.ts'
import { buildExpression, type Operand } from './operators.ts'
import { Recovery, type Shape } from './recovery.ts'
import * as T from './tokens.ts'
import type { Because, Block, Chunk, Expression, Field, Label, Statement, Text, Word } from './tree.ts'

/** Stands in for a rule's arguments while Chevrotain records the grammar. */
const NOWHERE: Word = { start: 0, end: 0, text: '' }

/** The rules of the language. Each accepts anything: what is missing or too much is reported by `Recovery`. */
export class DoorParser extends Recovery {
  constructor(skipValidations = true) {
    super(T.TOKENS, { maxLookahead: 2, recoveryEnabled: false, skipValidations } as never)
    this.performSelfAnalysis()
  }

  parse(text: string): Chunk {
    const { tokens, findings } = T.lex(text)
    this.text = text
    this.findings = findings
    this.limits = unclosedBlocks(text, tokens)
    this.blocks = this.brackets = this.operators = 0
    this.input = tokens
    const statements = this.body(Number.POSITIVE_INFINITY)
    for (const error of this.errors)
      this.report(error.token.startOffset || 0, text.length, 'This part cannot be read. Check the lines above it.')
    const sorted = this.findings.sort((a, b) => a.start - b.start || a.end - b.end)
    return { text, statements: statements ?? [], findings: sorted }
  }

  // Statements

  readonly body = this.RULE('body', (limit: number): Statement[] => {
    const statements: Statement[] = []
    const named = { ARGS: [limit] as [number] }
    // Put up once for all rounds.
    const alternatives: IOrAlt<Statement | undefined>[] = [
      {
        ALT: () => {
          this.CONSUME(T.Separator)
          return undefined
        },
      },
      { ALT: () => this.SUBRULE(this.named, named) },
      { ALT: () => this.SUBRULE(this.use) },
      { ALT: () => this.SUBRULE(this.letStatement) },
      { ALT: () => this.SUBRULE(this.require) },
      { ALT: () => this.SUBRULE(this.allow) },
    ]
    this.MANY({
      GATE: () => this.reachStatement(limit),
      DEF: () => {
        const statement = this.OR(alternatives)
        this.ACTION(() => {
          if (!statement) return
          statements.push(statement)
          this.finishStatement(limit)
        })
      },
    })
    return exact(statements)
  })

  readonly use = this.RULE('use', (): Statement => {
    const start = this.CONSUME(T.Use).startOffset
    let path: Text | undefined
    this.OPTION(() => {
      path = this.textOf(this.CONSUME(T.TextToken))
    })
    this.ACTION(() => {
      this.checkTopLevel('use', start)
      if (!path) this.expected('the path of a file in quotes after `use`, such as `use "stock/house.door"`')
    })
    return { kind: 'use', start, end: this.end, path }
  })

  readonly letStatement = this.RULE('let', (): Statement => {
    const start = this.CONSUME(T.LetWord).startOffset
    let name: Word | undefined
    this.OPTION(() => {
      name = this.wordOf(this.CONSUME(T.Name))
    })
    this.ACTION(() => {
      if (!name) this.expected('a name after `let`, such as `let gap = 1in`')
      else this.checkName(name)
      this.readEquals(`let ${name?.text ?? 'name'}`)
    })
    this.OPTION2(() => this.CONSUME(T.Equals))
    const value = this.SUBRULE(this.expression)
    return { kind: 'let', start, end: this.end, name, value }
  })

  readonly require = this.RULE('require', (): Statement => {
    const start = this.CONSUME(T.RequireWord).startOffset
    this.ACTION(() => this.compareByEquals())
    const value = this.SUBRULE(this.expression)
    let because: Because | undefined
    this.OPTION(() => {
      because = this.SUBRULE(this.because)
    })
    return { kind: 'require', start, end: this.end, value, because }
  })

  readonly allow = this.RULE('allow', (): Statement => {
    const start = this.CONSUME(T.AllowWord).startOffset
    let rule: Word | undefined
    this.OPTION(() => {
      rule = this.wordOf(this.CONSUME(T.Name))
    })
    let because: Because | undefined
    this.OPTION2(() => {
      because = this.SUBRULE(this.because)
    })
    this.ACTION(() => {
      if (!rule) this.expected('the id of a rule after `allow`, such as `allow headroom because "..."`')
      else if (!because) this.expected('`because "..."`: what is allowed needs a reason')
    })
    return { kind: 'allow', start, end: this.end, rule, because }
  })

  readonly because = this.RULE('because', (): Because => {
    const start = this.CONSUME(T.BecauseWord).startOffset
    let text: Text | undefined
    this.OPTION(() => {
      text = this.textOf(this.CONSUME(T.TextToken))
    })
    this.ACTION(() => {
      if (!text) this.expected('the reason in quotes after `because`')
    })
    return { start, end: this.end, text }
  })

  /** A field or a block: both start with a name, and what follows it tells which. */
  readonly named = this.RULE('named', (limit: number): Statement => {
    const token = this.CONSUME(T.Name)
    const name = this.wordOf(token)
    const shape = this.ACTION(() => this.shape(name)) as Shape | undefined
    let value: Expression | undefined
    let because: Because | undefined
    // By itself, as most are fields and the row of the others costs something to put up.
    this.OPTION({
      GATE: () => shape === 'field',
      DEF: () => {
        this.CONSUME(T.Equals)
        value = this.SUBRULE(this.expression)
        this.OPTION2(() => {
          because = this.SUBRULE(this.because)
        })
      },
    })
    if (shape === 'field') return { kind: 'field', start: name.start, end: this.end, name, value, because } as Field
    return this.OR([
      {
        GATE: () => shape === 'dotted',
        ALT: () => this.SUBRULE(this.dotted, { ARGS: [name] }),
      },
      {
        GATE: () => shape === 'value',
        ALT: () => {
          value = this.SUBRULE2(this.expression)
          this.OPTION3(() => {
            because = this.SUBRULE2(this.because)
          })
          return { kind: 'field', start: name.start, end: this.end, name, value, because } as Field
        },
      },
      {
        GATE: () => shape === 'block',
        ALT: () => this.SUBRULE(this.block, { ARGS: [name, limit] }),
        IGNORE_AMBIGUITIES: true,
      },
      {
        ALT: () => ({ kind: 'field', start: name.start, end: name.end, name, value: this.missing(), because }) as Field,
      },
    ])
  })

  /** `curtain.weight = 3lb`: read as the block it should be. */
  readonly dotted = this.RULE('dotted', (outer: Word = NOWHERE): Statement => {
    let name: Word = outer
    this.AT_LEAST_ONE(() => {
      this.CONSUME(T.Dot)
      name = this.wordOf(this.CONSUME(T.Name))
    })
    this.CONSUME(T.Equals)
    const value = this.SUBRULE(this.expression)
    let because: Because | undefined
    this.OPTION(() => {
      because = this.SUBRULE(this.because)
    })
    const field: Field = { kind: 'field', start: name.start, end: this.end, name, value, because }
    return {
      kind: 'block',
      start: outer.start,
      end: this.end,
      name: outer,
      label: undefined,
      like: undefined,
      open: -1,
      close: -1,
      body: [field],
      doc: undefined,
    } as Block
  })

  readonly block = this.RULE('block', (name: Word = NOWHERE, outer = Number.POSITIVE_INFINITY): Statement => {
    let label: Label | undefined
    let like: Block['like']
    let open = -1
    let close = -1
    let body: Statement[] = []
    this.OPTION(() => {
      label = this.SUBRULE(this.label)
    })
    this.OPTION2(() => {
      const start = this.CONSUME(T.Like).startOffset
      let target: Label | undefined
      this.OPTION3(() => {
        target = this.SUBRULE2(this.label)
      })
      this.ACTION(() => {
        if (!target) this.expected('the name of what to copy from after `like`, such as `like "Dock 3"`')
        like = { start, end: this.end, target }
      })
    })
    const header = this.end
    this.ACTION(() => {
      if ((name.text === 'opening' || name.text === 'job') && label?.kind === 'text')
        this.checkTopLevel(name.text, name.start)
      this.reachBrace(name)
    })
    this.OPTION4({
      GATE: () => !this.tooDeep(name),
      DEF: () => {
        open = this.CONSUME(T.LCurly).startOffset
        const own = this.ACTION(() => {
          this.blocks++
          return this.limits.get(open)
        }) as number | undefined
        body = this.SUBRULE(this.body, { ARGS: [Math.min(own ?? Number.POSITIVE_INFINITY, outer)] })
        this.ACTION(() => {
          this.blocks--
        })
        this.OPTION5({
          GATE: () => own === undefined && this.LA(1).startOffset < outer,
          DEF: () => {
            close = this.CONSUME(T.RCurly).startOffset
          },
        })
        this.ACTION(() => {
          if (close < 0) this.unclosed(name, header)
        })
      },
    })
    const end = this.statementEnd
    const doc = this.ACTION(() => this.docAbove(name.start)) as string | undefined
    return { kind: 'block', start: name.start, end, name, label, like, open, close, body, doc }
  })

  readonly label = this.RULE(
    'label',
    (): Label =>
      this.OR([
        { ALT: () => this.textOf(this.CONSUME(T.TextToken)) },
        {
          ALT: () => {
            const word = this.wordOf(this.CONSUME(T.Name))
            this.ACTION(() => this.checkName(word))
            return { kind: 'word' as const, ...word }
          },
        },
      ]),
  )

  // Expressions

  readonly expression = this.RULE('expression', (): Expression => {
    const operators: IToken[] = []
    const first = this.SUBRULE(this.operand)
    const operands = [first]
    this.MANY({
      GATE: () => this.fewOperators(),
      DEF: () => {
        operators.push(this.CONSUME(T.Infix))
        operands.push(this.SUBRULE2(this.operand))
      },
    })
    return this.ACTION(() =>
      operators.length === 0 && first.prefixes.length === 0
        ? first.value
        : buildExpression(this.text, operands, operators, this.findings),
    ) as Expression
  })

  readonly operand = this.RULE('operand', (): Operand => {
    const prefixes: IToken[] = []
    this.MANY({
      GATE: () => this.fewOperators(),
      DEF: () => {
        prefixes.push(this.CONSUME(T.Prefix))
      },
    })
    if (this.ACTION(() => this.tooManyBrackets())) {
      // What was skipped may have others right behind it.
      this.tooManyBrackets()
      return { prefixes, value: this.missingValue() }
    }
    const value: Expression = this.OR([
      { ALT: () => this.quantityOf(this.CONSUME(T.QuantityToken)) },
      { ALT: () => this.SUBRULE(this.pathOrCall) },
      { ALT: () => this.textOf(this.CONSUME(T.TextToken)) },
      { ALT: () => this.truthOf(this.CONSUME(T.True), true) },
      { ALT: () => this.truthOf(this.CONSUME(T.False), false) },
      { ALT: () => this.SUBRULE(this.list) },
      { ALT: () => this.SUBRULE(this.group) },
      { ALT: () => this.ACTION(() => this.missingValue()) },
    ])
    return { prefixes, value }
  })

  readonly pathOrCall = this.RULE('pathOrCall', (): Expression => {
    const name = this.wordOf(this.CONSUME(T.Name))
    const names = [name]
    let call: Expression | undefined
    const tooMany = this.ACTION(() => this.tooManyBrackets()) as boolean | undefined
    this.OPTION({
      GATE: () => !tooMany,
      DEF: () => {
        const open = this.CONSUME(T.LParen)
        const args = this.SUBRULE(this.items, { ARGS: [T.RParen] })
        this.OPTION2(() => this.CONSUME(T.RParen))
        this.ACTION(() => {
          this.checkClosed(open, T.RParen)
          call = { kind: 'call', start: name.start, end: this.end, name, args }
        })
      },
    })
    if (call) return call
    this.MANY(() => {
      this.CONSUME(T.Dot)
      this.OPTION3(() => {
        names.push(this.wordOf(this.CONSUME2(T.Name)))
      })
      this.ACTION(() => {
        if (this.LA(0).tokenType === T.Dot) this.expected('a name after `.`')
      })
    })
    return { kind: 'path', start: name.start, end: this.end, names }
  })

  readonly list = this.RULE('list', (): Expression => {
    const open = this.CONSUME(T.LSquare)
    const items = this.SUBRULE(this.items, { ARGS: [T.RSquare] })
    this.OPTION(() => this.CONSUME(T.RSquare))
    this.ACTION(() => this.checkClosed(open, T.RSquare))
    return { kind: 'list', start: open.startOffset, end: this.end, items }
  })

  readonly group = this.RULE('group', (): Expression => {
    const open = this.CONSUME(T.LParen)
    this.ACTION(() => {
      this.brackets++
    })
    const inner = this.SUBRULE(this.expression)
    this.ACTION(() => {
      this.brackets--
      this.reachClose(T.RParen)
    })
    this.OPTION(() => this.CONSUME(T.RParen))
    this.ACTION(() => this.checkClosed(open, T.RParen))
    return { kind: 'group', start: open.startOffset, end: this.end, inner }
  })

  readonly items = this.RULE('items', (close: TokenType): Expression[] => {
    const items: Expression[] = []
    this.ACTION(() => {
      this.brackets++
    })
    this.OPTION({
      GATE: () => this.LA(1).tokenType !== close,
      DEF: () => {
        items.push(this.SUBRULE(this.expression))
        this.MANY(() => {
          const comma = this.CONSUME(T.Comma)
          this.OPTION2({
            GATE: () => !this.trailingComma(comma, close),
            DEF: () => {
              items.push(this.SUBRULE2(this.expression))
            },
          })
        })
      },
    })
    this.ACTION(() => {
      this.brackets--
      this.reachClose(close)
    })
    return exact(items)
  })
}

let parser: DoorParser | undefined

/** Reads one chunk by itself. Any text gives a tree and findings. */
export function parseChunk(text: string): Chunk {
  parser ??= new DoorParser()
  return parser.parse(text)
}
