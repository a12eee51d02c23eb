/** What the rules about the operator have in common. */
import { wholeUp } from '../mechanics/index.ts'
import { type Door, type Edit, type Fix, setField, withCaution } from '../model/index.ts'
import { over } from './compare.ts'
import type { Report } from './rule.ts'

/** The drives with something between the hand and the door that may or may not hold it. */
export const DRIVES: Readonly<Record<string, string>> = { motor: 'motor', crank: 'crank', hand_chain: 'hand chain' }

/** Ends a message with the caution about power where the door has, or may have, a motor. */
export const withPower = (door: Door, message: string): string => {
  const drive = door.word('operator.drive')
  return drive === undefined || drive === 'motor' ? withCaution(message, 'power') : message
}

/** The side that the adjuster or the drive is on, where it is known. */
export function sideOf(door: Door, end: 'adjuster' | 'drive'): string | undefined {
  const adjuster = door.word('adjuster.side')
  if (end === 'adjuster') return adjuster
  return door.word('operator.side') ?? (adjuster && (adjuster === 'left' ? 'right' : 'left'))
}

/** Edits for a block of the operator as one list; undefined where one of them cannot be made. */
export function writeAll(door: Door, texts: Readonly<Record<string, string>>): Edit[] | undefined {
  const out: Edit[] = []
  for (const [path, text] of Object.entries(texts)) {
    const edits = setField(door, path, text)
    if (!edits) return undefined
    out.push(...edits)
  }
  return out
}

/** The fewest and the most teeth that a sprocket may have. */
const TEETH = { min: 6, max: 200 } as const

/** Whether a sprocket can have so many teeth. */
export const possible = (teeth: number): boolean => Number.isInteger(teeth) && teeth >= TEETH.min && teeth <= TEETH.max

/**
 * A fix that writes another sprocket on the drum; undefined where one of the two is not written, or it cannot have so many.
 * @param gain words for what comes of it
 */
export function drumSprocket(door: Door, teeth: number, gain: string): Fix | undefined {
  if (!possible(teeth) || !door.written('operator.sprocket_drum') || !door.written('operator.sprocket_drive'))
    return undefined
  const edits = setField(door, 'operator.sprocket_drum', `${teeth}`)
  return edits && { title: `Write \`sprocket_drum = ${teeth}\`: ${gain}`, safe: false, edits }
}

/**
 * Reports a hand pull above its limit, with the ratio that brings it down to it.
 * @param limit `limits.hand_chain_pull` or `limits.crank_force`
 * @param what the pull in words: `The pull on the hand chain`
 */
export function checkPull(door: Door, report: (r: Report) => void, limit: string, what: string, todo: string): void {
  const pull = door.number('operator.hand_pull')
  const allowed = door.number(limit)
  if (!over(pull, allowed)) return
  const needed = door.show('operator.torque_needed')
  report({
    message: `${what} is ${door.show('operator.hand_pull')} where the door is hardest to move (${needed} at the drum); ${door.show(limit)} is allowed, ${door.say(pull - allowed!, limit)} less. ${todo}`,
    at: door.written('operator.ratio') ? 'operator.ratio' : 'operator',
    limit: `${door.show(limit)} or less`,
    related: [{ at: 'operator.hand_wheel', message: `the hand wheel is ${door.show('operator.hand_wheel')}` }],
    fixes: () => [higherRatio(door, pull / allowed!)],
  })
}

/** The ratio that is so many times the one written, rounded up to a tenth. */
function higherRatio(door: Door, times: number): Fix | undefined {
  const ratio = door.number('operator.ratio')
  if (ratio === undefined || !Number.isFinite(times)) return undefined
  const text = `${wholeUp(ratio * times * 10) / 10}`
  const edits = setField(door, 'operator.ratio', text)
  return edits && { title: `Write \`ratio = ${text}\`, rounded up`, safe: false, edits }
}
