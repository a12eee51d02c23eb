/** Preloads as whole increments of the adjuster wheel, and the fixes that write them. */
import { isWhole, wholeUp } from '../mechanics/index.ts'
import { type Door, type Fix, setField, ungroup } from '../model/index.ts'
import { DIMENSION, showQuantity, writeExact, writeFraction } from '../units/index.ts'

const PRELOAD = 'adjuster.preload'

/** The best preload in increments; undefined where it or the wheel is not known. */
export function bestIncrements(door: Door): number | undefined {
  const best = door.number('balance.preload')
  const increment = door.number('adjuster.increment')
  return best === undefined || increment === undefined ? undefined : best / increment
}

/** The unit that the author wrote the preload in; turns where it is not one quantity with a unit of angle. */
function authorsUnit(door: Door): 'turn' | 'deg' | 'rad' {
  const node = door.block('adjuster')?.fields.get('preload')?.node
  const value = node && ungroup(node.value)
  const unit = value?.kind === 'quantity' ? value.parts[0]?.unit?.text : undefined
  return unit === 'deg' || unit === 'rad' ? unit : 'turn'
}

/** A whole number of increments as it is written in the job, in the author's unit: `1 3/4 turns`, `1 5/6 turns`, `630deg`. */
export function incrementsText(door: Door, count: number): string | undefined {
  const increment = door.number('adjuster.increment')
  const holes = door.number('adjuster.holes')
  if (increment === undefined || holes === undefined) return undefined
  const unit = authorsUnit(door)
  const si = count * increment
  if (unit === 'rad') return writeExact(si, DIMENSION.angle, 'rad')
  // degrees of a wheel whose holes do not divide 360 are fractions too: 51 3/7deg
  return writeFraction(si, unit, holes) ?? writeExact(si, DIMENSION.angle, unit)
}

/** `14 increments of the 8-hole wheel` */
export const onWheel = (door: Door, count: number): string =>
  `${count} ${count === 1 ? 'increment' : 'increments'} of the ${door.show('adjuster.holes')}-hole wheel`

/** A fix that writes a preload of so many increments; undefined for none or fewer, which is no preload. */
export function writeIncrements(door: Door, count: number | undefined, how: string, safe = false): Fix | undefined {
  if (count === undefined || count < 1) return undefined
  const text = incrementsText(door, count)
  const edits = text === undefined ? undefined : setField(door, PRELOAD, text)
  return edits && { title: `Write ${text} (${onWheel(door, count)}), ${how}`, safe, edits }
}

/** A fix that writes the best preload, rounded up to a whole increment. */
export const writeBest = (door: Door, how = 'the best for these springs rounded up'): Fix | undefined => {
  const best = bestIncrements(door)
  return writeIncrements(door, best === undefined ? undefined : wholeUp(best), how)
}

/** The best preload in words, as turns and increments: `1.83 turns (14.6 increments)`. */
export function bestText(door: Door): string | undefined {
  const best = door.number('balance.preload')
  if (best === undefined) return undefined
  const turns = door.show('balance.preload')
  const increments = bestIncrements(door)
  return increments === undefined ? turns : `${turns} (${countText(door, increments)} increments)`
}

/** A number of increments for reading: with as many digits as it takes to see that it is not whole. */
export function countText(door: Door, increments: number): string {
  const text = (digits: number): string =>
    showQuantity(increments, DIMENSION.count, { system: door.system, digits }).text
  return isWhole(increments) || !Number.isInteger(Number(text(4))) ? text(4) : text(12)
}
