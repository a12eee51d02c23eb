/** The report room's only door. */
export type { SheetFinding } from './findings.ts'
export { jobText, type SheetInput, type SheetOpening, sheet, sheetName } from './sheet.ts'
export type { Paper } from './style.ts'
