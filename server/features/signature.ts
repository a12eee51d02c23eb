/** The form of the function whose brackets the cursor stands in. Works by tokens, so on half-typed text too. */
import { FUNCTIONS } from '../model/index.ts'
import { type At, inside, textOf } from './at.ts'

export interface Signature {
  readonly label: string
  readonly doc: string
  /** Each as a stretch of the label. */
  readonly parameters: readonly (readonly [start: number, end: number])[]
  readonly active: number
}

export function signature(a: At): Signature | undefined {
  if (inside(a, 'comment') || inside(a, 'text')) return undefined
  let depth = 0
  let commas = 0
  const before = a.tokens.filter(t => t.start < a.offset)
  for (let i = before.length - 1; i >= 0; i--) {
    const text = textOf(a, before[i]!)
    if (text === '{' || text === '}' || text === ';' || text === '=') return undefined
    if (text === ')' || text === ']') depth++
    else if (text === '(' || text === '[') {
      const name = before[i - 1]
      if (depth-- > 0) continue
      const f = text === '(' && name?.kind === 'name' ? FUNCTIONS.get(textOf(a, name)) : undefined
      if (f) return made(f.form, f.doc, commas)
      // brackets around a part of one of its values
      depth = 0
      commas = 0
    } else if (text === ',' && depth === 0) commas++
  }
  return undefined
}

function made(label: string, doc: string, commas: number): Signature {
  const parameters: [number, number][] = []
  const form = label.slice(label.indexOf('(') + 1, -1)
  let at = label.indexOf('(') + 1
  for (const p of form.split(', ')) {
    parameters.push([at, at + p.length])
    at += p.length + 2
  }
  // `...` stands for as many more as one likes; past the last of the others nothing is meant
  const active = form.endsWith('...') ? Math.min(commas, parameters.length - 1) : commas
  return { label, doc, parameters, active }
}
