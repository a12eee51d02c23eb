/** The mentions of one thing in many files. */
import type { Evaluator, Files, Unit } from '../model/index.ts'
import { type Meaning, type Meant, type Mention, meant, sameMeaning } from './mentions.ts'

/** What is looked through. */
export interface World {
  readonly files: Files
  units(file: string): readonly Unit[]
  any(file: string): Evaluator | undefined
}

export interface Found<M = Mention> {
  readonly unit: Unit
  readonly mention: M
}

/** @param name what it is called: chunks that do not hold it are not looked at */
export function mentionsOf(meaning: Meaning, name: string, where: readonly string[], world: World): Found<Meant>[] {
  const out: Found<Meant>[] = []
  // a text may be written with escapes
  const plain = /^[\w .-]+$/.test(name) ? name : ''
  for (const file of where) {
    if (!world.files.get(file)?.source.text.includes(plain)) continue
    for (const unit of world.units(file))
      if (unit.chunk.text.includes(plain))
        for (const mention of meant(unit, world.files, () => world.any(file)))
          if (sameMeaning(mention.meaning, meaning)) out.push({ unit, mention })
  }
  return out
}
