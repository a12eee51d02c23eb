/** What the rules about wind have in common. */
import type { Door } from '../model/index.ts'

/** Said where the pressure was worked out from a wind speed and not given by an engineer. */
export const windSaid = (door: Door): string =>
  door.show('wind') === door.show('wind_pressure')
    ? ''
    : " The pressure was worked out from a basic wind speed; a design pressure is an engineer's to give."

/** Where to point for the slat: its name in the curtain, or a field of its block. */
export const slatAt = (door: Door, field: string): string =>
  door.written('curtain.slat') ? 'curtain.slat' : `curtain.slat.${field}`
