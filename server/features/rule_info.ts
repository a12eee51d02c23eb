/** What the features say about a rule; the service hands them in, since features know no rules. */
export interface RuleInfo {
  readonly id: string
  readonly group: string
  readonly severity: 'error' | 'warning' | 'note'
  readonly never?: boolean
  readonly what: string
  readonly why: string
  readonly todo: string
  readonly limit?: string
  readonly source: string
}

export type Rules = ReadonlyMap<string, RuleInfo>

/** Whether an `allow` may accept its findings. */
export const allowable = (r: RuleInfo): boolean => !r.never && r.group !== 'Language'

export function ruleDoc(r: RuleInfo): string {
  return [
    `**${r.id}** (${r.severity})`,
    r.what,
    r.why,
    r.todo,
    ...(r.limit ? [`Limit: \`${r.limit}\` in \`limits\``] : []),
    `Source: ${r.source}`,
    ...(allowable(r) ? [] : ['It cannot be allowed away.']),
  ].join('\n\n')
}
