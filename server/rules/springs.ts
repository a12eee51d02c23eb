/** What the rules over springs share: their names and lives in messages, and whether they fit their drum. */
import type { Door, Instance } from '../model/index.ts'
import { showCycles } from '../units/index.ts'
import { over } from './compare.ts'

/** What a message calls a spring: by its name, else by its number where there are several. */
export function springName(door: Door, spring: Instance): string {
  if (spring.name !== undefined) return `spring \`${spring.name}\``
  return door.springs.length > 1 ? `spring ${door.springs.indexOf(spring) + 1}` : 'the spring'
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** For how many cycles a spring is reckoned to last, in words and in numbers; undefined where it is not known. */
export function lifeOf(door: Door, spring: Instance) {
  const r = door.result(`${spring.path}.life`)
  if (r.state !== 'known' || r.value.kind !== 'number') return undefined
  const { si, bound } = r.value
  return { si, bound, text: `${bound ? `${bound} than ` : ''}${showCycles(si, bound !== undefined)} cycles` }
}

/** The inside diameter that a spring asks of its drum, clearance and all (m); undefined where it is not known. */
export function insideNeeded(door: Door, spring: Instance): number | undefined {
  const outside = door.number(`${spring.path}.outside_free`)
  const clearance = door.number('limits.spring_clearance')
  return outside === undefined || clearance === undefined ? undefined : outside + clearance
}

/** Whether a spring is known not to fit the drum. */
export const tooWide = (door: Door, spring: Instance): boolean =>
  over(insideNeeded(door, spring), door.number('drum.inside'))
