/** What the rules about wind have in common. */
import type { Door } from '../model/index.ts'
import { under } from './compare.ts'

/** Below this some editions of ASCE 7 ask for more in exposure B than the formula of Kz gives: 30 ft, from memory. */
const LOW = 30 * 0.3048

/** Said where the pressure was worked out from a wind speed and not given by an engineer. */
export function windSaid(door: Door): string {
  if (door.show('wind') === door.show('wind_pressure')) return ''
  const small = door.word('exposure') === 'B' && under(door.number('height_above_ground'), LOW)
  return ` The pressure was worked out from a basic wind speed${small ? ' and may be too small in exposure B this low' : ''}; a design pressure is an engineer's to give.`
}

/** Where to point for the slat: its name in the curtain, or a field of its block. */
export const slatAt = (door: Door, field: string): string =>
  door.written('curtain.slat') ? 'curtain.slat' : `curtain.slat.${field}`
