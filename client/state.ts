import type { Opening } from './protocol.ts'

export interface OpeningLook {
  readonly icon: string
  /** The colour of the theme that goes with the icon; the words say the same. */
  readonly colour: string | undefined
  readonly text: string
  /** For the status bar: what stands against it, else how far it is out of balance. */
  readonly short: string
}

const count = (n: number, what: string): string | undefined => (n > 0 ? `${n} ${what}${n === 1 ? '' : 's'}` : undefined)

/** How an opening stands, in an icon and in words. */
export function stateOf(o: Opening): OpeningLook {
  const found = [count(o.errors, 'error'), count(o.warnings, 'warning')].filter(x => x !== undefined)
  const open = o.complete ? undefined : 'incomplete'
  const text = [...found, open].filter(x => x !== undefined).join(', ') || 'fine'
  const worst = o.worst === undefined ? undefined : `out of balance by ${o.worst}`
  const short = [text === 'fine' ? undefined : text, worst].filter(x => x !== undefined).join(', ') || text
  if (o.errors > 0) return { icon: 'error', colour: 'list.errorForeground', text, short }
  if (o.warnings > 0) return { icon: 'warning', colour: 'list.warningForeground', text, short }
  if (open) return { icon: 'circle-large-outline', colour: undefined, text, short }
  return { icon: 'pass', colour: undefined, text, short }
}

export const NO_ANSWER =
  'The Doorwright language server gives no answer. Try "Doorwright: Restart the language server".'

/** Why there is nothing to show of a file: the server says that there is no opening, or it says nothing. */
export const whyNothing = (answer: null | undefined, file: string): string =>
  answer === null ? `${file} has no opening yet.` : NO_ANSWER
