/** A file as a person looks at it beside its text: values, the list of openings, preview, field sheet, comparison. */
import { lenses } from '../features/lenses.ts'
import { explain as explained, missing, values as valuesOf } from '../features/values.ts'
import type { Door, Single, Unit } from '../model/index.ts'
import type { Version } from '../report/compare.ts'
import { jobText, sheetName as nameOf, type Paper, type SheetFinding, sheet as sheetOf } from '../report/index.ts'
import { preview as sectionsOf } from '../report/preview.ts'
import { type Context, unitAt } from './context.ts'
import { type Held, neverAccepted, RULES_BY_ID } from './findings.ts'
import { before, firstLines, kept, positionIn, rangeIn } from './positions.ts'
import type {
  CodeLens,
  Explanation,
  LocatedFinding,
  OpeningState,
  OpeningValues,
  Position,
  Preview,
  Range,
  Severity,
} from './types.ts'

export function values(c: Context, file: string): OpeningValues[] {
  return c.workspace.doors(file).map(door => ({
    mark: door.mark,
    line: c.workspace.locate(door.header('opening')).range.start.line,
    complete: door.complete,
    values: valuesOf(door),
    missing: missing(door),
  }))
}

export function explain(c: Context, file: string, mark: string, path: string): Explanation | undefined {
  const door = c.workspace.door(file, mark)
  return door && explained(door, path)
}

export function openings(c: Context, file: string): OpeningState[] {
  const source = c.workspace.source(file)
  if (!source) return []
  const lines = firstLines(source)
  const units = c.workspace.units(file)
  // marks may stand twice by mistake, so what is found is counted by mark first
  const counts = new Map<string, Counts>()
  for (const held of c.findings.ofUnits(file, units))
    for (const { finding, opening } of held) {
      if (opening === undefined || finding.accepted !== undefined) continue
      let count = counts.get(opening)
      if (!count) counts.set(opening, (count = { error: 0, warning: 0, note: 0 }))
      count[finding.severity!]++
    }
  return units.flatMap((unit, i) =>
    standings(unit).map(({ range, standing }) => {
      const count = counts.get(standing.mark) ?? NONE
      return {
        ...standing,
        line: range.start.line + lines[i]!,
        endLine: range.end.line + lines[i]!,
        errors: count.error,
        warnings: count.warning,
        notes: count.note,
      }
    }),
  )
}

type Counts = Record<Severity, number>
const NONE: Counts = { error: 0, warning: 0, note: 0 }

/** The mark of the opening whose lines hold a position. */
export function openingAt(c: Context, file: string, position: Position): string | undefined {
  const found = unitAt(c, file, position)
  if (!found) return undefined
  const { line } = positionIn(found.unit.chunk, found.offset)
  return standings(found.unit).find(({ range }) => range.start.line <= line && line <= range.end.line)?.standing.mark
}

export const standings = kept((unit: Unit) =>
  unit.doors.map(d => ({ standing: standingOf(d), range: rangeIn(unit.chunk, d.item.node) })),
)

const standingOf = (door: Door) => ({
  mark: door.mark,
  complete: door.complete,
  missing: door.missing(),
  worst: door.number('balance.worst') === undefined ? undefined : door.show('balance.worst'),
})

export const codeLenses = (c: Context, file: string): CodeLens[] => openings(c, file).flatMap(lenses)

export function preview(c: Context, file: string, mark: string): Preview | undefined {
  const door = c.workspace.door(file, mark)
  if (!door) return undefined
  const { line } = c.workspace.locate(door.header('opening')).range.start
  const from = ({ start }: Range): Position => ({ line: start.line - line, character: start.character })
  const findings = c.findings
    .of(file)
    .filter(f => f.opening === mark)
    .map(f => ({ ...f, line: f.range.start.line + 1, never: neverAccepted(f.rule), spot: from(f.range) }))
  return { line, sections: sectionsOf(door, findings, place => from(c.workspace.locate(place).range)) }
}

// ---- the field sheet

export function sheet(c: Context, file: string, version: string, paper: Paper | undefined): string {
  const doors = c.workspace.doors(file)
  const body = doors.map(d => c.workspace.spot(d.item, d.item.node).range)
  const holds = (r: Range, p: Position): boolean => !before(p, r.start) && before(p, r.end)
  // a finding belongs to the opening that it stands in; marks may stand twice by mistake
  const openingOf = (f: LocatedFinding): number => {
    const at = body.findIndex(r => holds(r, f.range.start))
    return at >= 0 ? at : doors.findIndex(d => d.mark === f.opening)
  }
  const found = c.findings.of(file).map(f => ({ opening: openingOf(f), finding: onSheet(f) }))
  const of = (i: number): SheetFinding[] => found.filter(f => f.opening === i).map(f => f.finding)
  return sheetOf({
    number: numberOf(c, file),
    job: jobOf(c, file),
    openings: doors.map((door, i) => ({ door, description: door.item.node.doc, findings: of(i) })),
    findings: of(-1),
    version,
    paper,
  })
}

export const sheetName = (c: Context, file: string): string =>
  nameOf(numberOf(c, file), jobText(jobOf(c, file), 'revision'))

const onSheet = (f: LocatedFinding): SheetFinding => ({
  rule: f.rule,
  severity: f.severity,
  message: f.message,
  accepted: f.accepted,
  line: f.range.start.line + 1,
  never: neverAccepted(f.rule),
})

const jobOf = (c: Context, file: string): Single | undefined =>
  c.workspace
    .units(file)
    .flatMap(u => u.singles)
    .find(s => s.root.spec.name === 'job')

/** The job's number, or what the file is called. */
const numberOf = (c: Context, file: string): string =>
  c.workspace.jobNumber(file) ?? (file.split(/[\\/]/).at(-1) ?? '').replace(/\.door$/, '')

// ---- one side of a comparison

export function version(c: Context, files: readonly { readonly file: string; readonly name: string }[]): Version {
  const doors: Version['doors'][number][] = []
  const others: Version['others'][number][] = []
  for (const { file, name } of files) {
    const job = c.workspace.jobNumber(file)
    const all = c.workspace.units(file).map(unit => ({ unit, findings: c.findings.held(unit).map(compared) }))
    for (const { unit, findings } of all)
      for (const door of unit.doors)
        doors.push({ file: name, job, door, findings: findings.filter(f => f.opening === door.mark) })
    const marks = new Set(all.flatMap(a => a.unit.marks))
    const loose = all.flatMap(a => a.findings).filter(f => f.opening === undefined || !marks.has(f.opening))
    others.push({ file: name, findings: loose })
  }
  return { doors, others }
}

const compared = ({ finding: f, opening }: Held) => ({
  rule: f.rule,
  severity: f.severity!,
  never: RULES_BY_ID.get(f.rule)?.never === true,
  message: f.message,
  accepted: f.accepted,
  block: f.block,
  opening,
})
