/** Lengths as a fix writes them: whole sixteenths of an inch or whole millimetres, as the author writes. */
import type { Door } from '../model/index.ts'
import { writeFraction } from '../units/index.ts'

/**
 * A length as text for the field at `path`, rounded to the safe side: inches where the author wrote feet or inches there,
 * millimetres where a metric unit; where nothing with a unit is written, by the units of the job.
 * @param si metres
 */
export function lengthText(door: Door, path: string, si: number, rounding: 'up' | 'down'): string | undefined {
  return imperial(door, path) ? writeFraction(si, 'ft+in', 16, { rounding }) : writeFraction(si, 'mm', 1, { rounding })
}

/** Whether the field at `path` is, or is to be, written in inches or feet. */
export function imperial(door: Door, path: string): boolean {
  const value = door.writtenHere(path)?.value
  const unit = value?.kind === 'quantity' ? value.parts.at(-1)!.unit?.factors[0]?.name : undefined
  return unit === undefined ? door.system === 'imperial' : unit === 'in' || unit === 'ft' || unit === 'yd'
}
