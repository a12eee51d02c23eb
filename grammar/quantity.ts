import { exact, shared } from './compact.ts'
import type { NumberText, Part, SyntaxFinding, SyntaxFix, TextEdit, UnitFactor, UnitText } from './tree.ts'

/** The words that are never a unit and never a name. */
export const RESERVED: ReadonlySet<string> = new Set(
  'use like let require allow because and or not true false'.split(' '),
)

export interface ScannedQuantity {
  readonly end: number
  readonly parts: readonly Part[]
  readonly findings: readonly SyntaxFinding[]
}

const VULGAR: Readonly<Record<string, readonly [number, number]>> = {
  '½': [1, 2],
  '¼': [1, 4],
  '¾': [3, 4],
  '⅛': [1, 8],
  '⅜': [3, 8],
  '⅝': [5, 8],
  '⅞': [7, 8],
}
const SUPERSCRIPT: Readonly<Record<string, number>> = { '²': 2, '³': 3, '⁴': 4 }
/** Marks that mean feet, inches or degrees; the first of each kind is the one the language knows. */
const MARKS: readonly (readonly [mark: string, unit: string, write: string])[] = [
  ["''", 'in', '"'],
  ["'", 'ft', "'"],
  ['"', 'in', '"'],
  ['’', 'ft', "'"],
  ['‘', 'ft', "'"],
  ['′', 'ft', "'"],
  ['″', 'in', '"'],
  ['”', 'in', '"'],
  ['“', 'in', '"'],
  ['°', 'deg', 'deg'],
]
const MARK_STARTS = MARKS.map(([mark]) => mark[0]).join('')

const EXPONENT = /[eE][+-]?\d+(?![\p{L}\d])/uy
const LETTERS = /\p{L}+/uy
const UNIT_WORD = /\p{L}[\p{L}\d_]*/uy
/** No word is longer that means anything; a row without end of `1in4in4in` must not be looked through for each part. */
const NEAR = /[\p{L}\d_]{0,100}/uy
const POWER = /\^(\d+)/y
const BARE_POWER = /[234](?![\d./'"%\p{L}]|[ \t]\.?\d)/uy
const TORQUE = /(ft|in|m|lbs?|lbf|N|kN)-(ft|in|m|lbs?|lbf|N|kN)(?![\p{L}\d_])/uy
const LENGTHS = new Set(['ft', 'in', 'm'])

export const isBlank = (char: string | undefined): boolean =>
  char === ' ' || char === '\t' || char === '\u00a0' || char === '\f' || char === '\v' || char === '\ufeff'

function match(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at
  return pattern.exec(text)
}

export function edit(start: number, end: number, text: string): TextEdit {
  return { start, end, text }
}

export function finding(
  start: number,
  end: number,
  message: string,
  fixes: readonly SyntaxFix[] = [],
  related: SyntaxFinding['related'] = [],
): SyntaxFinding {
  return { start, end, message, related, fixes }
}

export const replaceFix = (title: string, start: number, end: number, text: string): SyntaxFix => ({
  title,
  edits: [edit(start, end, text)],
})

const isDigit = (code: number): boolean => code >= 48 && code <= 57
const isLetter = (code: number): boolean => (code >= 97 && code <= 122) || (code >= 65 && code <= 90)

/** Where the digits end that start at `at`; `at` itself where there are none. */
function digitsEnd(text: string, at: number): number {
  let p = at
  while (isDigit(text.charCodeAt(p))) p++
  return p
}

const startsNumber = (text: string, at: number): boolean =>
  isDigit(text.charCodeAt(at)) || (text[at] === '.' && isDigit(text.charCodeAt(at + 1)))

/** The fraction `3/4` at `at`; none where a point makes something else of its last number. */
function fractionAt(text: string, at: number) {
  const slash = digitsEnd(text, at)
  if (slash === at || text[slash] !== '/') return undefined
  const end = digitsEnd(text, slash + 1)
  if (end === slash + 1 || text[end] === '.') return undefined
  return { over: Number(text.slice(at, slash)), under: Number(text.slice(slash + 1, end)), end }
}

const vulgarAt = (text: string, at: number) => (text.charCodeAt(at) > 127 ? VULGAR[text[at]!] : undefined)

function numberText(
  text: string,
  start: number,
  end: number,
  value: number,
  fraction?: NumberText['fraction'],
): NumberText {
  return { start, end, text: text.slice(start, end), value, fraction }
}

function ratio(text: string, start: number, end: number, whole: number, over: number, under: number): NumberText {
  return numberText(text, start, end, under === 0 ? Number.NaN : whole + over / under, { whole, over, under })
}

/** Reads the number at `at`; a mixed number is one number only where its fraction is below one. */
function numberAt(text: string, at: number, findings: SyntaxFinding[]): NumberText | undefined {
  const wholeEnd = digitsEnd(text, at)
  const isWhole = wholeEnd > at
  const follows = text[wholeEnd]
  if (isWhole && (follows === ' ' || follows === '-' || follows === '\t' || follows === '\u00a0')) {
    const mixed = fractionAt(text, wholeEnd + 1)
    if (mixed && (mixed.over < mixed.under || mixed.under === 0))
      return ratio(text, at, mixed.end, Number(text.slice(at, wholeEnd)), mixed.over, mixed.under)
  }
  if (isWhole && follows === '/') {
    const fraction = fractionAt(text, at)
    if (fraction) return ratio(text, at, fraction.end, 0, fraction.over, fraction.under)
  }
  const hasPoint = follows === '.' && isDigit(text.charCodeAt(wholeEnd + 1))
  if (!isWhole && !hasPoint) return undefined
  const end = hasPoint ? digitsEnd(text, wholeEnd + 1) : wholeEnd
  const exponent = text[end] === 'e' || text[end] === 'E' ? match(EXPONENT, text, end) : null
  if (exponent) {
    const powerEnd = end + exponent[0].length
    const value = Number(text.slice(at, powerEnd))
    const plain = plainNumber(value)
    findings.push(
      finding(
        at,
        powerEnd,
        'Numbers have no exponents; write the number out.',
        plain === undefined ? [] : [replaceFix(`Write \`${plain}\``, at, powerEnd, plain)],
      ),
    )
    return numberText(text, at, powerEnd, value)
  }
  const gap = isBlank(text[end]) && vulgarAt(text, end + 1) ? 1 : 0
  const vulgar = hasPoint ? undefined : vulgarAt(text, end + gap)
  if (vulgar) {
    const whole = text.slice(at, end)
    const vulgarEnd = end + gap + 1
    const write = ` ${vulgar[0]}/${vulgar[1]}`
    findings.push(
      finding(end + gap, vulgarEnd, `Fractions are written with digits: \`${whole}${write}\`.`, [
        replaceFix(`Write \`${whole}${write}\``, end, vulgarEnd, write),
      ]),
    )
    return ratio(text, at, vulgarEnd, Number(whole), vulgar[0], vulgar[1])
  }
  return numberText(text, at, end, Number(text.slice(at, end)))
}

function plainNumber(value: number): string | undefined {
  const plain = value.toLocaleString('en-US', { useGrouping: false, maximumFractionDigits: 20 })
  return Number(plain) === value && plain.length < 25 ? plain : undefined
}

function markAt(text: string, at: number, findings: SyntaxFinding[]): UnitText | undefined {
  const code = text.charCodeAt(at)
  // Of the marks only `'` and `"` are ASCII.
  if ((code < 128 && code !== 39 && code !== 34) || !MARK_STARTS.includes(text[at] ?? ' ')) return undefined
  const found = MARKS.find(([mark]) => text.startsWith(mark, at))
  if (!found) return undefined
  const [mark, name, write] = found
  const end = at + mark.length
  if (mark !== write) {
    const what = name === 'ft' ? 'feet' : name === 'in' ? 'inches' : 'degrees'
    findings.push(
      finding(at, end, `Expected \`${write}\` for ${what}, not \`${mark}\`.`, [
        replaceFix(`Write \`${write}\``, at, end, write),
      ]),
    )
  }
  return { start: at, end, text: mark, factors: [{ start: at, end, name, power: 1 }] }
}

/** Reads the unit expression at `at`: `lbf*in/turn`, `/day`, `in^4`, `%`. */
function unitAt(text: string, at: number, findings: SyntaxFinding[]): UnitText | undefined {
  const factors: UnitFactor[] = []
  let p = at
  let sign = 1
  if (text[p] === '/') {
    sign = -1
    p++
  }
  for (;;) {
    const start = p
    const name = unitNameAt(text, p)
    if (name === undefined) break
    const hyphen = factors.length === 0 && sign === 1 && text[p + name.length] === '-'
    const torque = hyphen ? torqueAt(text, p, findings) : undefined
    if (torque) {
      factors.push(...torque.factors)
      p = torque.end
    } else {
      if (factors.length === 0 && RESERVED.has(name)) break
      p += name.length
      const power = powerAt(text, p, name, findings)
      p = power.end
      factors.push({ start, end: p, name: shared(name), power: sign * power.value })
    }
    const joint = text[p]
    if (joint !== '*' && joint !== '·' && joint !== '⋅' && joint !== '/') break
    const next = unitNameAt(text, p + 1)
    if (next === undefined || RESERVED.has(next)) break
    sign = joint === '/' ? -1 : 1
    p++
  }
  const last = factors.at(-1)
  if (!last) return undefined
  const word = last.start === at && last.end - at === last.name.length ? last.name : shared(text.slice(at, last.end))
  return { start: at, end: last.end, text: word, factors: exact(factors) }
}

function unitNameAt(text: string, at: number): string | undefined {
  if (text[at] === '%') return '%'
  let p = at
  while (isLetter(text.charCodeAt(p))) p++
  const follows = text.charCodeAt(p)
  // Most are a few plain letters, with nothing behind that could be part of the word.
  if (follows < 128 && !isDigit(follows) && follows !== 95) return p > at ? text.slice(at, p) : undefined
  const letters = match(LETTERS, text, at)?.[0]
  // Letters only, so that `12ft4in` is two parts; a word with `_` cannot be two.
  const whole = letters !== undefined && match(NEAR, text, at + letters.length)?.[0].includes('_')
  return whole ? match(UNIT_WORD, text, at)?.[0] : letters
}

function powerAt(text: string, at: number, name: string, findings: SyntaxFinding[]): { value: number; end: number } {
  const code = text.charCodeAt(at)
  const power = code === 94 ? match(POWER, text, at) : null
  if (power) {
    const value = Number(power[1])
    const end = at + power[0].length
    if (value < 2 || value > 4) findings.push(finding(at, end, 'A unit takes the powers `^2`, `^3` and `^4` only.'))
    return { value, end }
  }
  const above = code > 127 ? SUPERSCRIPT[text[at]!] : undefined
  const bare = isDigit(code) ? match(BARE_POWER, text, at) : null
  if (above === undefined && !bare) return { value: 1, end: at }
  const value = above ?? Number(bare?.[0])
  const write = `${name}^${value}`
  findings.push(
    finding(at, at + 1, `Powers of units are written \`${write}\`.`, [
      replaceFix(`Write \`${write}\``, at, at + 1, `^${value}`),
    ]),
  )
  return { value, end: at + 1 }
}

/** `ft-lb`, `in-lb`, `N-m`: force times length, written with a `*` here. */
function torqueAt(text: string, at: number, findings: SyntaxFinding[]) {
  const found = match(TORQUE, text, at)
  const [first, second] = [found?.[1] ?? '', found?.[2] ?? '']
  if (!found || LENGTHS.has(first) === LENGTHS.has(second)) return undefined
  const force = (LENGTHS.has(first) ? second : first).replace(/^lbs?$/, 'lbf')
  const length = LENGTHS.has(first) ? first : second
  const end = at + found[0].length
  const write = `${force}*${length}`
  findings.push(
    finding(at, end, `Torque is written \`${write}\`, not \`${found[0]}\`.`, [
      replaceFix(`Write \`${write}\``, at, end, write),
    ]),
  )
  const middle = at + first.length
  const firstName = LENGTHS.has(first) ? length : force
  const secondName = LENGTHS.has(first) ? force : length
  return {
    end,
    factors: [
      { start: at, end: middle, name: firstName, power: 1 },
      { start: middle + 1, end, name: secondName, power: 1 },
    ],
  }
}

function partAt(text: string, at: number, findings: SyntaxFinding[]): Part | undefined {
  const number = numberAt(text, at, findings)
  if (!number) return undefined
  const touching = markAt(text, number.end, findings) ?? unitAt(text, number.end, findings)
  const unit = touching ?? (isBlank(text[number.end]) ? unitAt(text, number.end + 1, findings) : undefined)
  return { start: at, end: unit?.end ?? number.end, number, unit }
}

/**
 * Reads the quantity at `at`, which must be a digit or a point before one. Neighbours at most one space apart are parts
 * of one quantity. The splitter and the lexer both read quantities here, so they agree on what an inch mark is.
 */
export function quantityAt(text: string, at: number): ScannedQuantity | undefined {
  if (!startsNumber(text, at)) return undefined
  const parts: Part[] = []
  const findings: SyntaxFinding[] = []
  let next = at
  let end = at
  for (;;) {
    const part = partAt(text, next, findings)
    if (!part) break
    const before = parts.at(-1)
    if (before && !before.unit)
      findings.push(
        finding(before.start, part.end, 'Two numbers stand side by side. Expected a unit or an operator between them.'),
      )
    parts.push(part)
    end = part.end
    if (text[end] === '.' && part.unit && /\p{L}$/u.test(part.unit.text) && !/[\p{L}\d]/u.test(text[end + 1] ?? '')) {
      findings.push(
        finding(end, end + 1, 'A unit is written without a full stop.', [
          replaceFix('Remove the full stop', end, end + 1, ''),
        ]),
      )
      end++
    }
    next = isBlank(text[end]) ? end + 1 : end
    if (text[end] === '-' && startsNumber(text, end + 1)) {
      if (!/^['’‘′]$/.test(part.unit?.text ?? '')) {
        findings.push(touchingMinus(text, end, part))
        break
      }
      next = end + 1
    }
    if (!startsNumber(text, next)) break
  }
  return { end, parts: exact(parts), findings }
}

/** `12ft-4in` and `10-3`: a difference, or one length written in two steps; only the author knows. */
function touchingMinus(text: string, at: number, left: Part): SyntaxFinding {
  const right = partAt(text, at + 1, [])
  const end = right?.end ?? at + 1
  const was = text.slice(left.start, end)
  const read = (edits: readonly TextEdit[], what: string): SyntaxFix => {
    let shown = was
    for (const e of [...edits].reverse())
      shown = shown.slice(0, e.start - left.start) + e.text + shown.slice(e.end - left.start)
    return { title: `Write \`${shown}\` (${what})`, edits }
  }
  const fixes = [read([edit(at, at + 1, ' - ')], 'a difference')]
  const joined = right && joinedReading(at, left, right)
  if (joined) fixes.push(read(joined, 'one quantity'))
  return finding(
    left.start,
    end,
    `\`${was}\` can be read in two ways. Write spaces around \`-\` for a difference, or the parts with a space between.`,
    fixes,
  )
}

function joinedReading(at: number, left: Part, right: Part): readonly TextEdit[] | undefined {
  const fraction = right.number.fraction
  if (!left.unit && fraction && fraction.whole === 0 && fraction.under > 0 && Number.isInteger(left.number.value)) {
    const whole = left.number.value + Math.floor(fraction.over / fraction.under)
    const over = fraction.over % fraction.under
    return [edit(left.start, right.number.end, over === 0 ? `${whole}` : `${whole} ${over}/${fraction.under}`)]
  }
  if (left.unit && left.unit.text === right.unit?.text && fraction && right.number.value < 1)
    return [edit(left.number.end, at + 1, ' ')]
  if (left.unit && right.unit) return left.unit.text === right.unit.text ? undefined : [edit(at, at + 1, ' ')]
  if (!left.unit && right.unit && !/^(in|"|ft|')$/.test(right.unit.text)) return undefined
  if (left.unit && !/^(ft|')$/.test(left.unit.text)) return undefined
  const feet = left.unit ? [edit(at, at + 1, ' ')] : [edit(at, at + 1, 'ft ')]
  return right.unit ? feet : [...feet, edit(right.end, right.end, 'in')]
}
