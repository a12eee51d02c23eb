/** What the storms found once, each as small as it can be. */
import { expect, test } from 'vitest'
import { findingsOf } from '../grammar/marks.ts'
import { ALL, samples, serviceOf } from './support.ts'

const fixesOf = (text: string): string[] => findingsOf(text).flatMap(f => f.fixes.map(x => x.title))

test('no brace is offered behind a text without its closing quote, where it would be part of the text', () => {
  expect(fixesOf('opening "Dock 3')).not.toContain('Add `{ }`')
  expect(fixesOf('opening "Dock 3" like "Dock')).not.toContain('Add `{ }`')
  expect(fixesOf('opening "Dock 3"')).toContain('Add `{ }`')
})

test('chained comparisons are taken apart only where there is a value between them', () => {
  expect(fixesOf('require a >= >= b')).toEqual([])
  expect(fixesOf('require a >= b >= c')).toEqual(['Write `and b >= ...`'])
})

test('a hint at the top of a file puts no finding into another statement', () => {
  const text = 'job "HS-1" {}\nrequire headroom > drum.coil_diameter\nlet a = nothing + 1ft\n'
  const before = serviceOf({ 'a.door': text }, ['a.door'])
  const findings = before.findings('a.door').map(f => [f.range, f.message])
  for (const ask of ['inlayHints', 'hover', 'completion'] as const) {
    const s = serviceOf({ 'a.door': text }, ['a.door'])
    if (ask === 'inlayHints') s.inlayHints('a.door', ALL)
    else for (let i = 0; i < text.length; i++) s[ask]('a.door', s.position('a.door', i))
    expect(s.findings('a.door').map(f => [f.range, f.message])).toEqual(findings)
  }
})

test('a range with its ends the wrong way round is the same stretch', () => {
  const s = serviceOf({ 'a.door': 'let a = 1ft\nlet b = 2ft\n' }, ['a.door'])
  s.edit('a.door', [{ range: { start: { line: 1, character: 5 }, end: { line: 0, character: 4 } }, text: 'x' }])
  expect(s.text('a.door')).toBe('let x = 2ft\n')
})

test('answers about the workspace come in the order of its files, whatever was opened first', () => {
  const [a, b] = [
    ['harbour/dock.door', 'harbour/gate.door'],
    ['harbour/gate.door', 'harbour/dock.door'],
  ]
  const said = (open: readonly string[]): unknown => {
    const s = serviceOf(samples, open)
    return [s.workspaceSymbols('o'), s.moved([{ from: 'harbour/stock', to: 'house' }])]
  }
  expect(said(a!)).toEqual(said(b!))
})
