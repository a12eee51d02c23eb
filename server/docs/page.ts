/** The whole reference as one page that needs nothing else: no network, no script. */
import { html, raw } from '../report/html.ts'
import { asHtml, type Node } from './nodes.ts'

const STYLE = `
:root { color-scheme: light dark; --line: #8886; --soft: #8881 }
body { font: 16px/1.5 system-ui, sans-serif; margin: 0; display: grid; grid-template-columns: minmax(13rem, 17rem) minmax(0, 1fr) }
nav { position: sticky; top: 0; height: 100vh; overflow: auto; padding: 1rem; border-right: 1px solid var(--line); font-size: 14px; box-sizing: border-box }
nav ul { list-style: none; margin: 0; padding: 0 }
nav li.sub { padding-left: 1rem }
nav a, .anchor { color: inherit; text-decoration: none }
nav a:hover, .anchor:hover { text-decoration: underline }
main { padding: 1rem 2rem 6rem; max-width: 70rem }
h1 { margin-top: 3rem } h2 { margin-top: 2.5rem; border-bottom: 1px solid var(--line) } h3 { margin-top: 2rem }
:target { background: #fd08 }
table { border-collapse: collapse; display: block; overflow-x: auto; font-size: 14px }
th, td { border: 1px solid var(--line); padding: .25rem .5rem; text-align: left; vertical-align: top; min-width: 5rem }
th { background: var(--soft) } th:empty { display: none }
pre { background: var(--soft); padding: .75rem; overflow-x: auto } code { font: 14px/1.45 ui-monospace, monospace }
.caution { border-left: 4px solid; padding-left: .75rem }
@media (max-width: 45rem) { body { display: block } nav { position: static; height: auto; border: 0 } }
@media print { nav { display: none } body { display: block } table { display: table } }
`

export function referencePage(title: string, nodes: readonly Node[]): string {
  const headings = nodes.filter(n => n.kind === 'heading').filter(n => n.level <= 3)
  const entry = (n: (typeof headings)[number]) =>
    html`<li${n.level === 3 ? html` class="sub"` : n.level === 1 ? html` style="margin-top:.75rem;font-weight:bold"` : ''}><a href="#${n.id}">${n.text.replace(/`/g, '')}</a></li>\n`
  return html`<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'"><title>${title}</title><style>${raw(STYLE)}</style></head>
<body>
<nav><ul>${headings.map(entry)}</ul></nav>
<main>
${asHtml(nodes)}</main>
</body>
</html>
`.markup
}
