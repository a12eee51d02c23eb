/** What the second computation is made of: its numbers, unknowns that stay unknown, and two ways of searching. */

export type Plain = number | string | boolean
export type Fields = Readonly<Record<string, Plain | undefined>>
/** What is written in a job: by block, in inches, pounds, turns, seconds (wind: psi, or a speed in inches a second). */
export interface Given {
  readonly opening: Fields
  readonly curtain: Fields
  readonly slat: Fields
  readonly rails: Fields
  readonly drum: Fields
  readonly pipe: Fields
  readonly springs: readonly Fields[]
  readonly adjuster: Fields
  /** Undefined where no operator is written. */
  readonly operator: Fields | undefined
  readonly hood: Fields
  readonly rigging: Fields
  readonly limits: Fields
}

export type Unit = 'in' | 'in2' | 'lb' | 'lb/in' | 'lb/in2' | 'lbf' | 'psi' | 'turn' | 'lbf*in' | 'lbf*in/turn' | '1' | 'in/s' | 'lbf*in/s' // biome-ignore format: a list
export interface Second {
  readonly value: number | string
  readonly unit: Unit
  readonly bound?: 'more' | 'less'
  readonly origin: 'derived' | 'default' | 'given'
  /** What an error may be measured by where the value is a small difference of larger ones. */
  readonly scale?: number
}
export type Opinion = Map<string, Second | undefined>
export type Put = (path: string, unit: Unit, value: Maybe | string, rest?: Partial<Second>) => void

export type Maybe = number | undefined
export const known = <A extends readonly unknown[]>(
  f: (...a: { [K in keyof A]: Exclude<A[K], undefined> }) => Maybe,
  ...a: A
): Maybe => (a.includes(undefined) ? undefined : f(...(a as { [K in keyof A]: Exclude<A[K], undefined> })))
export const up = (x: number): number => Math.ceil(x - 1e-9)

/** Places and values of all local maxima of f over [from, to], ends included: a dense walk, then closing in. */
export function peaks(f: (x: number) => number, from: number, to: number, steps = 200): { x: number; y: number }[] {
  const x = (i: number): number => from + ((to - from) * i) / steps
  const ys = Array.from({ length: steps + 1 }, (_, i) => f(x(i)))
  const out: { x: number; y: number }[] = []
  for (let i = 0; i <= steps; i++) {
    if ((ys[i - 1] ?? -Infinity) > ys[i]! || (ys[i + 1] ?? -Infinity) > ys[i]!) continue
    let [low, high] = [x(Math.max(0, i - 1)), x(Math.min(steps, i + 1))]
    for (let n = 0; n < 60; n++) {
      const [a, b] = [low + (high - low) / 3, high - (high - low) / 3]
      if (f(a) < f(b)) low = a
      else high = b
    }
    const tries = [x(i), (low + high) / 2].map(at => ({ x: at, y: f(at) }))
    out.push(tries[0]!.y >= tries[1]!.y ? tries[0]! : tries[1]!)
  }
  return out
}
export const top = (f: (x: number) => number, to: number): number => Math.max(...peaks(f, 0, to).map(p => p.y))

/** The x in [low, high] at which a rising f reaches y. */
export function halve(f: (x: number) => number, y: number, low: number, high: number): number {
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2
    if (f(middle) < y) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** A number that is written. */
export const from = (fields: Fields, name: string): Maybe => fields[name] as Maybe
