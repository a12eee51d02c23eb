/** The limits of a project file as a block of the language, which says what is wrong with them. */
import { getNodeValue, type Node } from 'jsonc-parser'
import { LIMITS, type Position, Service } from '../service.ts'
import { entries, rangeOf, type Say } from './json.ts'
import { wrongValue } from './judge.ts'

interface ReadLimit {
  readonly name: string
  readonly value: string
  /** The value as it stands in the file. */
  readonly json: string
  readonly because: string | undefined
  readonly key: Node
  readonly node: Node
}

/** The limits as text of the language; what the language has against one is said, and it is left out. */
export function readLimits(
  object: Node | undefined,
  bad: ReadonlySet<Node>,
  text: string,
  file: string,
  say: Say,
): { text: string; read: ReadLimit[] } {
  let read: ReadLimit[] = []
  for (const { key, node } of entries(object)) {
    if (bad.has(node) || !LIMITS.has(key.value) || read.some(r => r.name === key.value)) continue
    const given = getNodeValue(node) as unknown
    const { value: v, because } =
      given !== null && typeof given === 'object' && !Array.isArray(given)
        ? (given as { value: unknown; because?: string })
        : { value: given }
    const texts = (Array.isArray(v) ? v : [v]).map(String)
    const value = Array.isArray(v) ? `[${texts.join(', ')}]` : texts[0]!
    // whatever could end the value and begin something else is no quantity
    if (texts.some(t => t.trim() === '' || /[\r\n;{}#"“”„]/.test(t) || /\bbecause\b/.test(t)))
      say(node, wrongValue(['limits', key.value], node))
    else read.push({ name: key.value, value, json: JSON.stringify(v).replace(/,/g, ', '), because, key, node })
  }
  for (let all = false; !all && read.length > 0; ) {
    const wrong = against(read, text, file)
    for (const [one, message] of wrong) say(one.node, message)
    all = wrong.size === 0
    read = read.filter(r => !wrong.has(r))
  }
  return { text: asBlock(read, text).text, read }
}

const quoted = (t: string): string =>
  `"${t
    .replace(/[\\"]/g, '\\$&')
    .replace(/\r\n|\n|\r/g, '\\n')
    .replace(/\t/g, '\\t')}"`

/** Each limit on its line, from its own column on where there is room. */
function asBlock(read: readonly ReadLimit[], text: string): { text: string; ends: readonly Position[] } {
  const lines: string[] = []
  const ends: Position[] = []
  read.forEach((r, i) => {
    const { line, character } = rangeOf(text, r.key.offset + 1, r.key.offset + 1).start
    while (lines.length <= line) lines.push('')
    if (i === 0) lines[line] = 'limits {'
    else if (lines[line] !== '') lines[line] += ';'
    lines[line] =
      `${lines[line]!.padEnd(character - 1)} ${r.name} = ${r.value}${r.because === undefined ? '' : ` because ${quoted(r.because)}`}`
    ends.push({ line, character: lines[line]!.length })
  })
  return { text: read.length > 0 ? `${lines.join('\n')}\n}\n` : '', ends }
}

/** What the language finds wrong, by limit. */
function against(read: readonly ReadLimit[], text: string, file: string): Map<ReadLimit, string> {
  const service = new Service({
    read: () => undefined,
    resolve: () => ({ ok: false, outside: true, message: 'A project file uses no other.' }),
  })
  const block = asBlock(read, text)
  service.open(file, block.text)
  const out = new Map<ReadLimit, string>()
  for (const f of service.findings(file)) {
    const { line, character } = f.range.start
    const i = block.ends.findIndex(e => line < e.line || (line === e.line && character <= e.character))
    const one = read[i] ?? read.at(-1)!
    if (out.has(one)) continue
    out.set(
      one,
      f.rule === 'limit_loosened'
        ? f.message.replace(
            / Write why after .*$/,
            ` Write { "value": ${one.json}, "because": "..." } with the reason, or keep to what is usual.`,
          )
        : f.message,
    )
  }
  return out
}
