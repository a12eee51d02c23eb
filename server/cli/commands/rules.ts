/** `rules`: all of them in a table, or one in full. */
import { explainRule, type RuleCard, ruleTable } from '../../service.ts'
import { type Colours, severityColour } from '../colour.ts'
import { rulesSchema, writeJson } from '../formats/json.ts'
import { pick } from '../formats/report.ts'
import { CallError, type Io } from '../io.ts'
import { padEnd, wrap } from '../width.ts'

export interface RulesOptions {
  readonly format: string
}

export function rules(id: string | undefined, options: RulesOptions, io: Io): number {
  const asJson = pick(options.format, { pretty: false, json: true })
  if (id === undefined) {
    if (asJson) writeJson(io, rulesSchema, ruleTable())
    else table(io)
    return 0
  }
  const card = explainRule(id)
  if ('near' in card) {
    const offer = card.near.length > 0 ? ` Did you mean ${card.near.join(' or ')}?` : ''
    throw new CallError(`There is no rule "${id}".${offer} rules without a name lists them all.`)
  }
  if (asJson)
    writeJson(
      io,
      rulesSchema,
      ruleTable().filter(r => r.id === id),
    )
  else io.out(`${page(card, io.colour, io.width).join('\n')}\n`)
  return 0
}

function table(io: Io): void {
  const c = io.colour
  const rows = ruleTable()
  const wide = (texts: readonly string[]): number => Math.max(...texts.map(t => t.length))
  const id = wide([...rows.map(r => r.id), 'rule'])
  const limit = wide([...rows.map(r => r.limit ?? ''), 'limit'])
  const source = Math.max(20, io.width - id - limit - 22)
  const line = (a: string, b: string, n: string, l: string, s: string): string =>
    `${a}  ${b}  ${n}  ${l}  ${s}`.trimEnd()
  io.out(
    `${c.bold(line(padEnd('rule', id), padEnd('severity', 8), padEnd('never', 5), padEnd('limit', limit), 'source'))}\n`,
  )
  for (const r of rows)
    io.out(
      `${line(padEnd(r.id, id), severityColour(c, r.severity)(padEnd(r.severity, 8)), padEnd(r.never ? 'never' : '', 5), padEnd(r.limit ?? '', limit), c.dim(short(r.source, source)))}\n`,
    )
  io.out(
    `\nnever: cannot be accepted with allow. A limit is set under its name in limits { }. rules NAME explains one.\n`,
  )
}

const short = (text: string, width: number): string =>
  text.length <= width ? text : `${text.slice(0, width - 1).trimEnd()}…`

function page(r: RuleCard, c: Colours, width: number): string[] {
  const out = [
    `${c.bold(r.id)}  ${severityColour(c, r.severity)(r.severity)}${r.never ? ', cannot be accepted with allow' : ''}${c.dim(`  ${r.group}`)}`,
  ]
  const part = (title: string, text: string): void =>
    void out.push('', c.bold(title), ...wrap(text, width - 2).map(l => `  ${l}`))
  const code = (title: string, text: string): void =>
    void out.push(
      '',
      c.bold(title),
      ...text
        .trim()
        .split('\n')
        .map(l => `  ${l}`),
    )
  part('What', r.what)
  part('Why', r.why)
  part('What to do', r.todo)
  if (r.limit)
    part(
      'Limit',
      `${r.limit}${r.limitDefault ? ` = ${r.limitDefault}` : ', none until set'}. ${r.limitDoc ?? ''} It comes from: ${r.limitSource}. To set it to ${r.looser} takes a reason: because "...".`,
    )
  part('Source', r.source)
  if (r.caution.length > 0) part('Caution', r.caution.join(' '))
  code('Not so', r.bad)
  code('But so', r.good)
  return out
}
