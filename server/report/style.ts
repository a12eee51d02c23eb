/** The look of the sheet: black on white, large type for the site, nothing told by colour alone. */
import { cssText } from './html.ts'

/** A size of paper; where none is asked for, whoever prints the sheet chooses. */
export type Paper = 'A4' | 'letter'

/** What has room at the foot of a page. */
const short = (text: string): string => (text.length > 40 ? `${[...text].slice(0, 39).join('')}…` : text)
const FOOT = 'vertical-align: top; padding-top: 2mm; border-top: 0.4pt solid #000'
const corner = (what: string): string =>
  `@bottom-right { content: ${cssText(`${what}, page `)} counter(page) "/" counter(pages); font: bold 8.5pt/1.25 sans-serif; width: 40%; text-align: right; ${FOOT} }`

/**
 * The style sheet. `left` stands at the foot of every printed page, and beside it the job and the opening, so that a page
 * that was taken out of the stack still says what door it is for.
 */
export const style = (left: string, job: string, marks: readonly string[], paper: Paper | undefined): string => `
@page {${paper === undefined ? '' : ` size: ${paper};`} margin: 11mm 12mm 20mm;
  @bottom-left { content: ${cssText(left)}; font: 6.8pt/1.25 sans-serif; width: 60%; ${FOOT} }
  ${corner(job)}
}
${marks.map((mark, i) => `@page o${i + 1} { ${corner(`${short(job)}: ${short(mark)}`)} }\n#o${i + 1} { page: o${i + 1} }`).join('\n')}
header.job, body > .findings { page: o1 }
* { box-sizing: border-box }
html { font: 11.5pt/1.35 "Liberation Sans", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif; color: #000; background: #fff; -webkit-print-color-adjust: exact; print-color-adjust: exact }
body { margin: 0 auto; padding: 0 0.4mm; max-width: 186mm; overflow-wrap: anywhere }
h1, h2, h3, h4, p, ul, ol, figure, table { margin: 0 }
h1 { font-size: 22pt; line-height: 1.15 }
h2 { font-size: 20pt; line-height: 1.2; border-bottom: 1.4mm solid #000; padding-bottom: 1.5mm; margin-bottom: 3mm }
h3 { font-size: 15pt; margin: 0 0 2mm; break-after: avoid }
h4 { font-size: 12pt; margin: 3mm 0 1mm; break-after: avoid }
h3 + p, h3 + .caution { break-after: avoid }
p { margin: 0 0 2mm }
ul, ol { padding-left: 6mm }
small { font-size: 8.5pt; font-weight: normal }
.about { font-size: 12.5pt; margin-bottom: 3mm; white-space: pre-line }
header.job { border: 0.6mm solid #000; padding: 4mm 5mm; margin-bottom: 4mm }
header.job .facts { margin-top: 2mm }
header.job .facts tr { display: inline-table; vertical-align: top; width: 48%; margin-right: 2%; table-layout: fixed }
header.job .facts tr.wide { width: 98% }
header.job p { margin: 2mm 0 0; font-size: 9.5pt }
.opening { break-before: page }
.opening.first { break-before: auto }
.stage { margin-top: 6mm; border-top: 0.5mm solid #000; padding-top: 2.5mm }
.number { display: inline-block; min-width: 8mm; padding: 0 1.5mm; text-align: center; background: #fff; border: 0.6mm solid #000 }
.keep, tr, figure, li, table { break-inside: avoid }
.stage-6 { break-before: page }
table { border-collapse: collapse; width: 100% }
thead { display: table-header-group }
th, td { text-align: left; vertical-align: top; padding: 1.1mm 2mm }
.facts { margin-bottom: 2mm }
.facts th { font-weight: normal; width: 40% }
.facts td { font-weight: bold }
.facts tr { border-bottom: 0.2mm solid #888 }
.grid { margin: 1mm 0 3mm }
.grid th, .grid td { border: 0.25mm solid #000 }
.grid th { background: #e8e8e8; font-size: 10pt }
.grid.ticks td:first-child { width: 9mm; text-align: center }
.grid.ticks td:last-child { width: 30mm }
.grid.parts :is(th, td):nth-child(2) { white-space: nowrap; text-align: center }
.grid.parts td:nth-child(3) { width: 36mm }
.grid.parts td:nth-child(2) .line { min-width: 9mm }
.grid.survey td:nth-child(n + 2):nth-child(-n + 4) { white-space: nowrap }
.tick { width: 5mm; height: 5mm; vertical-align: -1mm }
.line { display: inline-block; min-width: 24mm; height: 5.5mm; border-bottom: 0.3mm solid #000 }
.line.long { min-width: 62mm; height: 9mm }
.unknown { font-weight: normal; font-style: italic }
.out { border: 0.6mm solid #000; padding: 0 1.2mm; font-weight: bold; white-space: nowrap }
.findings { border: 0.4mm dashed #000; padding: 2.5mm 4mm; margin: 0 0 3mm }
.findings h3 { font-size: 13pt }
.findings ul { list-style: none; padding: 0; font-size: 10.5pt }
.findings li { display: flex; gap: 2mm; margin-bottom: 1.3mm }
.findings .severity { flex: 0 0 20mm }
.findings li.error .severity { align-self: flex-start; border: 0.6mm solid #000; text-align: center }
.findings li span { flex: 1; min-width: 0 }
.caution { border: 1mm solid #000; padding: 2mm 4mm; margin: 2mm 0 3mm }
.caution h4 { margin: 0 0 1mm; font-size: 13pt }
.caution h4::before { content: "\\26A0\\FE0E  " }
.caution ul { columns: 2; column-gap: 8mm }
.caution li { margin-bottom: 0.4mm }
.stop { border: 2mm double #000; padding: 3mm 5mm; margin: 2mm 0 3mm; font-size: 13pt }
.stop b:first-child { font-size: 24pt; display: block; line-height: 1.2 }
.wind { display: flex; gap: 5mm; align-items: center; border: 1mm solid #000; padding: 3mm 5mm; margin: 2mm 0 3mm }
.wind .count { font-size: 92pt; line-height: 0.95; font-weight: bold }
.wind .unit { font-size: 15pt; font-weight: bold }
.wind .way { font-size: 20pt; font-weight: bold; line-height: 1.15; margin-top: 2mm }
.wind > div { flex: 1; min-width: 0 }
.wind > figure { flex: 0 0 64mm; margin: 0 }
.open-first { font-size: 15pt; font-weight: bold }
.pair { display: flex; gap: 6mm; align-items: flex-start }
.pair > * { flex: 1; min-width: 0 }
figure { margin: 2mm 0 3mm; text-align: center }
figure svg { max-width: 100%; height: auto }
figcaption { font-size: 9.5pt; text-align: left; margin-top: 1mm }
.signed { margin-top: 2mm }
.signatures td { height: 15mm; width: 25% }
footer { border-top: 0.4mm solid #000; margin-top: 6mm; padding-top: 2mm; font-size: 9pt; break-inside: avoid }
svg text { font-family: inherit; fill: #000 }
@media screen { body { padding: 6mm } .opening { margin-top: 14mm } }
@media screen and (max-width: 700px) { body { padding: 2mm } .wind { display: block } .caution ul { columns: 1 } .grid { font-size: 9pt } .grid th, .grid td, .grid.ticks td:last-child, .grid.parts td:nth-child(3) { width: auto; padding: 1mm; white-space: normal } .line, .line.long { min-width: 8mm } header.job .facts tr { width: 100% } .findings li { display: block } }
@media print { body { max-width: none } footer { display: none } }
`
