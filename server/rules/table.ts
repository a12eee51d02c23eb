/** The rules as a table and one by one, for those who look them up. */
import { CAUTIONS } from '../model/cautions.ts'
import { LIMITS, nearestNames, type Severity } from '../model/index.ts'
import { RULES } from './index.ts'

export interface RuleRow {
  readonly id: string
  readonly severity: Severity
  /** Cannot be allowed away. */
  readonly never: boolean
  readonly what: string
  /** The name to set it by in `limits`. */
  readonly limit: string | null
  readonly source: string
}

export interface RuleCard extends RuleRow {
  readonly group: string
  readonly why: string
  readonly todo: string
  /** The default as it would be written, where it is one value, and what setting it lower or higher does. */
  readonly limitDefault: string | undefined
  readonly limitDoc: string | undefined
  readonly looser: string | undefined
  readonly limitSource: string | undefined
  readonly caution: readonly string[]
  readonly bad: string
  readonly good: string
}

export const ruleTable = (): RuleRow[] =>
  RULES.map(r => ({
    id: r.id,
    severity: r.severity,
    never: r.never === true,
    what: r.what,
    limit: r.limit ?? null,
    source: r.source,
  }))

const LOOSER = { most: 'a larger value', least: 'a smaller value', within: 'a wider range' } as const

/** One rule in full, or the ids that were probably meant. */
export function explainRule(id: string): RuleCard | { readonly near: readonly string[] } {
  const row = ruleTable().find(r => r.id === id)
  const rule = RULES.find(r => r.id === id)
  if (!row || !rule) return { near: nearRules(id) }
  const limit = rule.limit === undefined ? undefined : LIMITS.get(rule.limit)
  const byDefault = limit?.field.byDefault
  return {
    ...row,
    group: rule.group,
    why: rule.why,
    todo: rule.todo,
    limitDefault: byDefault && ('text' in byDefault ? byDefault.text : byDefault.formula),
    limitDoc: limit?.field.doc,
    looser: limit && LOOSER[limit.sense],
    limitSource: limit?.source,
    caution: rule.caution ? CAUTIONS[rule.caution].long : [],
    bad: rule.bad,
    good: rule.good,
  }
}

/** So many names at most are offered for a part of one. */
const MOST_NEAR = 6

/** The rules that were probably meant: spelt alike, else those of which it is a part. */
function nearRules(id: string): string[] {
  const ids = RULES.map(r => r.id)
  const near = nearestNames(id, ids)
  const part = id.toLowerCase().replace(/[^a-z0-9]+/g, '_')
  return near.length > 0 || part.length < 3 ? near : ids.filter(i => i.includes(part)).slice(0, MOST_NEAR)
}
