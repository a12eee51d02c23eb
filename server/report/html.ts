/** HTML as a value of its own, so that text from a job can never be taken for markup. */

/** Markup that is ready to be written. Only `html` and `raw` make it. */
export class Html {
  readonly markup: string
  constructor(markup: string) {
    this.markup = markup
  }
}

export type Part = Html | string | number | undefined | false | readonly Part[]

/** Characters that XML and HTML do not have; a job's text may hold them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NO_CHARACTER = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]/g

export const escapeHtml = (text: string): string =>
  text
    .replace(NO_CHARACTER, '\ufffd')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;')

function markupOf(part: Part): string {
  if (part === undefined || part === false) return ''
  if (part instanceof Html) return part.markup
  if (typeof part === 'object') return part.map(markupOf).join('')
  return escapeHtml(String(part))
}

/** Markup with values put in: text and numbers are escaped, lists are written one after the other, nothing stays nothing. */
export function html(strings: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return new Html(strings.map((s, i) => (i === 0 ? s : markupOf(parts[i - 1]) + s)).join(''))
}

/** A message, with what it has between backticks as code. */
export const coded = (message: string): Html =>
  html`${message.split(/`([^`]+)`/).map((part, i) => (i % 2 === 1 ? html`<code>${part}</code>` : part))}`

/** Text of ours that is markup already (the style sheet). */
export const raw = (markup: string): Html => new Html(markup)

/** A text for `content: "..."` in a style sheet: everything but plain letters and digits as an escape. */
export const cssText = (text: string): string =>
  `"${[...text.replace(NO_CHARACTER, ' ')].map(c => (/[A-Za-z0-9 ]/.test(c) ? c : `\\${c.codePointAt(0)!.toString(16)} `)).join('')}"`
