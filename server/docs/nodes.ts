/** What the reference is made of, and how it is written as Markdown and as HTML. In texts, `code` stands in backticks. */
import { type Html, html } from '../report/html.ts'

export type Node =
  | { readonly kind: 'heading'; readonly level: 1 | 2 | 3 | 4; readonly text: string; readonly id: string }
  | { readonly kind: 'text'; readonly text: string; readonly strong?: boolean }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'table'; readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] }
  | { readonly kind: 'code'; readonly text: string }

export const heading = (level: 1 | 2 | 3 | 4, text: string, id = slug(text)): Node => ({
  kind: 'heading',
  level,
  text,
  id,
})
export const text = (t: string): Node => ({ kind: 'text', text: t })
export const warning = (t: string): Node => ({ kind: 'text', text: t, strong: true })
export const list = (items: readonly string[]): Node => ({ kind: 'list', items })
export const code = (t: string): Node => ({ kind: 'code', text: t.trim() })
/** Columns in which nothing stands are left out. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): Node {
  const kept = head.map((_, i) => i).filter(i => i === 0 || rows.some(r => r[i]))
  return { kind: 'table', head: kept.map(i => head[i]!), rows: rows.map(r => kept.map(i => r[i] ?? '')) }
}

const slug = (t: string): string =>
  t
    .toLowerCase()
    .replace(/[^a-z0-9_ -]/g, '')
    .replace(/ /g, '-')

/** Outside of code nothing of ours is meant as markup. */
const inMarkdown = (t: string): string =>
  t
    .split(/(`[^`]+`)/)
    .map(p => (p.startsWith('`') ? p : p.replace(/[\\*_<>[\]]/g, '\\$&')))
    .join('')
const inCell = (t: string): string => inMarkdown(t).replace(/\|/g, '\\|').replace(/\n/g, ' ')

export const asMarkdown = (nodes: readonly Node[]): string => `${nodes.map(markdown).join('\n\n')}\n`

function markdown(n: Node): string {
  switch (n.kind) {
    case 'heading':
      // the anchor in HTML holds wherever the page is shown, and whatever it makes of headings
      return `<a id="${n.id}"></a>\n\n${'#'.repeat(n.level)} ${inMarkdown(n.text)}`
    case 'text':
      return n.strong ? `**${inMarkdown(n.text)}**` : inMarkdown(n.text)
    case 'list':
      return n.items.map(i => `- ${inMarkdown(i)}`).join('\n')
    case 'table':
      return [n.head, n.head.map(() => '---'), ...n.rows.map(r => r.map(inCell))]
        .map(r => `| ${r.join(' | ')} |`)
        .join('\n')
    case 'code':
      return `\`\`\`door\n${n.text}\n\`\`\``
  }
}

const inHtml = (t: string): Html[] =>
  t.split(/(`[^`]+`)/).map(p => (/^`[^`]+`$/.test(p) ? html`<code>${p.slice(1, -1)}</code>` : html`${p}`))

export const asHtml = (nodes: readonly Node[]): Html => html`${nodes.map(markup)}`

function markup(n: Node): Html {
  switch (n.kind) {
    case 'heading': {
      const link = html`<a class="anchor" href="#${n.id}">${inHtml(n.text)}</a>`
      return n.level === 1
        ? html`<h1 id="${n.id}">${link}</h1>\n`
        : n.level === 2
          ? html`<h2 id="${n.id}">${link}</h2>\n`
          : n.level === 3
            ? html`<h3 id="${n.id}">${link}</h3>\n`
            : html`<h4 id="${n.id}">${link}</h4>\n`
    }
    case 'text':
      return n.strong
        ? html`<p class="caution"><strong>${inHtml(n.text)}</strong></p>\n`
        : html`<p>${inHtml(n.text)}</p>\n`
    case 'list':
      return html`<ul>${n.items.map(i => html`<li>${inHtml(i)}</li>`)}</ul>\n`
    case 'table':
      return html`<table><thead><tr>${n.head.map(h => html`<th>${h}</th>`)}</tr></thead><tbody>${n.rows.map(r => html`<tr>${r.map(c => html`<td>${inHtml(c)}</td>`)}</tr>\n`)}</tbody></table>\n`
    case 'code':
      return html`<pre><code>${n.text}</code></pre>\n`
  }
}
