import { setField } from '../model/index.ts'
import { rule } from './rule.ts'

export default rule({
  id: 'operator_side',
  group: 'Operator',
  severity: 'warning',
  what: 'Operator and adjuster are at opposite ends of the drum.',
  why: "At one end they are in each other's way, and whoever winds the springs stands in the chain and the drive.",
  todo: 'Put the operator at the end without the adjuster.',
  source: 'common practice, no source',
  about: 'operator',
  bad: 'operator { side = right }',
  good: 'operator { side = left }',
  check(door, report) {
    const side = door.word('operator.side')
    if (side === undefined || side !== door.word('adjuster.side')) return
    const other = side === 'left' ? 'right' : 'left'
    report({
      message: `The operator is on the ${side}, and so is the adjuster: whoever winds the springs would stand in the drive. Put the operator on the ${other}.`,
      at: 'operator.side',
      limit: 'the end without the adjuster',
      related: [{ at: 'adjuster.side', message: `the adjuster is on the ${side}` }],
      fixes: () => {
        const edits = setField(door, 'operator.side', other)
        return [edits && { title: `Write \`side = ${other}\`, the end without the adjuster`, safe: false, edits }]
      },
    })
  },
})
