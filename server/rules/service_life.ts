import { withCaution } from '../model/index.ts'
import { showCycles } from '../units/index.ts'
import { over } from './compare.ts'
import { rule } from './rule.ts'
import { capital, lifeOf, springName } from './springs.ts'

export default rule({
  id: 'service_life',
  group: 'Drum and springs',
  severity: 'note',
  what: 'A spring lasts the years of service that are asked for, at the cycles a day that the opening makes.',
  why: 'A spring that is worn out sooner has to be replaced in time, before it breaks.',
  todo: 'Choose springs with less stress, or plan their replacement.',
  limit: 'service_years',
  source: 'common practice, no source',
  caution: 'spring',
  bad: `cycles = 200/day`,
  good: `cycles = 20/day`,
  check(door, report) {
    const cycles = door.number('opening.cycles')
    const years = door.number('limits.service_years')
    if (cycles === undefined || years === undefined) return
    const needed = cycles * years
    for (const s of door.springs) {
      const life = lifeOf(door, s)
      if (!life) continue
      const { si, bound } = life
      // a bound decides only where the need lies on its far side: `more than` at or above it, `less than` at or below it
      if (bound === 'more' || (bound === 'less' ? over(si, needed) : !over(needed, si))) continue
      const want = showCycles(Math.ceil(needed - 1e-6), true)
      report({
        at: `${s.path}.wire`,
        message: withCaution(
          `${capital(springName(door, s))} is reckoned to last ${life.text}; ${door.show('opening.cycles')} for ${door.show('limits.service_years')} are ${want}. Choose a spring with less stress, or plan to replace it in time.`,
          'spring',
        ),
        limit: `${door.show('limits.service_years')} of service: ${want} cycles`,
        related: [{ at: 'opening.cycles', message: `${door.show('opening.cycles')}` }],
      })
    }
  },
})
