import { withCaution } from '../model/index.ts'
import { under } from './compare.ts'
import { rule } from './rule.ts'
import { writeSlings } from './slings.ts'

export default rule({
  id: 'sling_spacing',
  group: 'Rigging and hood',
  severity: 'warning',
  what: 'There are as many slings under the curtain as its length asks for, and two at least.',
  why: 'Between slings that are far apart the rolled curtain sags and opens; on one sling it tips.',
  todo: 'Use more slings, spread evenly along the curtain.',
  limit: 'sling_spacing',
  source: 'common practice, no source',
  caution: 'curtain',
  bad: 'rigging { slings = 1 }',
  good: 'rigging { slings = 2 }',
  check(door, report) {
    // where no number is written it is the one that is needed
    if (!door.written('rigging.slings')) return
    const slings = door.number('rigging.slings')
    const needed = door.number('rigging.slings_needed')
    if (!under(slings, needed)) return
    const one = slings === 1 ? 'One sling carries' : `Each of ${door.show('rigging.slings')} slings carries`
    report({
      message: withCaution(
        `${one} ${door.show('rigging.spacing')} of the curtain, which is ${door.show('curtain.slat_length')} long; ${door.show('limits.sling_spacing')} on each is the most, and two slings the fewest. Use ${door.show('rigging.slings_needed')}.`,
        'curtain',
      ),
      at: 'rigging.slings',
      limit: `${door.show('limits.sling_spacing')} or less on each sling`,
      fixes: () => [writeSlings(door, needed)],
    })
  },
})
