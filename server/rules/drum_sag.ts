import { PIPES_BY_WEIGHT } from '../mechanics/index.ts'
import { number, setField } from '../model/index.ts'
import { DIMENSION } from '../units/index.ts'
import { over } from './compare.ts'
import { type Door, type Fix, rule } from './rule.ts'
import { tooWide } from './springs.ts'

export default rule({
  id: 'drum_sag',
  group: 'Drum and springs',
  severity: 'warning',
  what: 'The drum sags no more under the curtain, the springs and its own weight than the limit allows over its span.',
  why: 'A drum that sags winds the curtain unevenly: slats walk to one side, rub in the rails and wear, and the springs inside bind.',
  todo: 'Choose a stiffer pipe (a larger one rather than a thicker one), or shorten the span.',
  limit: 'drum_sag',
  source: 'UFGS 08 33 23 wording, from memory: to be checked',
  bad: `width = 24ft
drum {
  pipe = nps6_sch10
  span = 24ft 8in
}`,
  good: `width = 24ft
drum {
  pipe = nps8_std
  span = 24ft 8in
}`,
  check(door, report) {
    const sag = door.number('drum.sag')
    const limit = door.number('drum.sag_limit')
    if (!over(sag, limit)) return
    report({
      at: door.written('drum.pipe') ? 'drum.pipe' : 'drum.pipe.od',
      message: `The drum sags ${door.show('drum.sag')} over its span of ${door.show('drum.span')}; the limit allows ${door.show('drum.sag_limit')}. Choose a stiffer pipe or a shorter span, and look at springs and balance again: both change with the pipe.`,
      limit: `${door.show('limits.drum_sag')}: ${door.show('drum.sag_limit')} over this span`,
      related: door.written('drum.span') ? [{ at: 'drum.span', message: `the span is ${door.show('drum.span')}` }] : [],
      fixes: () => [stifferPipe(door)],
    })
  },
})

/** The lightest standard pipe that holds the sag and still takes the springs that fit now. */
function stifferPipe(door: Door): Fix | undefined {
  const fits = door.springs.map(s => !tooWide(door, s))
  for (const [name, pipe] of PIPES_BY_WEIGHT) {
    const tried = door.with({
      'drum.pipe.od': number(pipe.od, DIMENSION.length),
      'drum.pipe.wall': number(pipe.wall, DIMENSION.length),
    })
    const sag = tried.number('drum.sag')
    const limit = tried.number('drum.sag_limit')
    if (sag === undefined || limit === undefined || over(sag, limit)) continue
    if (tried.springs.some((s, i) => fits[i] && tooWide(tried, s))) continue
    const edits = writePipe(door, name)
    return edits && { title: `Write \`pipe = ${name}\`: sags ${tried.show('drum.sag')}`, safe: false, edits }
  }
  return undefined
}

/** `pipe = name`, in place of a `pipe { }` block where the opening has one. */
function writePipe(door: Door, name: string): Fix['edits'] | undefined {
  const block = door.block('drum.pipe')?.written
  if (!block || block.home.via || block.home.outside || block.home.chunk !== door.item.chunk)
    return setField(door, 'drum.pipe', name)
  const { start, end } = block.node
  return [{ place: { file: door.item.file, chunk: door.item.chunk, start, end }, text: `pipe = ${name}` }]
}
