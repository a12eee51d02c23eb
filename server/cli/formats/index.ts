/** The formats of `check`. A new one is one file and one line here. */
import { json } from './json.ts'
import { pretty } from './pretty.ts'
import type { FormatMaker } from './report.ts'

export const FORMATS: Readonly<Record<string, FormatMaker>> = { pretty, json }
