/** Completion: reads the context and asks the one file that knows it. */
import type { Token } from '../../../grammar/index.ts'
import { pathOf, plainName, topBlock } from '../../model/index.ts'
import type { At } from '../at.ts'
import { type Cursor, cursor, image, type World } from './context.ts'
import { expected, expressionItems, memberItems, pathBefore } from './expression.ts'
import { type Item, plainText, sortKey } from './item.ts'
import { likeItems, ruleItems, useItems } from './names.ts'
import { statementItems, topItems } from './statement.ts'
import { numberBefore, unitItems } from './units.ts'
import { dimensionsOf, valueItems } from './values.ts'

export type { World } from './context.ts'
export type { Item, ItemKind } from './item.ts'

export function completion(at: At, world: World): readonly Item[] {
  const c = cursor(at, world)
  if (!c) return []
  const first = c.head[0]
  const word = image(c, first)
  if (!first) {
    if (c.quoted || /\d\w*$/.test(c.line.slice(0, c.line.length - c.typed.length))) return []
    return at.blocks.length === 0 ? topItems(c) : statementItems(c)
  }
  const last = image(c, c.head.at(-1))
  if (word === 'use') return c.head.length === 1 ? useItems(c) : []
  if (last === 'like') return likeItems(c)
  if (word === 'allow')
    return c.quoted ? [] : c.head.length === 1 ? ruleItems(c) : c.head.length === 2 ? because(c) : []
  if (c.head.some(t => image(c, t) === 'because')) return []
  if (word === 'require') return c.quoted ? [] : expression(c)
  if (word === 'let') return image(c, c.head[2]) === '=' && !c.quoted ? expression(c) : []
  if (image(c, c.head[1]) === '=') return c.quoted ? [] : fieldValue(c)
  return c.quoted ? [] : header(c)
}

function fieldValue(c: Cursor): readonly Item[] {
  const spec = c.at.spec?.fields.get(plainName(image(c, c.head[0])))
  return spec ? expression(c, spec) : []
}

/** Whether a whole value stands before the cursor, so that only an operator or a reason can follow. */
const endsValue = (c: Cursor): boolean => {
  const last = c.head.at(-1)
  return last !== undefined && endsOperand(c, last) && last.end < c.word.start
}

const endsOperand = (c: Cursor, last: Token): boolean =>
  /^(name|number|unit|text)$/.test(last.kind) || [')', ']', 'true', 'false'].includes(image(c, last))

function expression(c: Cursor, spec?: Parameters<typeof valueItems>[1]): readonly Item[] {
  const number = numberBefore(c.line)
  // a unit that has been begun (`320 lbf*in/`) is no operand of its own
  const begun = number ? c.at.offset - number.text.length : c.word.start
  const wanted = expected({ ...c, head: c.head.filter(t => t.end <= begun) }, dimensionsOf(spec))
  const isLet = image(c, c.head[0]) === 'let'
  if (number && (!spec || spec.takes.kind === 'quantity' || spec.takes.kind === 'range')) {
    const units = unitItems(c, number, wanted)
    return number.space === '' || isLet || !/^[a-z]*$/.test(number.unit) ? units : [...units, ...because(c)]
  }
  const path = pathBefore(c.line)
  const own = spec && c.at.instance && pathOf(c.at.instance, spec.name)
  // a word or a name of the stock has no path
  if (path) return spec && /^(word|stock)$/.test(spec.takes.kind) ? [] : memberItems(c, path, wanted, own)
  const last = c.head.at(-1)
  if (last?.end === c.word.start && endsOperand(c, last)) return []
  if (endsValue(c)) return isLet ? [] : because(c)
  return spec ? valueItems(c, spec, wanted) : expressionItems(c, wanted)
}

/** Nothing where the value goes on, or the reason stands already. */
function because(c: Cursor): Item[] {
  const given = c.follows.startsWith('"')
  if (c.follows !== '' && !given) return []
  const snippet = given ? 'because' : 'because "$1"'
  return [
    {
      label: 'because',
      kind: 'keyword',
      detail: 'gives the reason',
      insert: plainText(snippet),
      snippet,
      sort: sortKey(6, 0),
      span: c.word,
      doc: 'keyword because',
    },
  ]
}

function header(c: Cursor): readonly Item[] {
  const kind = plainName(image(c, c.head[0]))
  const spec = c.at.blocks.length === 0 ? topBlock(kind) : c.at.spec?.blocks.get(kind)
  if (!spec?.like || c.head.some(t => image(c, t) === 'like' || t.kind === 'operator')) return []
  if (c.follows !== '' && c.follows !== '{') return []
  // a label that is changed is no word that is begun
  if (!'like'.startsWith(c.at.chunk.text.slice(c.word.start, c.word.end))) return []
  return [
    {
      label: 'like',
      kind: 'keyword',
      detail: 'copies from another',
      insert: 'like ',
      sort: sortKey(0, 0),
      span: c.word,
      retrigger: true,
      doc: 'keyword like',
    },
  ]
}
