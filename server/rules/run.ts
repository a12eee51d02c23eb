/** Runs the rules over what a chunk holds, and settles what is accepted by an `allow`. */
import type { Allow, Block, Statement } from '../../grammar/index.ts'
import {
  type Door,
  type Finding,
  type Fix,
  type Instance,
  LIMITS,
  nearestNames,
  origin,
  type Parts,
  type Place,
  type Unit,
} from '../model/index.ts'
import { wholeLine } from './lines.ts'
import type { Report, Rule, Tools } from './rule.ts'

/** Told when a rule fails by a fault of its own; the other rules go on. */
export type OnFault = (rule: string, error: unknown) => void

type OfDoors = Rule & Required<Pick<Rule, 'check'>>
type OfSingles = Rule & Required<Pick<Rule, 'checkSingle'>>

export class Runner {
  readonly #ofDoors: readonly OfDoors[]
  readonly #ofSingles: readonly OfSingles[]
  readonly #byId: ReadonlyMap<string, Rule>
  readonly #onFault: OnFault
  /** By what the findings were made of: their fixes look at it, and go with it. */
  readonly #done = new WeakMap<Parts, readonly Finding[]>()

  constructor(rules: readonly Rule[], onFault: OnFault) {
    this.#ofDoors = rules.filter((r): r is OfDoors => r.check !== undefined)
    this.#ofSingles = rules.filter((r): r is OfSingles => r.checkSingle !== undefined)
    this.#byId = new Map(rules.map(r => [r.id, r]))
    this.#onFault = onFault
  }

  /** Every finding of a unit, in the order of the text. Asked twice, the same list. */
  findings(unit: Unit, files: Parameters<NonNullable<Rule['checkSingle']>>[2]): readonly Finding[] {
    const { parts } = unit
    const done = this.#done.get(parts)
    if (done) return done
    const out: Finding[] = unit.findings.map(f => this.#complete(f))
    for (const door of parts.doors) {
      const found = this.#door(door)
      const allows = allowsOf(door)
      const accepted = this.#accept(allows, found)
      for (const f of found) out.push(accepted.get(f) ?? f)
      out.push(...this.#allows(door, allows, accepted))
    }
    for (const single of parts.singles)
      for (const r of this.#ofSingles)
        this.#guard(r, () =>
          r.checkSingle(single, report => out.push(this.#finding(r, report, undefined, single.item)), files),
        )
    const outside = [...unit.chunk.statements.filter(isAllow), ...parts.singles.flatMap(s => allowsIn(s.item.node))]
    for (const node of outside)
      out.push(
        this.#complete({
          rule: 'allow_unused',
          message:
            'An `allow` stands inside the opening (or the block of it) whose finding it accepts; out here it accepts nothing.',
          place: origin({ file: unit.file, chunk: unit.chunk }, node),
        }),
      )
    out.sort(
      (a, b) =>
        a.place.start - b.place.start || a.place.end - b.place.end || (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0),
    )
    this.#done.set(parts, out)
    return out
  }

  #guard(rule: Rule, run: () => void): void {
    try {
      run()
    } catch (error) {
      this.#onFault(rule.id, error)
    }
  }

  #door(door: Door): Finding[] {
    const out: Finding[] = []
    // fixes are worked out when all rules have spoken
    const tools: Tools = { wouldBreak: overrides => this.#wouldBreak(door, out, overrides) }
    for (const r of this.#ofDoors)
      if (!r.about || door.block(r.about)?.written)
        this.#guard(r, () => r.check(door, report => out.push(this.#finding(r, report, door, door.item)), tools))
    return out
  }

  /** @param found what all rules say of the door as it is */
  #wouldBreak(door: Door, found: readonly Finding[], overrides: Parameters<Tools['wouldBreak']>[0]): string[] {
    const said = (d: Door, findings: readonly Finding[]): string[] => [
      ...findings.map(f => `${f.rule} ${f.severity} ${f.block ?? ''}`),
      ...d.brokenRequirements().map(i => `requirement error ${i}`),
    ]
    const other = door.with(overrides)
    const before = new Set(said(door, found))
    return said(other, this.#door(other))
      .filter(f => !before.has(f))
      .map(f => f.split(' ')[0]!)
  }

  #complete(f: Finding): Finding {
    const r = this.#byId.get(f.rule)
    return { ...f, severity: f.severity ?? r?.severity ?? 'error' }
  }

  #finding(r: Rule, report: Report, door: Door | undefined, item: { file: string; chunk: Place['chunk'] }): Finding {
    const place = typeof report.at === 'string' ? placeIn(door!, report.at) : report.at
    const related = (report.related ?? []).map(x => ({
      place: typeof x.at === 'string' ? (door!.writtenAt(x.at) ?? placeIn(door!, x.at)) : x.at,
      message: x.message,
    }))
    if (typeof report.at === 'string' && door) {
      const first = door.writtenAt(report.at)
      if (first) related.unshift({ place: first, message: 'written here' })
    }
    let fixes: readonly Fix[] | undefined
    return {
      rule: r.id,
      severity: report.severity ?? r.severity,
      message: report.message,
      place,
      opening: door?.mark,
      block: typeof report.at === 'string' ? blockOf(door!, report.at) : 'opening',
      limit:
        report.limit === undefined
          ? undefined
          : { text: report.limit, source: this.#limitSource(r, report.limitName ?? r.limit, door, item.file) },
      related,
      get fixes() {
        fixes ??= (report.fixes?.() ?? []).filter(f => f !== undefined)
        return fixes
      },
    }
  }

  #limitSource(r: Rule, limit: string | undefined, door: Door | undefined, file: string): string {
    if (!limit || !door) return r.source
    const source = door.block('limits')?.fields.get(limit)
    if (!source?.home) return LIMITS.get(limit)?.source ?? r.source
    const where =
      source.home.file === file
        ? 'set in this file'
        : `set in ${source.home.file.slice(source.home.file.lastIndexOf('/') + 1)}`
    const because = source.node?.because?.text?.value
    return because ? `${where}, because ${because}` : where
  }

  /** The findings that an `allow` accepts, each with its reason. */
  #accept(allows: readonly Allowed[], found: readonly Finding[]): Map<Finding, Finding> {
    const out = new Map<Finding, Finding>()
    for (const { at, allow } of allows) {
      const r = this.#byId.get(allow.rule?.text ?? '')
      const reason = allow.because?.text?.value.trim()
      if (!r || !reason || refused(r)) continue
      for (const f of found)
        if (f.rule === r.id && within(f.block, at) && !out.has(f)) out.set(f, withReason(f, reason))
    }
    return out
  }

  #allows(door: Door, allows: readonly Allowed[], accepted: ReadonlyMap<Finding, Finding>): Finding[] {
    const out: Finding[] = []
    for (const { at, allow, place } of allows) {
      const id = allow.rule?.text
      if (id === undefined) continue
      const say = (rule: string, message: string, fixes: Fix[] = [], where: Place = place(allow)): void =>
        void out.push(this.#complete({ rule, message, place: where, opening: door.mark, block: at.path, fixes }))
      const r = this.#byId.get(id)
      const remove: Fix = {
        title: 'Remove this `allow`',
        safe: true,
        edits: [{ place: wholeLine(place(allow)), text: '' }],
      }
      if (!r) {
        const near = nearestNames(id, this.#byId.keys())
        const offer = near.length ? ` Did you mean ${near.map(n => `\`${n}\``).join(' or ')}?` : ''
        say(
          'unknown_name',
          `There is no rule \`${id}\`.${offer} \`doorwright rules\` lists them all.`,
          near.map(n => ({ title: `Write \`${n}\``, safe: false, edits: [{ place: place(allow.rule!), text: n }] })),
          place(allow.rule!),
        )
      } else if (refused(r))
        say(
          'allow_refused',
          `\`${id}\` cannot be allowed away${r.group === 'Language' ? ': the text has to be put right' : ': it keeps people safe'}. ${r.todo}`,
        )
      else if (allow.because?.text && !allow.because.text.value.trim())
        say('allow_unused', `This \`allow\` has no reason, so it accepts nothing. Say why after \`because\`.`)
      else if (allow.because?.text && ![...accepted.values()].some(f => f.rule === id && within(f.block, at)))
        say(
          'allow_unused',
          `Nothing here breaks \`${id}\`, so this \`allow\` accepts nothing. Remove it, lest it hide something later.`,
          [remove],
        )
    }
    return out
  }
}

/** Findings of the Language group and of rules marked never cannot be allowed. */
const refused = (r: Rule): boolean => r.never === true || r.group === 'Language'

const withReason = (f: Finding, accepted: string): Finding =>
  Object.create(f, { accepted: { value: accepted, enumerable: true } }) as Finding

interface Allowed {
  readonly at: Instance
  readonly allow: Instance['allows'][number]['node']
  readonly place: (span: { start: number; end: number }) => Place
}

/** Every `allow` written in an opening, from the outside in. */
function allowsOf(door: Door): Allowed[] {
  const out: Allowed[] = []
  const visit = (at: Instance): void => {
    for (const { node, home } of at.allows)
      if (!home.outside) out.push({ at, allow: node, place: span => origin(home, span) })
    at.blocks.forEach(visit)
  }
  visit(door.root)
  return out
}

const isAllow = (s: Statement): s is Allow => s.kind === 'allow'

/** Every `allow` written in a block or in the blocks of it. */
const allowsIn = (block: Block): Allow[] =>
  block.body.flatMap(s => (isAllow(s) ? [s] : s.kind === 'block' ? allowsIn(s) : []))

/** Whether a block path lies in (or is) the block of an `allow`. */
const within = (path: string | undefined, at: Instance): boolean =>
  !at.parent || path === at.path || (path?.startsWith(`${at.path}.`) ?? false)

function placeIn(door: Door, path: string): Place {
  return path === 'opening' || (door.block(path) && !door.entry(path)) ? door.header(path) : door.place(path)
}

function blockOf(door: Door, path: string): string {
  return door.entry(path)?.instance.path ?? door.block(path)?.path ?? 'opening'
}
