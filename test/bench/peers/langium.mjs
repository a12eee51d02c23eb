/** A language of the same shape made with Langium: a grammar for the job files of the benchmark, and a few checks. */
import { EmptyFileSystem } from 'langium'
import { createServicesForGrammar } from 'langium/grammar'
import { createDefaultSharedModule, startLanguageServer } from 'langium/lsp'
import { createConnection } from 'vscode-languageserver/node'

const grammar = `
grammar Door
entry File: job=Job openings+=Opening*;
Job: 'job' name=STRING '{' (fields+=TextField | fields+=Units)* '}';
TextField: name=('site' | 'customer' | 'revision') '=' value=STRING;
Units: name='units' '=' value=('imperial' | 'metric');
Opening: 'opening' name=STRING '{' (members+=Field | members+=Block)* '}';
Block: name=('curtain' | 'slat' | 'rails' | 'drum' | 'adjuster' | 'spring') '{' (members+=Field | members+=Block)* '}';
Field: Side | Mount | Flag | Named | Measure;
Side: name=('side' | 'hand') '=' value=('left' | 'right');
Mount: name='mount' '=' value=('face' | 'under' | 'ceiling');
Flag: name='drop_guard' '=' value=('true' | 'false');
Named: name=('pipe' | 'material') '=' value=ID;
Measure: name=('width' | 'height' | 'headroom' | 'side_room_left' | 'side_room_right' | 'cycles' | 'pitch' | 'thickness'
  | 'weight' | 'engagement' | 'bottom_bar' | 'endlock' | 'between' | 'depth' | 'fastener_spacing' | 'fastener_capacity'
  | 'span' | 'shaft' | 'holes' | 'preload' | 'wire' | 'diameter' | 'coils' | 'count') '=' parts+=Quantity+;
Quantity: (whole=NUMERAL fraction=FRACTION? | fraction=FRACTION) unit=Unit?;
Unit returns string: '/' ID | ID ('/' ID ('^' NUMERAL)?)?;
terminal FRACTION returns string: /\\d+\\/\\d+/;
terminal NUMERAL returns string: /\\d+(\\.\\d+)?/;
terminal ID: /[_a-zA-Z][\\w_]*/;
terminal STRING: /"[^"]*"/;
hidden terminal WS: /\\s+/;
hidden terminal COMMENT: /#[^\\n\\r]*/;
`

const connection = createConnection(process.stdin, process.stdout)
const services = await createServicesForGrammar({
  grammar,
  languageMetaData: { languageId: 'door', fileExtensions: ['.door'], caseInsensitive: false, mode: 'production' },
  sharedModule: createDefaultSharedModule({ connection, ...EmptyFileSystem }),
})

const REQUIRED = {
  curtain: ['slat', 'engagement'],
  slat: ['pitch', 'thickness', 'weight'],
  rails: ['between', 'depth'],
  drum: ['pipe', 'span'],
  adjuster: ['side', 'holes', 'preload'],
  spring: ['wire', 'diameter', 'coils', 'hand'],
  opening: ['width', 'height', 'headroom', 'curtain', 'rails', 'drum', 'adjuster', 'spring'],
}
const find = (node, name) => node.members.find(m => m.name === name)
const amount = field => {
  const { whole, fraction = '0/1' } = field?.parts[0] ?? {}
  const [over, under] = fraction.split('/')
  return Number(whole ?? 0) + Number(over) / Number(under)
}
const complete = (node, kind, accept) => {
  const missing = REQUIRED[kind].filter(name => !find(node, name))
  if (missing.length) accept('error', `${missing.join(', ')} missing`, { node, property: 'name' })
  const names = node.members.map(m => m.name)
  const twice = names.find((n, i) => n !== 'spring' && names.indexOf(n) !== i)
  if (twice) accept('error', `${twice} stands here twice`, { node, property: 'name' })
}
services.validation.ValidationRegistry.register({
  File(file, accept) {
    const marks = new Set()
    for (const node of file.openings)
      if (marks.size === marks.add(node.name).size)
        accept('error', 'two openings of one name', { node, property: 'name' })
  },
  Opening: (node, accept) => complete(node, 'opening', accept),
  Block(node, accept) {
    complete(node, node.name, accept)
    const preload = find(node, 'preload')
    if (preload && (amount(preload) * amount(find(node, 'holes'))) % 1 !== 0)
      accept('error', 'the wheel stops at a hole', { node: preload, property: 'parts' })
  },
  Measure(node, accept) {
    if (amount(node) <= 0) accept('error', 'has to be above zero', { node, property: 'parts' })
  },
})
startLanguageServer(services.shared)
