/** `compare`: what changed between two versions of a job, in the doors and not in the text. */
import { compare as compareVersions } from '../../service.ts'
import { readBaseline } from '../baseline.ts'
import { compareSchema, comparisonAsJson } from '../formats/compare_json.ts'
import { comparisonAsMarkdown } from '../formats/compare_markdown.ts'
import { comparisonAsText } from '../formats/compare_text.ts'
import { writeJson } from '../formats/json.ts'
import { pick } from '../formats/report.ts'
import { CallError, type Io } from '../io.ts'
import { bothSides } from '../sides.ts'

export interface CompareOptions {
  readonly format: string
  readonly failOn?: string
  readonly units?: string
  readonly config?: string
  readonly baseline?: string
}

export async function compare(old: string, now: string | undefined, options: CompareOptions, io: Io): Promise<number> {
  const format = pick(options.format, { pretty: 'pretty', text: 'pretty', markdown: 'markdown', json: 'json' } as const)
  if (options.failOn !== undefined && options.failOn !== 'new-errors')
    throw new CallError(`--fail-on takes new-errors, not "${options.failOn}".`)
  const { units, config, baseline } = options
  const known = baseline === undefined ? undefined : readBaseline(baseline, io.cwd)
  const [before, after] = await bothSides(old, now, { units, config, known }, io)
  const comparison = compareVersions(before.version, after.version)
  if (format === 'json') writeJson(io, compareSchema, comparisonAsJson(before.name, after.name, comparison))
  else if (format === 'markdown') io.out(comparisonAsMarkdown(before.name, after.name, comparison))
  else io.out(`${comparisonAsText(comparison, io.colour, io.width).join('\n')}\n`)
  if (before.faults + after.faults > 0) return 2
  return options.failOn !== undefined && comparison.summary.freshErrors > 0 ? 1 : 0
}
