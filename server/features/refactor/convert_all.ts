/** Writes every quantity of a file in the other system, to so many digits that all values stay. */
import { type Quantity, walk } from '../../../grammar/index.ts'
import { type Edit, type Files, plainName } from '../../model/index.ts'
import type { At } from '../at.ts'
import { conversions, otherSystem } from '../quantities.ts'
import type { Refactoring } from './index.ts'
import { inHeader } from './text.ts'

/** Offered at the job: on its header, and on its `units`. */
export function convertAll(a: At, files: Files): Refactoring[] {
  const job = a.nodes[0]
  if (job?.kind !== 'block' || plainName(job.name.text) !== 'job' || !a.evaluator) return []
  const units = job.body.find(s => s.kind === 'field' && s.name.text === 'units')
  if (!inHeader(job, a.offset) && !(units && a.statement === units)) return []
  const to = otherSystem(a.evaluator.system)
  const edits: Edit[] = []
  for (const chunk of files.get(a.file)?.source.chunks ?? [])
    walk(chunk.statements, n => {
      const text = n.kind === 'quantity' ? exact(n, to) : undefined
      if (text !== undefined) edits.push({ place: { file: a.file, chunk, start: n.start, end: n.end }, text })
    })
  if (edits.length === 0) return []
  if (units?.kind === 'field')
    edits.push({ place: { file: a.file, chunk: a.chunk, start: units.value.start, end: units.value.end }, text: to })
  else if (job.open >= 0) {
    const eol = /^[ \t]*(\r\n|\n|\r)/.exec(a.chunk.text.slice(job.open + 1))?.[1]
    const text = eol ? `${eol}  units = ${to}` : ` units = ${to};`
    edits.push({ place: { file: a.file, chunk: a.chunk, start: job.open + 1, end: job.open + 1 }, text })
  }
  const n = edits.length - 1
  return [
    {
      title: `Write ${n === 1 ? 'the one quantity' : `all ${n} quantities`} of this file in ${to} units; all values stay`,
      kind: 'refactor.rewrite',
      edits,
      // each quantity stays the same amount, so all that is worked out does; to look at every opening twice takes long
      sure: true,
    },
  ]
}

const exact = (q: Quantity, to: 'imperial' | 'metric'): string | undefined =>
  conversions(q).find(c => c.exact && c.to === to)?.text
