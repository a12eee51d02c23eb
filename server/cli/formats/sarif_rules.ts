/** What a reader of SARIF is told about each rule. It comes from the rule itself, as `rules NAME` does. */
import type { ReportingDescriptor } from 'sarif'
import { explainRule, type RuleCard, ruleTable } from '../../service.ts'

export const sarifRules = (): ReportingDescriptor[] =>
  ruleTable().map(({ id }) => {
    const card = explainRule(id)
    if ('near' in card) throw new Error(`There is no rule ${id}.`)
    return descriptor(card)
  })

const descriptor = (r: RuleCard): ReportingDescriptor => ({
  id: r.id,
  shortDescription: { text: r.what },
  fullDescription: { text: `${r.what} ${r.why}` },
  help: { text: parts(r, plainText), markdown: parts(r, markdown) },
  defaultConfiguration: { level: r.severity },
  properties: {
    tags: [
      r.group.toLowerCase().replace(/[^a-z]+/g, '-'),
      ...(r.never ? ['never-accepted'] : []),
      ...(r.caution.length > 0 ? ['safety'] : []),
    ],
    'problem.severity': r.severity === 'note' ? 'recommendation' : r.severity,
  },
})

type Way = {
  readonly part: (title: string, text: string) => string
  readonly code: (title: string, text: string) => string
}
const plainText: Way = {
  part: (title, text) => `${title}: ${text}`,
  code: (title, text) => `${title}:\n${text}`,
}
const markdown: Way = {
  part: (title, text) => `**${title}.** ${text.replace(/[<>]/g, c => (c === '<' ? '&lt;' : '&gt;'))}`,
  // a fence longer than any run of backticks inside
  code: (title, text) => {
    const fence = '`'.repeat(Math.max(3, ...(text.match(/`+/g) ?? []).map(run => run.length + 1)))
    return `**${title}**\n\n${fence}\n${text}\n${fence}`
  },
}

function parts(r: RuleCard, { part, code }: Way): string {
  const limit =
    r.limit &&
    `${r.limit}${r.limitDefault ? ` = ${r.limitDefault}` : ', none until set'}. ${r.limitDoc ?? ''} To set it to ${r.looser} takes a reason.`
  return [
    ...(r.caution.length > 0 ? [part('Caution', r.caution.join(' '))] : []),
    part('Why', r.why),
    part('What to do', r.todo),
    ...(limit ? [part('Limit', limit)] : []),
    part('Source', r.source),
    ...(r.never ? [part('Never accepted', 'Nobody can accept this with allow.')] : []),
    code('Not so', r.bad.trim()),
    code('But so', r.good.trim()),
  ].join('\n\n')
}
