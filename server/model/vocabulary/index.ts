/** The vocabulary: every block, field and derived value of the language, and the standard pipes. */
import { PIPES } from '../../mechanics/index.ts'
import { DIMENSION } from '../../units/index.ts'
import { type BlockSpec, block } from '../spec.ts'
import { number, type Value } from '../value.ts'
import { adjuster } from './adjuster.ts'
import { balance } from './balance.ts'
import { curtain, slat } from './curtain.ts'
import { drum, pipe } from './drum.ts'
import { job } from './job.ts'
import { limits } from './limits.ts'
import { openingDerived, openingFields } from './opening.ts'
import { operator } from './operator.ts'
import { rails } from './rails.ts'
import { delivery, handover, hood, installed, rigging, survey } from './site.ts'
import { spring } from './spring.ts'

export const opening: BlockSpec = block('opening', 'One opening and the door that goes in it.', {
  label: 'text',
  like: true,
  fields: openingFields,
  derived: openingDerived,
  blocks: [
    curtain,
    rails,
    drum,
    spring,
    adjuster,
    balance,
    operator,
    hood,
    rigging,
    survey,
    installed,
    delivery,
    handover,
    limits,
  ],
})

/** The blocks that may stand at the top of a file, by name. */
export const topBlocks: ReadonlyMap<string, BlockSpec> = new Map(
  [job, opening, slat, pipe, spring, operator, limits].map(b => [b.name, b]),
)
export const topBlock = (name: string): BlockSpec | undefined => topBlocks.get(name)

/** Every block of the language, each once, the outer before the inner. */
export const allBlocks: readonly BlockSpec[] = (() => {
  const out = new Set<BlockSpec>()
  const visit = (b: BlockSpec): void => {
    out.add(b)
    for (const inner of b.blocks.values()) visit(inner)
  }
  for (const b of topBlocks.values()) visit(b)
  return [...out]
})()

/** Words of the trade that stand for a word of the language. */
export const TRADE_WORDS: Readonly<Record<string, string>> = {
  guides: 'rails',
  guide: 'rails',
  barrel: 'drum',
  turns: 'preload',
}
export const plainName = (name: string): string => (Object.hasOwn(TRADE_WORDS, name) ? TRADE_WORDS[name]! : name)

const STANDARD_PIPES: ReadonlyMap<string, ReadonlyMap<string, Value>> = new Map(
  Object.entries(PIPES).map(([name, { od, wall }]) => [
    name,
    new Map([
      ['od', number(od, DIMENSION.length)],
      ['wall', number(wall, DIMENSION.length)],
    ]),
  ]),
)

/** The fields of a standard pipe (ASME B36.10M) by its name, `nps6_std`. */
export const standardPipe = (name: string): ReadonlyMap<string, Value> | undefined => STANDARD_PIPES.get(name)
standardPipe.names = (): readonly string[] => PIPE_NAMES
const PIPE_NAMES = [...STANDARD_PIPES.keys()]
