/** What is found in a file: kept as long as the unit it belongs to, as severe as the house wants it, with its lines. */
import type { Finding, Fix, Unit } from '../model/index.ts'
import { RULES } from '../rules/index.ts'
import { Runner } from '../rules/run.ts'
import { firstLines, rangeIn, shift } from './positions.ts'
import type { LocatedFinding, Project, Range, ServiceHost, Severity, Unsound } from './types.ts'
import type { Workspace } from './workspace.ts'

export const RULES_BY_ID = new Map(RULES.map(r => [r.id, r]))

/** A finding with its lines counted from the start of its chunk. It holds on to nothing that is large. */
export interface Held {
  readonly finding: Omit<Finding, 'fixes'>
  readonly range: Range
  readonly opening: string | undefined
  /** Worked out when they are asked for. */
  readonly fixes: () => readonly Fix[]
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
    for (const [i, held] of this.ofUnits(file, this.#workspace.units(file)).entries())
      for (const h of held) out.push(this.located(h, lines[i]!))
    return out
  }

  /** What is found in each of the units of a file. */
  ofUnits(file: string, units: readonly Unit[]): readonly (readonly Held[])[] {
    const by = this.project(file)
    return units.map(unit => this.#heldBy(unit, by))
  }

  /** Whether all that is found in a unit has been worked out. */
  known(unit: Unit, by: Project | undefined): boolean {
    const old = this.#held.get(unit)
    return old !== undefined && old.by === by
  }

  /** The project file that decides how severe the findings of a file are. */
  project(file: string): Project | undefined {
    return this.#host.project?.(file)
  }

  held(unit: Unit): readonly Held[] {
    return this.#heldBy(unit, this.project(unit.file))
  }

  #heldBy(unit: Unit, by: Project | undefined): readonly Held[] {
    const old = this.#held.get(unit)
    if (old && old.by === by) return old.held
    // what the language has against a line belongs to the opening that the line is in
    const only = unit.marks.length === 1 ? unit.marks[0] : undefined
    const found = (): readonly Finding[] => this.#runner.findings(unit, this.#workspace.model.files)
    const held = found().flatMap((f, i): Held[] => {
      const severity = by ? houseSeverity(f, by) : f.severity
      if (severity === undefined) return []
      const { rule, message, place, opening, block, limit, accepted, related } = f
      const finding = { rule, severity, message, place, opening, block, limit, accepted, related }
      const fixes = (): readonly Fix[] => {
        const again = found()[i]
        return (again?.rule === rule && again.message === message && again.fixes) || []
      }
      return [{ finding, range: rangeIn(place.chunk, place), opening: opening ?? only, fixes }]
    })
    this.#held.set(unit, { by, held })
    return held
  }

  /** A fault in working out what would mend a finding costs these fixes and no others. */
  #guarded({ finding, fixes }: Held): readonly Fix[] {
    try {
      return fixes()
    } catch (error) {
      this.#host.fault?.(`rule ${finding.rule}`, error)
      return []
    }
  }

  /** @param line that the chunk starts on */
  located(held: Held, line: number): LocatedFinding {
    const { finding, range, opening } = held
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
        this.#guarded(held).map(f => ({ title: f.title, safe: f.safe, edits: workspace.locateEdits(f.edits) })),
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
 * How severe the house wants a finding to be; undefined where its rule is off. What the rule itself calls milder than its
 * own severity does not become worse by it.
 */
function houseSeverity(f: Finding, { severity }: Project): Severity | undefined {
  const wanted = Object.hasOwn(severity, f.rule) ? severity[f.rule] : undefined
  if (wanted === undefined) return f.severity
  if (wanted === 'off') return undefined
  const milder = f.severity !== RULES_BY_ID.get(f.rule)?.severity
  return milder && MILDNESS[f.severity!] >= MILDNESS[wanted] ? f.severity : wanted
}
