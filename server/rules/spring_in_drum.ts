import { rule } from './rule.ts'
import { capital, insideNeeded, springName, tooWide } from './springs.ts'

export default rule({
  id: 'spring_in_drum',
  group: 'Drum and springs',
  severity: 'error',
  what: 'A spring goes into the drum, with clearance around it.',
  why: 'A spring that touches the pipe cannot be put in, or rubs and wears through.',
  todo: 'Choose a smaller diameter, or a pipe that is wider inside.',
  limit: 'spring_clearance',
  source: 'common practice, no source',
  bad: `spring long {
  wire     = 1/2in
  diameter = 5 1/2in
  coils    = 143
  hand     = right
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  good: `spring long {
  wire     = 1/2in
  diameter = 5 1/4in
  coils    = 149
  hand     = right
}
spring short {
  wire     = 0.4063in
  diameter = 4.9in
  coils    = 140
  hand     = right
}`,
  check(door, report) {
    for (const s of door.springs) {
      if (!tooWide(door, s)) continue
      report({
        at: `${s.path}.diameter`,
        message: `${capital(springName(door, s))} is ${door.show(`${s.path}.outside_free`)} wide outside and needs ${door.say(insideNeeded(door, s)!, 'drum.inside')} with its clearance; the drum is ${door.show('drum.inside')} inside. Choose a smaller diameter or a wider pipe, and look at the balance again.`,
        limit: `${door.show('limits.spring_clearance')} of clearance`,
        related: [
          {
            at: door.written('drum.pipe') ? 'drum.pipe' : 'drum.pipe.od',
            message: `the pipe is ${door.show('drum.inside')} inside`,
          },
        ],
      })
    }
  },
})
