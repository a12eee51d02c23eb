/** What a file comes to as plain data, so that it can come from another thread or out of a file as well. */
import type { LocatedFinding, OpeningValues } from '../service.ts'
import type { Engine, Fault } from './engine.ts'
import { sha256 } from './sha256.ts'

type Fix = ReturnType<LocatedFinding['fixes']>[number]
type PlainFinding = Omit<LocatedFinding, 'fixes'> & { readonly fixes: readonly Fix[] }

export interface PlainReport {
  readonly job: string | undefined
  /** Only where they were asked for. */
  readonly openings: readonly OpeningValues[] | undefined
  readonly findings: readonly PlainFinding[]
  readonly faults: readonly Fault[]
  /** Only where they were asked for, and none where a `use` leads nowhere. */
  readonly uses: readonly Used[] | undefined
}

/** A `use` that a report hangs on: where it stands, where it leads, the SHA-256 of the text that was there. */
export interface Used {
  readonly from: string
  readonly path: string
  readonly file: string
  readonly hash: string
}

/** What is wanted beside the findings. */
export interface Wanted {
  readonly openings: boolean
  readonly uses: boolean
}

/** What is looked at: a file and its text. */
export interface Looked {
  readonly file: string
  readonly text: string
}

/**
 * Files that are held because others use them. Stock is used by nearly all, so it stays; but jobs can use each other
 * without end, and what is held must not grow with their number.
 */
const MOST_HELD = 200

/** Checks one file. The service holds it no longer afterwards. */
export function look({ file, text }: Looked, run: Engine, wanted: Wanted): PlainReport {
  const { service } = run
  try {
    const { value, faults } = run.watched(() => {
      service.open(file, text)
      return {
        job: service.jobNumber(file),
        findings: service.findings(file).map(plain),
        openings: wanted.openings ? service.values(file) : undefined,
        uses: wanted.uses ? usesOf(file, run) : undefined,
      }
    })
    return { ...value, faults }
  } finally {
    letGo(file, run)
  }
}

function letGo(file: string, { service }: Engine): void {
  service.close(file)
  const held = service.knownFiles
  if (held.length > MOST_HELD) for (const f of held) service.refresh(f)
}

function usesOf(file: string, { service }: Engine): readonly Used[] | undefined {
  const uses = service.uses(file)
  const found = uses.flatMap(({ from, path, file, text }) =>
    file === undefined || text === undefined ? [] : [{ from, path, file, hash: sha256(text) }],
  )
  return found.length === uses.length ? found : undefined
}

const plain = (f: LocatedFinding): PlainFinding => ({
  rule: f.rule,
  severity: f.severity,
  message: f.message,
  range: f.range,
  opening: f.opening,
  block: f.block,
  limit: f.limit && { text: f.limit.text, source: f.limit.source },
  accepted: f.accepted,
  related: f.related,
  fixes: f.fixes(),
})

/** The findings as the formats take them. */
export const findingsOf = (report: PlainReport): LocatedFinding[] =>
  report.findings.map(f => ({ ...f, fixes: () => f.fixes }))
