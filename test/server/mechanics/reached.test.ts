/**
 * A published check guards what the program says only if the program calls what is checked: every exported function of
 * the mechanics is imported by the vocabulary, a rule or a feature, or called by a function that is.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import * as m from '../../../server/mechanics/index.ts'

const SERVER = join(import.meta.dirname, '../../../server')
const code = (file: string): string =>
  readFileSync(join(SERVER, file), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '')
const files = (...rooms: string[]): string[] =>
  rooms.flatMap(room =>
    readdirSync(join(SERVER, room), { recursive: true, encoding: 'utf8' })
      .filter(f => f.endsWith('.ts'))
      .map(f => join(room, f)),
  )

/** What a file has from the mechanics: by name, or as `m.name`. */
function imported(text: string): string[] {
  const from = [...text.matchAll(/import (?:\{([^}]*)\}|\* as (\w+)) from '[./]+mechanics\/index\.ts'/g)]
  return from.flatMap(([, names, space]) =>
    names === undefined
      ? [...text.matchAll(new RegExp(`\\b${space}\\.(\\w+)`, 'g'))].map(x => x[1]!)
      : names.split(',').map(n => n.replace(/^\s*type /, '').trim()),
  )
}

/** The declarations at the left margin of the mechanics, by name, each with its whole text. */
const declared = new Map(
  files('mechanics').flatMap(f =>
    code(f)
      .split(/^(?=(?:export )?(?:function|const|interface|type) )/m)
      .flatMap(text => {
        const name = /^(?:export )?(?:function|const) (\w+)/.exec(text)?.[1]
        return name === undefined ? [] : [[name, text] as const]
      }),
  ),
)

function reached(from: readonly string[]): Set<string> {
  const seen = new Set<string>()
  const visit = (name: string): void => {
    const text = declared.get(name)
    if (text === undefined || seen.has(name)) return
    seen.add(name)
    // neither a property nor the name of a parameter
    for (const [, word] of text.matchAll(/(?<![.\w])(\w+)\b(?!\??:)/g)) visit(word!)
  }
  for (const name of from) visit(name)
  return seen
}

const callers = files('model/vocabulary', 'rules', 'features')
const inUse = reached(callers.flatMap(f => imported(code(f))))
const functions = Object.entries(m)
  .filter(([, value]) => typeof value === 'function')
  .map(([name]) => name)

describe('every function of the mechanics is in use', () => {
  it('finds them and who calls them', () => {
    expect(functions.length).toBeGreaterThan(50)
    expect(functions.filter(f => !declared.has(f))).toEqual([])
    expect(imported("import { isWhole, type Door } from '../mechanics/index.ts'\n")).toEqual(['isWhole', 'Door'])
    expect(imported("import * as m from '../../mechanics/index.ts'\nm.coilTurns(1, m.TURN)")).toEqual(['coilTurns', 'TURN']) // biome-ignore format: one expression
    // through another: a chain's pull asks for the pitch diameter
    expect(reached(['chainPull'])).toEqual(new Set(['chainPull', 'pitchDiameter']))
    expect(reached(['chainPitches'])).toEqual(new Set(['chainPitches']))
  })

  it.each(functions)('%s', name => expect(inUse.has(name), `nobody calls ${name}`).toBe(true))
})
