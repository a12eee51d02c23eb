import { withPower } from './drive.ts'
import { rule } from './rule.ts'

const AT = 'installed.chain_links'

export default rule({
  id: 'installed_chain',
  group: 'Installed, delivery and handover',
  severity: 'warning',
  what: 'The roller chain has as many links as the job asks for.',
  why: 'With another number the centres are not where the job has them: the chain is slack and jumps, or tight and wears.',
  todo: 'Count again; then change the chain, or set the centres for the number it has and write them in the job.',
  source: 'as the job; the next even number of links, ASME B29.1 practice',
  about: 'installed',
  caution: 'power',
  bad: `operator {
  sprocket_drive = 17
  sprocket_drum  = 48
  chain          = ansi_50
  centers        = 16 3/4in
}
installed { chain_links = 90 }
`,
  good: `operator {
  sprocket_drive = 17
  sprocket_drum  = 48
  chain          = ansi_50
  centers        = 16 3/4in
}
installed { chain_links = 88 }
`,
  check(door, report) {
    const counted = door.number(AT)
    const asked = door.number('operator.chain_links')
    if (counted === undefined || asked === undefined || counted === asked) return
    report({
      message: withPower(
        door,
        `The chain is written down with ${door.show(AT)} links; the job asks for ${door.show('operator.chain_links')}, ${door.say(Math.abs(counted - asked), AT)} ${counted < asked ? 'more' : 'fewer'}, with the centres at ${door.show('operator.centers_set')}. Count again; then change the chain, or set the centres for the number it has.`,
      ),
      at: AT,
      limit: `${door.show('operator.chain_links')} links, as the job`,
      related: [
        {
          at: 'operator.centers',
          message: `for ${door.show('operator.centers')} the job asks for ${door.show('operator.chain_links')} links`,
        },
      ],
    })
  },
})
