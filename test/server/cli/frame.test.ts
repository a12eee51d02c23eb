/** The run of carets stands under the text that is meant, whatever stands before it. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { frame } from '../../../server/cli/frame.ts'
import { columns } from './call.ts'

const at = (line: number, start: number, end: number, endLine = line) => ({
  start: { line, character: start },
  end: { line: endLine, character: end },
})

/** The source line and the carets, and what of the source stands above the carets. */
function shown(
  line: string,
  start: number,
  end: number,
  width = 200,
): { source: string; carets: string; above: string } {
  const [source, carets] = frame([line], at(0, start, end), width)
  const first = carets!.text.indexOf('^')
  const length = carets!.text.length - first
  let column = 0
  let above = ''
  // A sign belongs to the carets where it starts under them; one without columns goes with the one before it.
  for (const { segment } of new Intl.Segmenter('en').segment(source!.text)) {
    if (column >= first && column < first + length) above += segment
    column += columns(segment)
  }
  return { source: source!.text, carets: carets!.text, above }
}

/** The frame under a word of a line. */
const under = (line: string, word: string, width?: number) =>
  shown(line, line.indexOf(word), line.indexOf(word) + word.length, width)

describe('carets', () => {
  it.each([
    ['plain text', '  preload = 1.7 turns', '1.7 turns', '            ^^^^^^^^^'],
    ['tabs fill up to the next fourth column', '\twidth\t= 12ft', '12ft', '              ^^^^'],
    ['inch and foot marks', `  width = 12'-4 1/2"`, `12'-4 1/2"`, '          ^^^^^^^^^^'],
    ['wide characters before', 'site = "冷凍庫"; colour = 1', 'colour', '                 ^^^^^^'],
    ['wide characters in it', 'site = "冷凍庫"', '"冷凍庫"', '       ^^^^^^^^'],
    ['a mark put on the letter before', 'site = "cafe\u0301"; colour = 1', 'colour', '               ^^^^^^'],
    ['a family of several people is one sign', 'by = "👩‍🔧"; colour = 1', 'colour', '           ^^^^^^'],
    ['a flag is one sign', 'by = "🇳🇴"; colour = 1', 'colour', '           ^^^^^^'],
    ['a sign asked for as a picture', 'by = "❤️"; colour = 1', 'colour', '           ^^^^^^'],
    ['letters beyond ASCII', 'site = "Straße 4½ ’"; colour = 1', 'colour', '                      ^^^^^^'],
  ])('%s', (_what, line, word, carets) => {
    const r = under(line, word)
    expect(r.carets).toBe(carets)
    expect(r.above).toBe(word)
  })

  it('of a place with nothing in it: one, before the sign that follows', () => {
    expect(shown('a = 1', 2, 2).carets).toBe('  ^')
    expect(shown('a = 1', 5, 5).carets).toBe('     ^')
    expect(shown('', 0, 0).carets).toBe('^')
  })

  it('of a place inside a sign: under the whole of it', () => {
    expect(shown('a冷b', 1, 2).carets).toBe(' ^^')
    expect(shown('ae\u0301b', 2, 3).carets).toBe(' ^')
  })

  it('what a terminal would obey is written out, and the carets know', () => {
    const r = under('a = "\u001b[31m\u202e"; colour = 1', 'colour')
    expect(r.source).toBe('a = "\\u{1b}[31m\\u{202e}"; colour = 1')
    expect(r.above).toBe('colour')
  })

  it('over several lines: each from its first letter, only the ends of many', () => {
    const lines = ['opening "A" {', '  width = 1ft', '', '  b = 2', '  c = 3', '}']
    expect(frame(lines, at(0, 12, 13, 1), 80).map(l => l.text)).toEqual([
      'opening "A" {',
      '            ^',
      '  width = 1ft',
      '  ^^^^^^^^^^^',
    ])
    const many = frame(lines, at(0, 0, 1, 5), 80)
    expect(many.filter(l => l.number).map(l => l.number)).toEqual([1, 2, 6])
    expect(many.some(l => l.kind === 'left out')).toBe(true)
  })

  it('does not reach into a line that the range ends before', () => {
    expect(
      frame(['a', 'b'], at(0, 0, 0, 1), 80)
        .filter(l => l.number)
        .map(l => l.number),
    ).toEqual([1])
  })

  it.each([0, 40, 4000, 7999])('a long line is cut around them (%d letters before)', before => {
    const line = `${'x'.repeat(before)}colour${'y'.repeat(8000 - before)}`
    const r = under(line, 'colour', 60)
    expect(r.above).toBe('colour')
    expect(columns(r.source)).toBeLessThanOrEqual(60)
    expect(r.source.startsWith('… ')).toBe(before > 0)
    expect(r.source.endsWith(' …')).toBe(before < 7990)
  })

  it('a marked text that is longer than the line may be starts at its start', () => {
    const r = shown(`ab ${'z'.repeat(500)}`, 3, 503, 60)
    expect(columns(r.source)).toBeLessThanOrEqual(60)
    expect(r.above).toMatch(/^z{20,}/)
  })
})

const pieces = [
  'width',
  ' ',
  '=',
  '12ft',
  '"',
  "'",
  '\t',
  '冷',
  '凍庫',
  'e\u0301',
  '👩‍🔧',
  '🇳🇴',
  'ß',
  '½',
  '한',
  '{',
  ';',
  '\u001b',
  'Ａ',
]
const asShown = (text: string): string => text.replace('\u001b', '\\u{1b}')

describe('whatever a line is made of', () => {
  const lines = fc.array(fc.constantFrom(...pieces), { minLength: 1, maxLength: 60 })

  it('the text above the carets is the text that is meant', () => {
    fc.assert(
      fc.property(lines, fc.nat(), fc.nat(), fc.integer({ min: 30, max: 200 }), (parts, a, b, width) => {
        const from = a % parts.length
        const to = from + 1 + (b % (parts.length - from))
        const start = parts.slice(0, from).join('').length
        const marked = parts.slice(from, to).join('')
        const { source, above } = shown(parts.join(''), start, start + marked.length, width)
        expect(columns(source)).toBeLessThanOrEqual(width)
        // Tabs are shown as blanks, of a number that depends on where they stand; what does not fit is cut off.
        const blank = (text: string): string =>
          asShown(text)
            .replaceAll(/[\t ]+/g, ' ')
            .replace(/ …$/, '')
        const wanted = blank(marked.replaceAll('\u001b', '\\u{1b}'))
        const got = blank(above)
        expect(wanted.trim().startsWith(got.trim())).toBe(true)
        if (columns(parts.join('').replaceAll('\t', '    ').replaceAll('\u001b', '\\u{1b}')) <= width)
          expect(got).toBe(wanted)
      }),
      { numRuns: 500 },
    )
  })
})
