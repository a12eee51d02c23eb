/** The formats of `check`. A new one is one file and one line here. */
import { github } from './github.ts'
import { json } from './json.ts'
import { junit } from './junit.ts'
import { pretty } from './pretty.ts'
import type { FormatMaker } from './report.ts'
import { sarif } from './sarif.ts'

export const FORMATS: Readonly<Record<string, FormatMaker>> = { pretty, json, sarif, github, junit }

/** Those that look at the openings of a report; for the others they are not worked out. */
export const NEED_OPENINGS: ReadonlySet<string> = new Set(['json', 'junit'])
