/** What is found in a file: kept as long as the unit it belongs to, as severe as the house wants it, with its lines. */
import type { Finding, Unit } from '../model/index.ts'
import { RULES } from '../rules/index.ts'
import { Runner } from '../rules/run.ts'
import { firstLines, rangeIn, shift } from './positions.ts'
import type { LocatedFinding, Project, Range, ServiceHost, Unsound } from './types.ts'
import type { Workspace } from './workspace.ts'

export const RULES_BY_ID = new Map(RULES.map(r => [r.id, r]))

/** A finding with its lines counted from the start of its chunk. */
export interface Held {
  readonly finding: Finding
  readonly range: Range
  readonly opening: string | undefined
}

export class Findings {
  readonly #host: ServiceHost
  readonly #workspace: Workspace
  readonly #runner: Runner
  readonly #held = new WeakMap<Unit, { readonly by: Project | undefined; readonly held: readonly Held[] }>()

  constructor(host: ServiceHost, workspace: Workspace) {
    this.#host = host
    this.#workspace = workspace
    this.#runner = new Runner(RULES, (rule, error) => host.fault?.(`rule ${rule}`, error))
  }

  of(file: string): LocatedFinding[] {
    const out: LocatedFinding[] = []
    const source = this.#workspace.source(file)
    if (!source) return out
    const lines = firstLines(source)
    for (const [i, unit] of this.#workspace.units(file).entries())
      for (const h of this.held(unit)) out.push(this.located(h, lines[i]!))
    return out
  }

  held(unit: Unit): readonly Held[] {
    const by = this.#host.project?.(unit.file)
    const old = this.#held.get(unit)
    if (old && old.by === by) return old.held
    // what the language has against a line belongs to the opening that the line is in
    const only = unit.doors.length === 1 ? unit.doors[0]!.mark : undefined
    const held = this.#runner.findings(unit, this.#workspace.model.files).flatMap(f => {
      const finding = by ? withHouseSeverity(f, by) : f
      return finding
        ? [{ finding, range: rangeIn(finding.place.chunk, finding.place), opening: finding.opening ?? only }]
        : []
    })
    this.#held.set(unit, { by, held })
    return held
  }

  /** A fault in working out what would mend a finding costs these fixes and no others. */
  #fixesOf(finding: Finding): NonNullable<Finding['fixes']> {
    try {
      return finding.fixes ?? []
    } catch (error) {
      this.#host.fault?.(`rule ${finding.rule}`, error)
      return []
    }
  }

  /** @param line that the chunk starts on */
  located({ finding, range, opening }: Held, line: number): LocatedFinding {
    const workspace = this.#workspace
    return {
      rule: finding.rule,
      severity: finding.severity!,
      message: finding.message,
      range: shift(range, line),
      opening,
      block: finding.block,
      limit: finding.limit,
      accepted: finding.accepted,
      get related() {
        return (finding.related ?? []).map(r => ({ ...workspace.locate(r.place), message: r.message }))
      },
      fixes: () =>
        this.#fixesOf(finding).map(f => ({ title: f.title, safe: f.safe, edits: workspace.locateEdits(f.edits) })),
    }
  }

  unsound(file: string): Unsound[] {
    const source = this.#workspace.source(file)
    if (!source) return []
    const lines = firstLines(source)
    return source.chunks.flatMap((chunk, i) =>
      chunk.findings.map(f => ({ range: rangeIn(chunk, f, lines[i]), message: f.message })),
    )
  }
}

/** Whether nobody can accept what a rule finds. */
export function neverAccepted(rule: string): boolean {
  const r = RULES_BY_ID.get(rule)
  return r !== undefined && (r.never === true || r.group === 'Language')
}

const MILDNESS = { error: 0, warning: 1, note: 2 } as const

/**
 * A finding as severe as the house wants its rule to be; none where the rule is off. What the rule itself calls milder
 * than its own severity does not become worse by it.
 */
function withHouseSeverity(f: Finding, { severity }: Project): Finding | undefined {
  const wanted = Object.hasOwn(severity, f.rule) ? severity[f.rule] : undefined
  if (wanted === undefined) return f
  if (wanted === 'off') return undefined
  const milder = f.severity !== RULES_BY_ID.get(f.rule)?.severity
  if (milder && MILDNESS[f.severity!] >= MILDNESS[wanted]) return f
  return Object.create(f, { severity: { value: wanted, enumerable: true } }) as Finding
}
