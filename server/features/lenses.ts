/** One line above each opening: how it stands, and what can be done with it. */
export interface LensState {
  readonly mark: string
  readonly line: number
  readonly errors: number
  readonly warnings: number
  readonly notes: number
  readonly complete: boolean
  readonly missing: readonly string[]
  readonly worst: string | undefined
}

export interface Lens {
  readonly line: number
  readonly title: string
  readonly command: 'doorwright.preview' | 'doorwright.sizeSprings' | 'doorwright.sheet'
  readonly mark: string
}

export function lenses(o: LensState): Lens[] {
  const { line, mark } = o
  return [
    { line, mark, title: stateOf(o), command: 'doorwright.preview' },
    { line, mark, title: 'Preview', command: 'doorwright.preview' },
    { line, mark, title: 'Size springs', command: 'doorwright.sizeSprings' },
    { line, mark, title: 'Field sheet', command: 'doorwright.sheet' },
  ]
}

const some = (n: number, what: string): string[] => (n === 0 ? [] : [`${n} ${what}${n === 1 ? '' : 's'}`])

/** `out of balance by 228.9 lbf*in, 2 errors` */
export function stateOf(o: LensState): string {
  const found = [...some(o.errors, 'error'), ...some(o.warnings, 'warning'), ...some(o.notes, 'note')]
  const balance = o.worst === undefined ? 'balance not known yet' : `out of balance by ${o.worst}`
  return [balance, ...(found.length > 0 ? found : o.complete ? ['nothing found'] : [])].join(', ')
}
