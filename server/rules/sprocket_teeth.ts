import { wholeUp } from '../mechanics/index.ts'
import { under } from './compare.ts'
import { possible, writeAll } from './drive.ts'
import { type Door, type Fix, rule } from './rule.ts'

const DRIVE = 'operator.sprocket_drive'
const DRUM = 'operator.sprocket_drum'

export default rule({
  id: 'sprocket_teeth',
  group: 'Operator',
  severity: 'note',
  what: 'The smaller sprocket has as many teeth as the limit asks for.',
  why: 'On a small sprocket the chain bends further at every link: it runs unevenly and wears.',
  todo: 'Take larger sprockets of the same ratio.',
  limit: 'sprocket_teeth',
  source: 'Shigley, chain drives, from memory: to be checked',
  about: 'operator',
  bad: `operator {
  sprocket_drive = 11
  sprocket_drum  = 48
  chain          = ansi_50
  centers        = 16 3/4in
}
`,
  good: `operator {
  sprocket_drive = 17
  sprocket_drum  = 48
  chain          = ansi_50
  centers        = 16 3/4in
}
`,
  check(door, report) {
    const drive = door.number(DRIVE)
    const drum = door.number(DRUM)
    const limit = door.number('limits.sprocket_teeth')
    const small = drive === undefined || (drum !== undefined && drum < drive) ? DRUM : DRIVE
    const teeth = door.number(small)
    if (!under(teeth, limit)) return
    report({
      message: `The ${small === DRIVE ? 'sprocket on the operator' : 'sprocket on the drum'} has ${door.show(small)} teeth; ${door.show('limits.sprocket_teeth')} or more let the chain run smoothly. Take larger sprockets of the same ratio.`,
      at: small,
      limit: `${door.show('limits.sprocket_teeth')} teeth or more`,
      fixes: () => [larger(door, drive, drum, limit!)],
    })
  },
})

/** The small sprocket with as many teeth as asked for, the other one larger in the same ratio. */
function larger(door: Door, drive: number | undefined, drum: number | undefined, limit: number): Fix | undefined {
  const least = wholeUp(limit)
  const times = least / Math.min(drive ?? Number.POSITIVE_INFINITY, drum ?? Number.POSITIVE_INFINITY)
  const texts: Record<string, string> = {}
  for (const [path, teeth] of [
    [DRIVE, drive],
    [DRUM, drum],
  ] as const) {
    if (teeth === undefined) continue
    const more = wholeUp(teeth * times)
    if (!possible(more)) return undefined
    texts[path] = `${more}`
  }
  const edits = writeAll(door, texts)
  const title = Object.entries(texts)
    .map(([path, text]) => `\`${path.slice('operator.'.length)} = ${text}\``)
    .join(' and ')
  return edits && { title: `Write ${title}`, safe: false, edits }
}
