/** The page of the rules: one anchor a rule, its id. Findings link there. */
import { ASSISTS, explainRule, LISTED, RULES, type RuleCard } from '../service.ts'
import { code, heading, type Node, table, text, warning } from './nodes.ts'

const sentence = (t: string): string => (/[.!?]$/.test(t) ? t : `${t}.`)

export function rulesPage(): Node[] {
  const groups = [...new Set(RULES.map(r => r.group))]
  return [
    heading(1, 'The rules', 'rules'),
    text(
      'A rule looks at one opening (or file) and says what is wrong, by how much, what the limit is and where it comes from. An error cannot be built, or is unsafe; a warning lies outside of a limit; a note is worth knowing.',
    ),
    text(
      '`allow RULE because "..."` in the opening accepts what a rule finds there. Rules marked never, and all of the Language group, cannot be accepted. A limit is set by its name in `limits { }`; a looser one needs a reason.',
    ),
    text(`${ASSISTS} ${LISTED}`),
    ...groups.flatMap(group => [
      heading(2, group, `group-${group.toLowerCase().replace(/[^a-z]+/g, '-')}`),
      ...RULES.filter(r => r.group === group).flatMap(r => one(explainRule(r.id) as RuleCard)),
    ]),
  ]
}

function one(r: RuleCard): Node[] {
  const limit =
    r.limit === null
      ? []
      : [
          [
            'Limit',
            `\`${r.limit}\`${r.limitDefault ? ` = ${r.limitDefault}` : ', none until set'}. ${r.limitDoc ?? ''} Setting it to ${r.looser} takes a reason. It comes from: ${sentence(r.limitSource ?? '')}`,
          ],
        ]
  return [
    heading(3, r.id, r.id),
    text(`${r.severity[0]!.toUpperCase()}${r.severity.slice(1)}${r.never ? ', never to be accepted' : ''}. ${r.what}`),
    table(['', ''], [['Why', r.why], ['What to do', r.todo], ...limit, ['Source', sentence(r.source)]]),
    ...(r.caution.length > 0 ? [warning(r.caution.join(' '))] : []),
    text('Not so:'),
    code(r.bad),
    text('But so:'),
    code(r.good),
  ]
}
