import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { applyEdits, editSource, parseSource, tokenize } from '../../grammar/index.ts'
import { anyText, change, editsOf, JOB } from './generate.ts'

const pieces = (text: string) => parseSource(text).chunks.map(c => c.text)

describe('a file is split into chunks', () => {
  test('each top-level statement is one, with the comments and blank lines before it', () => {
    expect(pieces('# top\n\nuse "a.door"\n\n## doc\nopening "D" {\n  a = 1\n}\nlet b = 2; let c = 3\n# end\n')).toEqual(
      ['# top\n\nuse "a.door"\n', '\n## doc\nopening "D" {\n  a = 1\n}\n', 'let b = 2; let c = 3\n', '# end\n'],
    )
  })

  test('braces in texts and comments do not count, inch marks start no text', () => {
    expect(pieces('a { b = "{" } # {\nc { d = 4" }\ne = 1\n')).toEqual([
      'a { b = "{" } # {\n',
      'c { d = 4" }\n',
      'e = 1\n',
    ])
    expect(pieces('a { b = 1in^4" }\n}\nc = flat_20" {\nd = 1')).toEqual([
      'a { b = 1in^4" }\n}\n',
      'c = flat_20" {\n',
      'd = 1',
    ])
  })

  test('a list may go on over lines, and a statement ends one that is not closed', () => {
    expect(pieces('let a = min(1,\n  2)\nlet b = 3')).toEqual(['let a = min(1,\n  2)\n', 'let b = 3'])
    expect(pieces('let a = min(1,\nlet b = 3')).toEqual(['let a = min(1,\n', 'let b = 3'])
  })

  test('a line that can only stand at top level ends blocks that were not closed', () => {
    expect(pieces('opening "A" {\n  rails {\n\n# about B\n## doc\nopening "B" {\n}\n')).toEqual([
      'opening "A" {\n  rails {\n\n',
      '# about B\n## doc\nopening "B" {\n}\n',
    ])
  })

  test.each(['\r\n', '\r'])('line ends %j', newline => {
    const text = JOB.replaceAll('\n', newline)
    expect(pieces(text).map(t => t.replaceAll(newline, '\n'))).toEqual(pieces(JOB))
  })

  test('an empty file has no chunk', () => expect(parseSource('')).toEqual({ text: '', chunks: [], starts: [] }))

  test('the splitter and the lexer agree on what is a brace', () =>
    fc.assert(
      fc.property(anyText, text => {
        const texts = pieces(text)
        texts.forEach((piece, i) => {
          // The last chunk may end open, and so may one before a line that can only stand at top level.
          if (i === texts.length - 1 || /^(\s*#.*[\r\n]+)*[ \t]*(opening|job|use)[ \t]*"/.test(texts[i + 1]!)) return
          let depth = 0
          for (const t of tokenize(piece)) {
            const char = piece.slice(t.start, t.end)
            if (t.kind === 'punctuation' && char === '{') depth++
            if (t.kind === 'punctuation' && char === '}') depth = Math.max(0, depth - 1)
          }
          expect(depth).toBe(0)
        })
      }),
      { numRuns: 1000 },
    ))

  test('chunks joined are the text', () =>
    fc.assert(
      fc.property(anyText, text => {
        const { chunks, starts } = parseSource(text)
        expect(chunks.map(c => c.text).join('')).toBe(text)
        chunks.reduce((at, chunk, i) => {
          expect(starts[i]).toBe(at)
          expect(chunk.text.length).toBeGreaterThan(0)
          return at + chunk.text.length
        }, 0)
      }),
      { numRuns: 500 },
    ))
})

describe('an edit', () => {
  test('reads only what it touches; the rest stays the same objects', () => {
    const before = parseSource(JOB)
    const at = JOB.indexOf('12ft') + 1
    const after = editSource(before, [{ start: at, end: at + 1, text: '4' }])
    expect(after).toEqual(parseSource(after.text))
    const changed = after.chunks.filter(chunk => !before.chunks.includes(chunk))
    expect(changed.map(chunk => chunk.text.includes('14ft'))).toEqual([true])
  })

  test('several edits far apart leave what lies between as it was', () => {
    const before = parseSource(JOB)
    const last = JOB.length
    const after = editSource(before, [
      { start: last, end: last, text: 'let z = 1\n' },
      { start: 0, end: 0, text: '# new\n' },
    ])
    expect(after.text).toBe(`# new\n${JOB}let z = 1\n`)
    expect(before.chunks.filter(chunk => !after.chunks.includes(chunk)).length).toBe(2)
  })

  test('chunked equals full, whatever is typed into a job', () =>
    fc.assert(
      fc.property(
        fc.array(fc.array(change, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 6 }),
        rounds => {
          let source = parseSource(JOB)
          for (const changes of rounds) {
            const edits = editsOf(source.text, changes)
            const expected = applyEdits(source.text, edits)
            source = editSource(source, edits)
            expect(source.text).toBe(expected)
            expect(source).toEqual(parseSource(expected))
          }
        },
      ),
      { numRuns: 500 },
    ))

  test('chunked equals full in any text', () =>
    fc.assert(
      fc.property(anyText, fc.array(change, { minLength: 1, maxLength: 3 }), (text, changes) => {
        const edits = editsOf(text, changes)
        const after = editSource(parseSource(text), edits)
        expect(after).toEqual(parseSource(applyEdits(text, edits)))
      }),
      { numRuns: 1500 },
    ))
})
