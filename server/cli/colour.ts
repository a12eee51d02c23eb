/** When to use colour, and for what. Colour only repeats what the words say. */
import pico from 'picocolors'
import type { LocatedFinding } from '../service.ts'

export type Colours = ReturnType<typeof pico.createColors>

export const colours = (on: boolean): Colours => pico.createColors(on)

/**
 * `FORCE_COLOR` decides where it is set (0 and false for none), then `NO_COLOR` (set to anything but the empty text),
 * then whether somebody looks at it: a terminal, and not a dumb one.
 */
export function wantsColour(env: Readonly<Record<string, string | undefined>>, terminal: boolean | undefined): boolean {
  const force = env.FORCE_COLOR
  if (force !== undefined) return force !== '0' && force !== 'false'
  if (env.NO_COLOR) return false
  return terminal === true && env.TERM !== 'dumb'
}

export function severityColour(c: Colours, severity: LocatedFinding['severity']): (text: string) => string {
  if (severity === 'error') return text => c.bold(c.red(text))
  return severity === 'warning' ? c.yellow : c.cyan
}
