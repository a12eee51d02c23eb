/** What names mean where they stand, and what was meant by one that leads nowhere. */
import type { Let, Path } from '../../grammar/index.ts'
import type { Env, Scope, SimpleFix } from './expression.ts'
import type { Item } from './files.ts'
import type { Builder, Home, Instance, Written } from './instance.ts'
import { nearestNames } from './names.ts'
import type { DerivedSpec, FieldSpec } from './spec.ts'
import { plainName } from './vocabulary/index.ts'

export type Target =
  | { readonly kind: 'field'; readonly instance: Instance; readonly spec: FieldSpec }
  | { readonly kind: 'derived'; readonly instance: Instance; readonly spec: DerivedSpec }
  | { readonly kind: 'let'; readonly written: Written<Let>; readonly instance: Instance | undefined }

/** The full path of a name in a block: `width` of the opening is `opening.width`, of the curtain's slat `curtain.slat.width`. */
export const pathOf = (at: Instance, name: string): string => `${at.path}.${name}`

/**
 * The blocks whose names are in scope, from the inside out. What comes from the stock or from limits outside sees its own
 * block and no further: names keep the meaning they had where they were written.
 */
function around({ instance, home }: Scope): Instance[] {
  const out: Instance[] = []
  for (let at = instance; at; at = home.outside ? undefined : at.parent) out.push(at)
  return out
}

/** A field of a slat or pipe that nobody has named is not what is missing: the slat is. */
export function missingPath(at: Instance, name: string): string {
  const alternative = at.parent?.spec.fields.has(at.spec.name) && at.fields.size === 0
  return alternative ? pathOf(at.parent!, at.spec.name) : pathOf(at, name)
}

export function inBlock(at: Instance, raw: string): Target | undefined {
  const name = plainName(raw)
  const spec = at.spec.fields.get(name) ?? at.spec.fields.get(raw)
  if (spec) return { kind: 'field', instance: at, spec }
  const d = at.spec.derived.get(raw)
  return d && { kind: 'derived', instance: at, spec: d }
}

export const childOfKind = (at: Instance, kind: string): Instance | undefined =>
  at.blocks.find(b => b.spec.name === kind)
export const childNamed = (at: Instance, name: string): Instance | undefined =>
  childOfKind(at, plainName(name)) ?? at.blocks.find(b => b.name === name)

const UNIT_WORDS = new Set([
  'day',
  'week',
  'month',
  'year',
  'h',
  'min',
  's',
  'ft',
  'in',
  'mm',
  'cm',
  'm',
  'lb',
  'kg',
  'lbf',
  'turn',
  'turns',
  'deg',
])

/** Looks names up for one opening (or block): lets, fields and derived values, blocks, the job. */
export class Names {
  readonly #root: Instance | undefined
  readonly #builder: Builder
  readonly #jobOf: (file: string) => Instance | undefined

  constructor(root: Instance | undefined, builder: Builder, jobOf: (file: string) => Instance | undefined) {
    this.#root = root
    this.#builder = builder
    this.#jobOf = jobOf
  }

  /** What a path means where it stands; see the order of names in the language reference. */
  target(names: readonly string[], scope: Scope): Target | undefined {
    if (names.length === 1) return this.#bare(names[0]!, scope)
    let at = this.blockNamed(names[0]!, scope)
    for (const name of names.slice(1, -1)) at = at && childNamed(at, name)
    return at && inBlock(at, names.at(-1)!)
  }

  #bare(name: string, scope: Scope): Target | undefined {
    for (const at of around(scope)) {
      const written = at.lets.get(name)
      if (written) return { kind: 'let', written, instance: at }
    }
    const fileLet = this.#builder.find(scope.home.file, `let ${name}`) as Item<Let> | undefined
    if (fileLet) {
      const home: Home = { file: fileLet.file, chunk: fileLet.chunk, outside: true }
      return { kind: 'let', written: { node: fileLet.node, home }, instance: undefined }
    }
    for (const at of around(scope)) {
      const found = inBlock(at, name)
      if (found) return found
    }
    const job = this.#jobOf(scope.home.file)
    return job && inBlock(job, name)
  }

  blockNamed(name: string, scope: Scope): Instance | undefined {
    const chain = around(scope)
    const child = chain[0] && childNamed(chain[0], name)
    if (child) return child
    const plain = plainName(name)
    for (const at of chain) if (at.spec.name === plain || (at.parent && at.name === name)) return at
    for (const at of chain.slice(1)) {
      const sibling = childNamed(at, name)
      if (sibling) return sibling
    }
    return name === 'job' ? this.#jobOf(scope.home.file) : undefined
  }

  /** What a path would lead to in a block that this opening does not have (yet): unknown, but no mistake. */
  absent(names: readonly string[], scope: Scope): FieldSpec | DerivedSpec | undefined {
    if (names.length < 2 || scope.home.outside) return undefined
    let at = this.#root?.spec.blocks.get(plainName(names[0]!))
    if (!at || this.#root?.blocks.some(b => b.spec === at)) return undefined
    for (const name of names.slice(1, -1)) at = at?.blocks.get(plainName(name))
    const last = names.at(-1)!
    return at?.fields.get(plainName(last)) ?? at?.derived.get(last)
  }

  unknown(path: Path, scope: Scope, report: Env['report']): void {
    const text = path.names.map(n => n.text).join('.')
    const { word: last, candidates } = this.#candidates(path, scope)
    const near = nearestNames(last.text, candidates)
    const offer = near.length ? ` Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?` : ''
    // a name of another block of the opening is nearly right
    const homes = path.names.length === 1 && !scope.home.outside ? this.#homes(last.text) : []
    const elsewhere = homes.length ? ` It stands in another block: ${homes.map(h => `\`${h}\``).join(' or ')}.` : ''
    const unit = path.names.length === 1 && homes.length === 0 && UNIT_WORDS.has(last.text)
    const message = unit
      ? `\`${text}\` is a unit, but no number stands before it. Write the number and its unit together: \`20/day\`, \`12ft\`.`
      : path.names.length === 1
        ? `No field, derived value or \`let\` is called \`${text}\` here.${offer || elsewhere}`
        : `\`${text}\` leads to nothing: there is no \`${last.text}\`${last === path.names[0] ? ' here' : ` in \`${path.names[path.names.indexOf(last) - 1]!.text}\``}.${offer}`
    const fixes: SimpleFix[] = [...near, ...(near.length ? [] : homes)].map(n => ({
      title: `Write \`${n}\``,
      at: last,
      text: n,
    }))
    if (unit) {
      const before = scope.home.chunk.text.slice(0, path.start).match(/(\d)\s*\/\s*$/)
      if (before)
        fixes.unshift({
          title: `Write the unit \`/${text}\``,
          at: { start: path.start - before[0].length + 1, end: path.end },
          text: `/${text}`,
        })
    }
    report(scope.home, path, 'unknown_name', message, fixes)
  }

  /** Paths of other blocks in which a bare name would be found. */
  #homes(name: string): string[] {
    return (this.#root?.blocks ?? [])
      .filter(b => b.spec.name !== 'limits' && (b.spec.fields.has(name) || b.spec.derived.has(name)))
      .map(b => `${b.name ?? b.spec.name}.${name}`)
      .slice(0, 3)
  }

  /** The word of a path that leads nowhere, and what could have been meant by it. */
  #candidates(path: Path, scope: Scope): { word: Path['names'][number]; candidates: string[] } {
    const out: string[] = []
    const all = (at: Instance) => out.push(...at.spec.fields.keys(), ...at.spec.derived.keys())
    const inner = (at: Instance) => out.push(...at.blocks.map(b => b.name ?? b.spec.name))
    const names = path.names
    if (names.length > 1) {
      let at = this.blockNamed(names[0]!.text, scope)
      if (!at) {
        for (const a of around(scope)) inner(a)
        return { word: names[0]!, candidates: out }
      }
      for (const name of names.slice(1, -1)) {
        const child = childNamed(at, name.text)
        if (!child) {
          inner(at)
          return { word: name, candidates: out }
        }
        at = child
      }
      all(at)
      return { word: names.at(-1)!, candidates: out }
    }
    for (const at of around(scope)) {
      out.push(...at.lets.keys())
      all(at)
    }
    out.push(...this.#builder.names(scope.home.file, 'let'))
    return { word: names[0]!, candidates: out }
  }
}
