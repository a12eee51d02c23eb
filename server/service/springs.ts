/** Springs for an opening: proposed, then tried against the rules. */
import { numbersOf, size as propose, type StockSpring } from '../features/size/index.ts'
import { supposing } from '../features/trial.ts'
import type { Context } from './context.ts'
import { RULES_BY_ID } from './findings.ts'
import type { LocatedFinding, Sized, SizedProposal } from './types.ts'

/** Proposals that are tried: each is a look at the whole file. */
const TRIED = 60
const SPRING_GROUPS = new Set(['Drum and springs', 'Adjuster and balance'])

export function size(c: Context, file: string, mark: string, most: number): Sized {
  const door = c.workspace.door(file, mark)
  if (!door) return { ok: false, reason: `There is no opening "${mark}" in this file.` }
  const sizing = propose(door, stockOf(c, file))
  if (!sizing.ok) return sizing
  const against = (): string[] =>
    c.findings
      .of(file)
      .filter(f => f.opening === mark && stands(f))
      .map(f => f.rule)
  const before = new Set(against())
  const counts = (rule: string): boolean => !before.has(rule) || SPRING_GROUPS.has(RULES_BY_ID.get(rule)?.group ?? '')
  const good: SizedProposal[] = []
  const rest: SizedProposal[] = []
  for (const p of sizing.proposals.slice(0, TRIED)) {
    if (good.length >= most) break
    const proposal = {
      title: p.title,
      rows: p.rows,
      numbers: numbersOf(p),
      score: p.score,
      against: supposing(p.edits, c.bench, against).filter(counts),
      edits: c.workspace.locateEdits(p.edits),
    }
    if (proposal.against.length === 0) good.push(proposal)
    else rest.push(proposal)
  }
  return { ok: true, proposals: [...good, ...rest].slice(0, most) }
}

const stands = (f: LocatedFinding): boolean => f.severity !== 'note' && f.accepted === undefined

/** The springs in stock that a file can name. */
const stockOf = (c: Context, file: string): StockSpring[] =>
  [...c.workspace.model.files.names(file, 'spring')].flatMap(item => {
    const units = c.workspace.units(item.file)
    const single = units.flatMap(u => u.singles).find(s => s.item.node === item.node)
    return single ? [{ name: single.root.name!, root: single.root, evaluator: single.evaluator }] : []
  })
