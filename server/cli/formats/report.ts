/** What a check hands to whichever format was asked for. */

import type { LocatedFinding, OpeningValues } from '../../service.ts'
import { CallError, type Io } from '../io.ts'

export interface FileReport {
  readonly name: string
  readonly lines: readonly string[]
  readonly job: string | undefined
  /** Worked out when asked for: only some formats show them. */
  readonly openings: () => readonly OpeningValues[]
  /** Those that are wanted (with `--quiet` errors only), accepted ones among them. */
  readonly findings: readonly LocatedFinding[]
  /** Those that a baseline knows: they do not count, and most formats leave them out. */
  readonly known: readonly LocatedFinding[]
  /** Titles of the fixes that were applied before the findings were made. */
  readonly applied: readonly string[]
  /** How a file is called towards the user. */
  readonly nameOf: (file: string) => string
  readonly file: string
}

export interface Summary {
  files: number
  errors: number
  warnings: number
  notes: number
  accepted: number
  /** With a baseline: findings that it knows, and those of it that are gone. */
  known?: number
  gone?: number
}

export interface Ending {
  readonly quiet: boolean
  /** The exit status that the run will have. */
  readonly status: 0 | 1 | 2
  /** What could not be used, in words, as it was said on standard error. */
  readonly problems: readonly string[]
}

export interface Format {
  file(report: FileReport): void
  end(summary: Summary, how: Ending): void
}

export type FormatMaker = (io: Io) => Format

/** The format of that name; a wrong one is refused with those there are. */
export function pick<T>(name: string, formats: Readonly<Record<string, T>>): T {
  const found = Object.hasOwn(formats, name) ? formats[name] : undefined
  if (found === undefined)
    throw new CallError(`There is no format "${name}" here. There are: ${Object.keys(formats).join(', ')}.`)
  return found
}

export const linesOf = (text: string): string[] => text.split(/\r\n|\n|\r/)

export const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`
