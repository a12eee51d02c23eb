/** Values written into an opening: over what is there, beside it, or with the block that they need. */
import { describe, expect, test } from 'vitest'
import { addTo, type Edit, setField } from '../../../server/model/index.ts'
import { check } from '../../support/host.ts'

const JOB = 'job "HS-2207" { units = imperial }\n'
const SLAT = 'slat flat_20 { pitch = 2 5/8in; thickness = 0.875in; gauge = 20 }\n'

/** The last opening of a text after edits. */
function edited(text: string, edits: (door: ReturnType<ReturnType<typeof check>['door']>) => Edit[] | undefined) {
  const c = check(JOB + SLAT + text)
  const made = edits(c.doors.at(-1)!)
  return made && c.apply({ title: '', safe: false, edits: made }).text.slice((JOB + SLAT).length)
}
const set = (text: string, path: string, value: string) => edited(text, d => setField(d, path, value))

describe('one value', () => {
  test('replaces what is written', () => {
    expect(set('opening "D" {\n  width = 11ft because "as built"\n}\n', 'width', '12ft')).toBe(
      'opening "D" {\n  width = 12ft because "as built"\n}\n',
    )
    expect(set('opening "D" { spring { hand = left }; spring { hand = left } }', 'spring[1].hand', 'right')).toBe(
      'opening "D" { spring { hand = left }; spring { hand = right } }',
    )
  })

  test('is added as the last line of its block, indented as the lines before it', () => {
    expect(set('opening "D" {\n    width = 11ft\n}\n', 'height', '9ft')).toBe(
      'opening "D" {\n    width = 11ft\n    height = 9ft\n}\n',
    )
    expect(set('opening "D" {\n\trails {\n\t\tdepth = 3in\n\t}\n}\n', 'rails.between', '9ft')).toBe(
      'opening "D" {\n\trails {\n\t\tdepth = 3in\n\t\tbetween = 9ft\n\t}\n}\n',
    )
    expect(set('opening "D" {\n  drum {\n  }\n}\n', 'drum.span', '9ft')).toBe(
      'opening "D" {\n  drum {\n    span = 9ft\n  }\n}\n',
    )
    expect(set('opening "D" {\r\n  width = 11ft\r\n}\r\n', 'height', '9ft')).toBe(
      'opening "D" {\r\n  width = 11ft\r\n  height = 9ft\r\n}\r\n',
    )
  })

  test('a closing brace that shares its line gets one of its own', () => {
    expect(set('opening "D" {\n  width = 11ft }\n', 'height', '9ft')).toBe(
      'opening "D" {\n  width = 11ft \n  height = 9ft\n}\n',
    )
  })

  test('in a block on one line it is written beside the others', () => {
    expect(set('opening "D" { width = 11ft }', 'height', '9ft')).toBe('opening "D" { width = 11ft; height = 9ft }')
    expect(set('opening "D" {}', 'height', '9ft')).toBe('opening "D" { height = 9ft }')
    expect(set('opening "D" {  }', 'height', '9ft')).toBe('opening "D" { height = 9ft }')
  })

  test('brings its block along, where that is not written; a block on one line is opened for it', () => {
    expect(set('opening "D" {\n  width = 11ft\n}\n', 'drum.span', '9ft')).toBe(
      'opening "D" {\n  width = 11ft\n  drum {\n    span = 9ft\n  }\n}\n',
    )
    expect(set('opening "D" { width = 11ft; height = 9ft }', 'survey.width.top', '9ft')).toBe(
      'opening "D" {\n  width = 11ft\n  height = 9ft\n  survey {\n    width {\n      top = 9ft\n    }\n  }\n}',
    )
    expect(set('opening "D" {}', 'drum.span', '9ft')).toBe('opening "D" {\n  drum {\n    span = 9ft\n  }\n}')
    expect(set('opening "D" {\r\n  width = 11ft\r\n}\r\n', 'drum.span', '9ft')).toBe(
      'opening "D" {\r\n  width = 11ft\r\n  drum {\r\n    span = 9ft\r\n  }\r\n}\r\n',
    )
  })

  test('over a copied one stands in the opening that copies, under the name of its spring', () => {
    const base = 'opening "A" {\n  width = 11ft\n  drum { span = 9ft }\n  spring long { hand = left }\n}\n'
    const copy = (path: string, value: string) =>
      set(`${base}opening "B" like "A" {\n}\n`, path, value)!.slice(base.length)
    expect(copy('width', '12ft')).toBe('opening "B" like "A" {\n  width = 12ft\n}\n')
    expect(copy('drum.span', '8ft')).toBe('opening "B" like "A" {\n  drum {\n    span = 8ft\n  }\n}\n')
    expect(copy('spring[0].hand', 'right')).toBe('opening "B" like "A" {\n  spring long {\n    hand = right\n  }\n}\n')
  })
})

describe('nothing is written', () => {
  test.each([
    ['where the path leads nowhere', 'opening "D" {}', 'nowhere.span'],
    ['where the block has no such field', 'opening "D" {}', 'drum.nothing'],
    ['over what is worked out', 'opening "D" {}', 'drum.sag'],
    ['into a stock item that others share', 'opening "D" {\n  curtain { slat = flat_20 }\n}', 'curtain.slat.gauge'],
    ['into a pipe by its name', 'opening "D" {\n  drum { pipe = nps6_std }\n}', 'drum.pipe.wall'],
    ['into a copied spring without a name', 'opening "A" {\n  spring { hand = left }\n}\nopening "B" like "A" {}', 'spring.hand'],
    ['into a block that is not closed', 'opening "D" {\n  width = 11ft\n', 'height'],
  ])('%s', (_, text, path) => void expect(set(text, path, '9ft')).toBeUndefined()) // biome-ignore format: a table
})

describe('several lines', () => {
  test('stand at the end of a block, which is opened or added for them', () => {
    const add = (text: string, block: string, ...lines: string[]) => edited(text, d => addTo(d, block, ...lines))
    expect(add('opening "D" {\n  width = 11ft\n}\n', 'opening', 'let a = 1', 'let b = 2')).toBe(
      'opening "D" {\n  width = 11ft\n  let a = 1\n  let b = 2\n}\n',
    )
    expect(add('opening "D" { width = 11ft }', 'opening', 'let a = 1')).toBe('opening "D" { width = 11ft; let a = 1 }')
    expect(add('  opening "D" { width = 11ft }', 'opening', 'let a = 1', 'let b = 2')).toBe(
      '  opening "D" {\n    width = 11ft\n    let a = 1\n    let b = 2\n  }',
    )
    expect(add('opening "D" {\n}\n', 'drum', 'span = 9ft', 'let b = 2')).toBe(
      'opening "D" {\n  drum {\n    span = 9ft\n    let b = 2\n  }\n}\n',
    )
    expect(add('opening "D" {\n}\n', 'nowhere', 'let b = 2')).toBeUndefined()
  })
})
