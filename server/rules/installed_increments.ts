import { isWhole, wholeUp } from '../mechanics/index.ts'
import { withCaution } from '../model/index.ts'
import { rule } from './rule.ts'

const AT = 'installed.increments'

export default rule({
  id: 'installed_increments',
  group: 'Installed, delivery and handover',
  severity: 'error',
  what: 'As many increments were wound on the adjuster as the job asks for, and a whole number of them.',
  why: 'With fewer the door falls, with more it flies up; and whoever maintains it later relies on the number.',
  todo: 'Find out what is wound before anything else is done; then wind what the job asks for, or have the engineer change the job.',
  source: 'the job; a preload between two increments is rounded up, common practice',
  about: 'installed',
  caution: 'spring',
  bad: 'installed { increments = 13 }',
  good: 'installed { increments = 15 }',
  check(door, report) {
    const wound = door.number(AT)
    if (wound === undefined) return
    const exact = door.number('adjuster.increments')
    const asked = exact === undefined ? undefined : wholeUp(exact)
    const whole = isWhole(wound)
    if (whole && (asked === undefined || Math.round(wound) === asked)) return
    const unfit = whole
      ? ''
      : ` ${door.number('adjuster.holes') === undefined ? 'An adjuster wheel' : `A wheel of ${door.show('adjuster.holes')} holes`} can only hold whole increments: count again.`
    const difference = asked === undefined ? 0 : Math.abs(wound - asked)
    const against =
      asked === undefined || difference === 0
        ? ''
        : `; the job asks for ${asked} (${door.show('adjuster.preload')} on ${door.show('adjuster.holes')} holes), ${door.say(difference, AT)} ${wound < asked ? 'more' : 'fewer'}`
    report({
      message: withCaution(
        `${door.show(AT)} ${wound === 1 ? 'increment is' : 'increments are'} written down as wound${against}.${unfit} Find out what is wound before anything else is done; then wind what the job asks for, or have the engineer change the job.`,
        'spring',
      ),
      at: AT,
      limit: asked === undefined ? 'a whole number of increments' : `${asked} increments, as the job`,
      related:
        asked === undefined
          ? []
          : [
              {
                at: door.written('adjuster.preload') ? 'adjuster.preload' : 'adjuster',
                message: `the preload is ${door.show('adjuster.preload')}`,
              },
            ],
    })
  },
})
