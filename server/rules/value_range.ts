import { type Evaluator, type Instance, origin, type Place, type Result, showAs } from '../model/index.ts'
import { over } from './compare.ts'
import { rule } from './rule.ts'

/** A single value is judged where it is written; what two values cannot be together is judged here. */
export default rule({
  id: 'value_range',
  group: 'Language',
  severity: 'error',
  what: 'Every value is one that can be: no negative width, no wheel without holes, no wall thicker than half its pipe, nothing divided by zero.',
  why: 'A value that cannot be would carry on into every number that follows from it.',
  todo: 'Write a value inside the range that the message gives.',
  source: 'the language',
  bad: `adjuster { holes = 0 }
`,
  good: `adjuster { holes = 8 }
`,
  check(door, report) {
    const pipe = door.block('drum.pipe')
    const own = pipe && ownField(pipe)
    const message = own && tooThick(pipe, door.evaluator)
    if (message) report({ message, at: `drum.pipe.${own.name}` })
  },
  checkSingle({ root, evaluator }, report) {
    const own = root.spec.name === 'pipe' ? ownField(root) : undefined
    const message = own && tooThick(root, evaluator)
    if (message) report({ message, at: own.place })
  },
})

/** The wall or, failing that, the diameter that is not from the stock: what is wrong there is said there. */
function ownField(pipe: Instance): { readonly name: string; readonly place: Place } | undefined {
  for (const name of ['wall', 'od']) {
    const source = pipe.fields.get(name)
    if (source?.node && !source.home.outside) return { name, place: origin(source.home, source.node.value) }
  }
  return undefined
}

function tooThick(pipe: Instance, evaluator: Evaluator): string | undefined {
  const [od, wall] = ['od', 'wall'].map(name => evaluator.field(pipe, name))
  if (!over(numberOf(wall), half(numberOf(od)))) return undefined
  const show = (r: Result | undefined): string =>
    r?.state === 'known' ? showAs(r, pipe.spec.fields.get('wall')!.shown, evaluator.system) : ''
  return `\`wall\` must be half of the outside diameter or less; found ${show(wall)} on a pipe of ${show(od)}. Check which of the two is wrong.`
}

const numberOf = (r: Result | undefined): number | undefined =>
  r?.state === 'known' && r.value.kind === 'number' ? r.value.si : undefined
const half = (n: number | undefined): number | undefined => (n === undefined ? undefined : n / 2)
