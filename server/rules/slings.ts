/** Fixes of the rules about slings. */
import { type Door, type Fix, setField } from '../model/index.ts'

/** A fix that writes so many slings. */
export function writeSlings(door: Door, count: number | undefined): Fix | undefined {
  if (count === undefined || count < 1 || count > 1000) return undefined
  const edits = setField(door, 'rigging.slings', `${count}`)
  return edits && { title: `Write \`slings = ${count}\``, safe: false, edits }
}

/** A fix that writes an angle of so many radians to the horizontal, rounded up to whole degrees; never over 90. */
export function writeAngle(door: Door, si: number): Fix | undefined {
  const degrees = Math.ceil((si * 180) / Math.PI - 1e-9)
  if (!(degrees > 0 && degrees <= 90)) return undefined
  const edits = setField(door, 'rigging.sling_angle', `${degrees}deg`)
  return (
    edits && {
      title: `Write \`sling_angle = ${degrees}deg\`, and sling it so: longer slings or a spreader`,
      safe: false,
      edits,
    }
  )
}
