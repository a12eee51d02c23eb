/** A job file as it is written: its parts, what `like` makes of them, their numbers, and the text. */
import type { Fields, Given, Plain } from './parts.ts'
import type { Written } from './write.ts'

export type Lines = Record<string, Written>
export interface Named {
  name?: string
  /** The stock block it is like, and that block's lines. */
  like?: { name: string; lines: Lines }
  lines: Lines
}
export type Piece = { stock: string; lines: Lines } | { like?: { name: string; lines: Lines }; lines: Lines }
/** An opening as it is written. */
export interface Spec {
  opening: Lines
  curtain: Lines
  slat?: Piece
  rails: Lines
  drum: Lines
  pipe?: Piece
  springs: Named[]
  adjuster: Lines
  operator?: Named
  hood: Lines
  rigging: Lines
  limits: Lines
  lets: Lines
}
export interface Opening {
  readonly mark: string
  readonly given: Given
  /** Everything written, by path, with where it comes from. */
  readonly written: ReadonlyMap<string, { written: Written; value: Plain | undefined; origin: 'written' | 'stock' }>
}
export interface Job {
  readonly files: Readonly<Record<string, string>>
  /** The same files with every plain quantity in units of one system. */
  again(system: 'imperial' | 'metric'): Readonly<Record<string, string>>
  readonly openings: readonly Opening[]
}

/** Lines over those further away: a gauge takes the place of a weight, which would go before it. */
function nearer(far: Lines, near: Lines): Lines {
  const { weight, ...rest } = far
  return near.gauge && weight ? { ...rest, ...near } : { ...far, ...near }
}

/** What is written when lines stand over others, as `like` has it. */
export function merge(base: Spec, over: Spec): Spec {
  const piece = (a: Piece | undefined, b: Piece | undefined): Piece | undefined =>
    a && b && !('stock' in a) && !('stock' in b) ? { ...a, lines: nearer(a.lines, b.lines) } : (b ?? a)
  const springs = over.springs.some(s => !s.name)
    ? over.springs
    : [
        ...base.springs.map(s => {
          const o = over.springs.find(x => x.name === s.name)
          return o ? { ...s, lines: { ...s.lines, ...o.lines } } : s
        }),
        ...over.springs.filter(o => !base.springs.some(s => s.name === o.name)),
      ]
  const operator =
    over.operator && base.operator
      ? { ...base.operator, lines: { ...base.operator.lines, ...over.operator.lines } }
      : (over.operator ?? base.operator)
  const both = (
    k: 'opening' | 'curtain' | 'rails' | 'drum' | 'adjuster' | 'hood' | 'rigging' | 'limits' | 'lets',
  ): Lines => ({ ...base[k], ...over[k] })
  return {
    opening: both('opening'), curtain: both('curtain'), slat: piece(base.slat, over.slat), rails: both('rails'), drum: both('drum'),
    pipe: piece(base.pipe, over.pipe), springs, adjuster: both('adjuster'), operator, hood: both('hood'), rigging: both('rigging'),
    limits: both('limits'), lets: both('lets'),
  } as Spec // biome-ignore format: a table
}

export function resolve(mark: string, spec: Spec, fileLets: Lines, around: Lines): Opening {
  const written = new Map<string, { written: Written; value: Plain | undefined; origin: 'written' | 'stock' }>()
  const get = (path: string): number | undefined => {
    const [block, name] = path.split('.') as [string, string]
    const source = block === 'let' ? { ...fileLets, ...spec.lets } : (spec as unknown as Record<string, Lines>)[block]!
    const w = source[name]
    return w && (typeof w.value === 'function' ? w.value(get) : (w.value as number))
  }
  const block = (
    path: string | undefined,
    l: Lines,
    stock: Lines = {},
    origin: 'written' | 'stock' = 'written',
  ): Fields => {
    const out: Record<string, Plain | undefined> = {}
    for (const [name, w] of Object.entries(nearer(stock, l))) {
      const v = typeof w.value === 'function' ? w.value(get) : w.value
      const speed = typeof v === 'object'
      out[speed ? `${name}_speed` : name] = speed ? v.speed : v
      if (path)
        written.set(`${path}.${name}`, {
          written: speed ? { ...w, unit: 'in/s' } : w,
          value: speed ? v.speed : v,
          origin: name in l ? origin : 'stock',
        })
    }
    return out
  }
  const piece = (path: string, p: Piece | undefined): Fields =>
    p ? ('stock' in p ? block(path, p.lines, {}, 'stock') : block(path, p.lines, p.like?.lines)) : {}
  const given: Given = {
    opening: block('opening', spec.opening),
    curtain: block('curtain', spec.curtain),
    slat: piece('curtain.slat', spec.slat),
    rails: block('rails', spec.rails),
    drum: { ...block('drum', spec.drum), ...(spec.pipe && 'stock' in spec.pipe ? { pipe: spec.pipe.stock } : {}) },
    pipe: piece('drum.pipe', spec.pipe),
    springs: spec.springs.map((s, i) => block(`spring[${i}]`, s.lines, s.like?.lines)),
    adjuster: block('adjuster', spec.adjuster),
    operator: spec.operator && block('operator', spec.operator.lines, spec.operator.like?.lines),
    hood: block('hood', spec.hood),
    rigging: block('rigging', spec.rigging),
    limits: { ...block(undefined, around), ...block(undefined, spec.limits) },
  }
  return { mark, given, written }
}

/** How the lines are written: what now and then is added to them, and each quantity. */
export interface Hand {
  often(percent: number): boolean
  say(w: Written): string
}

export function lines(pen: Hand, l: Lines, indent: string, because = false): string {
  const fields = Object.entries(l).map(
    ([name, w]) => `${name} = ${pen.say(w)}${because || pen.often(5) ? ` because "as agreed"` : ''}`,
  )
  if (fields.length > 0 && pen.often(15)) return `${indent}${fields.join('; ')}\n`
  return fields.map(f => `${indent}${f}${pen.often(5) ? ' # so' : ''}\n`).join('')
}

export function body(pen: Hand, spec: Spec): string {
  const inner = (header: string, l: Lines, more = '', because = false): string =>
    Object.keys(l).length > 0 || more || pen.often(5)
      ? `  ${header} {\n${lines(pen, l, '    ', because)}${more}  }\n`
      : ''
  const piece = (name: string, p: Piece | undefined): string =>
    !p
      ? ''
      : 'stock' in p
        ? `    ${name} = ${p.stock}\n`
        : `    ${name}${p.like ? ` like ${p.like.name}` : ''} {\n${lines(pen, p.lines, '      ')}    }\n`
  const springs = spec.springs.map(
    s =>
      `  spring${s.name ? ` ${s.name}` : ''}${s.like ? ` like ${s.like.name}` : ''} {\n${lines(pen, s.lines, '    ')}  }\n`,
  )
  const o = spec.operator
  const blocks = [
    inner('curtain', spec.curtain, piece('slat', spec.slat)),
    inner('rails', spec.rails),
    inner('drum', spec.drum, piece('pipe', spec.pipe)),
    springs.join(''),
    inner('adjuster', spec.adjuster),
    o ? `  operator${o.like ? ` like ${o.like.name}` : ''} {\n${lines(pen, o.lines, '    ')}  }\n` : '',
    inner('hood', spec.hood),
    inner('rigging', spec.rigging),
    inner('limits', spec.limits, '', true),
  ]
  const turned = pen.often(20) ? blocks.reverse() : blocks
  const lets = Object.entries(spec.lets).map(([n, w]) => `  let ${n} = ${pen.say(w)}\n`)
  return lets.join('') + lines(pen, spec.opening, '  ') + turned.join('')
}
